"""What a sum asks for: each input with its unit and range, and how a sum is described at the bench."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from gateway.reckoning.answers import Due, Found, NoEnd, NotReckoned, Reckoned
from gateway.reckoning.rounding import figures


@dataclass(frozen=True, slots=True)
class Measure:
    """Another unit for a quantity. key: its name with the unit. factor: what a number in it is multiplied by."""

    key: str
    unit: str
    factor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number that a sum takes.

    key: its name with the unit, as functions call it ("capacity_ah"). words: what it is. lowest, highest: the range
    in which the sum is valid, both inclusive, in `unit`. usual: taken at the bench when it is not given. needed:
    whether the bench must have it. also: other units that the bench reads. whole: it counts, so there are no parts.
    """

    key: str
    unit: str
    words: str
    lowest: float
    highest: float
    usual: float | None = None
    needed: bool = True
    also: tuple[Measure, ...] = ()
    whole: bool = False

    @property
    def usual_text(self) -> str | None:
        """The usual value as somebody would write it."""
        return None if self.usual is None else f"{self.usual:g}"

    def holds(self, value: float) -> bool:
        """Whether a value lies in the range. Not a number never does."""
        return self.lowest <= value <= self.highest and (not self.whole or float(value).is_integer())


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One of a few words."""

    key: str
    words: str
    options: tuple[str, ...]
    usual: str | None = None
    needed: bool = True

    @property
    def usual_text(self) -> str | None:
        """The usual option."""
        return self.usual


@dataclass(frozen=True, slots=True, kw_only=True)
class Instant:
    """An instant, ms UTC; at the bench RFC 3339 with a zone."""

    key: str
    words: str
    needed: bool = True

    @property
    def usual_text(self) -> None:
        """There is no usual instant."""
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Several:
    """Groups of numbers, given one group after the other; a function gets them as a tuple of tuples. least: how many
    groups the bench must have."""

    key: str
    words: str
    parts: tuple[Quantity, ...]
    least: int = 1


Input: TypeAlias = Quantity | Choice | Instant | Several


@dataclass(frozen=True, slots=True)
class Result:
    """One answer of a sum with its name."""

    name: str
    answer: Reckoned | Due | Found | NoEnd | NotReckoned


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """A sum as the bench offers it.

    name: what it is asked for by. asks: the question it answers. takes: its inputs. reckon: is called with the inputs
    by their keys; one that was not given is None. formula, source, caution: printed under every result; the source
    names the handbook's section and the published source.
    """

    name: str
    asks: str
    takes: tuple[Input, ...]
    reckon: Callable[..., tuple[Result, ...]]
    formula: str
    source: str
    caution: str


def out_of_range(*given: tuple[Quantity, float]) -> NotReckoned | None:
    """The first of some inputs that is out of its range, said with the range; None when each is within."""
    for quantity, value in given:
        if not quantity.holds(value):
            return NotReckoned(
                f"{quantity.words} is {value:g}{spaced(quantity.unit)}; {range_of(quantity)} can be reckoned with",
                wrong_input=quantity.key,
            )
    return None


def range_of(quantity: Quantity, measure: Measure | None = None) -> str:
    """ "1 to 500 mm", in the quantity's own unit or in another measure of it."""
    factor, unit = (1.0, quantity.unit) if measure is None else (measure.factor, measure.unit)
    kind = "a whole number from " if quantity.whole else ""
    lowest, highest = (f"{figures(end / factor, 4).normalize():f}" for end in (quantity.lowest, quantity.highest))
    return f"{kind}{lowest} to {highest}{spaced(unit)}"


def spaced(unit: str) -> str:
    """A unit as it follows a number: "%" close by, others after a space."""
    return unit if unit in ("", "%") else f" {unit}"
