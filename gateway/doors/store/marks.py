"""What a store notes about itself, beside the record: that it was restored, or replaces a damaged one."""

import sqlite3
from collections.abc import Sequence

import orjson
from sqlalchemy import Connection, select

from gateway.doors.faces import DamageMark, Marks, RestoredMark
from gateway.doors.store.schema import MARKS
from gateway.vocabulary.moments import Ms

RESTORED, REPLACED, TEXTS_AFTER, THINNED = "restored", "replaced", "texts-after", "thinned"


def put_restored(driver: sqlite3.Connection, *, backup_at: Ms, backup_n: int, now: Ms) -> None:
    """Note that this store was laid in place from a backup now (ms UTC): the next start says so, and no text that was
    sent before is ever acted on."""
    _put(driver, RESTORED, {"backup_at": backup_at, "backup_n": backup_n})
    _put(driver, TEXTS_AFTER, now)


def put_replaced(driver: sqlite3.Connection, *, kept_as: str, problem: str) -> None:
    """Note that this store takes the place of a damaged one."""
    _put(driver, REPLACED, {"kept_as": kept_as, "problem": problem})


def put_thinned(driver: sqlite3.Connection, now: Ms) -> None:
    """Note when keeping was last looked after (ms UTC)."""
    _put(driver, THINNED, now)


def take_away(driver: sqlite3.Connection, names: Sequence[str]) -> None:
    """These notes stand in the record now."""
    driver.executemany("DELETE FROM marks WHERE name = ?", [(name,) for name in names])


def marks_of(core: Connection) -> Marks:
    """All notes. Raises ValueError, TypeError or KeyError when they are damaged."""
    found = {name: orjson.loads(value) for name, value in core.execute(select(MARKS))}
    restored, replaced = found.get(RESTORED), found.get(REPLACED)
    return Marks(
        restored=None if restored is None else RestoredMark(**restored),
        replaced=None if replaced is None else DamageMark(**replaced),
        texts_after=found.get(TEXTS_AFTER),
        thinned_at=found.get(THINNED),
    )


def _put(driver: sqlite3.Connection, name: str, value: object) -> None:
    driver.execute("INSERT OR REPLACE INTO marks (name, value) VALUES (?, ?)", (name, orjson.dumps(value).decode()))
