"""What a commit writes. The raw driver with executemany: Core costs 7 to 11 % here (measured)."""

import sqlite3
from collections.abc import Iterable, Sequence
from itertools import groupby

from gateway.doors.faces import Batch, ReadingRow, Snapshot
from gateway.doors.store.marks import take_away
from gateway.doors.store.thinning import LOOSE, erase
from gateway.logbook.blocks import checksum, pack
from gateway.logbook.chains import digest
from gateway.logbook.kept_readings import hour_of
from gateway.logbook.seals import part_bytes
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import HOUR, Ms

REMEMBERED_FOR: Ms = 72 * HOUR
"""How long ids of settled orders are kept: 48 h are promised, a day more for a slow look-up. Those of inbound texts are
kept for ever: a web hook's call stays signed for ever, and whoever caught one may send it again after years."""
SNAPSHOTS_KEPT = 2
"""The newest, and one before it in case the newest is of a release that was taken back. Our choice."""


def first_and_last_now(batch: Batch) -> tuple[Ms, Ms] | None:
    """The earliest and latest instant in a batch (ms UTC); None when it names none."""
    moments = [written.entry.now for written in batch.written]
    if batch.readings:
        moments += (batch.readings[0].now, batch.readings[-1].now)
    moments += [taken_at for _, taken_at in batch.seen]
    return (min(moments), max(moments)) if moments else None


def write_batch(driver: sqlite3.Connection, batch: Batch, first: Ms, last: Ms) -> None:
    """Write everything of a batch inside the transaction that is open. first, last: its instants. Raises sqlite3.Error
    and NotPlain."""
    if batch.readings:
        _readings(driver, batch.readings)
    if batch.written:
        _entries(driver, batch.written)
    if batch.texts or batch.commands or batch.mails:
        _orders(driver, batch, first)
    if batch.settled:
        _settled(driver, batch, last)
    if batch.seen:
        driver.executemany("INSERT OR IGNORE INTO seen_texts (message, taken_at) VALUES (?, ?)", batch.seen)
    if batch.people:
        driver.executemany(
            "INSERT INTO people (id, key, number) VALUES (?, ?, ?)"
            " ON CONFLICT (id) DO UPDATE SET key = excluded.key, number = excluded.number",
            batch.people,
        )
    if batch.erased:
        erase(driver, batch.erased)
    if batch.forgotten:
        _forget(driver, batch.forgotten)
    if batch.said:
        take_away(driver, batch.said)
    if batch.snapshot:
        _snapshot(driver, batch.snapshot)


def _readings(driver: sqlite3.Connection, rows: Sequence[ReadingRow]) -> None:
    # an hour at a time: hours are packed and dropped as wholes
    for _, of_hour in groupby(rows, lambda row: hour_of(row.now)):
        _readings_of_hour(driver, of_hour)


def _readings_of_hour(driver: sqlite3.Connection, rows: Iterable[ReadingRow]) -> None:
    blocks = pack((row.happening, row.now, row.reading) for row in rows)
    (newest,) = driver.execute("SELECT coalesce(max(id), 0) FROM reading_blocks").fetchone()
    driver.executemany(
        "INSERT INTO reading_blocks VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (
                place,
                newest + 1,
                block.boat,
                block.first_happening,
                block.last_happening,
                block.first_now,
                block.last_now,
                block.count,
                block.places,
                block.lines,
                checksum(place, newest + 1, block.places, block.lines),
                LOOSE,
            )
            for place, block in enumerate(blocks, newest + 1)
        ],
    )


def _entries(driver: sqlite3.Connection, written: Sequence[Written]) -> None:
    driver.executemany(
        "INSERT INTO entries VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (w.entry.n, w.entry.chain, w.entry.place, w.entry.now, w.entry.happening, w.entry.kind, w.data, w.digest)
            for w in written
        ],
    )
    parts = [
        (w.entry.n, place, None if part is None else part_bytes(part))
        for w in written
        for place, part in enumerate(w.parts)
    ]
    if parts:
        driver.executemany("INSERT INTO sealed_parts VALUES (?, ?, ?)", parts)
    ends = {w.entry.chain: (w.entry.chain, w.entry.place, w.digest) for w in written}
    driver.executemany("INSERT OR REPLACE INTO chain_heads VALUES (?, ?, ?)", list(ends.values()))


def _orders(driver: sqlite3.Connection, batch: Batch, first: Ms) -> None:
    # the batch's earliest instant: never later than the order itself, so a look-up with it misses nothing
    driver.executemany(
        "INSERT INTO waiting_texts VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (t.id, t.carrier, t.person, t.number, t.body, str(t.priority), t.valid_for, first, t.spoken)
            for t in batch.texts
        ],
    )
    driver.executemany(
        "INSERT INTO waiting_commands VALUES (?, ?, ?, ?, ?, ?)",
        [(c.id, c.broker, c.topic, c.payload, c.expires_after, first) for c in batch.commands],
    )
    driver.executemany(
        "INSERT INTO waiting_mails VALUES (?, ?, ?, ?, ?, ?)",
        [(m.id, m.person, m.address, m.subject, m.body, m.at) for m in batch.mails],
    )


def _settled(driver: sqlite3.Connection, batch: Batch, last: Ms) -> None:
    orders = [(settled.order,) for settled in batch.settled]
    driver.executemany("DELETE FROM waiting_texts WHERE id = ?", orders)
    driver.executemany("DELETE FROM waiting_commands WHERE id = ?", orders)
    driver.executemany("DELETE FROM waiting_mails WHERE id = ?", orders)
    driver.executemany(
        "INSERT OR REPLACE INTO settled_orders VALUES (?, ?, ?, ?)",
        [(settled.order, settled.outcome, settled.message, last) for settled in batch.settled],
    )
    driver.execute("DELETE FROM settled_orders WHERE settled_at < ?", (last - REMEMBERED_FOR,))


def _forget(driver: sqlite3.Connection, people: Sequence[str]) -> None:
    """Take the keys of these persons, and what waits in the outbox for them, off the disk."""
    ids = [(person,) for person in people]
    driver.executemany("DELETE FROM people WHERE id = ?", ids)
    driver.executemany("DELETE FROM waiting_texts WHERE person = ?", ids)
    driver.executemany("DELETE FROM waiting_mails WHERE person = ?", ids)


def _snapshot(driver: sqlite3.Connection, snapshot: Snapshot) -> None:
    found = driver.execute("SELECT digest FROM entries WHERE n = ?", (snapshot.n,)).fetchone()
    driver.execute(
        "INSERT INTO snapshots (n, happening, state_version, entry_digest, digest, data) VALUES (?, ?, ?, ?, ?, ?)",
        (
            snapshot.n,
            snapshot.happening,
            snapshot.state_version,
            found[0] if found else "",
            digest(snapshot.data),
            snapshot.data,
        ),
    )
    driver.execute(
        "DELETE FROM snapshots WHERE id NOT IN (SELECT id FROM snapshots ORDER BY id DESC LIMIT ?)", (SNAPSHOTS_KEPT,)
    )
