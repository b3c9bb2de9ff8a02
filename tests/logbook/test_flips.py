"""One damaged byte anywhere: verification names the entry, or says that the store cannot be read, or all it read is
unchanged. In the struck run every byte of a short store and every seventeenth of one of a night, where each byte
takes as much longer as the store is; HEAVINGLINE_FLIPS=1 strikes every byte of the night as well (three quarters of an
hour). A fixed sample every day.
"""

import os
import shutil
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from gateway.doors.faces import StoreTrouble, StoreUnreadable
from gateway.doors.store import open_reader
from gateway.logbook.checks import CHECKS
from gateway.logbook.verify import verify
from gateway.vocabulary.moments import MINUTE
from tests.effort import LONG_RUN
from tests.logbook.conftest import BEGAN, kept

COLUMNS = {
    "entries": ("n", "chain", "place", "now", "happening", "kind", "data", "digest"),
    "sealed_parts": ("n", "place", "data"),
    "chain_heads": ("chain", "place", "digest"),
}
EVERY = int(os.environ.get("HEAVINGLINE_FLIPS", "17"))
"""Of the night's bytes one in so many. A prime number: no field of a row comes round with it."""
A_WHILE, BEFORE_THE_HOUR = 40, 50 * MINUTE
"""Entries, and how far into an hour the first of them comes: the hour is over with the ninth, so that every kind of row
is there."""
SAMPLE = 150 if LONG_RUN else 20
KEY = {"entries": ("n",), "sealed_parts": ("n", "place"), "chain_heads": ("chain",)}
BITS = (0x01, 0x80, *range(0x02, 0x100))
"""The lowest bit first: it leaves text text and digits digits, the hardest to see. Others where SQLite refuses it
because a row with that key stands there already."""


@dataclass(frozen=True, slots=True)
class Flip:
    """One byte of one value: table, the row's key, column, the value, place of the byte in it."""

    table: str
    key: tuple[Any, ...]
    column: str
    value: Any
    byte: int


def bytes_of(value: Any) -> bytes:
    if isinstance(value, int):
        return value.to_bytes(8, "big", signed=True)
    return value.encode() if isinstance(value, str) else bytes(value)


def all_flips(path: Path) -> list[Flip]:
    found = []
    file = sqlite3.connect(path)
    for table, columns in COLUMNS.items():
        for row in file.execute(f"SELECT {', '.join(columns)} FROM {table}"):
            named = dict(zip(columns, row, strict=True))
            key = tuple(named[name] for name in KEY[table])
            found += [Flip(table, key, c, v, byte) for c, v in named.items() for byte in range(len(bytes_of(v)))]
    file.close()
    return found


def struck_value(flip: Flip, bit: int) -> Any:
    changed = bytearray(bytes_of(flip.value))
    changed[flip.byte] ^= bit
    return int.from_bytes(changed, "big", signed=True) if isinstance(flip.value, int) else bytes(changed)


def put(file: sqlite3.Connection, flip: Flip, old: Any, new: Any) -> None:
    """Set the flip's value from old to new; the row is found by its key, whose part it may be."""
    key = {**dict(zip(KEY[flip.table], flip.key, strict=True)), flip.column: old}
    text = "CAST(? AS TEXT)" if isinstance(flip.value, str) else "?"
    where = " AND ".join(f"{name} = {text if name == flip.column else '?'}" for name in key)
    file.execute(f"UPDATE {flip.table} SET {flip.column} = {text} WHERE {where}", (new, *key.values()))
    assert file.execute("SELECT changes()").fetchone() == (1,), flip


def strike(file: sqlite3.Connection, flip: Flip) -> Any:
    """Flip the byte. Returns the value as it is now."""
    for bit in BITS:
        new = struck_value(flip, bit)
        try:
            put(file, flip, flip.value, new)
        except sqlite3.IntegrityError:
            continue
        return new
    raise AssertionError(f"no bit of {flip} can be flipped")


