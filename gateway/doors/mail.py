"""Mail out, through the standard library's `smtplib`: one message a connection, encrypted before anything is said.

RFC 5321 for the talk, RFC 3207 for STARTTLS, RFC 8314 3.3 for TLS from the first byte (port 465). A server that offers
no STARTTLS gets neither password nor mail: a line may be listened to, or the offer taken out of it.
"""

import smtplib
import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from email.headerregistry import Address
from email.message import EmailMessage
from email.utils import format_datetime

from gateway.doors.faces import DoorTrouble, MailAway, MailSettings
from gateway.vocabulary.moments import as_utc
from gateway.vocabulary.orders import SendMail

TIMEOUT = 15.0  # seconds for each step of the talk; smtplib itself waits for ever (its documentation)
LONGEST = 60.0  # seconds for the whole talk; a server that drips must not hold the worker. Our choice
OUR_NAME = "[127.0.0.1]"  # an address literal (RFC 5321 4.1.4): a look-up of the machine's own name may hang at sea


class SmtpMail:
    """One account on one mail server. Safe to use from one thread at a time; `send` blocks for at most about a minute.

    Raises DoorTrouble when its settings cannot work.
    """

    def __init__(self, settings: MailSettings, *, timeout: float = TIMEOUT, longest: float = LONGEST) -> None:
        self._settings, self._timeout, self._longest = settings, timeout, longest
        try:
            self._context = ssl.create_default_context(cafile=settings.ca_file)
        except (OSError, ssl.SSLError):
            raise DoorTrouble(
                where="mail", problem="the file of certificates cannot be read", remedy="Mend ca_file in [mail]"
            ) from None

    def send(self, order: SendMail) -> None:
        """Hand one mail over; the server has it when this returns. Raises MailAway; the mail may have gone all the
        same, and a repeat has the same Message-ID."""
        try:
            message = self._message(order)
            with self._line() as line:
                line.send_message(message)
        except (smtplib.SMTPException, OSError, ValueError) as trouble:
            problem, remedy = _said(trouble)
            raise MailAway(where=f"mail {self._settings.host}", problem=problem, remedy=remedy) from None

    @contextmanager
    def _line(self) -> Iterator[smtplib.SMTP]:
        """A talk that is encrypted and logged in, and is cut off after its longest time."""
        line = self._connected()
        cut = threading.Timer(self._longest, _hang_up, [line])
        cut.daemon = True
        cut.start()
        try:
            if self._settings.security == "starttls":
                line.starttls(context=self._context)
            if self._settings.user is not None:
                line.login(self._settings.user, self._settings.password or "")
            yield line
            with suppress(smtplib.SMTPException, OSError):  # the server has the mail already
                line.quit()
        finally:
            cut.cancel()
            line.close()

    def _connected(self) -> smtplib.SMTP:
        host, port = self._settings.host, self._settings.port
        if self._settings.security == "tls":
            return smtplib.SMTP_SSL(host, port, OUR_NAME, timeout=self._timeout, context=self._context)
        return smtplib.SMTP(host, port, OUR_NAME, timeout=self._timeout)

    def _message(self, order: SendMail) -> EmailMessage:
        """RFC 5322. Date is the instant of the decision; the id that of the order, so that a repeat can be known."""
        message = EmailMessage()
        sender = self._settings.sender
        message["From"] = Address("heavingline", addr_spec=sender)
        message["To"] = Address(addr_spec=order.address)
        message["Subject"] = order.subject
        message["Date"] = format_datetime(as_utc(order.at))
        message["Message-ID"] = f"<{order.id}@{sender.rpartition('@')[2]}>"
        message["Auto-Submitted"] = "auto-generated"  # RFC 3834 5: no machine shall answer
        message.set_content(order.body)
        return message


_AGAIN = "The gateway tries again; look at it if it lasts"


def _said(trouble: Exception) -> tuple[str, str]:
    """What went wrong, and what mends it. The server's own words are left out: they may repeat ours, with the user's
    name or an address."""
    match trouble:
        case smtplib.SMTPAuthenticationError():
            return f"user or password refused ({trouble.smtp_code})", "Mend user and password in [mail]"
        case smtplib.SMTPRecipientsRefused():
            codes = ", ".join(str(code) for code, _ in trouble.recipients.values())
            return f"the address was refused ({codes})", "Mend the person's mail address"
        case smtplib.SMTPNotSupportedError():
            return "the server lacks what is asked of it (STARTTLS or log-in)", "Look at security and user in [mail]"
        case smtplib.SMTPResponseException():
            return f"refused ({trouble.smtp_code})", _AGAIN
        case ssl.SSLCertVerificationError():
            return f"its certificate does not hold: {trouble.verify_message}", "Look at host and ca_file in [mail]"
        case ValueError() if not isinstance(trouble, OSError):
            return f"the mail cannot be written ({type(trouble).__name__})", "Mend the address"
        case _:
            return f"no answer ({type(trouble).__name__})", _AGAIN


def _hang_up(line: smtplib.SMTP) -> None:
    with suppress(OSError, AttributeError):
        if line.sock is not None:
            line.sock.shutdown(socket.SHUT_RDWR)
