"""Blocks of readings: the lines that one commit brought of one boat, joined by line feeds.

A commit may hold readings of several boats, and their order among each other matters when they are fed again (two
boats may share a happening). Each block of such a commit therefore says which places in the commit its lines had.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from zlib import crc32

import orjson

from gateway.logbook.canonical import NotPlain
from gateway.logbook.kept_readings import boat_of, line
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Lines of one boat in the order of taking.

    first_, last_happening: happening numbers; first_, last_now: instants of taking, ms UTC; both of the first and the
    last line. count: how many lines. places: JSON list of the lines' places in their commit (0, 1, 2 ...), None when
    the commit held this boat only.
    """

    boat: str
    first_happening: int
    last_happening: int
    first_now: Ms
    last_now: Ms
    count: int
    places: bytes | None
    lines: bytes


def checksum(number: int, batch: int, places: bytes | None, lines: bytes) -> int:
    """CRC-32 (RFC 1952 8) over where a block stands and what it holds, 0 to 2**32 - 1.

    number: the block's own; batch: number of the first block of its commit. It finds accidents in an hour that no
    entry has closed yet; against intent only the hour's entry helps.
    """
    return crc32(lines, crc32(b"%d %d %b " % (number, batch, places or b"")))


def pack(rows: Iterable[tuple[int, Ms, Reading]]) -> list[Block]:
    """Blocks of what one commit holds: (happening, now, reading), in order of taking. Raises NotPlain."""
    packed: dict[str, list[tuple[int, int, Ms, bytes]]] = {}
    for place, (happening, now, reading) in enumerate(rows):
        row = (place, happening, now, line(happening, now, reading))
        boat = boat_of(reading.signal)
        if boat in packed:
            packed[boat].append(row)
        else:
            packed[boat] = [row]
    return [_block(boat, lines, alone=len(packed) == 1) for boat, lines in packed.items()]


def places_of(block_places: bytes | None, count: int) -> list[int]:
    """The places of a block's lines in their commit. Raises NotPlain when they do not fit the lines."""
    if block_places is None:
        return list(range(count))
    try:
        places = orjson.loads(block_places)
    except orjson.JSONDecodeError as error:
        raise NotPlain(f"places of a block: {error}") from None
    if not isinstance(places, list) or len(places) != count or any(type(place) is not int for place in places):
        raise NotPlain("places of a block do not fit its lines")
    return places


def _block(boat: str, rows: list[tuple[int, int, Ms, bytes]], *, alone: bool) -> Block:
    lines = b"\n".join([row[3] for row in rows])
    places = None if alone else orjson.dumps([row[0] for row in rows])
    _, first_happening, first_now, _ = rows[0]
    _, last_happening, last_now, _ = rows[-1]
    return Block(
        boat=boat,
        first_happening=first_happening,
        last_happening=last_happening,
        first_now=first_now,
        last_now=last_now,
        count=len(rows),
        places=places,
        lines=lines,
    )
