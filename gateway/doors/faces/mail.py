"""Mails to the installer: one SMTP server."""

from dataclasses import dataclass, field
from typing import Protocol

from gateway.doors.faces.trouble import DoorTrouble
from gateway.vocabulary.orders import SendMail


@dataclass(frozen=True, slots=True, kw_only=True)
class MailSettings:
    """One mail server. sender: the address that mails come from. security: ``starttls`` (encrypted before anything is
    said, or not at all), ``tls`` (from the first byte), ``none`` (this machine's own loopback only).

    password is the secret itself; never printed.
    """

    host: str
    port: int
    sender: str
    security: str = "starttls"
    user: str | None = None
    password: str | None = field(default=None, repr=False)
    ca_file: str | None = None


class MailAway(DoorTrouble):
    """A mail was not taken, or nobody knows whether it was."""


class Mail(Protocol):
    """One mail server. Blocks, at most about a minute, and is called in a worker thread."""

    def send(self, order: SendMail) -> None:
        """Hand one mail over. Raises MailAway."""
        ...
