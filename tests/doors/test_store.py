"""The durable store: what goes in comes back."""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from gateway.doors.faces import (
    Batch,
    OpenText,
    ReadingRow,
    Settled,
    Snapshot,
)
from gateway.doors.store import SqliteStore, open_store
from gateway.logbook.chains import Heads, accept, link
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
    store.commit(Batch(people=[("f3", "ines", "+447700900123"), ("0a", "tobias", "+447700900456")]))
    store.commit(Batch(people=[("1b", "ruth", "+447700900789")]))
    assert [key for _, key, _ in store.load("1").people] == ["ines", "tobias", "ruth"]


def test_a_person_whose_number_changed_comes_back_with_the_new_one(store: SqliteStore) -> None:
    store.commit(Batch(people=[("f3", "ines", "+447700900123"), ("0a", "tobias", "+447700900456")]))
    store.commit(Batch(people=[("f3", "ines", "+447700900124")]))
    assert store.load("1").people == [("f3", "ines", "+447700900124"), ("0a", "tobias", "+447700900456")]


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


def test_an_inbound_text_is_known_for_ever(store: SqliteStore) -> None:
    store.commit(Batch(seen=[("m1", NOW), ("m2", NOW)]))
    store.commit(Batch(seen=[("m3", NOW + 48 * HOUR), ("m1", NOW + 48 * HOUR)]))
    assert store.has_seen(["m1", "m2", "m3", "m4"]) == {"m1", "m2", "m3"}
    assert store.has_seen([]) == frozenset()
    assert store.has_seen([f"x{i}" for i in range(3_000)] + ["m2"]) == {"m2"}
    store.commit(Batch(seen=[("m5", NOW + 100_000 * HOUR)]))
    assert store.has_seen(["m1", "m5"]) == {"m1", "m5"}
