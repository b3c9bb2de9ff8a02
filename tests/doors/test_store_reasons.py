"""Which words of SQLite mean damage, after which a store is put aside, and which mean that it must be tried again."""

import errno
import sqlite3
from pathlib import Path

import pytest

from gateway.doors.faces import StoreTrouble, StoreUnreadable
from gateway.doors.store.trouble import as_trouble

STORE = Path("store")


def said(name: str) -> sqlite3.Error:
    error = sqlite3.OperationalError("what SQLite says")
    error.sqlite_errorname = name
    return error


@pytest.mark.parametrize(
    "name",
    [
        "SQLITE_FULL",
        "SQLITE_IOERR_FSYNC",
        "SQLITE_BUSY_SNAPSHOT",
        "SQLITE_READONLY_DBMOVED",
        "SQLITE_CANTOPEN_ISDIR",
        "SQLITE_NOMEM",
        "SQLITE_IOERR_NOMEM",
        "SQLITE_PROTOCOL",
        "SQLITE_NOLFS",
        "SQLITE_INTERRUPT",
    ],
)
def test_what_disk_memory_rights_or_others_cause_is_no_damage(name: str) -> None:
    assert isinstance(as_trouble(STORE, said(name)), StoreTrouble)


@pytest.mark.parametrize("name", ["SQLITE_CORRUPT", "SQLITE_CORRUPT_INDEX", "SQLITE_NOTADB", "SQLITE_ERROR"])
def test_what_the_file_does_not_hold_is_damage(name: str) -> None:
    assert isinstance(as_trouble(STORE, said(name)), StoreUnreadable)


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO, errno.ENOMEM])
def test_what_the_system_says_is_no_damage(number: int) -> None:
    assert isinstance(as_trouble(STORE, OSError(number, "what it says")), StoreTrouble)
