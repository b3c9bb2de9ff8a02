"""What comes in from the world. The desk takes these, one after the other, and nothing else.

Every happening is plain values; the door that made it has already left its own library's objects behind.
"""

from dataclasses import dataclass
from typing import TypeAlias

from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingsCame:
    """Readings that arrived together, in order of arrival. Recorded in the stream of readings, not as an entry."""

    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownTopicCame:
    """A message on a topic that no signal uses. sample: its first characters, printable."""

    broker: str
    topic: str
    sample: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TextCame:
    """A text from a phone.

    message: the carrier's id of it, the key for finding repeats. number: E.164.
    age: ms between the sender's time stamp and the carrier's own clock when it was fetched; None when not known,
    which counts as too old to command.
    """

    message: str
    number: str
    body: str
    age: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SendAnswered:
    """What the carrier said to a text we handed over.

    order: our order's id. message: the carrier's id when accepted, else "".
    code: the carrier's error code when refused, as text; "" when accepted.
    found: the answer had been lost, and the text was found with the carrier afterwards.
    """

    order: str
    accepted: bool
    message: str = ""
    code: str = ""
    detail: str = ""
    found: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SendDelayed:
    """The carrier has not taken a text yet and it is tried again: for so long now that others must not wait for it.
    code: the carrier's error code as text, or our own word."""

    order: str
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryReported:
    """A later word on a text: the carrier's status word (delivered, undelivered, failed, sent ...)."""

    order: str
    status: str
    code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MailAnswered:
    """The mail server has taken a mail, or it was given up after days (detail: why)."""

    order: str
    taken: bool
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptFlagCame:
    """The carrier marked a text as opt-out (out) or opt-in, whatever its words were. number: E.164, of the phone."""

    number: str
    out: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishAnswered:
    """What became of a command handed to the broker: taken (acknowledged by it) or not."""

    order: str
    taken: bool
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkChanged:
    """A broker or the carrier came or went.

    link: ``broker:NAME``, ``carrier:NAME``, ``hook:NAME`` (where that carrier calls us), ``mail`` or ``store``.
    memory_kept: for a broker that came, whether it still knew our session; False means that messages sent meanwhile
    may be missing.
    rival: a broker cut us off because another client uses our client id, as far as can be seen.
    """

    link: str
    up: bool
    memory_kept: bool = True
    detail: str = ""
    rival: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeCame:
    """Something fell due (the desk had named the moment)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Started:
    """The service began to run. stopped_at: the last instant recorded before (ms UTC), None in a new store."""

    stopped_at: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WallClockStepped:
    """The wall clock moved against the monotonic one. by: ms, positive forward."""

    by: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierTimeSeen:
    """What the carrier's own clock showed. ahead: ms by which it was ahead of `now`, negative when behind."""

    ahead: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceSeen:
    """What is left on a carrier's account. carrier: its name in the files. amount: decimal text. currency: as the
    carrier writes it."""

    carrier: str
    amount: str
    currency: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InstallationCame:
    """A new set of installation files is to be used; the desk has been handed the bundle itself.

    fingerprint: SHA-256 (hex) over the files. people: the random ids, in order of their keys. renumbered: ids of those
    whose number is another than when they were last in use.
    """

    fingerprint: str
    people: tuple[str, ...]
    renumbered: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreRecovered:
    """The store commits again after it could not. since: instant of the first failed commit; until: of recovery.
    told: what was told from memory meanwhile, one line each."""

    since: Ms
    until: Ms
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RestoreFound:
    """The store was laid in place from a backup. backup_at: the last instant recorded in it (ms UTC), 0 when it was
    empty; backup_n: n of its last entry."""

    backup_at: Ms
    backup_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DamageFound:
    """The store that was there could not be read and was put aside. kept_as: the file's name now; problem: in words."""

    kept_as: str
    problem: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingsExpired:
    """Readings taken before an instant (ms UTC) are to be dropped: how many hours, readings and bytes; because of
    their age or size."""

    before: Ms
    hours: int
    readings: int
    size: int
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsExpired:
    """Sealed parts of entries made before an instant (ms UTC) are to be erased: how many."""

    before: Ms
    parts: int


Happening: TypeAlias = (
    ReadingsCame
    | UnknownTopicCame
    | TextCame
    | SendAnswered
    | SendDelayed
    | DeliveryReported
    | MailAnswered
    | OptFlagCame
    | PublishAnswered
    | LinkChanged
    | TimeCame
    | Started
    | WallClockStepped
    | CarrierTimeSeen
    | BalanceSeen
    | InstallationCame
    | StoreRecovered
    | RestoreFound
    | DamageFound
    | ReadingsExpired
    | PartsExpired
)
