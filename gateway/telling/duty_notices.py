"""What is to be told of duty, as values: who has it, who is asked, why nothing was changed."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyOf:
    """Who is on duty for some boats (keys). who: id, None for nobody. until: instant, None when no end is known.
    following: id of whoever comes next."""

    boats: tuple[str, ...]
    who: str | None
    until: Ms | None = None
    following: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyAnswer:
    """The answer to "who is on duty". boat: "" where several are told of. duties: none where no list tells whoever is
    on duty."""

    person: str
    boat: str
    duties: tuple[DutyOf, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyTold:
    """Duty has passed. who: id of whoever has it now; equal to person when it is the answer. before: ids of those who
    had it. asked: whether this reader had asked for it."""

    person: str
    boat: str
    boats: tuple[str, ...]
    who: str
    until: Ms | None
    before: tuple[str, ...] = ()
    asked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyWanted:
    """Somebody is asked to be on duty. who: id of whom; equal to person when it is the question, else the answer to the
    one who asks (by). keeps: ids of those who have it until then. lapses: until when there is time to answer."""

    person: str
    boat: str
    boats: tuple[str, ...]
    who: str
    by: str
    until: Ms | None
    lapses: Ms
    keeps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyOver:
    """The end that was said of a duty has come. who: id of whose it was. following: id of whoever has it by the roster
    now, None for nobody. at: instant of the end. until: instant until which the roster names that person. open: numbers
    of the alarms that stand, for whoever follows."""

    person: str
    boat: str
    boats: tuple[str, ...]
    who: str
    following: str | None
    at: Ms
    until: Ms | None = None
    open: tuple[int, ...] = ()


class CannotDuty(StrEnum):
    """Why nothing was changed."""

    NO_ROSTER = "no list tells whoever is on duty"
    NOT_YOURS = "not for this person to say"
    NOBODY_KNOWN = "nobody of that name"
    CANNOT_HAVE = "that person cannot have it"
    ALREADY = "that person has it already"
    NOT_ON_DUTY = "not on duty"
    NO_SUCCESSOR = "nobody to follow"
    ASKED_ALREADY = "somebody has been asked"
    DECLINED = "declined"
    NOT_ANSWERED = "not answered"


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyUnchanged:
    """Who is on duty stays as it was. who: ids of those whom it is about: who could follow, has it or was asked."""

    person: str
    boat: str
    boats: tuple[str, ...]
    cannot: CannotDuty
    who: tuple[str, ...] = ()


DutyNotice: TypeAlias = DutyAnswer | DutyTold | DutyWanted | DutyOver | DutyUnchanged