def sample_of(flips: Sequence[Flip]) -> Sequence[Flip]:
    """Some of them, spread evenly, always the same."""
    return flips[:: len(flips) // SAMPLE]


def last_entries(path: Path) -> dict[str, int]:
    """n of the last entry of each chain."""
    file = sqlite3.connect(path)
    found = dict(file.execute("SELECT chain, max(n) FROM entries GROUP BY chain").fetchall())
    file.close()
    return found


def may_be_named(flip: Flip, new: Any, last: dict[str, int]) -> set[int]:
    """The entry whose byte it was; when it was a number of an entry, also the one that the row names now."""
    if flip.table == "chain_heads":
        return {last[flip.key[0]]}
    return {flip.key[0], new} if flip.column == "n" else {flip.key[0]}


def must_be_found(path: Path, flips: Sequence[Flip]) -> None:
    """Strike each in turn, verify through the real reader, and put it back."""
    last = last_entries(path)
    file = sqlite3.connect(path, isolation_level=None)
    file.execute("PRAGMA synchronous = OFF")
    for flip in flips:
        new = strike(file, flip)
        with open_reader(path) as reader:
            report = verify(reader)
        put(file, flip, new, flip.value)
        named = report.first_bad is not None and report.first_bad.n in may_be_named(flip, new, last)
        assert not report.ok, f"{flip} went unseen"
        assert report.unreadable or named, f"{flip}: {report.first_bad}"
    file.close()


@pytest.fixture
def copy(store_file: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(store_file, tmp_path / "store.db"))


def test_a_sample_of_flipped_bytes_is_found_and_named(copy: Path) -> None:
    flips = all_flips(copy)
    assert len(flips) > 60_000
    must_be_found(copy, sample_of(flips))


def test_the_sample_holds_every_column(copy: Path) -> None:
    flips = all_flips(copy)
    sample = {(flip.table, flip.column) for flip in sample_of(flips)}
    rest = {(table, column) for table, columns in COLUMNS.items() for column in columns} - sample
    must_be_found(copy, [next(f for f in flips[100:] if (f.table, f.column) == wanted) for wanted in sorted(rest)])


@pytest.fixture
def short(tmp_path: Path) -> Path:
    return kept(tmp_path / "short.db", A_WHILE, BEGAN + BEFORE_THE_HOUR)


def test_the_short_store_holds_every_kind_of_row_that_a_night_holds(short: Path, store_file: Path) -> None:
    def kinds(path: Path) -> set[tuple[str, bool, str]]:
        with open_reader(path) as reader:
            sealed = {part.n for part in reader.parts()}
            return {(row.kind, row.n in sealed, row.chain) for row in reader.entries()}

    assert kinds(short) == kinds(store_file)


@pytest.mark.struck
@pytest.mark.timeout(3600)
def test_every_flipped_byte_of_a_short_store_is_found_and_named(short: Path) -> None:
    must_be_found(short, all_flips(short))


@pytest.mark.struck
@pytest.mark.timeout(3600)
def test_every_so_many_flipped_bytes_of_a_night_are_found_and_named(copy: Path) -> None:
    must_be_found(copy, all_flips(copy)[::EVERY])


@pytest.mark.parametrize(
    ("check", "table", "column"),
    [
        ("own_hash", "entries", "data"),  # found one entry too late, by the hash that the next one holds
        ("own_hash", "entries", "digest"),
        ("own_columns", "entries", "now"),
        ("parts_are_those_sealed", "sealed_parts", "data"),
    ],
)
def test_without_a_check_the_flips_are_not_all_found(
    copy: Path, check: str, table: str, column: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So the run above can fail."""
    at = len(b'{"body":{"alarm":') if table == "entries" and column == "data" else 7
    flips = [flip for flip in all_flips(copy) if (flip.table, flip.column, flip.byte) == (table, column, at)][:2]
    must_be_found(copy, flips)
    monkeypatch.delitem(CHECKS, check)  # type: ignore[arg-type]
    with pytest.raises(AssertionError, match="Flip"):
        must_be_found(copy, flips)


# ---------------------------------------------------------------- bytes of the file itself


def everything(path: Path) -> tuple[list[Any], ...]:
    with open_reader(path) as reader:
        return list(reader.entries()), list(reader.parts()), list(reader.heads()), list(reader.blocks())


def file_must_be_judged_rightly(path: Path, places: Sequence[int]) -> tuple[int, int]:
    """Flip bytes of the file in turn. Returns how many were found and how many changed nothing that was read."""
    sound, whole = everything(path), path.read_bytes()
    found = unchanged = 0
    for place in places:
        struck = bytearray(whole)
        struck[place] ^= 0x01 if place % 2 else 0x80
        path.write_bytes(struck)
        try:
            with open_reader(path) as reader:
                report = verify(reader)
            if report.ok:
                assert everything(path) == sound, f"byte {place} of the file went unseen"
                unchanged += 1
            else:
                assert report.unreadable or report.first_bad, place
                found += 1
        except (StoreUnreadable, StoreTrouble):
            found += 1
    path.write_bytes(whole)
    return found, unchanged


def test_a_sample_of_flipped_bytes_of_the_file_is_judged_rightly(copy: Path) -> None:
    size = copy.stat().st_size
    found, unchanged = file_must_be_judged_rightly(copy, [*range(0, 100, 3), *range(100, size, size // SAMPLE)])
    assert found > SAMPLE // 3
    assert unchanged > 3  # free room in pages, counters in the header: a run that finds all would not be the real one


@pytest.mark.struck
@pytest.mark.timeout(3600)
def test_many_flipped_bytes_of_the_file_are_judged_rightly(short: Path) -> None:
    found, _ = file_must_be_judged_rightly(short, range(0, short.stat().st_size, 13))
    assert found > 1_000
