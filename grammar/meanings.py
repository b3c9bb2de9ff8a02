"""The plain values that both readers give back. The only module of this package that the gateway's rooms may import.

Lengths of time are whole milliseconds, clock times are minutes after midnight (boat time), numbers are Decimals.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from grammar.condition_meanings import (
    DEFAULT_TREND_WINDOW,
    Both,
    Condition,
    Either,
    FixesAway,
    Gone,
    HasChanged,
    IsBand,
    IsCompared,
    IsContact,
    IsMoving,
    IsNot,
    IsNumber,
    IsUnbelievable,
    IsUnreadable,
    IsWord,
    JoinedCondition,
    NoNews,
    PastCondition,
    RanLonger,
    StartedOften,
    StartsGrow,
    Than,
    Trend,
    ValueCondition,
    While,
    leaves_of,
    parts_of,
    signals_of,
)
from grammar.saying_conditions import say_condition

__all__ = [
    "DEFAULT_TREND_WINDOW",
    "Ashore",
    "Asking",
    "AtBoat",
    "Attend",
    "Both",
    "Condition",
    "Confirm",
    "Duty",
    "DutyOff",
    "Either",
    "FixesAway",
    "Gone",
    "HandOver",
    "HasChanged",
    "IsBand",
    "IsCompared",
    "IsContact",
    "IsMoving",
    "IsNot",
    "IsNumber",
    "IsUnbelievable",
    "IsUnreadable",
    "IsWord",
    "JoinedCondition",
    "Meaning",
    "NoNews",
    "NotUnderstood",
    "Note",
    "PaperLine",
    "PastCondition",
    "PhoneLost",
    "Practice",
    "PracticeOver",
    "ProveNumber",
    "PutBack",
    "Question",
    "QuietAlarm",
    "RanLonger",
    "RemoveAlarm",
    "Request",
    "ResetAlarm",
    "ShelveAlarm",
    "StartedOften",
    "StartsGrow",
    "Switch",
    "TakeAlarm",
    "TakeOver",
    "Than",
    "Trend",
    "Understood",
    "UnshelveAlarm",
    "ValueCondition",
    "VisitBegins",
    "VisitOver",
    "While",
    "Why",
    "Withdraw",
    "leaves_of",
    "parts_of",
    "say_condition",
    "signals_of",
]

# ---------------------------------------------------------------- what a person texts


class Asking(StrEnum):
    """What a status question is about."""

    STATUS = "status"
    ALARMS = "alarms"
    PHRASES = "phrases"
    DUTY = "who is on duty"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """`status`, `alarms`, `phrases`, `who is on duty`; `status generator` about one equipment, `status battery` about
    one subject.

    equipment: neutral key. subject: the folded name that was used. At most one of the two, for `status` only.
    """

    asking: Asking
    equipment: str | None = None
    subject: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeAlarm:
    """`have it`, `have it 14`, `ack 14`, `mine`. alarm None: the only open one, else asked."""

    alarm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ResetAlarm:
    """`checked`, `checked 14`: somebody has looked; a latched alarm that is clear goes back to normal."""

    alarm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitBegins:
    """`visit`: somebody is aboard."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitOver:
    """`visit over`: I have left and nobody is aboard."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Switch:
    """`generator start for 2 h`, `refrigeration off until 18:00`.

    equipment: the neutral key of the name that was used. action: start, stop, on, off, open or close, as texted.
    minutes: how long, 1 to 1440, or None. until: minutes after midnight (0 to 1439), the next one to come, or None.
    """

    equipment: str
    action: str
    minutes: int | None = None
    until: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperLine:
    """`7 lantern piccolo`: a line of a list on paper, by its number and its two words."""

    number: int
    words: tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirm:
    """`go teapot marble`; `go teapot marble 7 lantern piccolo` where a line from paper is asked for as well."""

    words: tuple[str, str]
    line: PaperLine | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdraw:
    """`drop teapot marble`."""

    words: tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProveNumber:
    """`prove teapot marble`: the two words that were sent to a number that is not proved yet."""

    words: tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PhoneLost:
    """`phone lost Tobias`: that number shall command nothing any more. person: the neutral key of the name that was
    used, None for the sender."""

    person: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelveAlarm:
    """`shelve 14 for 2 h`: put an alarm aside for a time. minutes: 1 to 1440; the desk's own limit is narrower."""

    alarm: int
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class UnshelveAlarm:
    """`unshelve 14`: before its time is over."""

    alarm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveAlarm:
    """`out of service 14 for 3 days`: its sensor is being worked on. days: 1 to 14."""

    alarm: int
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PutBack:
    """`in service 14`: the work is done."""

    alarm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Attend:
    """`away`, `aboard`, `laid up`, `in the yard for 10 days`: how the boat is kept from now on.

    kept: as it is texted. days: 1 to 14, only for the yard, None when not said."""

    kept: str
    days: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AtBoat:
    """`at boat 14`: the holder is there. alarm None: what he has."""

    alarm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ashore:
    """`ashore 14`: the holder has left the boat. alarm None: what he has."""

    alarm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOver:
    """`take over 14`: I have it from now on, whoever had it before."""

    alarm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver:
    """`hand over 14`: the holder asks the others to take it."""

    alarm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """`note 14 cover leaking`: a remark for the record, never read as an order. words: as they were written.
    alarm None: about the boat."""

    words: str
    alarm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """`duty me`, `duty Tobias until Sunday`: who is to be on duty. person: the neutral key of the name that was used,
    None for the sender. weekday: 0 Monday to 6, to the end of that day; minute: after midnight (0 to 1439), the next
    one to come; at most one of the two, both None when no end was said. Both are boat time."""

    person: str | None = None
    weekday: int | None = None
    minute: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyOff:
    """`duty off`: the sender wants to be on duty no longer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuietAlarm:
    """`quiet 14 for 2 h`: no reminders of it to the sender. minutes: 1 to 1440; the desk's own limit is narrower."""

    alarm: int
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """`practice house bank low`: call out an alarm point for practice. words: its name, as it was written, small."""

    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeOver:
    """`practice over`: end the practice that goes on."""


