"""How many bytes a reading takes on disk, beside a bare table of the same readings.

Run it with ``python -m tests.benchmarks.bytes_a_reading``. A few days of the starter's boat, her readings every five
minutes (`boat_year`), committed as they come and packed by the hour; the yardstick is one row a reading in a table of
SQLite: instant, signal, value.
"""

import sqlite3
import tempfile
from collections.abc import Iterable
from pathlib import Path

from gateway.desk.turn import Turn
from gateway.doors.faces import Batch, ReadingRow
from gateway.doors.store import open_reader, open_store
from gateway.history.retention import bytes_a_reading
from tests.benchmarks.boat_year import Year


class Kept(Year):
    """A year of which every reading is kept."""

    def taken(self, turn: Turn) -> None:
        """Keep them."""
        self.rows += [ReadingRow(happening=turn.happening, now=turn.now, reading=one) for one in turn.readings]


def measure(days: int, folder: Path) -> dict[str, float]:
    """Bytes a reading by name. folder: empty."""
    year = Kept()
    path = folder / "store"
    store = open_store(path)
    for day in range(days):
        year.one_day(day)
        store.commit(Batch(readings=year.rows))
        year.rows = []
    loose = bytes_a_reading(store.survey(), packed=False)
    for held in store.survey():
        while (group := store.next_group(held)) is not None:
            store.put_packed(group)
    packed = bytes_a_reading(store.survey(), packed=True)
    with open_reader(path) as reader:
        bare = _bare(reader.readings(), folder / "bare")
    store.close()
    assert loose is not None
    assert packed is not None
    return {"readings": year.count["readings"], "not packed": loose, "packed": packed, "a bare table": bare}


def _bare(rows: Iterable[ReadingRow], path: Path) -> float:
    """Bytes a reading in a table with one row each."""
    table = sqlite3.connect(path)
    table.execute("CREATE TABLE readings (now INTEGER, signal TEXT, value TEXT)")
    found = [(row.now, row.reading.signal, row.reading.text) for row in rows]
    table.executemany("INSERT INTO readings VALUES (?, ?, ?)", found)
    table.commit()
    table.close()
    return path.stat().st_size / len(found)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as temporary:
        for name, figure in measure(3, Path(temporary)).items():
            print(f"{name:<14} {figure:>10,.1f}")
