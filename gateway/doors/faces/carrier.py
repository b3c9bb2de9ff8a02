"""Texts: one carrier's account."""

from dataclasses import dataclass, field
from typing import Protocol, TypeAlias

from gateway.doors.faces.trouble import DoorTrouble
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.orders import SendText


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierSettings:
    """One text carrier's account. sender: our number, E.164. base_url: None for the carrier's own address.
    reports_to: where the carrier shall post what becomes of each text, None: nowhere.

    token is the secret itself; never printed.
    """

    name: str
    account: str
    sender: str
    token: str = field(repr=False)
    base_url: str | None = None
    reports_to: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """The carrier has the text. message: its id there. status: its first word on it."""

    message: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The carrier will not take the text. code: its error code as text, or the HTTP status; what follows from it stands
    in `gateway.telling.outcomes`. again_after: ms that the carrier itself asks to wait before another try, None: it
    said nothing."""

    code: str
    detail: str
    again_after: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NoAnswer:
    """Nobody knows whether the carrier acted: silence, a cut, an error page. It must be looked up before repeating."""

    detail: str


SendResult: TypeAlias = Accepted | Refused | NoAnswer


@dataclass(frozen=True, slots=True, kw_only=True)
class Inbound:
    """One text to us. message: the carrier's id. age: ms by the carrier's own clock (Date header), None unknown.
    sent_at: the text's own time (ms UTC), None when absent."""

    message: str
    number: str
    body: str
    age: Ms | None
    sent_at: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Polled:
    """What a poll brought: oldest first; the carrier's clock (ms UTC) from the Date header, None when missing."""

    texts: tuple[Inbound, ...]
    carrier_now: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Funds:
    """What is left on the account. amount: decimal text, below zero for a debt. currency: as the carrier writes it
    (ISO 4217)."""

    amount: str
    currency: str


class CarrierAway(DoorTrouble):
    """The carrier could not be asked (network, error page, refusal of the account)."""


class Carrier(Protocol):
    """One carrier. Every method blocks, at most about 10 s, and is called in a worker thread."""

    def send(self, order: SendText) -> SendResult:
        """Hand one text over. Never raises."""
        ...

    def look_up(self, order: SendText, since: Ms, known: frozenset[str]) -> str | None:
        """The id of a text of ours with this addressee and body, sent since then and not among `known`; else None.

        Raises CarrierAway.
        """
        ...

    def poll(self, now: Ms) -> Polled:
        """Texts to us of the last 26 h, whatever was seen before. Raises CarrierAway."""
        ...

    def status(self, message: str) -> tuple[str, str]:
        """The carrier's present word on a text of ours, and its error code or "". Raises CarrierAway."""
        ...

    def balance(self) -> Funds:
        """What is left on the account. Raises CarrierAway, also where the carrier does not say."""
        ...