Request: TypeAlias = (
    Question
    | TakeAlarm
    | ResetAlarm
    | VisitBegins
    | VisitOver
    | Switch
    | Confirm
    | Withdraw
    | ProveNumber
    | PhoneLost
    | ShelveAlarm
    | UnshelveAlarm
    | RemoveAlarm
    | PutBack
    | Attend
    | AtBoat
    | Ashore
    | TakeOver
    | HandOver
    | Duty
    | DutyOff
    | QuietAlarm
    | Note
    | Practice
    | PracticeOver
)
"""What one text asks for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """A text that was exactly understood. boat: the neutral key of the boat named in front, or None."""

    request: Request
    boat: str | None = None


class Why(StrEnum):
    """Why a text was not understood."""

    EMPTY = "empty"
    TOO_LONG = "too long"
    MERE_ANSWER = "mere answer"  # ok, got it, seen, a thumbs-up: takes nothing
    REACTION = "reaction"  # a phone's reaction or quotation of a text of ours: never a confirmation
    OPT_OUT = "opt-out"  # a word that carriers take as opt-out (stop, end ...), standing alone
    OPT_IN = "opt-in"  # likewise opt-in (start, yes, unstop) or help (help, info)
    LIMIT_ON_STOP = "limit on a stop"  # "generator stop for 2 h" would mean a start later
    HALF_A_CODE = "half a code"
    CODE_ALONE = "code words alone"  # two words that codes are drawn from, without what belongs before them
    PROOF_ALONE = "words of a proof alone"  # likewise while a number is being proved; never the reader's word
    WHOSE_PHONE = "whose phone"  # a phone is lost, and nobody we know is named
    NOBODY_KNOWN = "nobody of that name"  # "duty" for somebody unknown
    SEVERAL_ALARMS = "several alarms"  # "have it 4 and 5": each of them is offered by itself
    BAD_TIME = "bad time"  # 24:30, 0 minutes, more than 24 hours
    WRONG_ACTION = "wrong action"  # equipment known, but it has another pair of actions
    AT_THE_BOAT_ONLY = "at the boat only"  # what a text only ever brings to rest: the other half is no order
    NOT_FITTED = "not fitted"  # the boat has no such equipment; never the reader's word, who knows no boat
    NOT_A_PHRASE = "not a phrase"


@dataclass(frozen=True, slots=True, kw_only=True)
class NotUnderstood:
    """A text that does nothing but get a helpful answer (or none).

    nearest: valid phrases to offer, best first, at most 3; empty where a suggestion could mislead (negation,
    question, condition, report, quotation). Opposite actions always come as a pair.
    equipment: the neutral key, for `wrong action`, `at the boat only` and `limit on a stop`, else None. boat: the
    neutral key of the one boat that was named beside it, beside somebody unknown or before a mere answer, so that the
    answer keeps it, else None. alarm: the number that stands with a mere answer ("4 ok"), else None.
    """

    why: Why
    nearest: tuple[str, ...] = ()
    equipment: str | None = None
    boat: str | None = None
    alarm: int | None = None


Meaning: TypeAlias = Understood | NotUnderstood
