"""From the parser's tree of a text to the request: one method a rule of `texts.lark`, and the checks of meaning."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lark import Token, Transformer, v_args

from grammar.meanings import (
    Ashore,
    Asking,
    AtBoat,
    Attend,
    Confirm,
    Duty,
    DutyOff,
    HandOver,
    ProveNumber,
    PutBack,
    Question,
    QuietAlarm,
    RemoveAlarm,
    Request,
    ResetAlarm,
    ShelveAlarm,
    Switch,
    TakeAlarm,
    TakeOver,
    Understood,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
    Why,
    Withdraw,
)
from grammar.names import Pair

LONGEST_MINUTES = 24 * 60
"""Our choice: longer than a day is a matter for somebody aboard."""

FIRST_HOUR_LIKE_A_CLOCK = 13
"""From here on a bare "14h" is read as a time of day wherever clocks have 24 hours. Our choice, as for "until 14h"."""

LONGEST_DAYS = 14
"""Out of service has a return date within 14 days (design rule 11); how long a boat is in the yard is asked again as
often (our choice)."""

_COUNTED = "one two three four five six seven eight nine ten eleven twelve"

_NUMBER_WORDS = {
    **{word: count for count, word in enumerate(_COUNTED.split(), 1)},
    "fifteen": 15,
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
    "sixty": 60,
    "ninety": 90,
}

_SAME_IN_ALL_PAIRS = {"start": 0, "on": 0, "stop": 1, "off": 1}
"""on means start and off means stop, and the other way round; open and close are words of their own."""


class Flaw(Exception):
    """A text that fits the grammar and still may not be carried out."""

    def __init__(self, why: Why, equipment: str | None = None) -> None:
        super().__init__(why)
        self.why, self.equipment = why, equipment


@dataclass(frozen=True, slots=True)
class _Minutes:
    """A length of time in minutes. whole_hour: no minutes may be added when False (`1.5 h 10 min`)."""

    count: int
    whole_hour: bool = True


@dataclass(frozen=True, slots=True)
class _Clock:
    minute: int


@dataclass(frozen=True, slots=True)
class _Weekday:
    day: int


@dataclass(frozen=True, slots=True)
class _Action:
    word: str


@dataclass(frozen=True, slots=True)
class _Mark:
    """A question mark behind the boat's name."""


_ASKED = _Mark()


@dataclass(frozen=True, slots=True)
class _Placed:
    """A question that names its boat as what it is about."""

    request: Request
    boat: str


