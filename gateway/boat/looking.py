"""What a payload of an unknown topic might carry, found by trying: the same code that will read it later is asked.

So a proposal can never name a signal that does not read what was heard.
"""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from gateway.boat.decoding import LONGEST_PAYLOAD, decode, sample_of
from gateway.boat.settings import Carries, Signal
from gateway.vocabulary.moments import from_rfc3339
from gateway.vocabulary.readings import Grade

MOST_PARTS = 100
"""Values of one JSON payload that are shown (our choice: a page and a half; a boat's payload has some dozen)."""

DEEPEST = 12
"""Levels of JSON looked into (our choice)."""

LONGEST_WORD = 24
"""Characters of what may be a word of a state; anything longer is prose (our choice)."""

POSITION_NAMES = (("latitude", "longitude"), ("lat", "lon"), ("lat", "lng"))
"""Names under which latitude and longitude stand beside each other (common practice, no source)."""

NO_VALUES = frozenset({"nan", "+nan", "-nan", "inf", "+inf", "-inf", "infinity", "-infinity", "null", "none", "nil"})
"""What programs write where there is no number, in small letters (IEEE 754 as C prints it, RFC 8259; else usage)."""

_UNIT = re.compile(r"[+-]?[0-9.]+(?:[eE][+-]?[0-9]+)? ?(?P<unit>%|[A-Za-z°][A-Za-z0-9°/]{0,7})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One value of a payload. pointer: RFC 6901, "" for the whole. carries: what it can be read as, the likeliest
    first; nothing when it is no value (null, prose, an empty list). text: as it would be kept, else as it came.
    unit: written behind the number or in a neighbour called "unit". latitude, longitude: pointers from here, of a
    position. is_time: RFC 3339 with a zone. is_none: stands where there is no value."""

    pointer: str
    carries: tuple[Carries, ...]
    text: str
    unit: str = ""
    latitude: str = "/latitude"
    longitude: str = "/longitude"
    is_time: bool = False
    is_none: bool = False


def parts(payload: bytes) -> tuple[Part, ...]:
    """Every value in the payload, in its order; one part that carries nothing where it cannot be read. Never raises.

    An empty payload clears a retained value (MQTT 5, 3.3.1.3): no part.
    """
    if not payload:
        return ()
    if len(payload) > LONGEST_PAYLOAD:
        return (Part(pointer="", carries=(), text=f"{len(payload)} bytes"),)
    found = _json(payload)
    if isinstance(found, dict | list):
        inside = []
        for part in _walk(payload, found, "", 0):
            inside.append(part)
            if len(inside) == MOST_PARTS:
                break
        return tuple(inside) or (Part(pointer="", carries=(), text=sample_of(payload)),)
    text = payload.decode("utf-8", "replace").strip()
    return (_leaf(payload, "", text, ""),)


def _no_number(word: str) -> None:
    """NaN and Infinity are no JSON (RFC 8259, 6): no value, as they are to the reading; their neighbours are shown."""


def _json(payload: bytes) -> Any:
    try:
        return json.loads(payload.decode(), parse_constant=_no_number)
    except (ValueError, RecursionError):
        return None


def _walk(payload: bytes, found: Any, pointer: str, depth: int) -> Iterator[Part]:
    if not isinstance(found, dict | list) or depth == DEEPEST:
        yield _leaf(payload, pointer, found if isinstance(found, str) else None, "")
        return
    taken: tuple[str, ...] = ()
    if isinstance(found, dict):
        place = _position(payload, found, pointer)
        if place is not None:
            yield place
            taken = (place.latitude, place.longitude)
    members = found.items() if isinstance(found, dict) else ((str(n), each) for n, each in enumerate(found))
    unit = found.get("unit") if isinstance(found, dict) else None
    for name, value in members:
        step = f"/{name.replace('~', '~0').replace('/', '~1')}"
        if step in taken:
            continue
        if isinstance(value, dict | list):
            yield from _walk(payload, value, pointer + step, depth + 1)
        else:
            text = value if isinstance(value, str) else None
            yield _leaf(payload, pointer + step, text, unit if isinstance(unit, str) and len(unit) <= 8 else "")


def _position(payload: bytes, found: Mapping[str, Any], pointer: str) -> Part | None:
    for north, east in POSITION_NAMES:
        if north in found and east in found:
            latitude, longitude = f"/{north}", f"/{east}"
            text = _tried(payload, pointer, Carries.POSITION, latitude=latitude, longitude=longitude)
            if text is not None:
                return Part(
                    pointer=pointer, carries=(Carries.POSITION,), text=text, latitude=latitude, longitude=longitude
                )
    return None


def _leaf(payload: bytes, pointer: str, text: str | None, neighbour: str) -> Part:
    """text: the value where it is a text, else None (a number, true, false, null)."""
    behind = _UNIT.fullmatch(text) if text is not None else None
    unit = behind["unit"] if behind else ""
    if text is not None and _is_time(text):
        return Part(pointer=pointer, carries=(), text=text, is_time=True)
    if text is not None and text.casefold() in NO_VALUES:
        return Part(pointer=pointer, carries=(), text=text, is_none=True)
    number = _tried(payload, pointer, Carries.NUMBER, unit=unit)
    contact = _tried(payload, pointer, Carries.CONTACT)
    if number is not None:
        ways = (Carries.NUMBER,) if contact is None else (Carries.NUMBER, Carries.CONTACT)
        return Part(pointer=pointer, carries=ways, text=number, unit=unit or neighbour)
    if contact is not None:
        word = text if text is not None else "true" if contact == "on" else "false"
        return Part(pointer=pointer, carries=(Carries.CONTACT, Carries.WORD), text=word)
    short = text is not None and 0 < len(text) <= LONGEST_WORD and text.isprintable() and text == text.strip()
    if text is not None and short and _tried(payload, pointer, Carries.WORD, word=text) is not None:
        return Part(pointer=pointer, carries=(Carries.WORD,), text=text)
    shown = sample_of(payload) if not pointer else "no value" if text is None else sample_of(text.encode())
    return Part(pointer=pointer, carries=(), text=shown, is_none=bool(pointer) and text is None)


def _is_time(text: str) -> bool:
    try:
        from_rfc3339(text)
    except ValueError:
        return False
    return True


def _tried(
    payload: bytes,
    pointer: str,
    carries: Carries,
    *,
    unit: str = "",
    word: str = "",
    latitude: str = "/latitude",
    longitude: str = "/longitude",
) -> str | None:
    """The value as a signal of that kind would keep it; None when it could not be read so."""
    signal = Signal(
        id="",
        boat="",
        key="",
        topic="",
        pointer=pointer,
        carries=carries,
        unit=unit,
        words=(word,),
        latitude=latitude,
        longitude=longitude,
    )
    (reading,) = decode((signal,), payload, retained=False)
    return None if reading.grade is Grade.UNREADABLE else reading.text
