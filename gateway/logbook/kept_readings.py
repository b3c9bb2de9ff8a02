"""Readings as they are kept: one line each, and one hash for each boat and hour.

A line is canonical JSON (RFC 8785), a list of seven: happening number, instant of taking (ms UTC), signal, grade,
text exactly as received, own time (ms UTC) or null, and marks (the sum of 1 late, 2 retained, 4 own time ahead,
8 own time of no use). JSON
holds no raw line feed, so lines are joined by one. A list and not an object, because this is written for every
reading: our choice.

An hour's hash rolls over its lines in the order of taking, so it does not depend on how they were packed into blocks
(the write path packs by commit, the history by hour).
"""

from hashlib import sha256
from typing import Any

import orjson

from gateway.logbook.canonical import NotPlain
from gateway.vocabulary.moments import HOUR, Ms
from gateway.vocabulary.readings import Grade, Reading

HOUR_KEPT = "hour-kept"
"""Kind of the entry that closes an hour of a boat: body ``{"boat", "hour", "count", "digest"}``."""
HOUR_KEPT_VERSION = 1

LATE, RETAINED, AHEAD, TIMELESS = 1, 2, 4, 8
"""Marks of a line; their sum when several hold."""

_GRADES = {grade.value: grade for grade in Grade}
_dumps, _loads, _STRICT = orjson.dumps, orjson.loads, orjson.OPT_STRICT_INTEGER


def boat_of(signal: str) -> str:
    """The boat's key in a signal's id: what stands before the first slash."""
    return signal.partition("/")[0]


def hour_of(now: Ms) -> Ms:
    """The instant (ms UTC) at which the hour of `now` began. Hours are UTC hours, whatever the boat's zone."""
    return now - now % HOUR


def marks_of(reading: Reading) -> int:
    """The sum of a reading's marks."""
    return LATE * reading.late + RETAINED * reading.retained + AHEAD * reading.ahead + TIMELESS * reading.timeless


def line(happening: int, now: Ms, reading: Reading) -> bytes:
    """The line of one reading, without line feed. Raises NotPlain for text that is no Unicode text."""
    marks = marks_of(reading)
    try:
        return _dumps(
            (happening, now, reading.signal, reading.grade, reading.text, reading.own_time, marks), option=_STRICT
        )
    except orjson.JSONEncodeError as error:
        raise NotPlain(f"reading of {reading.signal!r}: {error}") from None


def read_line(data: bytes) -> tuple[int, Ms, Reading]:
    """Happening number, instant of taking (ms UTC) and reading of a line. Raises NotPlain when it is none."""
    try:
        row: Any = _loads(data)
        happening, now, signal, grade, text, own_time, marks = row
        known = _GRADES[grade]
    except (ValueError, TypeError, KeyError) as error:
        raise NotPlain(f"not a line of a reading: {error}") from None
    if (
        type(happening) is not int
        or type(now) is not int
        or type(signal) is not str
        or type(text) is not str
        or not (own_time is None or type(own_time) is int)
        or type(marks) is not int
        or not 0 <= marks <= LATE + RETAINED + AHEAD + TIMELESS
    ):
        raise NotPlain("not a line of a reading: a field is of the wrong kind")
    reading = Reading(
        signal=signal,
        grade=known,
        text=text,
        own_time=own_time,
        late=bool(marks & LATE),
        retained=bool(marks & RETAINED),
        ahead=bool(marks & AHEAD),
        timeless=bool(marks & TIMELESS),
    )
    return happening, now, reading


def roll(digest: str, line: bytes) -> str:
    """The hour's hash after one more line: SHA-256 over the hash so far (32 bytes; none at first) and the line.

    digest: 64 hex digits, or "" before the hour's first line.
    """
    return sha256(bytes.fromhex(digest) + line).hexdigest()
