"""Readings packed and dropped, sealed parts erased, each in small transactions: the store's side of keeping.

What is read before (a survey, the packing of an hour) goes by a connection of its own, in whatever thread, so that no
commit ever waits for it.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import Connection, case, func, select

from gateway.doors.store.schema import ENTRIES, READING_BLOCKS, SEALED_PARTS
from gateway.history.packing import inflated_places, unpacked
from gateway.history.repacking import LooseBlock, Repacked, group_of, repacked
from gateway.history.retention import HourHeld
from gateway.logbook.canonical import NotPlain
from gateway.vocabulary.moments import HOUR, Ms

LOOSE, PACKED = 0, 1
"""Forms of a block: as a commit left it, or packed (`gateway.history.packing`)."""

PARTS_AT_ONCE = 500
"""Sealed parts erased in one transaction: some ms (our choice)."""

PAGE = 500
"""Blocks fetched at a time (our choice)."""


def survey(core: Connection) -> list[HourHeld]:
    """What is held of readings, by UTC hour, oldest first."""
    block = READING_BLOCKS.c
    hour = (block.last_now - block.last_now % HOUR).label("hour")
    size = func.length(block.lines) + func.coalesce(func.length(block.places), 0)
    loose = func.sum(case((block.form == LOOSE, 1), else_=0))
    wanted = select(hour, func.min(block.id), func.sum(block.count), func.sum(size), loose).group_by(hour)
    return [
        HourHeld(hour=begun, first=first, readings=readings, size=held, loose=unpacked)
        for begun, first, readings, held, unpacked in core.execute(wanted.order_by(hour))
    ]


def parts_before(core: Connection, before: Ms) -> tuple[int, int]:
    """(n of the last entry made before this instant, how many sealed parts up to it are not erased)."""
    low, high = 0, core.execute(select(func.coalesce(func.max(ENTRIES.c.n), 0))).scalar_one()
    while low < high:  # instants never go back with n, and there is no index on them
        middle = (low + high + 1) // 2
        made = core.execute(select(ENTRIES.c.now).where(ENTRIES.c.n == middle)).scalar()
        low, high = (middle, high) if made is not None and made < before else (low, middle - 1)
    parts = SEALED_PARTS.c
    wanted = select(func.count()).where(parts.n <= low, parts.data.is_not(None))
    return low, int(core.execute(wanted).scalar_one())


def next_group(core: Connection, held: HourHeld) -> Repacked | None:
    """The next blocks of this hour that can be packed together; None when there are none (or what is there is
    damaged: then it stays as it is, for verification to name)."""
    group = group_of(_loose(core, held))
    try:
        return repacked(group) if group else None
    except NotPlain:
        return None


def _loose(core: Connection, held: HourHeld) -> Iterator[LooseBlock]:
    table, after = READING_BLOCKS.c, held.first - 1
    while rows := core.execute(select(READING_BLOCKS).where(table.id > after).order_by(table.id).limit(PAGE)).all():
        for row in rows:
            if row.last_now >= held.hour + HOUR:
                return
            if row.form == LOOSE:
                yield LooseBlock(
                    id=row.id,
                    batch=row.batch,
                    last_now=row.last_now,
                    places=row.places,
                    lines=row.lines,
                    count=row._mapping["count"],
                )
        after = rows[-1].id


def put_packed(driver: sqlite3.Connection, packed: Repacked) -> bool:
    """Put packed blocks in the place of the loose ones, inside the transaction that is open. False, and nothing is
    done, when they are not there any more as they were read."""
    between = (packed.first, packed.last)
    found = driver.execute(
        "SELECT count(*), coalesce(sum(count), 0), coalesce(sum(form), 0) FROM reading_blocks WHERE id BETWEEN ? AND ?",
        between,
    ).fetchone()
    if found != (packed.count, sum(block.block.count for block in packed.blocks), LOOSE):
        return False
    driver.execute("DELETE FROM reading_blocks WHERE id BETWEEN ? AND ?", between)
    driver.executemany(
        "INSERT INTO reading_blocks VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (
                packed_block.id,
                packed_block.batch,
                packed_block.block.boat,
                packed_block.block.first_happening,
                packed_block.block.last_happening,
                packed_block.block.first_now,
                packed_block.block.last_now,
                packed_block.block.count,
                packed_block.places,
                packed_block.lines,
                packed_block.checksum,
                PACKED,
            )
            for packed_block in packed.blocks
        ],
    )
    return True


def drop_hour(driver: sqlite3.Connection, before: Ms) -> bool:
    """Drop the oldest whole hour of readings taken before this instant, inside the transaction that is open. False
    when there is none."""
    (oldest,) = driver.execute("SELECT last_now FROM reading_blocks ORDER BY id LIMIT 1").fetchone() or (None,)
    if oldest is None or oldest >= before:
        return False
    end = min(before, oldest - oldest % HOUR + HOUR)
    later = driver.execute("SELECT id FROM reading_blocks WHERE last_now >= ? ORDER BY id LIMIT 1", (end,)).fetchone()
    if later is None:
        driver.execute("DELETE FROM reading_blocks")
    else:
        driver.execute("DELETE FROM reading_blocks WHERE id < ?", later)
    return True


def erase_parts(driver: sqlite3.Connection, after: int, upto: int) -> int | None:
    """Erase the next sealed parts of entries from after n `after` to n `upto`, inside the transaction that is open.
    The last n that was reached; None when nothing was left."""
    found = driver.execute(
        "SELECT n, place FROM sealed_parts WHERE n > ? AND n <= ? AND data IS NOT NULL ORDER BY n, place LIMIT ?",
        (after, upto, PARTS_AT_ONCE),
    ).fetchall()
    if not found:
        return None
    erase(driver, found)
    return int(found[-1][0]) - 1  # its entry may have more of them


def erase(driver: sqlite3.Connection, parts: Sequence[tuple[int, int]]) -> None:
    """Erase these sealed parts (n, place): their bytes are overwritten, the rows stay."""
    driver.executemany("UPDATE sealed_parts SET data = NULL WHERE n = ? AND place = ?", parts)


def unpacked_row(row: Any) -> tuple[bytes | None, bytes]:
    """(places, lines) of a block's row as a commit wrote them. Raises NotPlain when its packed form is damaged."""
    if row.form == LOOSE:
        return row.places, row.lines
    if row.form != PACKED:
        raise NotPlain(f"it is in form {row.form}, which is not known here")
    return inflated_places(row.places), unpacked(row.lines)
