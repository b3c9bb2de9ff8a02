"""From the tree of a condition sentence to its value, and what fits the grammar and still means nothing."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

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
    StartsGrow,
    Than,
    Trend,
    While,
)
from grammar.condition_parts import (
    By,
    Deadband,
    Flaw,
    Length,
    Over,
    Part,
    Place,
    Recent,
    Unit,
    column_of,
    deadband_of,
    delay_of,
    figures_of,
    whole_number,
    window_of,
)
from grammar.lengths import DAY, HOUR, MINUTE, SECOND, say_length
from grammar.signal_names import is_signal_name

LONGEST_LENGTH = 366 * DAY
"""ms. Our choice: a boat may be laid up for a winter; more is a slip of the pen."""

SHORTEST_TREND = 30 * MINUTE
"""ms. Less shows no rate (handbook 4.6, our rules)."""

MOST_TIMES = 1_000
"""Starts, unreadable payloads. Our choice: so many instants are kept at most."""

MOST_HOURS = 6
"""Hours in which it starts oftener and oftener. Our choice: doubled six times running, one start is 64."""

MOST_FIXES = 20
"""Our choice: four times the five of the handbook (4.9)."""


@v_args(inline=True)
class ConditionTree(Transformer[Token, Condition | Gone]):
    """One method a rule."""

    def start(self, part: Part | Gone) -> Condition | Gone:
        if isinstance(part, Gone):
            return part
        return part.condition if part.delay is None else replace(part.condition, lasting=part.delay.ms)

    def gone(self, delay: Length | None = None) -> Gone:
        return Gone(lasting=delay.ms if delay else 0)

    # ------------------------------------------------------------ joined

    def while_also(self, part: Part, also: Part) -> Part:
        if part.delay and also.delay:
            raise Flaw("one delay a sentence: both sides of while have one", also.delay.column)
        return Part(While(part=part.condition, also=also.condition), part.delay or also.delay)

    def both(self, *parts: Part) -> Part:
        return self._joined(parts, lambda conditions: Both(parts=conditions))

    def either(self, *parts: Part) -> Part:
        return self._joined(parts, lambda conditions: Either(parts=conditions))

    def _joined(self, parts: tuple[Part, ...], made: Callable[[tuple[Condition, ...]], Condition]) -> Part:
        for part in parts[:-1]:
            if part.delay:
                raise Flaw("the delay stands once, at the end, and is that of the whole sentence", part.delay.column)
        return Part(made(tuple(part.condition for part in parts)), parts[-1].delay)

    def opposite(self, part: Part) -> Part:
        return Part(IsNot(part=part.condition), part.delay)

    def bracketed(self, part: Part, delay: Length | None = None) -> Part:
        if part.delay:
            raise Flaw("a delay stands behind the brackets, at the end of the sentence", part.delay.column)
        return Part(part.condition, delay)

    # ------------------------------------------------------------ single

    def contact(self, signal: str, wanted: bool, delay: Length | None = None) -> Part:
        return Part(IsContact(signal=signal, wanted=wanted), delay)

    def ran(self, signal: str, wanted: bool, more_than: Length, window: Length, delay: Length | None = None) -> Part:
        if more_than.ms >= window_of(window):
            raise Flaw(f"that can never be within {say_length(window.ms)}", more_than.column)
        return Part(RanLonger(signal=signal, wanted=wanted, more_than=more_than.ms, window=window.ms), delay)

    def started(self, signal: str, times: Token, window: Length, delay: Length | None = None) -> Part:
        more_than = whole_number(times, 0, MOST_TIMES, "how often it started")
        return Part(StartedOften(signal=signal, more_than=more_than, window=window_of(window)), delay)

    def oftener(self, signal: str, times: Token, over: Length, window: Length, delay: Length | None = None) -> Part:
        factor = whole_number(times, 1, MOST_TIMES, "how many times its mean it started")
        if over.ms < 2 * window_of(window):
            raise Flaw(f"no mean is made of less than two times {say_length(window.ms)}", over.column)
        return Part(StartedOften(signal=signal, more_than=factor, window=window.ms, mean_of=window_of(over)), delay)

    def growing(self, signal: str, times: Token, hours: Token, delay: Length | None = None) -> Part:
        factor = whole_number(times, 2, MOST_TIMES, "how many times as often it started")
        running = whole_number(hours, 2, MOST_HOURS, "for how many hours it goes on")
        return Part(StartsGrow(signal=signal, times=factor, hours=running), delay)

    def number(self, signal: str, than: Than, *rest: object) -> Part:
        [limit] = figures_of(rest)
        band = deadband_of(rest, limit)
        condition = IsNumber(
            signal=signal, than=than, limit=limit.number, unit=limit.unit, deadband=band.number if band else None
        )
        return Part(condition, delay_of(rest))

    def band(self, signal: str, outside: bool, *rest: object) -> Part:
        low, high = figures_of(rest)
        if low.unit and low.unit != high.unit:
            raise Flaw("both limits have the same unit", low.column)
        if low.number >= high.number:
            raise Flaw("the lower limit comes first", low.column)
        band = deadband_of(rest, high)

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
        return Part(condition, delay_of(rest))

    def compared(self, signal: str, than: Than, other: str, *rest: object) -> Part:
        further = next((each.figure for each in rest if isinstance(each, By)), None)
        band = deadband_of(rest, further)
        condition = IsCompared(
            signal=signal,
            than=than,
            other=other,
            by=further.number if further else None,
            unit=further.unit if further else band.unit if band else "",
            deadband=band.number if band else None,
        )
        return Part(condition, delay_of(rest))

    def word(self, signal: str, value: str, delay: Length | None = None) -> Part:
        return Part(IsWord(signal=signal, word=value), delay)

    def changed(self, signal: str, *rest: object) -> Part:
        recent = next((each.length for each in rest if isinstance(each, Recent)), None)
        return Part(HasChanged(signal=signal, window=window_of(recent) if recent else 0), delay_of(rest))

    def rate(self, signal: str, trend: Trend, *rest: object) -> Part:
        [speed] = figures_of(rest)
        if speed.number < 0:
            raise Flaw("a rate has no sign: rising or falling says which way", speed.column)
        over = next((each.length for each in rest if isinstance(each, Over)), None)
        if over and over.ms < SHORTEST_TREND:
            raise Flaw(f"less than {say_length(SHORTEST_TREND)} shows no rate (handbook 4.6)", over.column)
        condition = IsMoving(
            signal=signal,
            trend=trend,
            faster_than=speed.number,
            unit=speed.unit,
            window=window_of(over) if over else DEFAULT_TREND_WINDOW,
        )
        return Part(condition, delay_of(rest))

    def unreadable(self, signal: str, times: Token, delay: Length | None = None) -> Part:
        count = whole_number(times, 1, MOST_TIMES, "how often it could not be read")
        return Part(IsUnreadable(signal=signal, times=count), delay)

    def unbelievable(self, signal: str, delay: Length | None = None) -> Part:
        return Part(IsUnbelievable(signal=signal), delay)

    def fixes(self, count: Token, of: Token, signal: str, place: Place, delay: Length | None = None) -> Part:
        many = whole_number(of, 1, MOST_FIXES, "the number of fixes")
        condition = FixesAway(
            signal=signal,
            count=whole_number(count, 1, many, "how many of them"),
            of=many,
            within=place.within,
            metres=place.metres,
            lat=place.where[0] if place.where else None,
            lon=place.where[1] if place.where else None,
        )
        return Part(condition, delay)

    def silence_of_one(self, signal: str, length: Length) -> Part:
        return Part(NoNews(signal=signal, lasting=length.ms))

    def silence_of_all(self, length: Length) -> Part:
        return Part(NoNews(signal=None, lasting=length.ms))

    # ------------------------------------------------------------ positions

    def further(self, *rest: object) -> Place:
        return self._place(False, rest)

    def within(self, *rest: object) -> Place:
        return self._place(True, rest)

    def _place(self, within: bool, rest: tuple[object, ...]) -> Place:
        [radius] = figures_of(rest)
        if radius.unit != "m":
            raise Flaw('the distance is in metres: write "m" behind it', radius.column)
        if radius.number <= 0:
            raise Flaw("a distance is more than nothing", radius.column)
        where = rest[-1]
        return Place(radius.number, within, where if isinstance(where, tuple) and len(where) == 2 else None)

    def set_position(self) -> None:
        return None

    def written_position(self, lat: Token, lon: Token) -> tuple[Decimal, Decimal]:
        for token, most, what in ((lat, 90, "latitude"), (lon, 180, "longitude")):
            if abs(Decimal(str(token))) > most:
                raise Flaw(f"a {what} is from -{most} to {most} degrees", column_of(token))
        return Decimal(str(lat)), Decimal(str(lon))

    # ------------------------------------------------------------ words

    def signal(self, name: Token) -> str:
        if not is_signal_name(name):
            raise Flaw(f'"{name}" is not a signal\'s name: lower-case letters, digits and single "-"', column_of(name))
        return str(name)

    def unit(self, name: Token) -> Unit:
        return Unit(str(name))

    def value(self, name: Token) -> str:
        return str(name)

    def by(self, *found: object) -> By:
        return By(figures_of(found)[0])

    def deadband(self, *found: object) -> Deadband:
        return Deadband(figures_of(found)[0])

    def over(self, length: Length) -> Over:
        return Over(length)

    def recent(self, length: Length) -> Recent:
        return Recent(length)

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

    def one_hour(self) -> Length:
        return Length(HOUR, 1)

    def one_day(self) -> Length:
        return Length(DAY, 1)

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
            raise Flaw(f'a length of time is written in whole numbers, not "{count}"', column_of(count))
        return count, unit

    def length(self, *parts: tuple[Token, int]) -> Length:
        column = column_of(parts[0][0])
        units = [unit for _, unit in parts]
        if any(later >= earlier for earlier, later in pairwise(units)):
            raise Flaw("a length of time goes from the longest unit to the shortest, each once", column)
        total = sum(int(count) * unit for count, unit in parts)
        if total == 0:
            raise Flaw("a length of time must be more than nothing", column)
        if total > LONGEST_LENGTH:
            raise Flaw("a length of time is at most 366 days", column)
        return Length(total, column)
