"""Numbered changes of the schema. Each is run once, in one transaction, and recorded in the file itself.

A change that has been released is never edited; a new one is added at the end. STRICT tables (SQLite 3.37) refuse a
value of the wrong kind; secure deletion is a setting of the connection.
"""

from dataclasses import dataclass

from sqlalchemy import Connection, insert, inspect, select, text

from gateway.doors.store.schema import MIGRATIONS

APPLICATION = 0x6865_6176
"""Marks the file as a store of ours in SQLite's header ("heav" in ASCII, our choice)."""


@dataclass(frozen=True, slots=True)
class Migration:
    """One change: its number, its name, its statements in order."""

    number: int
    name: str
    statements: tuple[str, ...]


STEPS: tuple[Migration, ...] = (
    Migration(
        1,
        "the first store",
        (
            """CREATE TABLE entries (
                n INTEGER PRIMARY KEY NOT NULL, chain TEXT NOT NULL, place INTEGER NOT NULL, now INTEGER NOT NULL,
                happening INTEGER NOT NULL, kind TEXT NOT NULL, data BLOB NOT NULL, digest TEXT NOT NULL,
                UNIQUE (chain, place)) STRICT""",
            """CREATE TABLE sealed_parts (
                n INTEGER NOT NULL REFERENCES entries (n), place INTEGER NOT NULL, data BLOB,
                PRIMARY KEY (n, place)) STRICT, WITHOUT ROWID""",
            """CREATE TABLE chain_heads (
                chain TEXT PRIMARY KEY NOT NULL, place INTEGER NOT NULL, digest TEXT NOT NULL) STRICT, WITHOUT ROWID""",
            """CREATE TABLE reading_blocks (
                id INTEGER PRIMARY KEY NOT NULL, batch INTEGER NOT NULL, boat TEXT NOT NULL,
                first_happening INTEGER NOT NULL, last_happening INTEGER NOT NULL, first_now INTEGER NOT NULL,
                last_now INTEGER NOT NULL, count INTEGER NOT NULL, places BLOB, lines BLOB NOT NULL,
                checksum INTEGER NOT NULL) STRICT""",
            "CREATE INDEX reading_blocks_by_happening ON reading_blocks (last_happening)",
            """CREATE TABLE waiting_texts (
                id TEXT PRIMARY KEY NOT NULL, carrier TEXT NOT NULL, person TEXT NOT NULL, number TEXT NOT NULL,
                body TEXT NOT NULL, priority TEXT NOT NULL, valid_for INTEGER NOT NULL, queued_at INTEGER NOT NULL)
                STRICT""",
            """CREATE TABLE waiting_commands (
                id TEXT PRIMARY KEY NOT NULL, broker TEXT NOT NULL, topic TEXT NOT NULL, payload TEXT NOT NULL,
                expires_after INTEGER NOT NULL, queued_at INTEGER NOT NULL) STRICT""",
            """CREATE TABLE settled_orders (
                id TEXT PRIMARY KEY NOT NULL, outcome TEXT NOT NULL, message TEXT NOT NULL,
                settled_at INTEGER NOT NULL) STRICT, WITHOUT ROWID""",
            """CREATE TABLE seen_texts (
                message TEXT PRIMARY KEY NOT NULL, taken_at INTEGER NOT NULL) STRICT, WITHOUT ROWID""",
            """CREATE TABLE people (
                place INTEGER PRIMARY KEY NOT NULL, id TEXT NOT NULL UNIQUE, key TEXT NOT NULL) STRICT""",
            """CREATE TABLE snapshots (
                id INTEGER PRIMARY KEY NOT NULL, n INTEGER NOT NULL, happening INTEGER NOT NULL,
                state_version TEXT NOT NULL, entry_digest TEXT NOT NULL, digest TEXT NOT NULL, data BLOB NOT NULL)
                STRICT""",
        ),
    ),
    Migration(
        2,
        "readings packed by the hour, and notes of the store about itself",
        (
            "ALTER TABLE reading_blocks ADD COLUMN form INTEGER NOT NULL DEFAULT 0",
            "CREATE TABLE marks (name TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL) STRICT, WITHOUT ROWID",
        ),
    ),
    Migration(
        3,
        "mails that wait",
        (
            """CREATE TABLE waiting_mails (
                id TEXT PRIMARY KEY NOT NULL, person TEXT NOT NULL, address TEXT NOT NULL, subject TEXT NOT NULL,
                body TEXT NOT NULL, at INTEGER NOT NULL) STRICT""",
        ),
    ),
    Migration(
        4,
        "calls among what waits",
        ("ALTER TABLE waiting_texts ADD COLUMN spoken INTEGER NOT NULL DEFAULT 0",),
    ),
    Migration(
        5,
        "the number that each person has",
        ("ALTER TABLE people ADD COLUMN number TEXT NOT NULL DEFAULT ''",),
    ),
)

KNOWN = STEPS[-1].number


class NotOurs(Exception):
    """The file cannot be used with this release. The message says why."""


def standing(connection: Connection) -> int:
    """The number of the last change the file has been through; 0 for a new file.

    Raises NotOurs when the file belongs to something else, or to a later release.
    """
    mark = connection.execute(text("PRAGMA application_id")).scalar_one()
    names = inspect(connection).get_table_names()
    if not names and mark == 0:
        return 0
    if mark != APPLICATION or "migrations" not in names:
        raise NotOurs("it is a database, but not a store of heavingline")
    number = max(connection.execute(select(MIGRATIONS.c.number)).scalars(), default=0)
    if number > KNOWN:
        raise NotOurs(f"it was written by a later release (its form is {number}, this one knows up to {KNOWN})")
    return int(number)


def bring_up(connection: Connection) -> None:
    """Run every change that the file has not been through: all of them, or none. Raises NotOurs."""
    done = standing(connection)
    if done == KNOWN:
        return
    connection.execute(text("BEGIN IMMEDIATE"))
    try:
        if done == 0:
            connection.execute(text(f"PRAGMA application_id = {APPLICATION}"))
            connection.execute(
                text("CREATE TABLE migrations (number INTEGER PRIMARY KEY NOT NULL, name TEXT NOT NULL) STRICT")
            )
        for step in STEPS[done:]:
            for statement in step.statements:
                connection.execute(text(statement))
            connection.execute(insert(MIGRATIONS).values(number=step.number, name=step.name))
        connection.execute(text("COMMIT"))
    except BaseException:
        connection.execute(text("ROLLBACK"))
        raise
