"""A look at the end of a store before it is used: is what was written last what it should be?

The whole of it is what `logbook verify` is for; a start has no time for that. Damage at the end is what a cut of the
power or a dying card leaves.
"""

from pathlib import Path

from sqlalchemy import Connection, func, select, text

from gateway.doors.store.kept_rows import KeptEntries, KeptReadings
from gateway.doors.store.loading import last_block
from gateway.doors.store.schema import CHAIN_HEADS, ENTRIES, READING_BLOCKS
from gateway.doors.store.trouble import told, unreadable

LAST_ENTRIES = 500
"""Entries at the end that are read and hashed again: under 10 ms (measured)."""

LAST_BLOCKS = 200
"""Blocks of readings at the end that are read again (our choice: minutes of a busy boat)."""

WHOLE_FILE_UP_TO = 64 * 1024 * 1024
"""Bytes. Up to this size SQLite checks the whole file, indexes included: some 1 ms a MB (measured), and 2 s to read it
from a slow card."""


def check_end(core: Connection, path: Path) -> None:
    """Raises StoreUnreadable when the end of the store does not agree with itself."""
    with told(path):
        last = core.execute(select(func.coalesce(func.max(ENTRIES.c.n), 0))).scalar_one()
        heads = {row.chain: (row.place, row.digest) for row in core.execute(select(CHAIN_HEADS))}
        entries = core.execute(select(func.count()).select_from(CHAIN_HEADS)).scalar_one()
    ends: dict[str, tuple[int, str]] = {}
    n = max(0, last - LAST_ENTRIES)
    for written in KeptEntries(core, path, after=n, upto=last):
        n += 1
        chain = written.entry.chain
        if written.entry.n != n:
            raise unreadable(path, f"entry {n} is missing")
        if chain in ends and (written.entry.place, written.entry.previous) != (ends[chain][0] + 1, ends[chain][1]):
            raise unreadable(path, f"entry {n} does not follow the one before it in its chain")
        ends[chain] = (written.entry.place, written.digest)
    if any(heads.get(chain) != end for chain, end in ends.items()) or (last and not entries):
        raise unreadable(path, "the noted end of a chain is not its last entry")
    _blocks(core, path)
    _whole(core, path)


def _blocks(core: Connection, path: Path) -> None:
    upto = last_block(core)
    with told(path):
        batch = select(READING_BLOCKS.c.batch).where(READING_BLOCKS.c.id > upto - LAST_BLOCKS)
        first = core.execute(batch.order_by(READING_BLOCKS.c.id).limit(1)).scalar()
        happening = select(READING_BLOCKS.c.first_happening).where(READING_BLOCKS.c.batch == first).limit(1)
        since = core.execute(happening).scalar()
    if since is not None:
        for _ in KeptReadings(core, path, happening=since - 1, upto=upto):
            pass


def _whole(core: Connection, path: Path) -> None:
    with told(path):
        size = (
            core.execute(text("PRAGMA page_count")).scalar_one() * core.execute(text("PRAGMA page_size")).scalar_one()
        )
        if size > WHOLE_FILE_UP_TO:
            return
        found = core.execute(text("PRAGMA integrity_check(1)")).scalar()
    if found != "ok":
        raise unreadable(path, f"the file is damaged ({found})")
