"""Condition sentences, printed: each reads back to an equal value."""

from decimal import Decimal

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
    JoinedCondition,
    NoNews,
    PastCondition,
    RanLonger,
    StartedOften,
    StartsGrow,
    While,
    leaves_of,
)
from grammar.lengths import DAY, HOUR, say_length

_ONE = {HOUR: "hour", DAY: "day"}


def say_condition(condition: Condition | Gone) -> str:
    """The sentence for `condition`. Joined sentences get brackets wherever they stand inside another one."""
    match condition:
        case NoNews(signal=None, lasting=lasting):
            return f"no news for {say_length(lasting)}"
        case NoNews(signal=signal, lasting=lasting):
            return f"no news from {signal} for {say_length(lasting)}"
        case Gone():
            return f"gone{_lasting(condition.lasting)}"
        case Both() | Either() | IsNot() | While():
            return _joined(condition)
    return f"{_single(condition)}{_lasting(condition.lasting)}"


def _joined(condition: JoinedCondition) -> str:
    said: str
    match condition:
        case Both(parts=parts):
            said = " and ".join(_within(part) for part in parts)
        case Either(parts=parts):
            said = " or ".join(_within(part) for part in parts)
        case IsNot(part=part):
            said = f"not {_within(part)}"
        case While(part=part, also=also):
            # The delay stands behind the first part; brackets where that part ends in a length itself.
            first = _within(part) if isinstance(part, While) else say_condition(part)
            second = _within(also) if isinstance(also, While) else say_condition(also)
            if condition.lasting and isinstance(leaves_of(part)[-1], NoNews) and first[0] != "(":
                first = f"({first})"
            return f"{first}{_lasting(condition.lasting)} while {second}"
    ends_in_length = isinstance(leaves_of(condition)[-1], NoNews)
    return f"({said}){_lasting(condition.lasting)}" if condition.lasting and ends_in_length else _tail(said, condition)


def _tail(said: str, condition: JoinedCondition) -> str:
    return f"{said}{_lasting(condition.lasting)}"


def _within(part: Condition) -> str:
    said = say_condition(part)
    return f"({said})" if isinstance(part, Both | Either | While | IsNot) else said


def _single(condition: Condition) -> str:
    match condition:
        case IsContact(signal=signal, wanted=wanted):
            return f"{signal} {_on(wanted)}"
        case IsNumber(signal=signal, than=than, limit=limit, unit=unit, deadband=deadband):
            return f"{signal} {than} {_figure(limit, unit)}{_deadband(deadband, unit)}"
        case IsBand(signal=signal, outside=outside, low=low, high=high, unit=unit, deadband=deadband):
            side = "outside" if outside else "between"
            return f"{signal} {side} {low:f} and {_figure(high, unit)}{_deadband(deadband, unit)}"
        case IsCompared(signal=signal, than=than, other=other, by=by, unit=unit, deadband=deadband):
            further = f" by {_figure(by, unit)}" if by is not None else ""
            return f"{signal} {than} {other}{further}{_deadband(deadband, unit)}"
        case IsWord(signal=signal, word=word):
            return f"{signal} is {word}"
        case IsUnreadable(signal=signal, times=times):
            return f"{signal} unreadable {_times(times)}"
        case IsUnbelievable(signal=signal):
            return f"{signal} not believable"
        case HasChanged() | RanLonger() | StartedOften() | StartsGrow() | IsMoving() | FixesAway():
            return _looking_back(condition)
    raise TypeError(f"{type(condition).__name__} has no sentence yet; give it one here")


def _looking_back(condition: PastCondition) -> str:
    match condition:
        case HasChanged(signal=signal, window=window):
            return f"{signal} changed{_window(window) if window else ''}"
        case RanLonger(signal=signal, wanted=wanted, more_than=more_than, window=window):
            return f"{signal} {_on(wanted)} for more than {say_length(more_than)}{_window(window)}"
        case StartedOften(signal=signal, more_than=more_than, window=window, mean_of=mean_of):
            mean = f" its mean of {say_length(mean_of)}" if mean_of else ""
            return f"{signal} started more than {_times(more_than)}{mean}{_window(window)}"
        case StartsGrow(signal=signal, times=times, hours=hours):
            than_before = f"{_times(times)} as often as the hour before"
            return f"{signal} started at least {than_before} in each of the last {hours} hours"
        case IsMoving(signal=signal, trend=trend, faster_than=faster_than, unit=unit, window=window):
            over = "" if window == DEFAULT_TREND_WINDOW else f" over {say_length(window)}"
            return f"{signal} {trend} faster than {_figure(faster_than, unit)} an hour{over}"
        case FixesAway():
            return _fixes(condition)


def _fixes(condition: FixesAway) -> str:
    far, place = ("within", "of") if condition.within else ("further than", "from")
    written = "its set position" if condition.lat is None else f"{condition.lat:f}, {condition.lon:f}"
    many = f"{condition.count} of {condition.of} fixes of {condition.signal}"
    return f"{many} {far} {condition.metres:f} m {place} {written}"


def _lasting(length: int) -> str:
    return f" for {say_length(length)}" if length else ""


def _window(length: int) -> str:
    return f" in the last {_ONE.get(length) or say_length(length)}"


def _times(count: int) -> str:
    return "1 time" if count == 1 else f"{count} times"


def _on(wanted: bool) -> str:
    return "on" if wanted else "off"


def _figure(number: Decimal, unit: str) -> str:
    return f"{number:f} {unit}".rstrip()


def _deadband(deadband: Decimal | None, unit: str) -> str:
    return "" if deadband is None else f" with deadband {_figure(deadband, unit)}"
