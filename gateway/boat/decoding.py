"""Payloads become readings. What does not fit becomes an unreadable one; it is never silently "normal".

Numbers are kept digit by digit as they were written, inside JSON too: a float would turn 12.40 into 12.4 and cut long
ones.
"""

import re
from decimal import Decimal
from json import JSONDecoder
from typing import Any

from gateway.boat.settings import RAW_RANGE, Carries, Signal, TimeCounts
from gateway.vocabulary.moments import SECOND, Ms, from_rfc3339
from gateway.vocabulary.readings import Grade, Reading

LONGEST_PAYLOAD = 64 * 1024
"""Bytes. A value of a boat's point is some dozen bytes; anything near this is not one (our choice)."""

SAMPLE = 40
"""Characters of an unreadable payload that are kept, so that the installer can see what came (our choice)."""

MOST_DIGITS = 32
"""Longest number taken, in characters, as received and as kept: a double printed to 20 places, sign, point and some
room (our choice)."""

MOST_DEGREE_DIGITS = 19
"""Longest latitude or longitude kept, in characters: a double with 17 digits, sign and point (IEEE 754)."""

LATEST_TIME: Ms = 253_402_300_799_999
"""The last instant of the year 9999, the last that RFC 3339 can write. The first taken is 1970-01-01T00:00:00Z, which
is also what a node says whose clock has never been set."""

_NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,2})?")


class _Literal(str):
    """A number as it stands in a JSON text."""

    __slots__ = ()


def _no_number(word: str) -> None:
    """NaN, Infinity and -Infinity are no JSON (RFC 8259, 6), and are written all the same: no value, as null is none.
    Their neighbours can be read: a bilge contact must not fall silent because a thermometer beside it is broken."""


_JSON = JSONDecoder(parse_float=_Literal, parse_int=_Literal, parse_constant=_no_number)


def decode(signals: tuple[Signal, ...], payload: bytes, *, retained: bool) -> tuple[Reading, ...]:
    """One reading for each signal of the topic, in their order. Never raises.

    An empty payload is a retained value being cleared (MQTT 5, 3.3.1.3): no reading at all, and certainly not zero.
    """
    if not payload:
        return ()
    parsed = _parse(payload) if any(_looks_inside(signal) for signal in signals) else None
    return tuple(_one(signal, payload, parsed, retained) for signal in signals)


def _one(signal: Signal, payload: bytes, parsed: Any, retained: bool) -> Reading:
    try:
        if len(payload) > LONGEST_PAYLOAD:
            raise ValueError(f"{len(payload)} bytes")
        raw = _at(parsed, signal.pointer) if _in_json(signal) else _text(payload)
        grade, text = _value(signal, raw)
    except (ValueError, LookupError, TypeError, ArithmeticError):
        return Reading(signal=signal.id, grade=Grade.UNREADABLE, text=sample_of(payload), retained=retained)
    own_time = _own_time(signal, parsed)
    timeless = own_time is None and signal.time_pointer is not None
    return Reading(signal=signal.id, grade=grade, text=text, own_time=own_time, retained=retained, timeless=timeless)


def _own_time(signal: Signal, parsed: Any) -> Ms | None:
    """When it was measured; None where nothing says so, or nothing that can be read. A value is not thrown away for its
    time: a fire detector whose clock has failed still says that it burns."""
    if signal.time_pointer is None:
        return None
    try:
        return _time(_at(parsed, signal.time_pointer), signal.time_counts)
    except (ValueError, LookupError, TypeError, ArithmeticError):
        return None


def _in_json(signal: Signal) -> bool:
    return bool(signal.pointer) or signal.carries is Carries.POSITION


def _looks_inside(signal: Signal) -> bool:
    return _in_json(signal) or bool(signal.time_pointer)


def sample_of(payload: bytes) -> str:
    """The first characters of a payload, printable ASCII only, others as dots."""
    text = payload[:SAMPLE].decode("ascii", "replace")
    return "".join(c if " " <= c <= "~" else "." for c in text)


def _text(payload: bytes) -> str:
    """UTF-8, with or without a byte order mark; blanks around it and the NUL with which C ends a text do not count."""
    return payload.rstrip(b"\0").decode("utf-8-sig").strip()


def _parse(payload: bytes) -> Any:
    if len(payload) > LONGEST_PAYLOAD:
        return None
    try:
        return _JSON.decode(_text(payload))
    except (ValueError, RecursionError):
        return None


