"""A backup while the service runs, and a store laid in place from one."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from urllib.parse import quote

from gateway.doors.faces import StoreTrouble
from gateway.doors.store.aside import put_aside, sync_folder
from gateway.doors.store.loading import last_entry, last_moment
from gateway.doors.store.marks import put_restored
from gateway.doors.store.migrations import NotOurs, bring_up
from gateway.doors.store.opening import Hold, open_reading, open_writing
from gateway.doors.store.trouble import FROM_SQLITE, as_trouble, of_others, told
from gateway.vocabulary.moments import Ms


def back_up(store: Path, target: Path) -> None:
    """Copy the store as it stands at one moment, while a service runs on it or not, into one complete file.

    Commits do not wait for it. The copy is readable for its owner only, and is never laid over a file. Raises
    StoreTrouble (also when something is at the target already) and StoreUnreadable.
    """
    if target.exists():
        raise _in_the_way(target, "Name a file that is not there yet")
    with _made_beside(target) as part:
        opened = open_reading(store)
        try:
            _copy(store, opened.driver, part)
        finally:
            opened.close()
        _named(part, target)


def put_in_place(backup: Path, store: Path, now: Ms, *, replace: bool) -> Path | None:
    """Lay a backup in place as the store; it bears the mark of that. now: instant, ms UTC.

    replace: a store that is there is kept aside; its new path is given back. Raises StoreTaken while a service holds
    the store, StoreTrouble when one is there and is not to be replaced, StoreUnreadable for a backup that is none.
    """
    try:
        store.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise as_trouble(store, error) from error
    hold = Hold(store)
    try:
        if store.exists() and not replace:
            raise _in_the_way(store, "Say --replace to keep it aside and lay the backup in its place")
        with _made_beside(store) as part:
            opened = open_reading(backup)
            try:
                _copy(backup, opened.driver, part)
            finally:
                opened.close()
            _mark(part, now)
            aside = put_aside(store, "replaced", now) if store.exists() else None
            _named(part, store)
        return aside
    finally:
        hold.give_back()


def _mark(part: Path, now: Ms) -> None:
    opened = open_writing(part)
    try:
        with told(part):
            bring_up(opened.core)
            backup_at = last_moment(opened.core) or 0
            opened.driver.execute("BEGIN IMMEDIATE")
            put_restored(opened.driver, backup_at=backup_at, backup_n=last_entry(opened.core)[0], now=now)
            opened.driver.execute("COMMIT")
            opened.driver.execute("PRAGMA journal_mode = DELETE").fetchall()
    except NotOurs as error:
        raise of_others(part, str(error), "Name a backup of ours, or use the release that wrote it") from None
    finally:
        opened.close()


def _copy(path: Path, source: sqlite3.Connection, part: Path) -> None:
    try:
        with closing(sqlite3.connect(f"file:{quote(str(part.absolute()))}", uri=True, isolation_level=None)) as copy:
            source.backup(copy)  # in one step: of one moment, however much is committed meanwhile
            copy.execute("PRAGMA journal_mode = DELETE").fetchall()  # one file, nothing beside it
    except (*FROM_SQLITE, OSError) as error:
        raise as_trouble(path, error) from error


@contextmanager
def _made_beside(target: Path) -> Iterator[Path]:
    """A new private file in the target's folder, gone again unless it was given the target's name."""
    part = target.with_name(target.name + ".part")
    try:
        part.unlink(missing_ok=True)  # of a try that was cut off
        os.close(os.open(part, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600))
    except OSError as error:
        raise as_trouble(target, error) from error
    try:
        yield part
    finally:
        part.unlink(missing_ok=True)


def _named(part: Path, target: Path) -> None:
    """Give the finished file its name, unless one of that name has come meanwhile."""
    try:
        handle = os.open(part, os.O_RDWR)
        os.fsync(handle)
        os.close(handle)
        os.link(part, target)
        sync_folder(target.parent)
    except FileExistsError:
        raise _in_the_way(target, "Name a file that is not there yet") from None
    except OSError as error:
        raise as_trouble(target, error) from error


def _in_the_way(path: Path, remedy: str) -> StoreTrouble:
    return StoreTrouble(where=str(path), problem="there is a file of that name already", remedy=remedy)
