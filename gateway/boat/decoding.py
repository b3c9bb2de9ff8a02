"""Payloads become readings. What does not fit becomes an unreadable one; it is never silently "normal"."""

import re
from decimal import Decimal, InvalidOperation
from typing import Any

import orjson

from gateway.boat.settings import Carries, Signal
from gateway.vocabulary.moments import SECOND, Ms, from_rfc3339
from gateway.vocabulary.readings import Grade, Reading

LONGEST_PAYLOAD = 64 * 1024
"""Bytes. A value of a boat's point is some dozen bytes; anything near this is not one (our choice)."""

SAMPLE = 40
"""Characters of an unreadable payload that are kept, so that the installer can see what came (our choice)."""

MOST_DIGITS = 20
"""Longest number taken, in characters: a float's 17 significant digits, sign, point and some room (our choice)."""

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,2})?")


def decode(signals: tuple[Signal, ...], payload: bytes, *, retained: bool) -> tuple[Reading, ...]:
    """One reading for each signal of the topic, in their order. Never raises.

    An empty payload is a retained value being cleared (MQTT 5, 3.3.1.3): no reading at all, and certainly not zero.
    """
    if not payload:
        return ()
    parsed = _parse(payload) if any(signal.pointer or signal.time_pointer for signal in signals) else None
    return tuple(_one(signal, payload, parsed, retained) for signal in signals)


def _one(signal: Signal, payload: bytes, parsed: Any, retained: bool) -> Reading:
    try:
        if len(payload) > LONGEST_PAYLOAD:
            raise ValueError(f"{len(payload)} bytes")
        raw = _at(parsed, signal.pointer) if signal.pointer else payload.decode().strip()
        grade, text = _value(signal, raw)
        own_time = _time(_at(parsed, signal.time_pointer)) if signal.time_pointer is not None else None
    except (ValueError, LookupError, TypeError, ArithmeticError):
        return Reading(signal=signal.id, grade=Grade.UNREADABLE, text=sample_of(payload), retained=retained)
    return Reading(signal=signal.id, grade=grade, text=text, own_time=own_time, retained=retained)


def sample_of(payload: bytes) -> str:
    """The first characters of a payload, printable ASCII only, others as dots."""
    text = payload[:SAMPLE].decode("ascii", "replace")
    return "".join(c if " " <= c <= "~" else "." for c in text)


def _parse(payload: bytes) -> Any:
    if len(payload) > LONGEST_PAYLOAD:
        return None
    try:
        return orjson.loads(payload)
    except ValueError:
        return None


def _at(document: Any, pointer: str) -> Any:
    """RFC 6901: the value at a pointer. Raises LookupError or TypeError when there is none."""
    found = document
    for raw in pointer.split("/")[1:]:
        step = raw.replace("~1", "/").replace("~0", "~")
        if isinstance(found, list):
            if not (step.isascii() and step.isdigit()):
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
    word = raw if isinstance(raw, str) else _spelled(raw)
    if signal.carries is Carries.CONTACT:
        folded = word.casefold()
        if folded in signal.on_words:
            return Grade.CONTACT, "on"
        if folded in signal.off_words:
            return Grade.CONTACT, "off"
    elif word in signal.words:
        return Grade.WORD, word
    raise ValueError(word)


def _spelled(raw: Any) -> str:
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, int):
        return str(raw)
    raise TypeError(type(raw).__name__)


def _number(signal: Signal, raw: Any) -> str:
    """Decimal text. A unit behind the number is tolerated when it is the signal's own ("12.4 V")."""
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise TypeError(type(raw).__name__)
    text = raw if isinstance(raw, str) else repr(raw)
    if signal.unit and text.endswith(signal.unit):
        text = text[: -len(signal.unit)].rstrip()
    if len(text) > MOST_DIGITS or not _NUMBER.fullmatch(text):
        raise ValueError(text[:MOST_DIGITS])
    if signal.scale == 1 and "e" not in text and "E" not in text:
        return text
    try:
        return format(Decimal(text) * signal.scale, "f")
    except InvalidOperation as unfit:
        raise ValueError(text) from unfit


def _time(raw: Any) -> Ms:
    if isinstance(raw, str):
        return from_rfc3339(raw)
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        raise TypeError("time")
    return int(raw * SECOND)
