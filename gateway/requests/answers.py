"""What a request leads to, as values to be told. Words are made elsewhere.

Each goes to one person (random id) and concerns one boat (key) and its equipment (id). Instants are ms UTC.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from gateway.requests.number_answers import (
    CommandsLocked,
    NumberIsProved,
    PaperRunsLow,
    PhoneLostTold,
    PhoneNotTaken,
    ProveFirst,
)
from gateway.vocabulary.moments import Ms


class Rule(StrEnum):
    """Which rule an objection rests on (handbook 5.1 and section 6)."""

    NOT_YOURS = "no right to it"
    NOT_NOW = "no right at this hour"
    LOCKED = "commands locked"
    LOST = "phone reported lost"
    NOT_PROVED = "number not proved"
    TOO_OLD = "text too old"
    NOT_CARRIED_OUT = "not carried out here"
    SELECTOR = "selector"  # G0
    LOCK_OUT = "maintenance lock-out"  # G1
    SECOND_PERSON = "second person"
    PAPER = "paper list"
    OCCUPIED = "somebody aboard"  # G2
    GAS_OR_FIRE = "gas or fire alarm"  # G3
    CO = "carbon monoxide alarm"  # G3
    DETECTOR_SILENT = "detector silent"  # G3
    STALE = "no fresh data"  # G4
    PENDING = "already pending"  # G5
    ATTEMPTS = "attempts and cooling-off"  # G5
    SILENT_BOAT = "boat silent"
    LINK_DOWN = "no link"
    HOURS = "permitted hours"
    MINIMUM_TIME = "minimum off or on time"
    RUN_LIMIT = "run limit"
    LIMIT_ON_STOP = "limit on a stop"
    ALREADY = "already so"
    OWN = "its own interlock"
    CLOCK = "doubtful clock"


class CodeTrouble(StrEnum):
    """Why a `go`, `drop` or `prove` did nothing."""

    NOTHING_OPEN = "nothing to confirm"
    WRONG = "wrong words"
    VOID = "wrong too often, the code is void"
    EXPIRED = "too late"
    REPLACED = "replaced by a newer request"
    USED = "used already"
    PROVES = "words that prove a number"
    LOST = "phone reported lost"
    LOCKED = "commands locked"
    TOO_OLD = "text too old"
    WAITS = "too soon after wrong words"
    LINE_MISSING = "without its line from paper"
    LINE_USED = "a line from paper that is used"


@dataclass(frozen=True, slots=True, kw_only=True)
class Objection:
    """One reason against. says: in words, with the value ("fuel 12 %, needs 20 %"). cure: what would change it;
    "" when a text cannot change it."""

    rule: Rule
    says: str
    cure: str = ""
    signal: str = ""
    measured: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionAndCode:
    """The question back: what would be done, the caution, the code (two words) and until when it is good.
    run: ms for a timed run, None. until: instant of its end when it was asked by clock time. who: random id of the
    person who asked, when this one is the second whose word is needed; "" else. line: of the reader's paper list that
    is needed as well, counted from 1; None when none is."""

    person: str
    boat: str
    equipment: str
    action: str
    words: tuple[str, str]
    expires: Ms
    run: Ms | None
    until: Ms | None = None
    who: str = ""
    line: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitsForSecond:
    """The right words came; now a second person (who) is asked, until expires. Nothing is switched yet."""

    person: str
    boat: str
    equipment: str
    action: str
    who: str
    expires: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondDidNot:
    """The second person (who) did not confirm; nothing was switched. trouble: how that code ended, USED when it was
    withdrawn."""

    person: str
    boat: str
    equipment: str
    action: str
    who: str
    trouble: CodeTrouble


@dataclass(frozen=True, slots=True, kw_only=True)
class NotDone:
    """Refused; nothing was switched. confirming: refused at the confirmation, the code is used up. voided: id of the
    equipment of an older request, whose code this newer one has voided; None when there was none."""

    person: str
    boat: str
    equipment: str
    action: str
    objections: tuple[Objection, ...]
    confirming: bool
    voided: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Proved:
    """Done, as measured. measured: "231 V" or "" when the feedback contact alone was seen. after: ms from sending.
    stops_at: instant of the timed end, None. ended: it is the end of a timed run that was proved."""

    person: str
    boat: str
    equipment: str
    action: str
    measured: str
    after: Ms
    stops_at: Ms | None = None
    ended: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NotProved:
    """Sent, and no proof seen in time; it is not sent again. waited: ms. measured: what the feedback says instead.
    restarted: the gateway restarted in between."""

    person: str
    boat: str
    equipment: str
    action: str
    waited: Ms
    measured: str
    restarted: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSent:
    """The broker did not take it: nothing was switched, and it will not be sent again."""

    person: str
    boat: str
    equipment: str
    action: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeAnswer:
    """Answer to a `go` or `drop` that did nothing. until: instant up to which commands are locked, or the last at which
    the same words may still be sent. age: ms of the text. tries_left: for a wrong code. line: of the paper list that is
    asked for. wait: ms until words are compared again, None when there is no wait."""

    person: str
    trouble: CodeTrouble
    boat: str = ""
    equipment: str | None = None
    until: Ms | None = None
    age: Ms | None = None
    tries_left: int | None = None
    line: int | None = None
    wait: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dropped:
    """A request was withdrawn by its person; nothing was switched."""

    person: str
    boat: str
    equipment: str
    action: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StopTrouble:
    """A timed stop that is due is not proved yet. tries: sent so often. held_by: number of the gas or fire alarm that
    holds it, None. given_up: no more tries. unreachable: it waits, unsent, for the boat or the link to be back."""

    person: str
    boat: str
    equipment: str
    action: str
    tries: int
    held_by: int | None = None
    given_up: bool = False
    unreachable: bool = False


Answer: TypeAlias = (
    CautionAndCode
    | ProveFirst
    | NumberIsProved
    | WaitsForSecond
    | PaperRunsLow
    | SecondDidNot
    | PhoneLostTold
    | PhoneNotTaken
    | NotDone
    | Proved
    | NotProved
    | NotSent
    | CodeAnswer
    | CommandsLocked
    | Dropped
    | StopTrouble
)