@v_args(inline=True)
class TreeMeaning(Transformer[Token, Understood]):
    """pairs: the pair of actions of every equipment's neutral key. Its methods raise Flaw (wrapped by Lark)."""

    def __init__(self, pairs: Mapping[str, Pair]) -> None:
        super().__init__()
        self._pairs = pairs

    def text(self, *parts: "Token | Request | _Minutes | _Clock | _Placed | _Mark") -> Understood:
        request = next(part for part in parts if isinstance(part, _Placed | Request))
        boats = [str(part) for part in parts if isinstance(part, Token)]
        if isinstance(request, _Placed):
            boats.append(request.boat)
            request = request.request
        if len(boats) > 1 or (any(part is _ASKED for part in parts) and not isinstance(request, Question)):
            raise Flaw(Why.NOT_A_PHRASE)  # two boats are two orders; an order with a question mark is none
        if limits := [part for part in parts if isinstance(part, _Minutes | _Clock)]:
            request = self._limited(request, limits)
        return Understood(request=request, boat=boats[0] if boats else None)

    def status(self, *about: "Token | _Action") -> "Request | _Placed":
        name = next((part for part in about if isinstance(part, Token)), None)
        if name is None:
            return Question(asking=Asking.STATUS)
        if name.type == "BOAT":
            return _Placed(Question(asking=Asking.STATUS), str(name))
        if name.type == "EQUIPMENT":
            return Question(asking=Asking.STATUS, equipment=str(name))
        return Question(asking=Asking.STATUS, subject=str(name))

    def alarms(self, boat: Token | None = None) -> "Request | _Placed":
        question = Question(asking=Asking.ALARMS)
        return question if boat is None else _Placed(question, str(boat))

    def asked(self) -> "_Mark":
        return _ASKED

    def phrases(self) -> Request:
        return Question(asking=Asking.PHRASES)

    def take(self, alarm: int | None = None) -> Request:
        return TakeAlarm(alarm=alarm)

    def checked(self, alarm: int | None = None) -> Request:
        return ResetAlarm(alarm=alarm)

    def alarm(self, number: Token) -> int:
        if number.startswith("0"):
            raise Flaw(Why.NOT_A_PHRASE)  # alarms are numbered from 1 and printed without leading noughts
        return int(number)

    def at_boat(self, alarm: int | None = None) -> Request:
        return AtBoat(alarm=alarm)

    def ashore(self, alarm: int | None = None) -> Request:
        return Ashore(alarm=alarm)

    def take_over(self, alarm: int) -> Request:
        return TakeOver(alarm=alarm)

    def hand_over(self, alarm: int) -> Request:
        return HandOver(alarm=alarm)

    def who_is_on_duty(self) -> Request:
        return Question(asking=Asking.DUTY)

    def duty(self, *parts: Token | _Weekday | _Clock) -> Request:
        """Without a name it is the sender's."""
        who = next((str(part) for part in parts if isinstance(part, Token)), None)
        day = next((part.day for part in parts if isinstance(part, _Weekday)), None)
        minute = next((part.minute for part in parts if isinstance(part, _Clock)), None)
        return Duty(person=who, weekday=day, minute=minute)

    def duty_off(self, *_off: _Action) -> Request:
        return DutyOff()

    def weekday(self, day: int) -> _Weekday:
        return _Weekday(day)

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

    def visit(self) -> Request:
        return VisitBegins()

    def visit_over(self) -> Request:
        return VisitOver()

    def confirm(self, first: Token, second: Token) -> Request:
        return Confirm(words=_plain_words(first, second))

    def withdraw(self, first: Token, second: Token) -> Request:
        return Withdraw(words=_plain_words(first, second))

    def prove(self, first: Token, second: Token) -> Request:
        return ProveNumber(words=_plain_words(first, second))

    def shelve(self, alarm: int, length: _Minutes) -> Request:
        if not 1 <= length.count <= LONGEST_MINUTES:
            raise Flaw(Why.BAD_TIME)
        return ShelveAlarm(alarm=alarm, minutes=length.count)

    def quiet(self, alarm: int, length: _Minutes) -> Request:
        if not 1 <= length.count <= LONGEST_MINUTES:
            raise Flaw(Why.BAD_TIME)
        return QuietAlarm(alarm=alarm, minutes=length.count)

    def unshelve(self, alarm: int) -> Request:
        return UnshelveAlarm(alarm=alarm)

    def remove(self, alarm: int, days: int) -> Request:
        return RemoveAlarm(alarm=alarm, days=days)

    def put_back(self, alarm: int) -> Request:
        return PutBack(alarm=alarm)

    def attend(self, kept: str, days: int | None = None) -> Request:
        return Attend(kept=kept, days=days)

    def kept_away(self) -> str:
        return "away"

    def kept_aboard(self) -> str:
        return "aboard"

    def kept_laid_up(self) -> str:
        return "laid up"

    def kept_in_the_yard(self) -> str:
        return "in the yard"

    def days(self, count: int) -> int:
        if not 1 <= count <= LONGEST_DAYS:
            raise Flaw(Why.BAD_TIME)
        return count

    def switch(self, *parts: Token | _Action | _Minutes | _Clock) -> Request:
        equipment = next(str(part) for part in parts if isinstance(part, Token))
        texted = next(part.word for part in parts if isinstance(part, _Action))
        pair = self._pairs[equipment]
        action = _own_word(texted, pair)
        if action is None:
            raise Flaw(Why.WRONG_ACTION, equipment)
        switch = Switch(equipment=equipment, action=action)
        limits = [part for part in parts if isinstance(part, _Minutes | _Clock)]
        return self._limited(switch, limits) if limits else switch

    def _limited(self, request: Request, limits: "Sequence[_Minutes | _Clock]") -> Switch:
        """The switch with its one limit; anything else that has a limit is refused."""
        if not isinstance(request, Switch) or len(limits) > 1 or (request.minutes, request.until) != (None, None):
            raise Flaw(Why.NOT_A_PHRASE)
        if request.action in ("stop", "close"):
            # It would mean a start, or an opening, later (our rule; an `off` that ends is for the desk to decide).
            raise Flaw(Why.LIMIT_ON_STOP, request.equipment)
        limit = limits[0]
        if isinstance(limit, _Clock):
            return replace(request, until=limit.minute)
        if not 1 <= limit.count <= LONGEST_MINUTES:
            raise Flaw(Why.BAD_TIME)
        return replace(request, minutes=limit.count)

    def start(self) -> _Action:
        return _Action("start")

    def stop(self) -> _Action:
        return _Action("stop")

    start_word, stop_word = start, stop

    def on(self) -> _Action:
        return _Action("on")

    def off(self) -> _Action:
        return _Action("off")

    def open(self) -> _Action:
        return _Action("open")

    def close(self) -> _Action:
        return _Action("close")

    close_word = close

    def span(self, first: _Minutes, then: _Minutes | None = None) -> _Minutes:
        if then is None:
            return first
        if not first.whole_hour or not 0 < then.count < 60:
            raise Flaw(Why.BAD_TIME)  # each unit once, hours then minutes (RFC 5545, 3.3.6, without its other units)
        return _Minutes(first.count + then.count)

    def hours(self, given: int | _Minutes) -> _Minutes:
        return given if isinstance(given, _Minutes) else _Minutes(60 * given)

    def mixed_hours(self, count: int, _half: _Minutes) -> _Minutes:
        return _Minutes(60 * count + 30)

    def minutes(self, given: int | _Minutes) -> _Minutes:
        return given if isinstance(given, _Minutes) else _Minutes(given)

    rest = minutes

    def bare_span(self, length: _Minutes) -> _Minutes:
        """Without its "for", "14h30" behind an order would as well be the time of day at which to begin."""
        if length.count >= FIRST_HOUR_LIKE_A_CLOCK * 60:
            raise Flaw(Why.BAD_TIME)
        return length

    def count(self, number: Token) -> int:
        return _number(_without_nought(number))

    def rest_count(self, number: Token) -> int:
        return _number(number)

    def one(self) -> int:
        return 1

    single = one

    def decimal(self, number: Token) -> _Minutes:
        return _tenths(number)

    def half(self) -> _Minutes:
        return _Minutes(30)

    def half_hour(self, *_half: _Minutes) -> _Minutes:
        return _Minutes(30)

    def next_hour(self) -> _Minutes:
        return _Minutes(60)

    def quarter(self) -> _Minutes:
        return _Minutes(15)

    def quarter_hour(self, given: Token | _Minutes | None = None) -> _Minutes:
        if isinstance(given, Token):
            if given != "three":
                raise Flaw(Why.BAD_TIME)
            return _Minutes(45)
        return _Minutes(15)

    def glued_hours(self, given: Token) -> _Minutes:
        return _tenths(given)

    def glued_minutes(self, given: Token) -> _Minutes:
        return self.glued_rest(_without_nought(given))

    def glued_rest(self, given: str) -> _Minutes:
        return _Minutes(int(re.match(r"[0-9]+", given).group()))  # type: ignore[union-attr]

    def clock(self, clock: _Clock) -> _Clock:
        return clock

    def day_clock(self, given: Token) -> _Clock:
        digits = re.sub(r"[:.]", "", given)
        return _checked_clock(int(digits[:-2]), int(digits[-2:]), range(24))

    def twelve_clock(self, given: Token) -> _Clock:
        hour, minute, half = re.fullmatch(r"([0-9]+)(?:[:.]([0-9]{2}))? ?([ap]).*", given).groups()  # type: ignore[union-attr]
        _checked_clock(int(hour), int(minute or 0), range(1, 13))
        return _Clock(60 * (int(hour) % 12 + (12 if half == "p" else 0)) + int(minute or 0))

    def bare_hour(self, _given: Token) -> _Clock:
        raise Flaw(Why.BAD_TIME)  # six in the morning or in the evening: never guessed

    def h_clock(self, hour: Token, minute: Token | None = None) -> _Clock:
        """`14h30`, `14h`. Without minutes only from 13 on: "until 6 h" might be an evening or a length of time."""
        digits = re.fullmatch(r"([0-9]{1,2})h?", hour)
        if digits is None:
            raise Flaw(Why.BAD_TIME)
        return _checked_clock(
            int(digits.group(1)), int(minute or 0), range(24) if minute else range(FIRST_HOUR_LIKE_A_CLOCK, 24)
        )

    def spoken_clock(self, hour: Token, half: str) -> _Clock:
        count = _number(hour)
        _checked_clock(count, 0, range(1, 13))
        return _Clock(60 * (count % 12 + (12 if half == "p" else 0)))

    def morning(self) -> str:
        return "a"

    def evening(self) -> str:
        return "p"

    morning_word, evening_word = morning, evening

    def noon(self) -> _Clock:
        return _Clock(12 * 60)

    def midnight(self) -> _Clock:
        return _Clock(0)


def _own_word(texted: str, pair: Pair) -> str | None:
    if texted in pair:
        return texted
    place = _SAME_IN_ALL_PAIRS.get(texted)
    return None if place is None or "open" in pair else pair[place]


def _number(given: str) -> int:
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


def _plain_words(first: Token, second: Token) -> tuple[str, str]:
    if not (first.isalpha() and second.isalpha() and first.isascii() and second.isascii()):
        raise Flaw(Why.NOT_A_PHRASE)
    return str(first), str(second)


def _tenths(given: str) -> _Minutes:
    """`1.5` or `2hrs` in minutes; a tenth of an hour is 6 minutes, so nothing is rounded."""
    whole, _, tenth = re.match(r"[0-9]+(?:\.[0-9])?", _without_nought(given)).group().partition(".")  # type: ignore[union-attr]
    return _Minutes(60 * int(whole) + 6 * int(tenth or 0), whole_hour=not tenth)


def _checked_clock(hour: int, minute: int, hours: range) -> _Clock:
    if hour not in hours or minute > 59:
        raise Flaw(Why.BAD_TIME)
    return _Clock(60 * hour + minute)
