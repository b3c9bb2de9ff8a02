"""The durable store when something is wrong: all of a batch or nothing, one service, sudden ends, damage."""

import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import MetaData, create_engine

from gateway.doors.faces import (
    Batch,
    ReadingRow,
    StoreTaken,
    StoreTrouble,
    StoreUnreadable,
)
from gateway.doors.store import SqliteStore, migrations, open_reader, open_store, reading
from gateway.doors.store.schema import METADATA
from gateway.logbook.chains import Heads, link
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.moments import HOUR, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading

BOAT = "grey-wagtail"
NOW = from_rfc3339("2026-03-01T06:00:00Z")
TEXT = SendText(
    id="text-1",
    carrier="main",
    person="p-7f",
    number="+447700900123",
    body="GREY WAGTAIL: bilge high water",
    priority=Priority.EMERGENCY,
    valid_for=4 * HOUR,
)


def entry(heads: Heads, *, now: int = NOW, parts: int = 0, chain: str = BOAT) -> Written:
    sealed = [SealedPart(salt=f"{i:032x}", content={"number": "+447700900123"}) for i in range(parts)]
    fields: dict[str, Any] = {"now": now, "happening": heads.n, "kind": "raised", "version": 1}
    return link(heads, chain=chain, body={"alarm": 14}, parts=sealed, **fields)


def row(happening: int, signal_id: str = "grey-wagtail/house-volts", now: int = NOW, text: str = "12.4") -> ReadingRow:
    reading = Reading(signal=signal_id, grade=Grade.NUMBER, text=text, own_time=now - 5, late=happening % 2 == 0)
    return ReadingRow(happening=happening, now=now, reading=reading)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "kept" / "store.db"


@pytest.fixture
def store(path: Path) -> Iterator[SqliteStore]:
    made = open_store(path)
    yield made
    made.close()


def by_hand(path: Path, statement: str, *values: Any) -> list[Any]:
    """Do to the file what no door would do."""
    file = sqlite3.connect(path)
    found = file.execute(statement, values).fetchall()
    file.commit()
    file.close()
    return found


# ---------------------------------------------------------------- all of it or nothing


FAULTY: dict[str, Callable[[Heads], Batch]] = {
    "a text that waits already": lambda heads: Batch(
        readings=[row(9)], written=[entry(heads, parts=1)], seen=[("m9", NOW)], people=[("9", "x", "")], texts=[TEXT]
    ),
    "an entry left out": lambda heads: Batch(readings=[row(9)], written=[entry(heads), entry(heads)][1:]),
    "an entry that is there already": lambda _: Batch(readings=[row(9)], written=[entry(Heads())]),
}


@pytest.mark.parametrize("fault", FAULTY)
def test_a_batch_that_cannot_be_committed_leaves_nothing(store: SqliteStore, path: Path, fault: str) -> None:
    heads = Heads()
    store.commit(Batch(readings=[row(1)], written=[entry(heads)], texts=[TEXT]))
    before = [by_hand(path, f"SELECT * FROM {table}") for table in METADATA.tables]
    with pytest.raises(StoreTrouble):
        store.commit(FAULTY[fault](Heads(heads.n, dict(heads.chains))))
    assert [by_hand(path, f"SELECT * FROM {table}") for table in METADATA.tables] == before
    store.commit(Batch(readings=[row(9)], written=[entry(heads)]))
    assert len(list(store.load("1").entries)) == 2
    with open_reader(path) as reader:
        assert verify(reader).ok


def test_a_value_that_cannot_be_written_undoes_the_batch(store: SqliteStore) -> None:
    with pytest.raises(ValueError, match="grey-wagtail/x"):
        store.commit(Batch(readings=[row(1), row(2, "grey-wagtail/x", text="\ud800")]))
    store.commit(Batch(readings=[row(1)]))
    assert list(store.load("1").readings) == [row(1)]


def test_a_store_held_up_by_somebodys_own_tool_is_trouble_and_goes_on_afterwards(path: Path) -> None:
    store = open_store(path)
    store._connection().driver.execute("PRAGMA busy_timeout = 20")  # ms instead of 5 s, so that the test is quick
    tool = sqlite3.connect(path, isolation_level=None)
    tool.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreTrouble, match="another program holds it"):
        store.commit(Batch(readings=[row(1)]))
    tool.execute("ROLLBACK")
    tool.close()
    store.commit(Batch(readings=[row(1)]))
    assert list(store.load("1").readings) == [row(1)]
    store.close()


def test_every_commit_is_synced(store: SqliteStore) -> None:
    driver = store._connection().driver
    found = {name: driver.execute(f"PRAGMA {name}").fetchone()[0] for name in ("journal_mode", "synchronous")}
    assert found == {"journal_mode": "wal", "synchronous": 2}  # 2 is FULL (SQLite, PRAGMA synchronous)
    assert driver.execute("PRAGMA foreign_keys").fetchone() == (1,)


