"""What SQLite and the system say, in the user's words."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError, SQLAlchemyError

from gateway.doors.faces import StoreOfOthers, StoreTrouble, StoreUnreadable

SOUND = "Bring back a copy of the store, or move this file away and start again with a new one; keep the damaged file"
_AGAIN = "Close what you can spare, and start the gateway again if it does not go on by itself"

_TROUBLES: dict[str, tuple[str, str]] = {
    "SQLITE_FULL": ("the disk is full", "Free some space on it; the gateway goes on by itself"),
    "SQLITE_READONLY": ("it cannot be written (read-only)", "Make the disk and the file writable for the gateway"),
    "SQLITE_IOERR": ("the disk gave an error", "Look at the system's log for the disk, and copy the store to another"),
    "SQLITE_BUSY": ("another program holds it", "Close what has opened the store for writing"),
    "SQLITE_LOCKED": ("another program holds it", "Close what has opened the store for writing"),
    "SQLITE_CANTOPEN": ("it cannot be opened", "Look at the folder: does it exist, and may the gateway write there?"),
    "SQLITE_PERM": ("it may not be opened", "Give the gateway's user the right to read and write it"),
    "SQLITE_NOMEM": ("there is no memory left", _AGAIN),
    "SQLITE_PROTOCOL": ("another program holds it", _AGAIN),
    "SQLITE_INTERRUPT": ("it was broken off", _AGAIN),
    "SQLITE_NOLFS": ("the disk takes no file so large", "Move the store to a disk that does"),
    "SQLITE_CORRUPT": ("the file is damaged", SOUND),
    "SQLITE_NOTADB": ("the file is no store, or is damaged", SOUND),
    "SQLITE_CONSTRAINT": ("it holds already what was to be added", "Start the gateway again; report this as a fault"),
}
FROM_SQLITE = (SQLAlchemyError, sqlite3.Error, UnicodeDecodeError, MemoryError)
"""What using a file may raise. The last two come of damage: names that are no text, lengths beyond measure."""

_OF_SYSTEM = {errno.ENOSPC: "SQLITE_FULL", errno.EROFS: "SQLITE_READONLY", errno.EACCES: "SQLITE_PERM"}
_DAMAGE = ("SQLITE_CORRUPT", "SQLITE_NOTADB")


def as_trouble(path: Path, error: Exception) -> StoreTrouble | StoreUnreadable:
    """The door's own error for one of SQLite, SQLAlchemy or the system.

    What disk, rights or other programs cause is StoreTrouble. All else means that the file does not hold what it
    should (SQLite reports some damage as a plain error, and undecodable text without any code): StoreUnreadable.
    """
    found = error.orig if isinstance(error, DBAPIError) and error.orig is not None else error
    if isinstance(found, OSError):
        name = _OF_SYSTEM.get(found.errno or 0, "SQLITE_CANTOPEN")
    else:
        name = str(getattr(found, "sqlite_errorname", "SQLITE_CORRUPT"))
    base = "_".join(name.split("_")[:2])
    problem, remedy = _TROUBLES.get(base, _TROUBLES["SQLITE_CORRUPT"])
    made = StoreUnreadable if base in _DAMAGE or base not in _TROUBLES else StoreTrouble
    return made(where=f"store {path}", problem=f"{problem} ({name}: {found})", remedy=remedy)


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn errors of SQLite and SQLAlchemy inside the block into the door's own."""
    try:
        yield
    except FROM_SQLITE as error:
        raise as_trouble(path, error) from error


def unreadable(path: Path, problem: str, remedy: str = SOUND) -> StoreUnreadable:
    """Damage that SQLite did not see, or a file that is not there."""
    return StoreUnreadable(where=f"store {path}", problem=problem, remedy=remedy)


def of_others(path: Path, problem: str, remedy: str) -> StoreOfOthers:
    """A file that is sound, but not ours to read."""
    return StoreOfOthers(where=f"store {path}", problem=problem, remedy=remedy)
