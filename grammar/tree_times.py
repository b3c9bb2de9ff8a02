"""Numbers, lengths of time, times of day and days in a text: one method a rule of `texts.lark`, and what of them is
refused."""

import re
from dataclasses import dataclass

from lark import Token, Transformer, v_args

from grammar.meanings import Understood, Why

FIRST_HOUR_LIKE_A_CLOCK = 13
"""From here on a bare "14h" is read as a time of day wherever clocks have 24 hours. Our choice, as for "until 14h"."""

_COUNTED = """one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen
    eighteen nineteen"""
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"

_NUMBER_WORDS = {
    **{word: count for count, word in enumerate(_COUNTED.split(), 1)},
    **{word: 10 * count for count, word in enumerate(_TENS.split(), 2)},
}


class Flaw(Exception):
    """A text that fits the grammar and still may not be carried out."""

    def __init__(self, why: Why, equipment: str | None = None) -> None:
        super().__init__(why)
        self.why, self.equipment = why, equipment


@dataclass(frozen=True, slots=True)
class Minutes:
    """A length of time in minutes. whole_hour: no minutes may be added when False (`1.5 h 10 min`)."""

    count: int
    whole_hour: bool = True


@dataclass(frozen=True, slots=True)
class Clock:
    minute: int


@dataclass(frozen=True, slots=True)
class Weekday:
    day: int


