"""What is told of a practice alarm, as values. Every one of its texts begins with the word PRACTICE."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from gateway.telling.practice import PracticeEnd
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeTold:
    """The call-out itself. by: id of who set it off."""

    person: str
    boat: str
    point: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeRung:
    """The same, to be spoken in a call."""

    person: str
    boat: str
    point: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeBegun:
    """The answer to whoever set it off. first: ids of those whose turn comes first. ends: instant at which it is over
    if nobody has it."""

    person: str
    boat: str
    point: str
    first: tuple[str, ...]
    ends: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeEndTold:
    """It is over: to everybody who was told of it, and to whoever set it off. by: id of who had it or ended it. lasted:
    ms. told: ids of those whose turn came. texts, arrived: how many went and how many are said to have arrived; None to
    those who need not know."""

    person: str
    boat: str
    point: str
    because: PracticeEnd
    by: str | None
    lasted: Ms
    told: tuple[str, ...]
    texts: int | None = None
    arrived: int | None = None


class CannotPractise(StrEnum):
    """Why no practice was set off, or none ended."""

    NOT_YOURS = "not for this person to set off"
    NO_SUCH = "no point is called so"
    ALARM_OPEN = "an alarm waits for somebody"
    GOES_ON = "another one goes on"
    NOT_TOLD = "nobody would be told"
    TOO_OFTEN = "the boat has had enough of them"
    NONE_ON = "none goes on"


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeRefused:
    """Nobody was told of anything. words: the name that was texted, for `NO_SUCH`. point: id, of what goes on.
    number: of the alarm that is open. because: for `NOT_TOLD`. who: ids of those who may."""

    person: str
    boat: str
    cannot: CannotPractise
    words: str = ""
    point: str | None = None
    number: int | None = None
    because: str = ""
    who: tuple[str, ...] = ()


PracticeNotice: TypeAlias = PracticeTold | PracticeBegun | PracticeEndTold | PracticeRefused
