"""Opening the file: for the service (one, alone, writing) and for readers beside it."""

import fcntl
import os
import sqlite3
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sqlalchemy import Connection, Engine, StaticPool, create_engine

from gateway.doors.faces import StoreTaken
from gateway.doors.store.trouble import FROM_SQLITE, as_trouble, unreadable

BUSY_TIMEOUT = "PRAGMA busy_timeout = 5000"
"""ms. Only somebody's own tool can stand in the way, since a second service is kept out: our choice."""

WRITING = (
    BUSY_TIMEOUT,
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",  # NORMAL may lose acknowledged alarms at a power cut and is hardly faster (measured)
    "PRAGMA foreign_keys = ON",
    "PRAGMA secure_delete = ON",  # a number that was erased must not stand in a free page
    "PRAGMA journal_size_limit = 16777216",  # bytes; gives the room of a burst back after the next checkpoint
)
READING = (BUSY_TIMEOUT, "PRAGMA query_only = ON", "PRAGMA cell_size_check = ON")


@dataclass(frozen=True, slots=True)
class Opened:
    """A connection, as Core sees it and as the driver sees it (the same one)."""

    engine: Engine
    core: Connection
    driver: sqlite3.Connection

    def close(self) -> None:
        """Close it; what was not committed is gone."""
        self.core.close()
        self.engine.dispose()


def open_writing(path: Path) -> Opened:
    """Open or create the file for the service, readable for its owner only. Raises StoreTrouble, StoreUnreadable."""
    try:
        # SQLite gives its side files the rights of the file itself, so it must be made private before it is used
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
        return _connected(str(path), WRITING, uri=False)
    except (*FROM_SQLITE, OSError) as error:
        raise as_trouble(path, error) from error


def open_reading(path: Path) -> Opened:
    """Open the file for reading only, also while the service writes. Raises StoreTrouble, StoreUnreadable.

    The folder must be writable: SQLite keeps its side files there, also for readers.
    """
    if not path.is_file():
        raise unreadable(path, "there is no such file", "Start the gateway once, or name the right installation folder")
    try:
        return _connected(f"file:{quote(str(path.absolute()))}?mode=ro", READING, uri=True)
    except FROM_SQLITE as error:
        raise as_trouble(path, error) from error


class Hold:
    """The right to be the only service on a store. The system gives it back when the process ends, however it ends."""

    def __init__(self, path: Path) -> None:
        """Take it. Raises StoreTaken when another process (or another opening in this one) has it."""
        self._given_back = False
        try:
            self._handle = os.open(path.with_name(path.name + ".lock"), os.O_RDWR | os.O_CREAT, 0o600)
        except OSError as error:
            raise as_trouble(path, error) from error
        try:
            fcntl.flock(self._handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(self._handle)
            raise StoreTaken(
                where=f"store {path}",
                problem="another gateway is running on it",
                remedy="Stop that one first; two on one store would text everybody twice",
            ) from None

    def give_back(self) -> None:
        """Let another service have the store. The lock file stays: removing it would let two hold different ones."""
        if not self._given_back:
            self._given_back = True
            os.close(self._handle)


def _connected(name: str, settings: tuple[str, ...], *, uri: bool) -> Opened:
    # isolation_level None: the driver begins no transaction of its own, ours are written out
    driver = sqlite3.connect(name, uri=uri, isolation_level=None, check_same_thread=False)
    try:
        if uri:
            driver.text_factory = _text_even_damaged
        for setting in settings:
            driver.execute(setting).fetchall()
        driver.execute("SELECT count(*) FROM sqlite_schema").fetchall()
    except BaseException:
        driver.close()
        raise
    engine = create_engine(
        "sqlite+pysqlite://", creator=lambda: driver, poolclass=StaticPool, isolation_level="AUTOCOMMIT"
    )
    return Opened(engine, engine.connect(), driver)


def _text_even_damaged(raw: bytes) -> Any:
    return raw.decode("utf-8", "surrogateescape")