@v_args(inline=True)
class TimesOfTree(Transformer[Token, Understood]):
    """The rules of numbers and time. Its methods raise Flaw (wrapped by Lark)."""

    _first_oclock = FIRST_HOUR_LIKE_A_CLOCK

    def alarm(self, number: Token) -> int:
        if number.startswith("0"):
            raise Flaw(Why.NOT_A_PHRASE)  # alarms are numbered from 1 and printed without leading noughts
        return int(number)

    def heard(self, number: Token) -> int:
        return number_of(number)

    def heard_named(self, number: Token | None = None) -> int:
        return 1 if number is None else number_of(number)

    def span(self, first: Minutes, then: Minutes | None = None) -> Minutes:
        if then is None:
            return first
        if not first.whole_hour or not 0 < then.count < 60:
            raise Flaw(Why.BAD_TIME)  # each unit once, hours then minutes (RFC 5545, 3.3.6, without its other units)
        return Minutes(first.count + then.count)

    def hours(self, given: int | Minutes) -> Minutes:
        return given if isinstance(given, Minutes) else Minutes(60 * given)

    def mixed_hours(self, count: int, _half: Minutes) -> Minutes:
        return Minutes(60 * count + 30)

    def minutes(self, given: int | Minutes) -> Minutes:
        return given if isinstance(given, Minutes) else Minutes(given)

    rest = minutes

    def bare_span(self, length: Minutes) -> Minutes:
        """Without its "for", "14h30" behind an order would as well be the time of day at which to begin."""
        if length.count >= FIRST_HOUR_LIKE_A_CLOCK * 60:
            raise Flaw(Why.BAD_TIME)
        return length

    def count(self, number: Token) -> int:
        return number_of(_without_nought(number))

    def rest_count(self, number: Token) -> int:
        return number_of(number)

    def one(self) -> int:
        return 1

    single = one

    def decimal(self, number: Token) -> Minutes:
        return _tenths(number)

    def half(self) -> Minutes:
        return Minutes(30)

    def half_hour(self, *_half: Minutes) -> Minutes:
        return Minutes(30)

    def next_hour(self) -> Minutes:
        return Minutes(60)

    def quarter(self) -> Minutes:
        return Minutes(15)

    def quarter_hour(self, given: Token | Minutes | None = None) -> Minutes:
        if isinstance(given, Token):
            if given != "three":
                raise Flaw(Why.BAD_TIME)
            return Minutes(45)
        return Minutes(15)

    def glued_hours(self, given: Token) -> Minutes:
        return _tenths(given)

    def glued_minutes(self, given: Token) -> Minutes:
        return self.glued_rest(_without_nought(given))

    def glued_rest(self, given: str) -> Minutes:
        return Minutes(int(re.match(r"[0-9]+", given).group()))  # type: ignore[union-attr]

    def clock(self, clock: Clock) -> Clock:
        return clock

    def day_clock(self, given: Token) -> Clock:
        digits = re.sub(r"[:.]", "", given)
        return _checked_clock(int(digits[:-2]), int(digits[-2:]), range(24))

    def twelve_clock(self, given: Token) -> Clock:
        hour, minute, half = re.fullmatch(r"([0-9]+)(?:[:.]([0-9]{2}))? ?([ap]).*", given).groups()  # type: ignore[union-attr]
        _checked_clock(int(hour), int(minute or 0), range(1, 13))
        return Clock(60 * (int(hour) % 12 + (12 if half == "p" else 0)) + int(minute or 0))

    def bare_hour(self, _given: Token) -> Clock:
        raise Flaw(Why.BAD_TIME)  # six in the morning or in the evening: never guessed

    def oclock(self, hour: Token, minute: Token | None = None) -> Clock:
        """`19 o'clock`; `7 Uhr` and `19 Uhr 30` where hours are counted to 24. The answer says the time."""
        if not re.fullmatch("[0-9]{1,2}", hour) or not re.fullmatch("[0-9]{2}", minute or "00"):
            raise Flaw(Why.BAD_TIME)
        return _checked_clock(int(hour), int(minute or 0), range(self._first_oclock, 24))

    def h_clock(self, hour: Token, minute: Token | None = None) -> Clock:
        """`14h30`, `14h`. Without minutes only from 13 on: "until 6 h" might be an evening or a length of time."""
        digits = re.fullmatch(r"([0-9]{1,2})h?", hour)
        if digits is None:
            raise Flaw(Why.BAD_TIME)
        return _checked_clock(
            int(digits.group(1)), int(minute or 0), range(24) if minute else range(FIRST_HOUR_LIKE_A_CLOCK, 24)
        )

    def spoken_clock(self, hour: Token, half: str) -> Clock:
        count = number_of(hour)
        _checked_clock(count, 0, range(1, 13))
        return Clock(60 * (count % 12 + (12 if half == "p" else 0)))

    def morning(self) -> str:
        return "a"

    def evening(self) -> str:
        return "p"

    morning_word, evening_word = morning, evening

    def weekday(self, day: int) -> Weekday:
        return Weekday(day)

    def monday(self) -> int:
        return 0

    def tuesday(self) -> int:
        return 1

    def wednesday(self) -> int:
        return 2

    def thursday(self) -> int:
        return 3

    def friday(self) -> int:
        return 4

    def saturday(self) -> int:
        return 5

    def sunday(self) -> int:
        return 6

    def noon(self) -> Clock:
        return Clock(12 * 60)

    def midnight(self) -> Clock:
        return Clock(0)


def number_of(given: str) -> int:
    """`12`, `twelve`, `forty five`, `forty-five`."""
    if given in _NUMBER_WORDS:
        return _NUMBER_WORDS[given]
    tens, _, ones = given.replace("-", " ").partition(" ")
    return _NUMBER_WORDS[tens] + _NUMBER_WORDS[ones] if ones else int(given)


def _without_nought(given: str) -> str:
    """`given` itself. A length that begins with a nought has lost a figure or has two swapped: "09 min", "01 days"."""
    if re.match("0[^.]|0$", given):
        raise Flaw(Why.BAD_TIME)
    return given


def _tenths(given: str) -> Minutes:
    """`1.5` or `2hrs` in minutes; a tenth of an hour is 6 minutes, so nothing is rounded."""
    whole, _, tenth = re.match(r"[0-9]+(?:\.[0-9])?", _without_nought(given)).group().partition(".")  # type: ignore[union-attr]
    return Minutes(60 * int(whole) + 6 * int(tenth or 0), whole_hour=not tenth)


def _checked_clock(hour: int, minute: int, hours: range) -> Clock:
    if hour not in hours or minute > 59:
        raise Flaw(Why.BAD_TIME)
    return Clock(60 * hour + minute)
