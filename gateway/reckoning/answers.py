"""What a sum gives back: a number with its honest rounding, a finding, an instant, or why there is none.

No sum raises: a reading from a broken sensor is answered with `NotReckoned` like any other doubt.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TypeAlias

from gateway.reckoning.rounding import QUARTER_H, hours_and_minutes, hours_left
from gateway.vocabulary.moments import Ms


class Bound(StrEnum):
    """How a shown number stands to the true one. The text of each is what is said before the number."""

    ABOUT = "about"
    LESS_THAN = "less than"
    MORE_THAN = "more than"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoned:
    """A number.

    value: as reckoned, unrounded, for checks and further sums. shown: what may be shown of it. Both in `unit` (SI
    symbols, "%" and "" for a plain ratio). bound: how `shown` stands to the true number.
    """

    value: float
    shown: Decimal
    unit: str
    bound: Bound = Bound.ABOUT

    @property
    def said(self) -> str:
        """The shown number with its unit: "about 60%", "about 2 h 30 min". GSM 7-bit letters only."""
        if self.unit == "h":
            return f"{self.bound.value} {hours_and_minutes(self.shown)}"
        if self.unit == "%":
            return f"{self.bound.value} {self.shown:f}%"
        return f"{self.bound.value} {self.shown:f} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Due:
    """An instant (ms UTC), about."""

    instant: Ms


@dataclass(frozen=True, slots=True)
class Found:
    """A finding in words, where a number would say more than is known."""

    words: str


@dataclass(frozen=True, slots=True)
class NoEnd:
    """It is known that there is nothing to count down to. because: in words, "steady"."""

    because: str


@dataclass(frozen=True, slots=True)
class NotReckoned:
    """There is no answer. because: in words, what is missing or forbids it. wrong_input: the name of the one input
    that is out of its range, "" when each alone would do."""

    because: str
    wrong_input: str = ""


Answer: TypeAlias = Reckoned | NoEnd | NotReckoned
"""What a sum for one number gives back."""

LONGEST_H = 240
"""Beyond ten days only "more than" is said (our choice: no load and no leak keeps still for that long)."""


def hours(left: float) -> Reckoned:
    """Hours still left, 0 or more, rounded down; under a quarter "less than 15 min", never a zero."""
    if left > LONGEST_H:
        return Reckoned(value=left, shown=Decimal(LONGEST_H), unit="h", bound=Bound.MORE_THAN)
    shown = hours_left(left)
    if shown == 0:
        return Reckoned(value=left, shown=QUARTER_H, unit="h", bound=Bound.LESS_THAN)
    return Reckoned(value=left, shown=shown, unit="h")
