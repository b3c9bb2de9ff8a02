"""The store as the service uses it: one connection, one thread at a time, every batch in one transaction."""

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from gateway.doors.faces import Batch, Loaded, StoreTrouble, StoreUnreadable
from gateway.doors.store import loading
from gateway.doors.store.intake import first_and_last_now, write_batch
from gateway.doors.store.migrations import NotOurs, bring_up
from gateway.doors.store.opening import BUSY_TIMEOUT, Hold, Opened, open_writing
from gateway.doors.store.trouble import FROM_SQLITE, as_trouble, told, unreadable


class SqliteStore:
    """A `Store` in one SQLite file (WAL, synchronous FULL). Made by `open_store`."""

    def __init__(self, path: Path, hold: Hold) -> None:
        self._path, self._hold = path, hold
        self._opened: Opened | None = None
        try:
            core = self._connection().core
            with told(path):
                bring_up(core)
                self._n = loading.last_entry(core)[0]
                self._now = loading.last_moment(core)
        except NotOurs as error:
            self.close()
            raise unreadable(path, str(error), "Name another file, or use the release that wrote it") from None
        except BaseException:
            self.close()
            raise

    def load(self, state_version: str) -> Loaded:
        """What the last run left. entries and readings are fetched while they are gone through, and end where the
        store ended at this call, whatever is committed meanwhile. Raises StoreUnreadable, StoreTrouble."""
        core, path = self._connection().core, self._path
        with told(path):
            return loading.left_by_last_run(core, path, state_version, n=self._n, now=self._now)

    def has_seen(self, messages: Sequence[str]) -> frozenset[str]:
        """Which of these inbound texts were taken in before (kept for at least 48 h). Raises StoreTrouble."""
        with told(self._path):
            return loading.seen_among(self._connection().core, messages)

    def commit(self, batch: Batch) -> None:
        """Put the batch on disk in one transaction, synced. Raises StoreTrouble, and then nothing of it is there.

        NotPlain (a ValueError) when a reading's text is no Unicode text: a fault of whoever made it, nothing is there.
        """
        self._must_follow(batch)
        first, last = first_and_last_now(batch) or (self._now or 0, self._now or 0)
        try:
            driver = self._connection().driver
            driver.execute("BEGIN IMMEDIATE")
            write_batch(driver, batch, first, last)
            driver.execute("COMMIT")
        except (*FROM_SQLITE, StoreUnreadable) as error:
            self._undo()
            found = error if isinstance(error, StoreUnreadable) else as_trouble(self._path, error)
            raise StoreTrouble(where=found.where, problem=found.problem, remedy=found.remedy) from error
        except BaseException:
            self._undo()
            raise
        if batch.written:
            self._n = batch.written[-1].entry.n
        self._now = last if self._now is None else max(self._now, last)

    def close(self) -> None:
        """Close the file and let another service have it."""
        if self._opened is not None:
            self._opened.close()
            self._opened = None
        self._hold.give_back()

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
