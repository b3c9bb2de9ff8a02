"""The HTTP side of the pretend carrier: connections, header lines, the Date header, hanging up."""

import socket
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from email.utils import formatdate
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from socketserver import TCPServer
from typing import Any, Protocol
from urllib.parse import parse_qs, urlsplit

from gateway.demo.carrier_form import Form
from gateway.demo.carrier_misbehaviour import CUT, Misbehaviour, Reply
from gateway.vocabulary.moments import SECOND, Ms

LARGEST_FORM = 100_000  # bytes; our choice, well above 1,600 characters in their widest writing
FORM_TYPE = "application/x-www-form-urlencoded"


class CallTaker(Protocol):
    """Whoever answers the calls that the server takes in. Called from the server's threads."""

    def begin(self, method: str, path: str) -> Misbehaviour | None:
        """A call came; how it is to be answered."""
        ...

    def answer(self, method: str, path: str, fields: Form | None, login: str, odd: Misbehaviour | None) -> Reply | None:
        """The answer; None: none at all. fields: None when they could not be read."""
        ...

    def answered(self, method: str, path: str, fields: Form | None, status: int | None) -> None:
        """The answer is about to go out; status None: nothing is said."""
        ...

    def end(self) -> None:
        """The call is over."""
        ...


class CarrierHttp(ThreadingHTTPServer):
    """A server on loopback, a thread for each connection. `now` gives the Date header's time, ms UTC."""

    request_queue_size = 64  # the standard library's 5 is too few for a burst of texts

    def __init__(self, port: int, taker: CallTaker, now: Callable[[], Ms]) -> None:
        super().__init__(("127.0.0.1", port), CarrierHandler)
        self.daemon_threads = False  # so that closing waits for every thread
        self.taker, self.now = taker, now
        self.accepted = 0
        self._lines: set[socket.socket] = set()
        self._lock = threading.Lock()

    def server_bind(self) -> None:
        """Take the port without asking a name server for the machine's name, as the standard library would."""
        TCPServer.server_bind(self)
        self.server_name, self.server_port = "localhost", int(self.socket.getsockname()[1])

    def process_request(self, request: Any, client_address: Any) -> None:
        """A caller has connected: remember the line before its thread begins."""
        with self._lock:
            self.accepted += 1
            self._lines.add(request)
        super().process_request(request, client_address)

    def close_request(self, request: Any) -> None:
        """A connection is over."""
        with self._lock:
            self._lines.discard(request)
        super().close_request(request)

    def hang_up(self) -> None:
        """Cut every connection, so that no thread waits for a caller's next word."""
        with self._lock:
            lines = tuple(self._lines)
        for line in lines:
            with suppress(OSError):
                line.shutdown(socket.SHUT_RDWR)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A caller that hung up is no error of ours; everything else is reported as the standard library does."""
        if not isinstance(sys.exc_info()[1], OSError):
            super().handle_error(request, client_address)


class CarrierHandler(BaseHTTPRequestHandler):
    """One connection, kept open between calls."""

    server: CarrierHttp
    protocol_version = "HTTP/1.1"
    wbufsize = -1  # header and body in one packet: two would wait for each other on loopback (measured, 40 ms)
    disable_nagle_algorithm = True

    def do_GET(self) -> None:
        """A list or a fetch."""
        self._serve("GET", urlsplit(self.path).query)

    def do_POST(self) -> None:
        """A create or a change."""
        self._serve("POST", self._form())

    def do_DELETE(self) -> None:
        """Not spoken here; answered so."""
        self._serve("DELETE", "")

    def _form(self) -> str | None:
        """The body of the call; None when it is no form of a reasonable size."""
        length = self.headers.get("Content-Length", "")
        if not length.isdecimal():
            self.close_connection = True
            return None
        body = self.rfile.read(min(int(length), LARGEST_FORM))
        if len(body) < min(int(length), LARGEST_FORM):  # the line broke: half a call is none (RFC 9112, 8)
            self.close_connection = True
            return None
        if int(length) > LARGEST_FORM:
            self._read_away(int(length) - LARGEST_FORM)
            return None
        kind = self.headers.get("Content-Type", "").split(";")[0].strip().lower()
        return body.decode("latin-1") if kind == FORM_TYPE else None

    def _read_away(self, length: int) -> None:
        """Take the rest of a call that is too long: hanging up on it would take the answer with it."""
        while length > 0 and (piece := self.rfile.read(min(length, LARGEST_FORM))):
            length -= len(piece)

    def _serve(self, method: str, encoded: str | None) -> None:
        path = urlsplit(self.path).path
        fields = None if encoded is None else _fields(encoded)
        taker = self.server.taker
        odd = taker.begin(method, path)
        try:
            reply = taker.answer(method, path, fields, self.headers.get("Authorization", ""), odd)
            taker.answered(method, path, fields, None if reply is None else reply.status)
            if reply is None:
                self._say_nothing(at_once=odd in CUT)
            else:
                self._say(reply)
        finally:
            taker.end()

    def _say(self, reply: Reply) -> None:
        body = reply.body.encode()
        self.send_response_only(reply.status)
        if reply.dated:
            self.send_header("Date", self.date_time_string())
        self.send_header("Content-Type", reply.content)
        self.send_header("Content-Length", str(len(body)))
        for name, value in reply.headers:
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)
        self.wfile.flush()

    def _say_nothing(self, *, at_once: bool) -> None:
        """Hang up, at once or when the caller does (its end of file) or when the server is closed."""
        self.close_connection = True
        if not at_once:
            with suppress(OSError):
                self.connection.recv(1)
        with suppress(OSError):
            self.connection.shutdown(socket.SHUT_RDWR)

    def date_time_string(self, timestamp: float | None = None) -> str:
        """The Date header by the clock that was handed in (RFC 9110 5.6.7, whole seconds)."""
        return formatdate(self.server.now() // SECOND if timestamp is None else timestamp, usegmt=True)

    def log_message(self, *_: Any) -> None:
        """Nothing: calls hold numbers."""


def _fields(encoded: str) -> Form | None:
    """The fields of a form or query, empty ones kept; None when they are not well written or not UTF-8."""
    if not encoded:
        return {}
    try:
        return parse_qs(encoded, keep_blank_values=True, strict_parsing=True, encoding="utf-8", errors="strict")
    except ValueError:
        return None
