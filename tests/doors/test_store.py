"""The durable store: what goes in comes back, in one piece or not at all."""

import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import MetaData, create_engine

from gateway.doors.faces import (
    Batch,
    OpenText,
    ReadingRow,
    Settled,
    Snapshot,
    StoreTaken,
    StoreTrouble,
    StoreUnreadable,
)
from gateway.doors.store import SqliteStore, migrations, open_reader, open_store, reading
from gateway.doors.store.schema import METADATA
from gateway.logbook.chains import Heads, accept, link
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.moments import HOUR, from_rfc3339
from gateway.vocabulary.orders import PublishCommand, SendText
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
COMMAND = PublishCommand(id="cmd-1", broker="quay", topic="grey-wagtail/cmd", payload="{}", expires_after=30_000)


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


# ---------------------------------------------------------------- what goes in comes back


def test_a_new_store_holds_nothing(store: SqliteStore) -> None:
    loaded = store.load("1")
    assert (list(loaded.entries), list(loaded.readings), loaded.snapshot) == ([], [], None)
    assert (loaded.open_texts, loaded.open_commands, loaded.people) == ([], [], [])
    assert (loaded.known_messages, loaded.last_now) == (frozenset(), None)


def test_entries_come_back_with_their_sealed_parts_and_follow_each_other(path: Path) -> None:
    heads = Heads()
    written = [
        entry(heads, parts=i % 3, chain=chain) for i, chain in enumerate([BOAT, "installation", BOAT, BOAT] * 300)
    ]
    store = open_store(path)
    store.commit(Batch(written=written[:700]))
    store.commit(Batch(written=written[700:]))
    store.close()
    again = open_store(path)
    loaded = again.load("1")
    assert list(loaded.entries) == written
    assert list(loaded.entries) == written, "they may be gone through twice"
    folded = Heads()
    for found in loaded.entries:
        accept(folded, found)
    assert folded == heads
    again.close()


