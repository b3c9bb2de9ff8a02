"""The packed form of a block of readings: its lines by columns, differences instead of values, then deflated.

A line is a list of seven (`gateway.logbook.kept_readings`). Columns of one kind, and steps instead of instants, leave
little to say; zlib (RFC 1950) does the rest. Packing is undone to the very bytes: the hour's hash rolls over them.
"""

import zlib
from collections.abc import Sequence

import orjson

from gateway.logbook.canonical import NotPlain
from gateway.logbook.kept_readings import AHEAD, LATE, RETAINED, TIMELESS, line, marks_of, read_line
from gateway.vocabulary.readings import Grade, Reading

LEVEL = 9
"""zlib's most thorough: an hour is packed once and read seldom."""

LARGEST_UNPACKED = 64 * 1_000_000
"""Bytes that a block may unpack to: more comes of damage only, and must not fill the memory (our choice)."""

_COLUMNS, _LINES = b"c", b"l"
"""First byte: columns, or, where lines are not what `line` writes (they cannot be made again), the lines themselves."""


def packed(lines: bytes) -> bytes:
    """The packed form of lines joined by line feeds."""
    rows = lines.split(b"\n")
    try:
        columns = _columns(rows)
        if _rows(columns) == rows:
            return _COLUMNS + zlib.compress(orjson.dumps(columns), LEVEL)
    except (NotPlain, ValueError, TypeError):
        pass
    return _LINES + zlib.compress(lines, LEVEL)


def unpacked(data: bytes) -> bytes:
    """The lines that a packed form holds. Raises NotPlain when it is damaged."""
    try:
        if data[:1] == _LINES:
            return inflated(data[1:])
        if data[:1] != _COLUMNS:
            raise NotPlain("packed in no way that is known here")
        return b"\n".join(_rows(orjson.loads(inflated(data[1:]))))
    except (ValueError, TypeError, KeyError, IndexError) as error:
        raise NotPlain(f"a packed block: {error}") from None


def deflated_places(places: bytes | None) -> bytes | None:
    """Places in their group, deflated as steps; None stays None. Raises NotPlain when they are none."""
    if places is None:
        return None
    try:
        return zlib.compress(orjson.dumps(_steps(orjson.loads(places))), LEVEL)
    except (ValueError, TypeError) as error:
        raise NotPlain(f"places of a block: {error}") from None


def inflated_places(data: bytes | None) -> bytes | None:
    """The inverse of `deflated_places`. Raises NotPlain."""
    if data is None:
        return None
    try:
        return orjson.dumps(_sums(orjson.loads(inflated(data))))
    except (ValueError, TypeError) as error:
        raise NotPlain(f"places of a block: {error}") from None


def inflated(data: bytes) -> bytes:
    """Deflated bytes made whole. Raises NotPlain for anything else, and for what would fill the memory."""
    try:
        maker = zlib.decompressobj()
        found = maker.decompress(data, LARGEST_UNPACKED)
    except zlib.error as error:
        raise NotPlain(f"a packed block: {error}") from None
    if not maker.eof or maker.unused_data:
        raise NotPlain("a packed block: it is cut off, or too large")
    return found


def _columns(rows: Sequence[bytes]) -> list[list[object]]:
    """[signals, happenings, instants, signal numbers, grades, texts, own times, marks]."""
    signals: dict[str, int] = {}
    happenings, moments, numbers, grades, texts, own_times, marks = [], [], [], [], [], [], []
    for row in rows:
        happening, now, reading = read_line(row)
        happenings.append(happening)
        moments.append(now)
        numbers.append(signals.setdefault(reading.signal, len(signals)))
        grades.append(reading.grade.value)
        texts.append(reading.text)
        own_times.append(None if reading.own_time is None else now - reading.own_time)
        marks.append(marks_of(reading))
    return [
        list(signals),
        _steps(happenings),
        _steps(moments),
        list(numbers),
        list(grades),
        list(texts),
        list(own_times),
        list(marks),
    ]


def _rows(columns: Sequence[Sequence[object]]) -> list[bytes]:
    signals, happenings, moments, numbers, grades, texts, own_times, marks = columns
    found = zip(_sums(happenings), _sums(moments), numbers, grades, texts, own_times, marks, strict=True)
    return [
        line(
            happening,
            now,
            Reading(
                signal=signals[number],
                grade=Grade(grade),
                text=text,
                own_time=None if own is None else now - own,
                late=bool(mark & LATE),
                retained=bool(mark & RETAINED),
                ahead=bool(mark & AHEAD),
                timeless=bool(mark & TIMELESS),
            ),
        )
        for happening, now, number, grade, text, own, mark in found
    ]


def _steps(values: Sequence[int]) -> list[object]:
    return [value - before for value, before in zip(values, [0, *values], strict=False)]


def _sums(steps: Sequence[object]) -> list[int]:
    total, found = 0, []
    for step in steps:
        if type(step) is not int:
            raise TypeError(f"{step!r} is no whole number")
        total += step
        found.append(total)
    return found
