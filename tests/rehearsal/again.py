"""A record taken in again by the same files, for tests that made one with the real service."""

from pathlib import Path

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.doors.store import open_reader
from gateway.rehearsal.recorded import taken
from gateway.rehearsal.replaying import Replay


def again(store: Path, bundle: Bundle) -> Replay:
    """The whole record of a store, from its beginning to its end."""
    with open_reader(store) as reader:
        rows = ((row.happening, row.now, row.reading) for row in reader.readings())
        replay = Replay(Desk(bundle), own=True)
        replay.run(taken(reader.written(), rows), 0)
        return replay
