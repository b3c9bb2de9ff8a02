"""What stands between a condition sentence and its value: figures, lengths, windows, each with its place."""

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from lark import Token

from grammar.condition_meanings import Condition
from grammar.lengths import DAY, say_length

LONGEST_WINDOW = 31 * DAY
"""ms. Our choice: what is kept of a signal's past must stay small; a month is the longest that a habit is read from."""


class Flaw(Exception):
    """A sentence that fits the grammar and still means nothing. column counted from 1."""

    def __init__(self, problem: str, column: int) -> None:
        super().__init__(problem)
        self.problem, self.column = problem, column


class Length(NamedTuple):
    """A length of time (ms) and where it stands."""

    ms: int
    column: int


class Figure(NamedTuple):
    """A number with its unit, "" when none stood there, and where it stands."""

    number: Decimal
    unit: str
    column: int


class By(NamedTuple):
    """A deadband behind `by`, still bare."""

    figure: Figure


class Deadband(NamedTuple):
    """A deadband."""

    figure: Figure


class Unit(NamedTuple):
    """A unit, as written."""

    text: str


class Over(NamedTuple):
    """The window of a rate."""

    length: Length


class Recent(NamedTuple):
    """The window of what was."""

    length: Length


class Place(NamedTuple):
    """Radius (m), whether within it, latitude and longitude or None."""

    metres: Decimal
    within: bool
    where: tuple[Decimal, Decimal] | None


@dataclass(frozen=True, slots=True)
class Part:
    """A condition without the delay that stands behind it."""

    condition: Condition
    delay: Length | None = None


def column_of(token: Token) -> int:
    """Where it stands, counted from 1."""
    return token.column or 1


def whole_number(token: Token, least: int, most: int, what: str) -> int:
    """A whole number within its range. Raises Flaw, which says what it is and the range."""
    if not token.isdecimal() or not least <= int(token) <= most:
        raise Flaw(f'{what} is a whole number from {least} to {most:,}, not "{token}"', column_of(token))
    return int(token)


def figures_of(found: tuple[object, ...]) -> list[Figure]:
    """The numbers of a sentence in their order, each with the unit that stands behind it."""
    figures: list[Figure] = []
    for each in found:
        if isinstance(each, Token) and each.type == "NUMBER":
            figures.append(Figure(Decimal(str(each)), "", column_of(each)))
        elif isinstance(each, Unit) and figures:
            figures[-1] = figures[-1]._replace(unit=each.text)
    return figures


def need_one_unit(first: Figure, second: Figure | None, what: str) -> None:
    """Raises Flaw when a second figure (what it is said to be: `what`) has another unit than the first."""
    if second is not None and second.unit != first.unit:
        raise Flaw(f"{what} must have the unit of the limit, {first.unit or 'which has none'}", second.column)


def deadband_of(found: tuple[object, ...], limit: Figure | None) -> Figure | None:
    """The deadband that was written, None when none was. Raises Flaw for nothing or less, and for another unit
    than the limit's."""
    figure = next((each.figure for each in found if isinstance(each, Deadband)), None)
    if figure is None:
        return None
    if figure.number <= 0:
        raise Flaw("a deadband is more than nothing", figure.column)
    if limit is not None:
        need_one_unit(limit, figure, "the deadband")
    return figure


def delay_of(found: tuple[object, ...]) -> Length | None:
    """The length at the end, None when none stands there."""
    last = found[-1] if found else None
    return last if isinstance(last, Length) else None


def window_of(length: Length) -> int:
    """A window's length (ms). Raises Flaw when more than is kept of the past."""
    if length.ms > LONGEST_WINDOW:
        raise Flaw(f"what is kept of the past is at most {say_length(LONGEST_WINDOW)}", length.column)
    return length.ms
