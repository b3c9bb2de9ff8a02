"""Listening: one web hook, up for as long as the service runs, gone at once with it."""

import asyncio
import logging
import socket
from collections.abc import AsyncIterator
from urllib.parse import urlsplit

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from uvicorn import Config

from gateway.doors.faces import HOOK_REPORTS, HOOK_TEXTS, DoorTrouble, HookedText, HookSettings, HookTaker
from gateway.doors.inbox.calls import (
    CallRefused,
    CallUseless,
    HookCall,
    SignatureCheck,
    read_call,
)
from gateway.doors.inbox.serving import OnOurLoop, ShortOfPatience

LARGEST_BODY = 64 * 1024
"""Bytes of a form: 1,600 characters in their widest writing are 20 KiB, the other fields some 2 (our choice)."""

READ_WITHIN = 5.0
"""Seconds for a form to come in whole; the carrier gives up on the whole call after 15 s (its page on overrides)."""

MOST_CALLERS = 50
"""Callers at a time; the next one is told to come again (503). Our choice: the gateway's memory is bounded, and a
carrier that is turned away leaves its text to the next poll."""

LEAVE_WITHIN = 1
"""Seconds that a call under way is waited for when the service stops (our choice)."""

TAKEN = b'<?xml version="1.0" encoding="UTF-8"?><Response/>'
"""Nothing to say in the call itself: the answer goes as a text of its own, which can be looked up and repeated."""


logging.getLogger("uvicorn.error").setLevel(logging.ERROR)  # a line for every stranger's odd bytes is no news


class WebHook:
    """`faces.Inbox`. Every call that is not our carrier's, for whatever reason, gets the same empty 403; a signed one
    that cannot be taken 400; 503 when it is not on disk in time, so that the carrier turns to its fallback address and
    the text stays to be polled; 200 with an empty answer once it is on disk."""

    def __init__(self, settings: HookSettings, is_signed: SignatureCheck) -> None:
        self._settings, self._is_signed = settings, is_signed
        self._server: OnOurLoop | None = None
        self._serving: asyncio.Task[None] | None = None
        self._calls: _Calls | None = None
        self.port = 0

    async def open(self, taker: HookTaker) -> None:
        """Listen on the running loop; `port` is then the one that was taken. Raises DoorTrouble."""
        sock = _bound(self._settings)
        self.port = sock.getsockname()[1]
        self._calls = _Calls(self._settings, self._is_signed, taker)
        config = Config(
            _application(self._calls),
            loop="none",
            http=ShortOfPatience,
            ws="none",
            lifespan="off",
            interface="asgi3",
            log_config=None,
            access_log=False,
            proxy_headers=False,
            server_header=False,
            limit_concurrency=MOST_CALLERS,
            timeout_graceful_shutdown=LEAVE_WITHIN,
        )
        self._server = OnOurLoop(config)
        self._serving = asyncio.get_running_loop().create_task(self._server.serve(sockets=[sock]))
        await self._server.up.wait()

    async def close(self) -> None:
        """Stop listening; a form that is still coming in is given up."""
        if self._server is None or self._serving is None or self._calls is None:
            return
        self._calls.leave()
        self._server.leave.set()
        await asyncio.gather(self._serving, return_exceptions=True)
        self._server = self._serving = None


def _bound(settings: HookSettings) -> socket.socket:
    try:
        family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
        return socket.create_server((settings.host, settings.port), family=family, backlog=MOST_CALLERS)
    except OSError as error:
        raise DoorTrouble(
            where=f"web hook of {settings.name}",
            problem=f"cannot listen on {settings.host}:{settings.port} ({error.strerror or error})",
            remedy="Choose another address under [carrier.NAME.hook], or stop the program that has it",
        ) from None


# ---------------------------------------------------------------- the calls


class _Calls:
    """Takes the calls of one hook."""

    def __init__(self, settings: HookSettings, is_signed: SignatureCheck, taker: HookTaker) -> None:
        self._settings, self._is_signed, self._taker = settings, is_signed, taker
        self._reading: set[asyncio.Timeout] = set()
        self._leaving = False

    def leave(self) -> None:
        """Read no more: forms that are coming in, and those that begin to."""
        self._leaving = True
        now = asyncio.get_running_loop().time()
        for reading in self._reading:
            reading.reschedule(now)

    @property
    def path_below(self) -> str:
        """The public address's own path, "" when it has none."""
        return urlsplit(self._settings.public_url).path.rstrip("/")

    async def texts(self, request: Request) -> Response:
        return await self._taken(request, HOOK_TEXTS)

    async def reports(self, request: Request) -> Response:
        return await self._taken(request, HOOK_REPORTS)

    async def _taken(self, request: Request, path: str) -> Response:
        try:
            said = read_call(await self._call(request, path), self._settings, self._is_signed)
        except CallUseless:
            return Response(status_code=400)
        except Exception as refused:  # whatever is odd about it: no hint
            if self._leaving:
                return Response(status_code=503)
            if isinstance(refused, CallRefused) and refused.ours:
                self._taker.doubted(f"a call to {path} was not signed for {self._settings.public_url}{path}")
            return _refusal()
        taking = self._taker.text(said) if isinstance(said, HookedText) else self._taker.word(said)
        on_disk = False
        try:
            on_disk = await taking
        except Exception as fault:  # ours: the carrier is told to come again, and we hear of it
            asyncio.get_running_loop().call_exception_handler(
                {"message": "taking in a call failed", "exception": fault}
            )
        return Response(TAKEN, media_type="text/xml") if on_disk else Response(status_code=503)

    async def _call(self, request: Request, path: str) -> HookCall:
        async with asyncio.timeout(0 if self._leaving else READ_WITHIN) as limit:
            self._reading.add(limit)
            try:
                body = await _body(request.stream())
            finally:
                self._reading.discard(limit)
        return HookCall(
            path=path,
            query=request.scope["query_string"],
            content_types=tuple(request.headers.getlist("content-type")),
            signatures=tuple(request.headers.getlist("x-twilio-signature")),
            body=body,
        )


async def _body(stream: AsyncIterator[bytes]) -> bytes:
    body = b""
    async for piece in stream:
        body += piece
        if len(body) > LARGEST_BODY:
            raise CallRefused
    return body


def _application(calls: _Calls) -> Starlette:
    """Our two paths, POST only. A proxy may hand the public address's own path on or leave it out: both are heard,
    and it is the public one that must be signed."""
    routes = [
        Route(prefix + path, endpoint, methods=["POST"])
        for prefix in dict.fromkeys(("", calls.path_below))
        for path, endpoint in ((HOOK_TEXTS, calls.texts), (HOOK_REPORTS, calls.reports))
    ]
    application = Starlette(routes=routes, exception_handlers={HTTPException: _nothing_here})
    application.router.redirect_slashes = False
    return application


async def _nothing_here(_request: Request, _trouble: Exception) -> Response:
    return _refusal()


def _refusal() -> Response:
    return Response(status_code=403)