# ---------------------------------------------------------------- one service, and sudden ends


def run(code: str, path: Path) -> subprocess.CompletedProcess[str]:
    before = (
        "import os, signal, sys; from pathlib import Path; from gateway.doors.store import open_store\n"
        "from gateway.doors.faces import Batch\npath = Path(sys.argv[1])\n"
    )
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    return subprocess.run(
        [sys.executable, "-c", before + code, str(path)],
        env=env,
        capture_output=True,
        text=True,
        check=False,
        timeout=30,
    )


@pytest.mark.long
def test_a_second_service_on_the_same_store_is_refused(store: SqliteStore, path: Path) -> None:
    with pytest.raises(StoreTaken, match="another gateway is running on it"):
        open_store(path)
    other = run("open_store(path)", path)
    assert "StoreTaken" in other.stderr
    store.commit(Batch(readings=[row(1)]))
    store.close()
    open_store(path).close()


def test_closing_twice_does_not_let_go_of_what_another_holds(path: Path) -> None:
    first = open_store(path)
    first.close()
    second = open_store(path)
    first.close()
    with pytest.raises(StoreTaken):
        open_store(path)
    second.close()


def test_a_service_killed_in_the_middle_of_a_batch_leaves_what_it_committed_and_the_lock_free(path: Path) -> None:
    ended = run(
        "store = open_store(path)\n"
        "store.commit(Batch(people=[('1', 'ines', '')]))\n"
        "driver = store._connection().driver\n"
        "driver.execute('BEGIN IMMEDIATE')\n"
        "driver.execute(\"INSERT INTO people (id, key) VALUES ('2', 'tobias')\")\n"
        "os.kill(os.getpid(), signal.SIGKILL)\n",
        path,
    )
    assert ended.returncode == -signal.SIGKILL, ended.stderr
    with open_reader(path) as reader:
        assert verify(reader).ok
    store = open_store(path)
    assert store.load("1").people == [("1", "ines", "")]
    store.close()


def test_the_file_is_for_its_owner_only(store: SqliteStore, path: Path) -> None:
    store.commit(Batch(readings=[row(1)]))
    files = sorted(path.parent.iterdir())
    assert {file.name for file in files} == {"store.db", "store.db-shm", "store.db-wal", "store.db.lock"}
    assert {file.stat().st_mode & 0o077 for file in files} == {0}


# ---------------------------------------------------------------- readers beside the service


def test_a_reader_sees_one_moment_while_the_service_goes_on(store: SqliteStore, path: Path) -> None:
    heads = Heads()
    store.commit(Batch(written=[entry(heads, parts=1)], readings=[row(1)]))
    with open_reader(path) as reader:
        store.commit(Batch(written=[entry(heads)], readings=[row(2)]))
        assert [written.entry.n for written in reader.written()] == [1]
        assert verify(reader).entries == 1
    with open_reader(path) as reader:
        assert [written.entry.n for written in reader.written(after=1)] == [2]
        assert [part for written in reader.written() for part in written.parts] != [None]
        assert list(reader.written(chain="salt-harrier")) == []


def test_a_reader_cannot_write(store: SqliteStore, path: Path) -> None:
    store.commit(Batch(people=[("1", "ines", "+447700900123")]))
    with open_reader(path) as reader, pytest.raises(Exception, match="readonly"):
        reader._opened.driver.execute("DELETE FROM people")


def test_reading_where_there_is_no_store_says_so_and_makes_none(path: Path) -> None:
    with pytest.raises(StoreUnreadable, match="no such file"):
        open_reader(path)
    assert not path.exists()


# ---------------------------------------------------------------- damage, and files of others


def garbage(path: Path) -> None:
    path.write_bytes(b"no database at all, just words " * 300)


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-9_000])


def struck_root(path: Path) -> None:
    whole = bytearray(path.read_bytes())
    whole[100:108] = b"\xff" * 8
    path.write_bytes(whole)


@pytest.mark.parametrize("damage", [garbage, cut_short, struck_root])
def test_a_damaged_file_is_unreadable_with_a_remedy(path: Path, damage: Callable[[Path], None]) -> None:
    store = open_store(path)
    store.commit(Batch(written=[entry(heads := Heads()), entry(heads)], readings=[row(i) for i in range(500)]))
    store.close()
    damage(path)

    def use() -> None:
        again = open_store(path)
        try:
            loaded = again.load("1")
            list(loaded.entries)
            list(loaded.readings)
        finally:
            again.close()

    with pytest.raises(StoreUnreadable, match="Bring back a copy") as found:
        use()
    assert str(path) in found.value.where
    with pytest.raises(StoreUnreadable):
        use()  # the lock has been given back