def _at(document: Any, pointer: str) -> Any:
    """RFC 6901: the value at a pointer. Raises LookupError, ValueError or TypeError when there is none."""
    found = document
    for raw in pointer.split("/")[1:]:
        step = raw.replace("~1", "/").replace("~0", "~")
        if isinstance(found, list):
            if not (step.isascii() and step.isdigit()) or (step[0] == "0" and step != "0"):
                raise LookupError(step)
            found = found[int(step)]
        elif isinstance(found, dict):
            found = found[step]
        else:
            raise TypeError(step)
    return found


def _value(signal: Signal, raw: Any) -> tuple[Grade, str]:
    if signal.carries is Carries.NUMBER:
        return Grade.NUMBER, _number(signal, raw)
    if signal.carries is Carries.POSITION:
        return Grade.POSITION, f"{_degrees(raw, signal.latitude, 90)} {_degrees(raw, signal.longitude, 180)}"
    word = raw if isinstance(raw, str) else _spelled(raw)
    if signal.carries is Carries.CONTACT:
        folded = word.casefold()
        if folded in signal.on_words:
            return Grade.CONTACT, "on"
        if folded in signal.off_words:
            return Grade.CONTACT, "off"
    else:
        meant = dict(signal.word_for).get(word, word)
        if meant in signal.words:
            return Grade.WORD, meant
    raise ValueError(word)


def _spelled(raw: Any) -> str:
    if isinstance(raw, bool):
        return "true" if raw else "false"
    raise TypeError(type(raw).__name__)


def _number(signal: Signal, raw: Any) -> str:
    """Decimal text. A unit behind the number is tolerated when it is the signal's own ("12.4 V")."""
    if not isinstance(raw, str):
        raise TypeError(type(raw).__name__)
    text = str(raw)
    if signal.unit and text.endswith(signal.unit):
        text = text[: -len(signal.unit)].rstrip()
    if signal.decimal_comma and not isinstance(raw, _Literal):
        text = _with_point(text)
    if len(text) > MOST_DIGITS or not _NUMBER.fullmatch(text):
        raise ValueError(text[:MOST_DIGITS])
    if signal.raw is not None or signal.not_available:
        _check_available(signal, text)
    if signal.scale == 1 and "e" not in text and "E" not in text:
        return text
    plain = format(Decimal(text) * signal.scale, "f")
    if len(plain) > MOST_DIGITS:
        raise ValueError(text)
    return plain


def _with_point(text: str) -> str:
    """ "12,6" as "12.6". A point in such a text may part thousands, so that nobody can say what it means."""
    if "." in text:
        raise ValueError(text[:MOST_DIGITS])
    return text.replace(",", ".")


def _check_available(signal: Signal, text: str) -> None:
    """Refuse what stands on the bus, or is sent by the node, where there is no value. Before the scale."""
    number = Decimal(text)
    if any(number == Decimal(no) for no in signal.not_available if _NUMBER.fullmatch(no)):
        raise ValueError(text)
    if signal.raw is not None:
        low, high = RAW_RANGE[signal.raw]
        if number != number.to_integral_value() or not low <= number <= high:
            raise ValueError(text)


def _degrees(raw: Any, pointer: str, most: int) -> str:
    """One half of a position, digit by digit as it was written. Raises where it lies on no globe."""
    text = _at(raw, pointer)
    if not isinstance(text, str) or not _NUMBER.fullmatch(text) or abs(Decimal(text)) > most:
        raise ValueError(pointer)
    plain = format(Decimal(text), "f")
    if len(plain) > MOST_DEGREE_DIGITS:
        raise ValueError(pointer)
    return plain


def _time(raw: Any, counts: TimeCounts) -> Ms:
    """An own time that the logbook and RFC 3339 can hold. Raises where there is none."""
    if not isinstance(raw, str):
        raise TypeError("time")
    if isinstance(raw, _Literal) or _NUMBER.fullmatch(raw):
        at = int(Decimal(raw[:MOST_DIGITS]) * (SECOND if counts is TimeCounts.SECONDS else 1))
    else:
        at = from_rfc3339(raw.upper())  # "t" and "z" may be small (RFC 3339, 5.6)
    if not 0 <= at <= LATEST_TIME:
        raise ValueError(raw)
    return at
