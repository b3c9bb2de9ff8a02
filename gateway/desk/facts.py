"""What the logbook keeps of what came in, and of the service itself."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from gateway.logbook.gone import PARTS_ERASED, PERSON_ERASED, READINGS_DROPPED
from gateway.logbook.kept_readings import HOUR_KEPT, HOUR_KEPT_VERSION
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.plain import Plain


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceStarted(Fact):
    """The service began to run. stopped_at: the last instant recorded before, None in a new store."""

    kind: ClassVar[str] = "service-started"
    stopped_at: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StopsTold(Fact):
    """The gateway did not run for a time: people (ids) are told of it; kept from those who were told of another
    stop with the same alarms just before. numbers: of the alarms that stand."""

    kind: ClassVar[str] = "stops-told"

    people: tuple[str, ...]
    kept_from: tuple[str, ...]
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InstallationUsed(Fact):
    """These files are in use from now on. people: random ids; their keys, names and numbers stand in the sealed
    parts, one for each, in this order. renumbered: ids of those whose number is another than before; version 1 did not
    say so. greets: whoever is there from the first files on gets the first text too; before version 3 they were told by
    word at the handing over, and are not told now."""

    kind: ClassVar[str] = "installation-used"
    version: ClassVar[int] = 3
    fingerprint: str
    people: tuple[str, ...]
    renumbered: tuple[str, ...] = ()
    greets: bool = True

    @classmethod
    def lift(cls, version: int, body: Mapping[str, Plain]) -> Mapping[str, Plain]:
        """Of the first version nobody's number had changed, as far as it says."""
        if version in (1, 2):
            return {"renumbered": [], **body, "greets": False}
        return super(InstallationUsed, cls).lift(version, body)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeFell(Fact):
    """Something fell due; what it was stands in the entries of the same happening."""

    kind: ClassVar[str] = "time-fell"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockStepped(Fact):
    """The wall clock moved against the monotonic one. by: ms, positive forward."""

    kind: ClassVar[str] = "clock-stepped"
    by: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockDoubt(Fact):
    """Our wall clock and the carrier's began to differ by more than 2 min, or agree again. ahead: ms by which the
    carrier's is ahead of ours."""

    kind: ClassVar[str] = "clock-doubt"
    doubtful: bool
    ahead: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkStep(Fact):
    """A broker or the carrier came or went. memory_kept: a broker that came still knew our session."""

    kind: ClassVar[str] = "link-step"
    link: str
    up: bool
    memory_kept: bool = True
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkToldOf(Fact):
    """The installer was told that a link has been down for long."""

    kind: ClassVar[str] = "link-told-of"
    link: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RivalToldOf(Fact):
    """The installer was told that another client uses our client id with a broker."""

    kind: ClassVar[str] = "rival-told-of"
    link: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceRead(Fact):
    """What was left on a carrier's account. amount: decimal text. tell_at: instant from which those who can fill it up
    are told that it is little; None when it is enough."""

    kind: ClassVar[str] = "balance-read"
    carrier: str
    amount: str
    currency: str
    tell_at: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceToldOf(Fact):
    """Those who can fill an account up were told that little is left on it."""

    kind: ClassVar[str] = "balance-told-of"
    carrier: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownTopic(Fact):
    """A message came on a topic that no signal uses: the first one of that topic. sample: printable."""

    kind: ClassVar[str] = "unknown-topic"
    broker: str
    topic: str
    sample: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TextReceived(Fact):
    """A text came. Number and body stand in the sealed part ``{"number", "body"}``.

    message: the carrier's id. person: random id, None for a stranger. read_as: what it was read as, or why it was
    not. boat: key named in the text, "". age: ms, None unknown.
    """

    kind: ClassVar[str] = "text-received"
    message: str
    person: str | None
    read_as: str
    boat: str
    age: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CommandPublished(Fact):
    """What became of a command handed to the broker."""

    kind: ClassVar[str] = "command-published"
    order: str
    taken: bool
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreGap(Fact):
    """The record could not be kept from `since` to `until` (instants). told: what was told from memory meanwhile."""

    kind: ClassVar[str] = "store-gap"
    since: Ms
    until: Ms
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HourKept(Fact):
    """The hash over all readings of one boat taken in one past hour. hour: instant of its begin."""

    kind: ClassVar[str] = HOUR_KEPT
    version: ClassVar[int] = HOUR_KEPT_VERSION
    boat: str
    hour: Ms
    count: int
    digest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreRestored(Fact):
    """The store was laid in place from a backup: what came after `backup_at` (instant; n of the last entry then) is
    not in this record."""

    kind: ClassVar[str] = "store-restored"
    backup_at: Ms
    backup_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreReplaced(Fact):
    """The store that was here was damaged; it lies under another name, and this one began empty."""

    kind: ClassVar[str] = "store-replaced"
    kept_as: str
    problem: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingsDropped(Fact):
    """Readings taken before an instant are no longer kept. size: bytes. because: age or size."""

    kind: ClassVar[str] = READINGS_DROPPED
    before: Ms
    hours: int
    count: int
    size: int
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsErased(Fact):
    """Sealed parts of entries made before an instant are erased: their time is over."""

    kind: ClassVar[str] = PARTS_ERASED
    before: Ms
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonErased(Fact):
    """Every sealed part that named this person was erased, on somebody's word: who and why stand in the sealed part
    ``{"by", "reason"}``."""

    kind: ClassVar[str] = PERSON_ERASED
    person: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteKept(Fact):
    """A remark of a person; its words stand in the sealed part ``{"words"}``. number: of the alarm that it is about,
    None for the boat."""

    kind: ClassVar[str] = "note-kept"
    boat: str
    person: str
    number: int | None = None