def test_a_database_of_something_else_is_left_alone(path: Path) -> None:
    path.parent.mkdir()
    by_hand(path, "CREATE TABLE berths (name TEXT)")
    before = path.read_bytes()
    with pytest.raises(StoreUnreadable, match="not a store of heavingline"):
        open_store(path)
    with pytest.raises(StoreUnreadable, match="not a store of heavingline"):
        open_reader(path)
    assert by_hand(path, "SELECT name FROM sqlite_schema") == [("berths",)]
    assert len(before) == path.stat().st_size


def test_a_store_of_a_later_release_is_not_touched(path: Path) -> None:
    open_store(path).close()
    by_hand(path, "INSERT INTO migrations VALUES (?, 'of tomorrow')", migrations.KNOWN + 1)
    for opening in (open_store, open_reader):
        with pytest.raises(StoreUnreadable, match="later release"):
            opening(path)


def test_a_store_of_an_earlier_release_is_read_after_the_service_brought_it_up(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_store(path).close()
    monkeypatch.setattr(reading, "KNOWN", migrations.KNOWN + 1)
    with pytest.raises(StoreUnreadable, match="earlier release"):
        open_reader(path)


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE entries SET data = CAST('{}' AS BLOB) WHERE n = 2", "entry 2 is damaged"),
        ("UPDATE entries SET digest = 'x' WHERE n = 2", "entry 2 is not what was written"),
        ("UPDATE reading_blocks SET checksum = 1", "readings block 1 of grey-wagtail is damaged"),
        ("UPDATE reading_blocks SET lines = CAST('[]' AS BLOB)", "readings block 1 of grey-wagtail is damaged"),
    ],
)
def test_loading_stops_at_what_is_damaged_and_names_it(
    store: SqliteStore, path: Path, statement: str, said: str
) -> None:
    heads = Heads()
    store.commit(Batch(written=[entry(heads) for _ in range(3)], readings=[row(1)]))
    by_hand(path, statement)
    loaded = store.load("1")
    with pytest.raises(StoreUnreadable, match=said):
        list(loaded.entries) + list(loaded.readings)  # type: ignore[operator]


@pytest.mark.parametrize("new", ["NULL", "CAST('{}' AS BLOB)", "CAST(replace(data, '0123', '0124') AS BLOB)"])
def test_a_sealed_part_that_is_erased_or_altered_is_missing_and_stops_nothing(
    store: SqliteStore, path: Path, new: str
) -> None:
    store.commit(Batch(written=[entry(Heads(), parts=2)]))
    by_hand(path, f"UPDATE sealed_parts SET data = {new} WHERE place = 0")
    (found,) = store.load("1").entries
    assert found.parts[0] is None
    assert found.parts[1] is not None


# ---------------------------------------------------------------- the schema


def test_the_migrations_make_the_tables_that_the_code_speaks_of(path: Path) -> None:
    open_store(path).close()
    found = MetaData()
    engine = create_engine(f"sqlite:///{path}")
    found.reflect(engine)
    engine.dispose()

    def shape(metadata: MetaData) -> dict[str, list[tuple[Any, ...]]]:
        return {
            name: [(c.name, str(c.type), c.nullable, c.primary_key) for c in table.columns]
            for name, table in metadata.tables.items()
        }

    assert shape(found) == shape(METADATA)
    assert by_hand(path, "SELECT number, name FROM migrations") == [(s.number, s.name) for s in migrations.STEPS]


def test_a_migration_runs_once_and_one_that_fails_leaves_the_store_as_it_was(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_store(path).close()
    more = migrations.Migration(
        migrations.KNOWN + 1, "a try", ("CREATE TABLE tried (x TEXT) STRICT", "NO SUCH STATEMENT")
    )
    monkeypatch.setattr(migrations, "STEPS", (*migrations.STEPS, more))
    monkeypatch.setattr(migrations, "KNOWN", more.number)
    with pytest.raises(StoreUnreadable, match="NO"):
        open_store(path)
    assert by_hand(path, "SELECT count(*) FROM sqlite_schema WHERE name = 'tried'") == [(0,)]
    mended = replace(more, statements=more.statements[:1])
    monkeypatch.setattr(migrations, "STEPS", (*migrations.STEPS[:-1], mended))
    for _ in range(2):
        open_store(path).close()
    assert by_hand(path, "SELECT number FROM migrations") == [(step.number,) for step in migrations.STEPS]
    assert by_hand(path, "SELECT count(*) FROM sqlite_schema WHERE name = 'tried'") == [(1,)]
