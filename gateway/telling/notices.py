"""What is to be told, as values. Words are made elsewhere.

Every notice goes to one person (random id) and concerns one boat (key), "" where it concerns the gateway itself.
Instants are ms UTC. `measured` is a value with its unit as it is said ("11.9 V").
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from gateway.telling.aside_notices import AsideNotice
from gateway.telling.duty_notices import DutyNotice
from gateway.telling.holder_notices import HolderNotice
from gateway.telling.practice_notices import PracticeNotice
from gateway.telling.quiet_notices import QuietNotice
from gateway.telling.regular_notices import BoatInRound, RegularNotice
from gateway.telling.situation import Ahead, BankAhead, Situation
from gateway.telling.trouble_notices import TroubleNotice
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmTold:
    """One or several alarms of one boat that nobody holds. others: ids of those told as well. again: a repeat.
    instead_of: id of the one in whose place this person is told."""

    person: str
    boat: str
    situations: tuple[Situation, ...]
    others: tuple[str, ...]
    again: bool = False
    instead_of: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmRung:
    """One alarm that nobody holds, to be spoken in a call. cut_off: this phone has opted out of texts."""

    person: str
    boat: str
    situation: Situation
    cut_off: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedTold:
    """One matter of several boats: what they share has failed. kind: "link", "supply" or "berth"; name: as installed.
    situations: one or more a boat. again: a repeat. boat: "", for it is no single boat's."""

    person: str
    kind: str
    name: str
    situations: tuple[Situation, ...]
    again: bool = False
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedGone:
    """The same is over. gone unacknowledged ones stand until somebody has said that they have them."""

    person: str
    kind: str
    name: str
    situations: tuple[Situation, ...]
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FloodTold:
    """Many alarms at once, none an emergency: those that nobody holds. boat: "" although all may be of one."""

    person: str
    situations: tuple[Situation, ...]
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupTaken:
    """Somebody has what a grouped text named. holder: id; equal to person when it is the answer to the taker.
    left: how many alarms of the same text nobody has yet, for it did not name them."""

    person: str
    holder: str
    situations: tuple[Situation, ...]
    left: int = 0
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmTaken:
    """Somebody has it. holder: id; equal to person when it is the answer to the taker."""

    person: str
    boat: str
    situation: Situation
    holder: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmGone:
    """The condition has gone. A latched alarm stands until somebody has looked; else it is all clear."""

    person: str
    boat: str
    situation: Situation
    latched: bool
    holder: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmReset:
    """Somebody has looked and the latched alarm is back to normal. by: id."""

    person: str
    boat: str
    situation: Situation
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NotTaken:
    """ "ok" and the like to an alarm nobody holds. next_person, next_at: who is told next and when, None: nobody."""

    person: str
    boat: str
    situation: Situation
    next_person: str | None
    next_at: Ms | None


class Cannot(StrEnum):
    """Why something asked of an alarm was not done."""

    NO_SUCH = "no alarm with that number"
    CLOSED = "that alarm is closed"
    NONE_OPEN = "no alarm is open"
    WHICH = "several alarms are open"
    STILL_ACTIVE = "the condition still holds"
    TAKE_FIRST = "nobody has taken it"
    NOT_LATCHED = "it needs no reset"
    HELD_BY_OTHER = "somebody else has it"
    HELD_BY_NOBODY = "nobody has it"


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmAnswer:
    """Why a "have it" or "checked" did nothing. numbers: the open alarms to choose from, or the one meant.
    situations: those to choose from, worst first, perhaps of several boats (then boat is ""). holder: id of who has
    the one that is meant. aboard: it was "at boat", and from it on somebody counts as aboard all the same."""

    person: str
    boat: str
    cannot: Cannot
    numbers: tuple[int, ...] = ()
    situations: tuple[Situation, ...] = ()
    holder: str | None = None
    aboard: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitAnswer:
    """A visit begun or ended by text. begun False: ended; since: from when somebody was taken to be aboard. elsewhere:
    another boat, where the reader's own visit stands, when none of his stood here; its instant is elsewhere_since."""

    person: str
    boat: str
    begun: bool
    since: Ms | None = None
    elsewhere: str = ""
    elsewhere_since: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StatusLine:
    """One value for a status answer. age: ms when older than one report interval, else None. measured "": never
    heard."""

    signal: str
    measured: str
    age: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StatusAnswer:
    """Answer to `status`: the open alarms, then values; silent_since: instant when the boat is silent, else None."""

    person: str
    boat: str
    situations: tuple[Situation, ...]
    lines: tuple[StatusLine, ...]
    silent_since: Ms | None = None
    bank: BankAhead | None = None
    ahead: tuple[Ahead, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StatusOfAll:
    """Answer to `status` of somebody with several boats who named none: all, the worst first, without values."""

    person: str
    boats: tuple[BoatInRound, ...]
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingAnswer:
    """Answer to a question about one thing ("is the generator running", "status battery"). about: its name.
    equipment: id, None for a subject. lines: values, each with its age. situations: open alarms that rest on them.
    watched: whether any alarm point rests on them."""

    person: str
    boat: str
    about: str
    equipment: str | None
    lines: tuple[StatusLine, ...]
    situations: tuple[Situation, ...]
    watched: bool
    bank: BankAhead | None = None
    ahead: tuple[Ahead, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmsAnswer:
    """Answer to `alarms`: the open ones with their numbers and holders (ids or None). boats: keys of all that were
    looked at, where boat is ""."""

    person: str
    boat: str
    situations: tuple[Situation, ...]
    holders: tuple[str | None, ...]
    boats: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PhrasesAnswer:
    """Answer to `phrases`: what this person may text. named: what needs the name of one of these boats (keys) in front,
    where boat is ""."""

    person: str
    boat: str
    phrases: tuple[str, ...]
    boats: tuple[str, ...] = ()
    named: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WhichBoat:
    """A text that needs a boat and named none. boats: keys to choose from."""

    person: str
    boats: tuple[str, ...]
    example: str
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotRead:
    """A text that was not understood. why: the reader's word; nearest: valid phrases to offer, perhaps none. named:
    whether the text named the boat and the reader has others, so that what is offered must name it too."""

    person: str
    boat: str
    why: str
    nearest: tuple[str, ...]
    equipment: str | None = None
    named: bool = False


Notice: TypeAlias = (
    AlarmTold
    | SharedTold
    | SharedGone
    | FloodTold
    | GroupTaken
    | AlarmTaken
    | AlarmGone
    | AlarmReset
    | NotTaken
    | AlarmAnswer
    | VisitAnswer
    | StatusAnswer
    | StatusOfAll
    | ThingAnswer
    | AlarmsAnswer
    | PhrasesAnswer
    | WhichBoat
    | NotRead
    | AsideNotice
    | HolderNotice
    | DutyNotice
    | PracticeNotice
    | QuietNotice
    | RegularNotice
    | TroubleNotice
)
