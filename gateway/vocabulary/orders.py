"""What the world must do, after the entries that decided it are on disk."""

from dataclasses import dataclass
from typing import TypeAlias

from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority


@dataclass(frozen=True, slots=True, kw_only=True)
class SendText:
    """Hand one text to a carrier, or have it ring and speak. Told at least once: an order without an answer is looked
    up, then repeated.

    id: the order's id, unique for ever. person: the random id of the addressee. number: E.164.
    priority: of the matter; emergencies have a worker of their own. valid_for: ms after which the carrier need not
    try any more. spoken: the words are spoken in a call to that number, not texted.
    """

    id: str
    carrier: str
    person: str
    number: str
    body: str
    priority: Priority
    valid_for: Ms
    spoken: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SendMail:
    """Hand one mail to the mail server. May be repeated, is never lost. at: instant of the decision, its date.

    id: the order's id, unique for ever. person: the random id of the addressee. address: plain, without a name.
    """

    id: str
    person: str
    address: str
    subject: str
    body: str
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishCommand:
    """Publish one command to a boat. Acts at most once: never repeated without a new decision of the desk.

    payload: JSON text. expires_after: whole ms; goes out as MQTT 5 message expiry as well. Never retained.
    """

    id: str
    broker: str
    topic: str
    payload: str
    expires_after: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishNotice:
    """Publish a word of our own, retained, on a topic of our own (trouble with store, broker or carrier)."""

    broker: str
    topic: str
    payload: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DropReadings:
    """Drop the readings taken before this instant (ms UTC, at the beginning of an hour). May be repeated."""

    before: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class EraseParts:
    """Erase the sealed parts of entries made before this instant (ms UTC). May be repeated."""

    before: Ms


Order: TypeAlias = SendText | SendMail | PublishCommand | PublishNotice | DropReadings | EraseParts
