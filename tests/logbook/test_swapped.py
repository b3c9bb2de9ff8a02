"""In the file itself one thing is put in another's place, each whole and sound: verification names it."""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from gateway.doors.store import open_reader
from gateway.logbook.chains import digest
from gateway.logbook.report import Report
from gateway.logbook.verify import verify
from tests.logbook.conftest import BOATS

ONE, OTHER = BOATS


def swapped(file: sqlite3.Connection, table: str, column: str) -> None:
    """The two boats, in one column."""
    for old, new in ((ONE, "neither"), (OTHER, ONE), ("neither", OTHER)):
        file.execute(f"UPDATE {table} SET {column} = ? WHERE {column} = ?", (new, old))


def boats_in_their_entries(file: sqlite3.Connection) -> None:
    swapped(file, "entries", "chain")


def ends_of_two_boats(file: sqlite3.Connection) -> None:
    held = dict(file.execute("SELECT chain, digest FROM chain_heads").fetchall())
    for chain, found in ((ONE, held[OTHER]), (OTHER, held[ONE])):
        file.execute("UPDATE chain_heads SET digest = ? WHERE chain = ?", (found, chain))


def readings_of_two_boats(file: sqlite3.Connection) -> None:
    swapped(file, "reading_blocks", "boat")


def boats_everywhere_and_hashed_anew(file: sqlite3.Connection) -> None:
    """Whoever does not also rewrite every hash that an entry holds of the one before it is found."""
    swapped(file, "entries", "chain")
    for n, data in file.execute("SELECT n, data FROM entries").fetchall():
        new = data.replace(ONE.encode(), b"\0").replace(OTHER.encode(), ONE.encode()).replace(b"\0", OTHER.encode())
        file.execute("UPDATE entries SET data = ?, digest = ? WHERE n = ?", (new, digest(new), n))


def parts_of_two_entries(file: sqlite3.Connection) -> None:
    first, last = (
        file.execute(f"SELECT n, place, data FROM sealed_parts ORDER BY n {way} LIMIT 1").fetchone()
        for way in ("ASC", "DESC")
    )
    for (n, place, _), (_, _, data) in ((first, last), (last, first)):
        file.execute("UPDATE sealed_parts SET data = ? WHERE n = ? AND place = ?", (data, n, place))


def parts_of_one_entry(file: sqlite3.Connection) -> None:
    (n,) = file.execute("SELECT n FROM sealed_parts WHERE place = 1").fetchone()
    first, second = (data for (data,) in file.execute("SELECT data FROM sealed_parts WHERE n = ? ORDER BY place", (n,)))
    for place, data in ((0, second), (1, first)):
        file.execute("UPDATE sealed_parts SET data = ? WHERE n = ? AND place = ?", (data, n, place))


def two_entries(file: sqlite3.Connection) -> None:
    held = {n: rest for n, *rest in file.execute("SELECT * FROM entries WHERE n IN (60, 61)").fetchall()}
    file.execute("DELETE FROM entries WHERE n IN (60, 61)")
    for n, rest in ((60, held[61]), (61, held[60])):
        file.execute("INSERT INTO entries VALUES (?, ?, ?, ?, ?, ?, ?, ?)", (n, *rest))


SWAPS = (
    boats_in_their_entries,
    ends_of_two_boats,
    readings_of_two_boats,
    boats_everywhere_and_hashed_anew,
    parts_of_two_entries,
    parts_of_one_entry,
    two_entries,
)


def verified(path: Path, published: dict[str, str] | None = None) -> Report:
    with open_reader(path) as reader:
        return verify(reader, published)


@pytest.mark.parametrize("swap", SWAPS, ids=lambda swap: swap.__name__)
def test_what_stands_in_anothers_place_is_named(
    store_file: Path, tmp_path: Path, swap: Callable[[sqlite3.Connection], None]
) -> None:
    path = Path(shutil.copy(store_file, tmp_path / "store.db"))
    assert verified(path).ok
    with closing(sqlite3.connect(path)) as file:
        swap(file)
        file.commit()
    report = verified(path)
    assert not report.ok
    assert report.first_bad is not None
    assert not report.unreadable


def test_an_end_value_of_another_boat_does_not_fit(store_file: Path) -> None:
    ends = {chain.chain: chain.end for chain in verified(store_file).chains}
    assert verified(store_file, ends).ok
    report = verified(store_file, {ONE: ends[OTHER], OTHER: ends[ONE]})
    assert [chain.agrees for chain in report.chains if chain.chain in BOATS] == [False, False]