def test_readings_come_back_in_the_order_of_taking_whatever_boats_they_were_of(store: SqliteStore) -> None:
    boats = ["grey-wagtail/a", "salt-harrier/a", "grey-wagtail/b", "little-stint/a", "salt-harrier/b"]
    rows = [row(1 + i // 4, boats[i * 7 % 5], NOW + i, str(i)) for i in range(2_500)]
    cuts = [0, 1, 40, 41, 1_700, 2_500]
    for first, last in pairwise(cuts):
        store.commit(Batch(readings=rows[first:last]))
    assert list(store.load("1").readings) == rows


def test_a_start_from_a_snapshot_brings_only_what_came_after_it(store: SqliteStore) -> None:
    heads = Heads()
    written = [entry(heads) for _ in range(5)]
    rows = [row(i) for i in range(10)]
    snapshot = Snapshot(n=3, happening=6, state_version="1", data=b"{}")
    store.commit(Batch(written=written, readings=rows, snapshot=snapshot))
    loaded = store.load("1")
    assert loaded.snapshot == snapshot
    assert list(loaded.entries) == written[3:]
    assert list(loaded.readings) == rows[7:]


def test_what_was_loaded_ends_where_the_store_ended_then(store: SqliteStore) -> None:
    heads = Heads()
    first = entry(heads)
    store.commit(Batch(written=[first], readings=[row(1)]))
    loaded = store.load("1")
    store.commit(Batch(written=[entry(heads)], readings=[row(2)]))
    assert list(loaded.entries) == [first]
    assert list(loaded.readings) == [row(1)]


@pytest.mark.parametrize(
    ("snapshot", "why"),
    [
        (Snapshot(n=1, happening=1, state_version="2", data=b"{}"), "another state version"),
        (Snapshot(n=9, happening=1, state_version="1", data=b"{}"), "an entry that is not there"),
    ],
)
def test_a_snapshot_of_another_state_or_unknown_entry_is_thrown_away(
    store: SqliteStore, snapshot: Snapshot, why: str
) -> None:
    heads = Heads()
    store.commit(Batch(written=[entry(heads)], readings=[row(1)], snapshot=snapshot))
    loaded = store.load("1")
    assert loaded.snapshot is None, why
    assert len(list(loaded.entries)) == len(list(loaded.readings)) == 1


def test_a_damaged_snapshot_gives_way_to_the_one_before_and_only_two_are_kept(store: SqliteStore, path: Path) -> None:
    made = [Snapshot(n=0, happening=i, state_version="1", data=b"[%d]" % i) for i in range(4)]
    for snapshot in made:
        store.commit(Batch(snapshot=snapshot))
    assert by_hand(path, "SELECT data FROM snapshots") == [(b"[2]",), (b"[3]",)]
    assert store.load("1").snapshot == made[3]
    by_hand(path, "UPDATE snapshots SET data = CAST('[9]' AS BLOB) WHERE happening = 3")
    assert store.load("1").snapshot == made[2]


def test_a_snapshot_of_a_rewritten_entry_is_thrown_away(store: SqliteStore, path: Path) -> None:
    store.commit(Batch(written=[entry(Heads())], snapshot=Snapshot(n=1, happening=1, state_version="1", data=b"{}")))
    by_hand(path, "UPDATE entries SET digest = ?", "ab" * 32)
    assert store.load("1").snapshot is None


@pytest.mark.parametrize(
    "batch",
    [
        Batch(written=[entry(Heads(), now=NOW + 7)]),
        Batch(readings=[row(1), row(2, now=NOW + 7)]),
        Batch(readings=[row(1, "salt-harrier/x", NOW + 7), row(2, now=NOW + 7)]),
        Batch(seen=[("m1", NOW + 7)]),
    ],
)
def test_a_start_goes_on_from_the_latest_instant_anywhere_recorded(path: Path, batch: Batch) -> None:
    store = open_store(path)
    store.commit(Batch(readings=[row(1, now=NOW - 7)]))
    store.commit(batch)
    assert store.load("1").last_now == NOW + 7
    store.close()
    again = open_store(path)
    assert again.load("1").last_now == NOW + 7
    again.close()


def test_persons_come_back_in_the_order_of_meeting(store: SqliteStore) -> None:
    store.commit(Batch(people=[("f3", "ines"), ("0a", "tobias")]))
    store.commit(Batch(people=[("1b", "ruth")]))
    assert store.load("1").people == [("f3", "ines"), ("0a", "tobias"), ("1b", "ruth")]


# ---------------------------------------------------------------- orders and inbound texts


def test_an_order_waits_until_it_is_settled(store: SqliteStore) -> None:
    later = replace(TEXT, id="text-0", priority=Priority.CAUTION)
    store.commit(Batch(written=[entry(Heads())], texts=[TEXT], commands=[COMMAND]))
    store.commit(Batch(readings=[row(1, now=NOW + 5), row(2, now=NOW + 9)], texts=[later]))
    loaded = store.load("1")
    assert loaded.open_texts == [OpenText(order=TEXT, queued_at=NOW), OpenText(order=later, queued_at=NOW + 5)]
    assert loaded.open_commands == ["cmd-1"]
    store.commit(
        Batch(
            settled=[
                Settled(order="text-1", outcome="accepted", message="SM1"),
                Settled(order="cmd-1", outcome="published"),
            ]
        )
    )
    loaded = store.load("1")
    assert [found.order for found in loaded.open_texts] == [later]
    assert loaded.open_commands == []
    assert loaded.known_messages == {"SM1"}


def test_an_order_that_is_settled_in_its_own_batch_does_not_wait(store: SqliteStore) -> None:
    store.commit(Batch(texts=[TEXT], settled=[Settled(order="text-1", outcome="refused")]))
    loaded = store.load("1")
    assert (loaded.open_texts, loaded.known_messages) == ([], frozenset())


def test_number_and_words_of_a_settled_text_are_no_longer_in_the_file(store: SqliteStore, path: Path) -> None:
    def whole() -> bytes:
        return b"".join(file.read_bytes() for file in path.parent.iterdir())

    store.commit(Batch(texts=[replace(TEXT, body="go teapot marble " + "x" * 6_000)]))
    assert b"teapot" in whole()
    store.commit(Batch(settled=[Settled(order="text-1", outcome="accepted", message="SM1")]))
    store.close()
    assert b"SM1" in whole()
    assert b"teapot" not in whole()
    assert b"+447700900123" not in whole()


def test_ids_of_our_own_texts_are_handed_back_for_48_hours(store: SqliteStore) -> None:
    store.commit(
        Batch(readings=[row(1)], settled=[Settled(order="told-from-memory", outcome="accepted", message="SM1")])
    )
    store.commit(Batch(readings=[row(2, now=NOW + 48 * HOUR)]))
    assert store.load("1").known_messages == {"SM1"}
    store.commit(Batch(readings=[row(3, now=NOW + 48 * HOUR + 1)]))
    assert store.load("1").known_messages == frozenset()


def test_an_inbound_text_is_known_for_at_least_48_hours_and_then_forgotten(store: SqliteStore, path: Path) -> None:
    store.commit(Batch(seen=[("m1", NOW), ("m2", NOW)]))
    store.commit(Batch(seen=[("m3", NOW + 48 * HOUR), ("m1", NOW + 48 * HOUR)]))
    assert store.has_seen(["m1", "m2", "m3", "m4"]) == {"m1", "m2", "m3"}
    assert store.has_seen([]) == frozenset()
    assert store.has_seen([f"x{i}" for i in range(3_000)] + ["m2"]) == {"m2"}
    store.commit(Batch(seen=[("m5", NOW + 200 * HOUR)]))
    assert by_hand(path, "SELECT message FROM seen_texts") == [("m5",)]


# ---------------------------------------------------------------- all of it or nothing


FAULTY: dict[str, Callable[[Heads], Batch]] = {
    "a text that waits already": lambda heads: Batch(
        readings=[row(9)], written=[entry(heads, parts=1)], seen=[("m9", NOW)], people=[("9", "x")], texts=[TEXT]
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
        "store.commit(Batch(people=[('1', 'ines')]))\n"
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
    assert store.load("1").people == [("1", "ines")]
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
    store.commit(Batch(people=[("1", "ines")]))
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
    more = migrations.Migration(2, "a try", ("CREATE TABLE tried (x TEXT) STRICT", "NO SUCH STATEMENT"))
    monkeypatch.setattr(migrations, "STEPS", (*migrations.STEPS, more))
    monkeypatch.setattr(migrations, "KNOWN", 2)
    with pytest.raises(StoreUnreadable, match="NO"):
        open_store(path)
    assert by_hand(path, "SELECT count(*) FROM sqlite_schema WHERE name = 'tried'") == [(0,)]
    mended = replace(more, statements=more.statements[:1])
    monkeypatch.setattr(migrations, "STEPS", (*migrations.STEPS[:1], mended))
    for _ in range(2):
        open_store(path).close()
    assert by_hand(path, "SELECT number FROM migrations") == [(1,), (2,)]
