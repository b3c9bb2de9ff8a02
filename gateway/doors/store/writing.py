"""The store as the service uses it: one connection, one thread at a time, every batch in one transaction."""

import sqlite3
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TypeVar

from sqlalchemy import Connection

from gateway.doors.faces import Batch, Loaded, StoreTrouble, StoreUnreadable
from gateway.doors.store import loading, thinning
from gateway.doors.store.aside import put_aside
from gateway.doors.store.end_check import check_end
from gateway.doors.store.intake import first_and_last_now, write_batch
from gateway.doors.store.marks import put_replaced, put_thinned
from gateway.doors.store.migrations import NotOurs, bring_up
from gateway.doors.store.opening import BUSY_TIMEOUT, Hold, Opened, open_reading, open_writing
from gateway.doors.store.trouble import FROM_SQLITE, as_trouble, of_others, told
from gateway.history.repacking import Repacked
from gateway.history.retention import HourHeld
from gateway.vocabulary.moments import Ms

T = TypeVar("T")


class SqliteStore:
    """A `Store` in one SQLite file (WAL, synchronous FULL). Made by `open_store`."""

    def __init__(self, path: Path, hold: Hold) -> None:
        self._path, self._hold = path, hold
        self._opened: Opened | None = None
        try:
            self._begin()
        except BaseException:
            self.close()
            raise

    def _begin(self) -> None:
        core = self._connection().core
        try:
            with told(self._path):
                bring_up(core)
                self._n = loading.last_entry(core)[0]
                self._now = loading.last_moment(core)
        except NotOurs as error:
            raise of_others(self._path, str(error), "Name another file, or use the release that wrote it") from None
        check_end(core, self._path)

    def load(self, state_version: str) -> Loaded:
        """What the last run left. entries and readings are fetched while they are gone through, and end where the
        store ended at this call, whatever is committed meanwhile. Raises StoreUnreadable, StoreTrouble."""
        core, path = self._connection().core, self._path
        with told(path):
            return loading.left_by_last_run(core, path, state_version, n=self._n, now=self._now)

    def has_seen(self, messages: Sequence[str]) -> frozenset[str]:
        """Which of these inbound texts were taken in before, ever. Raises StoreTrouble."""
        with told(self._path):
            return loading.seen_among(self._connection().core, messages)

    def commit(self, batch: Batch) -> None:
        """Put the batch on disk in one transaction, synced. Raises StoreTrouble, and then nothing of it is there.

        NotPlain (a ValueError) when a reading's text is no Unicode text: a fault of whoever made it, nothing is there.
        """
        self._must_follow(batch)
        first, last = first_and_last_now(batch) or (self._now or 0, self._now or 0)
        self._do(lambda driver: write_batch(driver, batch, first, last))
        if batch.erased or batch.forgotten:
            self._empty_journal()
        if batch.written:
            self._n = batch.written[-1].entry.n
        self._now = last if self._now is None else max(self._now, last)

    def last_happening(self) -> int:
        """The largest happening number recorded; -1 in a new store. Raises StoreTrouble, StoreUnreadable."""
        with told(self._path):
            return loading.last_happening(self._connection().core)

    def start_afresh(self, problem: str, now: Ms) -> None:
        """Put the damaged file aside under a name with the instant (ms UTC), and go on with an empty one in its place,
        which bears the mark of it. Raises StoreTrouble."""
        self._close_file()
        aside = put_aside(self._path, "damaged", now)
        self._begin()
        self.bear_mark(aside.name, problem)

    def bear_mark(self, kept_as: str, problem: str) -> None:
        """This store takes the place of a damaged one, kept under that name. Raises StoreTrouble."""
        self._do(lambda driver: put_replaced(driver, kept_as=kept_as, problem=problem))

    def survey(self) -> list[HourHeld]:
        """What is held of readings, by hour. In any thread, beside everything else. Raises StoreTrouble."""
        return self._beside(thinning.survey)

    def parts_before(self, before: Ms) -> tuple[int, int]:
        """(n of the last entry made before this instant, sealed parts up to it that are not erased). In any thread.
        Raises StoreTrouble."""
        return self._beside(lambda core: thinning.parts_before(core, before))

    def next_group(self, held: HourHeld) -> Repacked | None:
        """The next readings of an hour, packed; None when nothing is left. In any thread. Raises StoreTrouble."""
        return self._beside(lambda core: thinning.next_group(core, held))

    def put_packed(self, packed: Repacked) -> bool:
        """Put packed readings in the place of the loose ones; False when those have changed. Raises StoreTrouble."""
        return self._do(lambda driver: thinning.put_packed(driver, packed))

    def drop_hour(self, before: Ms) -> bool:
        """Drop the oldest hour of readings taken before this instant; False when there is none. Raises
        StoreTrouble."""
        return self._do(lambda driver: thinning.drop_hour(driver, before))

    def erase_parts(self, after: int, upto: int) -> int | None:
        """Erase some sealed parts of entries after n `after`, up to n `upto`; where to go on, None at the end.
        Raises StoreTrouble."""
        return self._do(lambda driver: thinning.erase_parts(driver, after, upto))

    def note_thinned(self, now: Ms) -> None:
        """Keeping was looked after. Raises StoreTrouble."""
        self._do(lambda driver: put_thinned(driver, now))

    def close(self) -> None:
        """Close the file and let another service have it."""
        self._close_file()
        self._hold.give_back()

    def _close_file(self) -> None:
        if self._opened is not None:
            self._opened.close()
            self._opened = None

    def _do(self, work: Callable[[sqlite3.Connection], T]) -> T:
        """One transaction, synced: all of it or nothing. Raises StoreTrouble."""
        try:
            driver = self._connection().driver
            driver.execute("BEGIN IMMEDIATE")
            done = work(driver)
            driver.execute("COMMIT")
        except (*FROM_SQLITE, StoreUnreadable) as error:
            self._undo()
            raise self._trouble(error) from error
        except BaseException:
            self._undo()
            raise
        return done

    def _beside(self, look: Callable[[Connection], T]) -> T:
        """Look at the store by a connection of its own. Raises StoreTrouble."""
        try:
            opened = open_reading(self._path)
            try:
                return look(opened.core)
            finally:
                opened.close()
        except (*FROM_SQLITE, StoreUnreadable) as error:
            raise self._trouble(error) from error

    def _trouble(self, error: Exception) -> StoreTrouble:
        found = error if isinstance(error, StoreUnreadable) else as_trouble(self._path, error)
        return StoreTrouble(where=found.where, problem=found.problem, remedy=found.remedy)

    def _empty_journal(self) -> None:
        """What was erased must not stand in the journal either. A reader in the way puts that off to the next time."""
        with suppress(*FROM_SQLITE):
            self._connection().driver.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()

    def _connection(self) -> Opened:
        if self._opened is None:
            self._opened = open_writing(self._path)
        return self._opened

    def _must_follow(self, batch: Batch) -> None:
        n = self._n
        for written in batch.written:
            if written.entry.n != n + 1:
                raise StoreTrouble(
                    where=f"store {self._path}",
                    problem=f"entry {written.entry.n} was to be added where entry {n + 1} belongs",
                    remedy="Start the gateway again; report this as a fault",
                )
            n += 1

    def _undo(self) -> None:
        """Leave nothing of a failed batch, neither for us nor for whoever opens the file after a crash."""
        opened = self._opened
        if opened is None:
            return
        try:
            if opened.driver.in_transaction:
                opened.driver.execute("ROLLBACK")
            # When only the sync failed, the batch stands complete in the journal, and a start after a crash would
            # find it. Emptying the journal takes it away; on a full disk this may fail, but then it was not complete.
            opened.driver.execute("PRAGMA busy_timeout = 0")  # a reader in the way must not hold up an alarm
            opened.driver.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
            opened.driver.execute(BUSY_TIMEOUT)
        except FROM_SQLITE:
            if opened.driver.in_transaction:  # not even undone: a new connection, made at the next use, knows nothing
                self._opened = None
                with suppress(*FROM_SQLITE):
                    opened.close()


def open_afresh(path: Path, problem: str, now: Ms) -> SqliteStore:
    """Put a damaged store aside, with the instant (ms UTC) in its name, and open an empty one in its place.

    Raises StoreTaken, StoreTrouble.
    """
    hold = Hold(path)
    try:
        aside = put_aside(path, "damaged", now)
    except BaseException:
        hold.give_back()
        raise
    store = SqliteStore(path, hold)
    store.bear_mark(aside.name, problem)
    return store


def open_store(path: Path) -> SqliteStore:
    """Open the store's file, or create it and its folder, as the one service on it.

    Raises StoreTaken when another service holds it, StoreUnreadable when it is damaged, none of ours or of a later
    release, StoreTrouble when disk or rights are in the way.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise as_trouble(path, error) from error
    return SqliteStore(path, Hold(path))
