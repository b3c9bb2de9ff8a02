"""The desk out of what is on disk, and the snapshots that keep that short."""

from collections.abc import Iterable, Iterator

from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import SnapshotUnreadable, state_bytes
from gateway.desk.state import STATE_VERSION, State
from gateway.doors.faces import Batch, Loaded, ReadingRow, Snapshot, Store, StoreOfOthers, StoreUnreadable
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Reading

SNAPSHOT_EVERY = 2_000
"""Entries between two snapshots: a restart folds at most so many (our choice: well under a second)."""

SNAPSHOT_READINGS = 50_000
"""Readings between two snapshots: where nothing happens for months, they come all the same (our choice)."""


class Restoring:
    """Counts what a restart would have to fold. `load` is called in the writer's thread, nothing else meanwhile."""

    def __init__(self, bundle: Bundle, store: Store, every: int) -> None:
        self._bundle, self._store, self._every = bundle, store, every
        self._snapshot_n = self._readings = 0
        self._wanted = False

    def begin(self, now: Ms) -> tuple[Loaded, Desk]:
        """What is on disk at the start, and the desk of it. A store that does not fold is put aside under this instant
        (ms UTC), and what is on disk is an empty one: alarms go on. Raises StoreOfOthers, StoreTrouble."""
        try:
            return self.load()
        except StoreOfOthers:
            raise
        except StoreUnreadable as damage:
            self._store.start_afresh(damage.problem, now)
            return self.load()

    def load(self) -> tuple[Loaded, Desk]:
        """What is on disk, and the desk rebuilt from it; from everything when the newest snapshot is of no use.

        Raises StoreUnreadable (also for entries that do not fold), StoreTrouble.
        """
        try:
            loaded = self._store.load(STATE_VERSION)
            try:
                return loaded, self._rebuilt(loaded)
            except SnapshotUnreadable:
                loaded = self._store.load("")
                return loaded, self._rebuilt(loaded)
        except (ValueError, TypeError) as unfit:
            raise StoreUnreadable(
                where="store", problem=str(unfit), remedy="Let `heavingline logbook verify` name the first bad entry"
            ) from unfit

    def _rebuilt(self, loaded: Loaded) -> Desk:
        snapshot = loaded.snapshot
        self._readings, self._snapshot_n = 0, snapshot.n if snapshot is not None else 0
        data = snapshot.data if snapshot is not None else None
        return rebuilt(self._bundle, data, loaded.entries, self._counted(loaded.readings))

    def _counted(self, rows: Iterable[ReadingRow]) -> Iterator[tuple[int, Ms, Reading]]:
        for row in rows:
            self._readings += 1
            yield row.happening, row.now, row.reading

    def want(self) -> None:
        """Make a snapshot with the next commit: readings are about to go."""
        self._wanted = True

    def snapshot(self, state: State, *, last: bool) -> Snapshot | None:
        """A snapshot to commit with what led to this state, when it is time for one; `last`: before the end, always.

        None while a code is open: code words stand only in a sealed part.
        """
        entries = state.heads.n - self._snapshot_n
        due = (
            entries >= self._every
            or self._readings >= SNAPSHOT_READINGS
            or self._wanted
            or (last and entries + self._readings)
        )
        if not (due or self._wanted) or state.requests.open_code():
            return None
        return Snapshot(
            n=state.heads.n, happening=state.happening, state_version=STATE_VERSION, data=state_bytes(state)
        )

    def on_disk(self, batch: Batch) -> None:
        """This batch is on disk."""
        self._readings += len(batch.readings)
        if batch.snapshot is not None:
            self._snapshot_n, self._readings, self._wanted = batch.snapshot.n, 0, False
