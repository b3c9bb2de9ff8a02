"""From the tree of a condition sentence to its value, and what fits the grammar and still means nothing."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

from lark import Token, Transformer, v_args

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
    NoNews,
    RanLonger,
    StartedOften,
    Than,
    Trend,
    While,
)
from grammar.lengths import DAY, HOUR, MINUTE, SECOND, say_length
from grammar.signal_names import is_signal_name

LONGEST_LENGTH = 366 * DAY
"""ms. Our choice: a boat may be laid up for a winter; more is a slip of the pen."""

LONGEST_WINDOW = 31 * DAY
"""ms. Our choice: what is kept of a signal's past must stay small; a month is the longest that a habit is read from."""

SHORTEST_TREND = 30 * MINUTE
"""ms. Less shows no rate (handbook 4.6, our rules)."""

MOST_TIMES = 1_000
"""Starts, unreadable payloads. Our choice: so many instants are kept at most."""

MOST_FIXES = 20
"""Our choice: four times the five of the handbook (4.9)."""


class Flaw(Exception):
    """A sentence that fits the grammar and still means nothing. column counted from 1."""

    def __init__(self, problem: str, column: int) -> None:
        super().__init__(problem)
        self.problem, self.column = problem, column


class _Length(NamedTuple):
    """A length of time (ms) and where it stands."""

    ms: int
    column: int


class _Figure(NamedTuple):
    """A number with its unit, "" when none stood there, and where it stands."""

    number: Decimal
    unit: str
    column: int


class _By(NamedTuple):
    figure: _Figure


class _Deadband(NamedTuple):
    figure: _Figure


class _Unit(NamedTuple):
    text: str


class _Over(NamedTuple):
    length: _Length


class _Recent(NamedTuple):
    length: _Length


class _Place(NamedTuple):
    """Radius (m), whether within it, latitude and longitude or None."""

    metres: Decimal
    within: bool
    where: tuple[Decimal, Decimal] | None


@dataclass(frozen=True, slots=True)
class _Part:
    """A condition without the delay that stands behind it."""

    condition: Condition
    delay: _Length | None = None


def _column(token: Token) -> int:
    return token.column or 1


def _whole(token: Token, least: int, most: int, what: str) -> int:
    if not token.isdecimal() or not least <= int(token) <= most:
        raise Flaw(f'{what} is a whole number from {least} to {most:,}, not "{token}"', _column(token))
    return int(token)


def _figures(found: tuple[object, ...]) -> list[_Figure]:
    """The numbers of a sentence in their order, each with the unit that stands behind it."""
    figures: list[_Figure] = []
    for each in found:
        if isinstance(each, Token) and each.type == "NUMBER":
            figures.append(_Figure(Decimal(str(each)), "", _column(each)))
        elif isinstance(each, _Unit) and figures:
            figures[-1] = figures[-1]._replace(unit=each.text)
    return figures


def _one_unit(first: _Figure, second: _Figure | None, what: str) -> None:
    if second is not None and second.unit != first.unit:
        raise Flaw(f"{what} must have the unit of the limit, {first.unit or 'which has none'}", second.column)


def _deadband(found: tuple[object, ...], limit: _Figure | None) -> _Figure | None:
    figure = next((each.figure for each in found if isinstance(each, _Deadband)), None)
    if figure is None:
        return None
    if figure.number <= 0:
        raise Flaw("a deadband is more than nothing", figure.column)
    if limit is not None:
        _one_unit(limit, figure, "the deadband")
    return figure


def _delay(found: tuple[object, ...]) -> _Length | None:
    last = found[-1] if found else None
    return last if isinstance(last, _Length) else None


def _window(length: _Length) -> int:
    if length.ms > LONGEST_WINDOW:
        raise Flaw(f"what is kept of the past is at most {say_length(LONGEST_WINDOW)}", length.column)
    return length.ms


