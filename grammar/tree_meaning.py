"""From the parser's tree of a text to the request: one method a rule of `texts.lark`, and the checks of meaning."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lark import Token, v_args

from grammar.meanings import (
    Ashore,
    Asking,
    AtBoat,
    Attend,
    Confirm,
    Duty,
    DutyOff,
    HandOver,
    PaperLine,
    PhoneLost,
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
from grammar.tree_times import FIRST_HOUR_LIKE_A_CLOCK, Clock, Flaw, Minutes, TimesOfTree, Weekday

LONGEST_MINUTES = 24 * 60
"""Our choice: longer than a day is a matter for somebody aboard."""

LONGEST_DAYS = 14
"""Out of service has a return date within 14 days (design rule 11); how long a boat is in the yard is asked again as
often (our choice)."""

_SAME_IN_ALL_PAIRS = {"start": 0, "on": 0, "stop": 1, "off": 1}
"""on means start and off means stop, and the other way round; open and close are words of their own."""


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
class TreeMeaning(TimesOfTree):
    """pairs: the pair of actions of every equipment's neutral key. rest_only: keys of what is only brought to rest.
    day_of_24: as in Language. Its methods raise Flaw (wrapped by Lark)."""

    def __init__(
        self, pairs: Mapping[str, Pair], rest_only: frozenset[str] = frozenset(), day_of_24: bool = False
    ) -> None:
        self._rest_only = rest_only
        self._first_oclock = 0 if day_of_24 else FIRST_HOUR_LIKE_A_CLOCK
        super().__init__()
        self._pairs = pairs
        for rule in vars(type(self)).keys() | vars(TimesOfTree).keys():
            if not rule.startswith("_"):  # bound once, and not at every text: that cost a fifth of reading one
                setattr(self, rule, getattr(self, rule))

    def text(self, *parts: "Token | Request | Minutes | Clock | _Placed | _Mark") -> Understood:
        request = next(part for part in parts if isinstance(part, _Placed | Request))
        boats = [str(part) for part in parts if isinstance(part, Token)]
        if isinstance(request, _Placed):
            boats.append(request.boat)
            request = request.request
        if len(boats) > 1 or (any(part is _ASKED for part in parts) and not isinstance(request, Question)):
            raise Flaw(Why.NOT_A_PHRASE)  # two boats are two orders; an order with a question mark is none
        if limits := [part for part in parts if isinstance(part, Minutes | Clock)]:
            request = self._limited(request, limits)
        return Understood(request=request, boat=boats[0] if boats else None)

    def status(self, *about: "Token | _Action") -> "Request | _Placed":
        name = next((part for part in about if isinstance(part, Token) and part.type != "WORD"), None)
        if name is None:
            return Question(asking=Asking.STATUS)
        if name.type == "BOAT":
            return _Placed(Question(asking=Asking.STATUS), str(name))
        if name.type == "EQUIPMENT":
            return Question(asking=Asking.STATUS, equipment=str(name))
        return Question(asking=Asking.STATUS, subject=str(name))

    def alarms(self, about: Token | int | None = None) -> "Request | _Placed":
        """Who asks for one alarm is shown the open ones: each with its number, since when, and who has it."""
        question = Question(asking=Asking.ALARMS)
        return _Placed(question, str(about)) if isinstance(about, Token) else question

    def asked(self) -> "_Mark":
        return _ASKED

    def phrases(self) -> Request:
        return Question(asking=Asking.PHRASES)

    def take(self, alarm: int | None = None) -> Request:
        return TakeAlarm(alarm=alarm)

    def checked(self, alarm: int | None = None) -> Request:
        return ResetAlarm(alarm=alarm)

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

    def duty(self, *parts: Token | Weekday | Clock) -> Request:
        """Without a name it is the sender's."""
        who = next((str(part) for part in parts if isinstance(part, Token)), None)
        day = next((part.day for part in parts if isinstance(part, Weekday)), None)
        minute = next((part.minute for part in parts if isinstance(part, Clock)), None)
        return Duty(person=who, weekday=day, minute=minute)

    def duty_off(self, *_off: _Action) -> Request:
        return DutyOff()

    def visit(self) -> Request:
        return VisitBegins()

    def visit_over(self) -> Request:
        return VisitOver()

    def confirm(self, first: Token, second: Token, line: PaperLine | None = None) -> Request:
        return Confirm(words=_plain_words(first, second), line=line)

    def paper_line(self, number: Token, first: Token, second: Token) -> PaperLine:
        return PaperLine(number=int(number), words=_plain_words(first, second))

    def withdraw(self, first: Token, second: Token) -> Request:
        return Withdraw(words=_plain_words(first, second))

    def prove(self, first: Token, second: Token) -> Request:
        return ProveNumber(words=_plain_words(first, second))

    def phone_lost(self, name: Token | None = None) -> Request:
        return PhoneLost(person=None if name is None else str(name))

    def shelve(self, alarm: int, length: Minutes) -> Request:
        if not 1 <= length.count <= LONGEST_MINUTES:
            raise Flaw(Why.BAD_TIME)
        return ShelveAlarm(alarm=alarm, minutes=length.count)

    def quiet(self, alarm: int, length: Minutes) -> Request:
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

    def switch(self, *parts: Token | _Action | Minutes | Clock) -> Request:
        equipment = next(str(part) for part in parts if isinstance(part, Token))
        texted = next(part.word for part in parts if isinstance(part, _Action))
        pair = self._pairs[equipment]
        action = _own_word(texted, pair)
        if action is None:
            raise Flaw(Why.WRONG_ACTION, equipment)
        if equipment in self._rest_only and action == pair[0]:
            raise Flaw(Why.AT_THE_BOAT_ONLY, equipment)
        switch = Switch(equipment=equipment, action=action)
        limits = [part for part in parts if isinstance(part, Minutes | Clock)]
        return self._limited(switch, limits) if limits else switch

    def _limited(self, request: Request, limits: "Sequence[Minutes | Clock]") -> Switch:
        """The switch with its one limit; anything else that has a limit is refused."""
        if not isinstance(request, Switch) or len(limits) > 1 or (request.minutes, request.until) != (None, None):
            raise Flaw(Why.NOT_A_PHRASE)
        if request.action in ("stop", "close"):
            # It would mean a start, or an opening, later (our rule; an `off` that ends is for the desk to decide).
            raise Flaw(Why.LIMIT_ON_STOP, request.equipment)
        limit = limits[0]
        if isinstance(limit, Clock):
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


def _own_word(texted: str, pair: Pair) -> str | None:
    if texted in pair:
        return texted
    place = _SAME_IN_ALL_PAIRS.get(texted)
    return None if place is None or "open" in pair else pair[place]


def _plain_words(first: Token, second: Token) -> tuple[str, str]:
    if not (first.isalpha() and second.isalpha() and first.isascii() and second.isascii()):
        raise Flaw(Why.NOT_A_PHRASE)
    return str(first), str(second)
