"""The state rebuilt from what is on disk: a snapshot, then the readings and entries since, in order of happening."""

from collections.abc import Iterable

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_of
from gateway.vocabulary.entries import Written
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Reading


def rebuilt(
    bundle: Bundle,
    snapshot: bytes | None,
    entries: Iterable[Written],
    readings: Iterable[tuple[int, Ms, Reading]],
) -> Desk:
    """The desk as it was after the last commit.

    entries and readings: all since the snapshot, each by growing happening number; readings as (happening, instant of
    taking, reading). Raises SnapshotUnreadable, DoesNotFollow, ValueError or TypeError.
    """
    desk = Desk(bundle, state_of(snapshot) if snapshot is not None else None)
    rows = iter(readings)
    row = next(rows, None)
    for written in entries:
        while row is not None and row[0] <= written.entry.happening:
            desk.apply_reading(*row)
            row = next(rows, None)
        desk.apply(written)
    while row is not None:
        desk.apply_reading(*row)
        row = next(rows, None)
    return desk