@v_args(inline=True)
class ConditionTree(Transformer[Token, Condition | Gone]):
    """One method a rule."""

    def start(self, part: _Part | Gone) -> Condition | Gone:
        if isinstance(part, Gone):
            return part
        return part.condition if part.delay is None else replace(part.condition, lasting=part.delay.ms)

    def gone(self, delay: _Length | None = None) -> Gone:
        return Gone(lasting=delay.ms if delay else 0)

    # ------------------------------------------------------------ joined

    def while_also(self, part: _Part, also: _Part) -> _Part:
        if part.delay and also.delay:
            raise Flaw("one delay a sentence: both sides of while have one", also.delay.column)
        return _Part(While(part=part.condition, also=also.condition), part.delay or also.delay)

    def both(self, *parts: _Part) -> _Part:
        return self._joined(parts, lambda conditions: Both(parts=conditions))

    def either(self, *parts: _Part) -> _Part:
        return self._joined(parts, lambda conditions: Either(parts=conditions))

    def _joined(self, parts: tuple[_Part, ...], made: Callable[[tuple[Condition, ...]], Condition]) -> _Part:
        for part in parts[:-1]:
            if part.delay:
                raise Flaw("the delay stands once, at the end, and is that of the whole sentence", part.delay.column)
        return _Part(made(tuple(part.condition for part in parts)), parts[-1].delay)

    def opposite(self, part: _Part) -> _Part:
        return _Part(IsNot(part=part.condition), part.delay)

    def bracketed(self, part: _Part, delay: _Length | None = None) -> _Part:
        if part.delay:
            raise Flaw("a delay stands behind the brackets, at the end of the sentence", part.delay.column)
        return _Part(part.condition, delay)

    # ------------------------------------------------------------ single

    def contact(self, signal: str, wanted: bool, delay: _Length | None = None) -> _Part:
        return _Part(IsContact(signal=signal, wanted=wanted), delay)

    def ran(
        self, signal: str, wanted: bool, more_than: _Length, window: _Length, delay: _Length | None = None
    ) -> _Part:
        if more_than.ms >= _window(window):
            raise Flaw(f"that can never be within {say_length(window.ms)}", more_than.column)
        return _Part(RanLonger(signal=signal, wanted=wanted, more_than=more_than.ms, window=window.ms), delay)

    def started(self, signal: str, times: Token, window: _Length, delay: _Length | None = None) -> _Part:
        more_than = _whole(times, 0, MOST_TIMES, "how often it started")
        return _Part(StartedOften(signal=signal, more_than=more_than, window=_window(window)), delay)

    def number(self, signal: str, than: Than, *rest: object) -> _Part:
        [limit] = _figures(rest)
        band = _deadband(rest, limit)
        condition = IsNumber(
            signal=signal, than=than, limit=limit.number, unit=limit.unit, deadband=band.number if band else None
        )
        return _Part(condition, _delay(rest))

    def band(self, signal: str, outside: bool, *rest: object) -> _Part:
        low, high = _figures(rest)
        if low.unit and low.unit != high.unit:
            raise Flaw("both limits have the same unit", low.column)
        if low.number >= high.number:
            raise Flaw("the lower limit comes first", low.column)
        band = _deadband(rest, high)

        if band and outside and 2 * band.number >= high.number - low.number:
            raise Flaw("the deadband leaves nothing between the limits", band.column)
        condition = IsBand(
            signal=signal,
            outside=outside,
            low=low.number,
            high=high.number,
            unit=high.unit,
            deadband=band.number if band else None,
        )
        return _Part(condition, _delay(rest))

    def compared(self, signal: str, than: Than, other: str, *rest: object) -> _Part:
        further = next((each.figure for each in rest if isinstance(each, _By)), None)
        band = _deadband(rest, further)
        condition = IsCompared(
            signal=signal,
            than=than,
            other=other,
            by=further.number if further else None,
            unit=further.unit if further else band.unit if band else "",
            deadband=band.number if band else None,
        )
        return _Part(condition, _delay(rest))

    def word(self, signal: str, value: str, delay: _Length | None = None) -> _Part:
        return _Part(IsWord(signal=signal, word=value), delay)

    def changed(self, signal: str, *rest: object) -> _Part:
        recent = next((each.length for each in rest if isinstance(each, _Recent)), None)
        return _Part(HasChanged(signal=signal, window=_window(recent) if recent else 0), _delay(rest))

    def rate(self, signal: str, trend: Trend, *rest: object) -> _Part:
        [speed] = _figures(rest)
        if speed.number < 0:
            raise Flaw("a rate has no sign: rising or falling says which way", speed.column)
        over = next((each.length for each in rest if isinstance(each, _Over)), None)
        if over and over.ms < SHORTEST_TREND:
            raise Flaw(f"less than {say_length(SHORTEST_TREND)} shows no rate (handbook 4.6)", over.column)
        condition = IsMoving(
            signal=signal,
            trend=trend,
            faster_than=speed.number,
            unit=speed.unit,
            window=_window(over) if over else DEFAULT_TREND_WINDOW,
        )
        return _Part(condition, _delay(rest))

    def unreadable(self, signal: str, times: Token, delay: _Length | None = None) -> _Part:
        count = _whole(times, 1, MOST_TIMES, "how often it could not be read")
        return _Part(IsUnreadable(signal=signal, times=count), delay)

    def unbelievable(self, signal: str, delay: _Length | None = None) -> _Part:
        return _Part(IsUnbelievable(signal=signal), delay)

    def fixes(self, count: Token, of: Token, signal: str, place: _Place, delay: _Length | None = None) -> _Part:
        many = _whole(of, 1, MOST_FIXES, "the number of fixes")
        condition = FixesAway(
            signal=signal,
            count=_whole(count, 1, many, "how many of them"),
            of=many,
            within=place.within,
            metres=place.metres,
            lat=place.where[0] if place.where else None,
            lon=place.where[1] if place.where else None,
        )
        return _Part(condition, delay)

    def silence_of_one(self, signal: str, length: _Length) -> _Part:
        return _Part(NoNews(signal=signal, lasting=length.ms))

    def silence_of_all(self, length: _Length) -> _Part:
        return _Part(NoNews(signal=None, lasting=length.ms))

    # ------------------------------------------------------------ positions

    def further(self, *rest: object) -> _Place:
        return self._place(False, rest)

    def within(self, *rest: object) -> _Place:
        return self._place(True, rest)

    def _place(self, within: bool, rest: tuple[object, ...]) -> _Place:
        [radius] = _figures(rest)
        if radius.unit != "m":
            raise Flaw('the distance is in metres: write "m" behind it', radius.column)
        if radius.number <= 0:
            raise Flaw("a distance is more than nothing", radius.column)
        where = rest[-1]
        return _Place(radius.number, within, where if isinstance(where, tuple) and len(where) == 2 else None)

    def set_position(self) -> None:
        return None

    def written_position(self, lat: Token, lon: Token) -> tuple[Decimal, Decimal]:
        for token, most, what in ((lat, 90, "latitude"), (lon, 180, "longitude")):
            if abs(Decimal(str(token))) > most:
                raise Flaw(f"a {what} is from -{most} to {most} degrees", _column(token))
        return Decimal(str(lat)), Decimal(str(lon))

    # ------------------------------------------------------------ words

    def signal(self, name: Token) -> str:
        if not is_signal_name(name):
            raise Flaw(f'"{name}" is not a signal\'s name: lower-case letters, digits and single "-"', _column(name))
        return str(name)

    def unit(self, name: Token) -> _Unit:
        return _Unit(str(name))

    def value(self, name: Token) -> str:
        return str(name)

    def by(self, *found: object) -> _By:
        return _By(_figures(found)[0])

    def deadband(self, *found: object) -> _Deadband:
        return _Deadband(_figures(found)[0])

    def over(self, length: _Length) -> _Over:
        return _Over(length)

    def recent(self, length: _Length) -> _Recent:
        return _Recent(length)

    def on(self) -> bool:
        return True

    def off(self) -> bool:
        return False

    def outside(self) -> bool:
        return True

    def between(self) -> bool:
        return False

    def rising(self) -> Trend:
        return Trend.RISING

    def falling(self) -> Trend:
        return Trend.FALLING

    def above(self) -> Than:
        return Than.ABOVE

    def below(self) -> Than:
        return Than.BELOW

    def at_least(self) -> Than:
        return Than.AT_LEAST

    def at_most(self) -> Than:
        return Than.AT_MOST

    # ------------------------------------------------------------ lengths of time

    def one_hour(self) -> _Length:
        return _Length(HOUR, 1)

    def one_day(self) -> _Length:
        return _Length(DAY, 1)

    def second(self) -> int:
        return SECOND

    def minute(self) -> int:
        return MINUTE

    def hour(self) -> int:
        return HOUR

    def day(self) -> int:
        return DAY

    def part(self, count: Token, unit: int) -> tuple[Token, int]:
        if not count.isdecimal():
            raise Flaw(f'a length of time is written in whole numbers, not "{count}"', _column(count))
        return count, unit

    def length(self, *parts: tuple[Token, int]) -> _Length:
        column = _column(parts[0][0])
        units = [unit for _, unit in parts]
        if any(later >= earlier for earlier, later in pairwise(units)):
            raise Flaw("a length of time goes from the longest unit to the shortest, each once", column)
        total = sum(int(count) * unit for count, unit in parts)
        if total == 0:
            raise Flaw("a length of time must be more than nothing", column)
        if total > LONGEST_LENGTH:
            raise Flaw("a length of time is at most 366 days", column)
        return _Length(total, column)
