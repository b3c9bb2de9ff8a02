"""The mail's door against a real mail server on loopback, encrypted by a certificate of the tests."""

import socket
import ssl
import threading
from collections.abc import Iterator
from dataclasses import replace
from email import message_from_bytes
from email.policy import default
from pathlib import Path
from typing import Any

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, AuthResult, Envelope, LoginPassword

from gateway.doors.faces import DoorTrouble, MailAway, MailSettings
from gateway.doors.mail import SmtpMail
from gateway.vocabulary.moments import from_rfc3339
from gateway.vocabulary.orders import SendMail

CERTIFICATES = Path(__file__).parent / "certificates"
CA = str(CERTIFICATES / "broker.pem")
USER, PASSWORD = "gateway", "a password that must not be seen"
ORDER = SendMail(
    id="0123456789abcdef",
    person="id-ruth",
    address="ruth@example.org",
    subject="GREY WAGTAIL: not reached",
    body="GREY WAGTAIL: a text to Tobias was NOT taken by the carrier\n\nÉtat: 4 °C\n",
    at=from_rfc3339("2026-03-01T02:14:00Z"),
)


class Box:
    """What the server has taken, and how it was brought. refuse: what it answers to every addressee instead."""

    def __init__(self) -> None:
        self.taken: list[Envelope] = []
        self.encrypted: list[bool] = []
        self.refuse: str | None = None

    async def handle_RCPT(  # noqa: N802  # the server's own name for it
        self, _: SMTP, __: Any, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        if self.refuse:
            return self.refuse
        envelope.rcpt_tos.append(address)
        envelope.rcpt_options.extend(options)
        return "250 OK"

    async def handle_DATA(self, _: SMTP, talk: Any, envelope: Envelope) -> str:  # noqa: N802
        self.taken.append(envelope)
        self.encrypted.append(talk.ssl is not None)
        return "250 taken"


def check(_: SMTP, __: Any, ___: Envelope, ____: str, data: Any) -> AuthResult:
    right = isinstance(data, LoginPassword) and (data.login, data.password) == (USER.encode(), PASSWORD.encode())
    return AuthResult(success=right, handled=False)


def certified(name: str = "broker.pem") -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(CERTIFICATES / name, CERTIFICATES / "broker.key")
    return context


class Server(Controller):
    """On any free port of loopback."""

    def __init__(self, box: Box, **more: Any) -> None:
        super().__init__(box, hostname="127.0.0.1", port=0, **more)

    def _trigger_server(self) -> None:
        """Learn the port before the server is tried."""
        assert self.server is not None
        self.port = self.server.sockets[0].getsockname()[1]
        super()._trigger_server()


def serving(box: Box, **more: Any) -> Iterator[Server]:
    server = Server(box, **more)
    server.start()
    try:
        yield server
    finally:
        server.stop()


@pytest.fixture
def box() -> Box:
    return Box()


@pytest.fixture
def server(box: Box) -> Iterator[Server]:
    yield from serving(
        box,
        tls_context=certified(),
        require_starttls=True,
        authenticator=check,
        auth_required=True,
        auth_exclude_mechanism=["LOGIN"],
    )


@pytest.fixture
def bare(box: Box) -> Iterator[Server]:
    yield from serving(box)


def settings(port: int) -> MailSettings:
    return MailSettings(
        host="127.0.0.1", port=port, sender="gateway@example.org", user=USER, password=PASSWORD, ca_file=CA
    )


def refused(settings: MailSettings, **more: float) -> str:
    with pytest.raises(MailAway) as caught:
        SmtpMail(settings, **more).send(ORDER)
    assert PASSWORD not in str(caught.value)
    assert ORDER.address not in str(caught.value)
    return str(caught.value)


def test_a_mail_goes_encrypted_and_says_what_was_ordered(server: Server, box: Box) -> None:
    SmtpMail(settings(server.port)).send(ORDER)
    (envelope,) = box.taken
    assert box.encrypted == [True]
    assert (envelope.mail_from, envelope.rcpt_tos) == ("gateway@example.org", ["ruth@example.org"])
    assert isinstance(envelope.content, bytes)
    message = message_from_bytes(envelope.content, policy=default)
    assert message["Subject"] == ORDER.subject
    assert message.get_content().replace("\r\n", "\n") == ORDER.body
    assert message["Date"].datetime.isoformat() == "2026-03-01T02:14:00+00:00"
    assert message["Message-ID"] == "<0123456789abcdef@example.org>", "a repeat can be known"
    assert message["Auto-Submitted"] == "auto-generated"


def test_a_mail_goes_by_tls_from_the_first_byte(box: Box) -> None:
    for server in serving(box, ssl_context=certified(), server_hostname="127.0.0.1"):
        SmtpMail(replace(settings(server.port), security="tls", user=None, password=None)).send(ORDER)
    assert len(box.taken) == 1


def test_a_server_without_starttls_gets_neither_password_nor_mail(bare: Server, box: Box) -> None:
    assert "STARTTLS" in refused(settings(bare.port))
    assert box.taken == []


def test_without_encryption_it_goes_only_where_that_was_written(bare: Server, box: Box) -> None:
    SmtpMail(replace(settings(bare.port), security="none", user=None, password=None)).send(ORDER)
    assert box.encrypted == [False]


@pytest.mark.parametrize("name", ["expired.pem", "early.pem"])
def test_a_certificate_that_does_not_hold_stops_it(box: Box, name: str) -> None:
    for server in serving(box, tls_context=certified(name), require_starttls=True):
        assert "certificate" in refused(replace(settings(server.port), ca_file=str(CERTIFICATES / name)))
    assert box.taken == []


def test_a_certificate_of_nobody_known_stops_it(server: Server, box: Box) -> None:
    assert "certificate" in refused(replace(settings(server.port), ca_file=None))
    assert box.taken == []


def test_a_wrong_password_is_said_without_it(server: Server, box: Box) -> None:
    assert "535" in refused(replace(settings(server.port), password=PASSWORD + "!"))
    assert box.taken == []


def test_an_address_that_is_refused_is_said_by_its_code(server: Server, box: Box) -> None:
    box.refuse = "550 no such box for ruth@example.org"
    assert "550" in refused(settings(server.port))


def test_a_port_where_nobody_listens_is_no_answer() -> None:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port = found.getsockname()[1]
    assert "no answer (ConnectionRefusedError)" in refused(settings(port))


def test_a_server_that_says_nothing_is_left_after_the_time_for_a_step() -> None:
    with socket.create_server(("127.0.0.1", 0)) as silent:
        assert "no answer" in refused(settings(silent.getsockname()[1]), timeout=0.1)


def test_a_server_that_drips_is_left_after_the_longest_time() -> None:
    done = threading.Event()
    with socket.create_server(("127.0.0.1", 0)) as dripping:

        def drip() -> None:
            line, _ = dripping.accept()
            with line:
                line.sendall(b"220 here\r\n")
                line.recv(1000)
                try:
                    while not done.wait(0.02):
                        line.sendall(b"250-and more\r\n")
                except OSError:
                    pass

        thread = threading.Thread(target=drip)
        thread.start()
        try:
            assert "no answer" in refused(settings(dripping.getsockname()[1]), timeout=5.0, longest=0.2)
        finally:
            done.set()
            thread.join()


def test_a_file_of_certificates_that_is_none_is_said_at_once(tmp_path: Path) -> None:
    with pytest.raises(DoorTrouble, match="ca_file"):
        SmtpMail(replace(settings(587), ca_file=str(tmp_path / "none.pem")))
