"""The one state: the rooms' parts, side by side. Changed by facts and by absorbed readings, by nothing else."""

from dataclasses import dataclass, field

from gateway.alarms.standing import Standing
from gateway.boat.latest import BoatsSeen
from gateway.conditions.past import Pasts
from gateway.conditions.watching import Held
from gateway.logbook.chains import Heads
from gateway.requests.state import Requests
from gateway.telling.calls import Telling
from gateway.telling.duty import DutyState
from gateway.telling.practice import PracticeState
from gateway.telling.regular import RegularState
from gateway.vocabulary.moments import Ms

STATE_VERSION = "30"
"""Raised whenever the meaning of a field changes; a snapshot of another version is thrown away."""


@dataclass(frozen=True, slots=True)
class LinkState:
    """A broker or the carrier. up_since: instant, None while it is down; down_since: instant, None while it is up.
    told: its being down was told to the installer."""

    up_since: Ms | None = None
    down_since: Ms | None = None
    told: bool = False


@dataclass(frozen=True, slots=True)
class Account:
    """A carrier's account. amount: decimal text. at: instant at which it was read. tell_at: instant at which it is told
    that little is left, None when it need not be."""

    amount: str
    currency: str
    at: Ms
    tell_at: Ms | None = None


@dataclass(frozen=True, slots=True)
class StopTold:
    """Somebody was told that the gateway had not run: at which instant, which alarms stood then (numbers), and how many
    short stops he has not been told of since."""

    at: Ms
    standing: tuple[int, ...]
    untold: int = 0


@dataclass(frozen=True, slots=True)
class Hour:
    """The readings of one boat in the present hour: instant of its begin, how many, the rolling hash (hex)."""

    hour: Ms
    count: int
    digest: str


@dataclass(slots=True)
class State:
    """Everything that the desk knows.

    now: the last instant taken. happening: its number. started: instant of the last start. fingerprint: of the
    installation in use. clock_offset: what is added to an instant for the wall clock's time, since the last start.
    clock_doubtful: ours and the carrier's differ too much. unknown_topics: those met so far.
    accounts: by carrier's name, as far as they have been read.
    rivals: by link, the instant at which the installer was last told that another client uses our id there.
    stops_told: by person, when he was last told that the gateway had not run.
    """

    now: Ms = 0
    happening: int = 0
    started: Ms = 0
    fingerprint: str = ""
    clock_offset: Ms = 0
    clock_doubtful: bool = False
    heads: Heads = field(default_factory=Heads)
    seen: BoatsSeen = field(default_factory=BoatsSeen)
    pasts: Pasts = field(default_factory=Pasts)
    held: Held = field(default_factory=Held)
    standing: Standing = field(default_factory=Standing)
    telling: Telling = field(default_factory=Telling)
    regular: RegularState = field(default_factory=RegularState)
    duty: DutyState = field(default_factory=DutyState)
    practice: PracticeState = field(default_factory=PracticeState)
    requests: Requests = field(default_factory=Requests)
    links: dict[str, LinkState] = field(default_factory=dict)
    accounts: dict[str, Account] = field(default_factory=dict)
    rivals: dict[str, Ms] = field(default_factory=dict)
    stops_told: dict[str, StopTold] = field(default_factory=dict)
    hours: dict[str, Hour] = field(default_factory=dict)
    unknown_topics: list[str] = field(default_factory=list)
