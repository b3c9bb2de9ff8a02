"""A commit that fails at any of its statements, the last one too: nothing of it is there, and the store goes on."""

import sqlite3
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from gateway.doors.faces import Batch, ReadingRow, Settled, Snapshot, StoreTrouble
from gateway.doors.store import SqliteStore, open_reader, open_store
from gateway.doors.store.schema import METADATA
from gateway.logbook.chains import Heads, link
from gateway.logbook.gone import PERSON_ERASED
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import SealedPart
from gateway.vocabulary.moments import HOUR, from_rfc3339
from gateway.vocabulary.orders import PublishCommand, SendMail, SendText
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading

NOW = from_rfc3339("2026-03-01T06:00:00Z")
WORK = ("execute", "executemany")


class Failing:
    """A connection that fails at its so-manieth statement, before (as of a full disk) or after it was carried out (as
    of a disk that reports too late). What is done to put things right again is let through."""

    def __init__(self, driver: sqlite3.Connection, at: int, *, after: bool = False) -> None:
        self._driver, self._left, self._after = driver, at, after
        self.failed = False

    def __getattr__(self, name: str) -> Any:
        found = getattr(self._driver, name)
        return (lambda *given: self._run(found, given)) if name in WORK else found

    def _run(self, work: Any, given: tuple[Any, ...]) -> Any:
        self._left -= 1
        fails = self._left == 0
        if fails and self._after and given != ("COMMIT",):
            work(*given)
        if fails:
            self.failed = True
            raise sqlite3.OperationalError("disk I/O error")
        return work(*given)


def batch(heads: Heads, number: int) -> Batch:
    """Everything that a commit may hold."""
    reading = Reading(signal="grey-wagtail/house-volts", grade=Grade.NUMBER, text="12.4")
    parts = [SealedPart(salt=f"{number:032x}", content={"words": "status"})]
    fields: dict[str, Any] = {"chain": "grey-wagtail", "now": NOW + number, "happening": number, "version": 1}
    written = link(heads, kind=PERSON_ERASED, body={"person": "p", "count": 1}, parts=parts, **fields)
    text = SendText(
        id=f"t{number}",
        carrier="main",
        person="p",
        number="+447700900123",
        body="GREY WAGTAIL: bilge high water",
        priority=Priority.EMERGENCY,
        valid_for=4 * HOUR,
    )
    return Batch(
        readings=[ReadingRow(happening=number, now=NOW + number, reading=reading)],
        written=[written],
        texts=[text, replace(text, id=f"u{number}")],
        commands=[PublishCommand(id=f"c{number}", broker="quay", topic="t", payload="{}", expires_after=60_000)],
        mails=[SendMail(id=f"m{number}", person="p", address="a@example.org", subject="s", body="b", at=NOW)],
        settled=[Settled(order=f"u{number}", outcome="accepted", message=f"SM{number}")],
        seen=[(f"in{number}", NOW)],
        people=[(f"p{number}", "tobias", "+447700900123")],
        erased=[(1, 0)],
        forgotten=[f"q{number}"],
        said=["restored"],
        snapshot=Snapshot(n=written.entry.n, happening=number, state_version="1", data=b"{}"),
    )


def held(path: Path) -> list[list[Any]]:
    file = sqlite3.connect(path)
    try:
        return [file.execute(f"SELECT * FROM {table}").fetchall() for table in sorted(METADATA.tables)]
    finally:
        file.close()


def fails_at(store: SqliteStore, at: int, made: Batch, *, after: bool = False) -> bool:
    """Commit with a failure there; whether that is trouble. What comes after the end of the transaction is none."""
    whole = store._connection()
    failing = Failing(whole.driver, at, after=after)
    store._opened = replace(whole, driver=failing)  # type: ignore[arg-type]
    try:
        store.commit(made)
    except StoreTrouble:
        assert failing.failed
        return True
    finally:
        if store._opened is not None:
            store._opened = whole
    return False


@pytest.mark.parametrize("after", [False, True], ids=["before it", "after it"])
def test_whichever_statement_fails_nothing_of_the_batch_is_there_and_the_same_batch_goes_in_afterwards(
    tmp_path: Path, after: bool
) -> None:
    path, heads = tmp_path / "store.db", Heads()
    store = open_store(path)
    store.commit(batch(heads, 1))
    at, number = 0, 2
    while True:
        at += 1
        store.commit(Batch(seen=[(f"before {at}", NOW)]))  # so that the journal is not empty
        before = held(path)
        made = batch(Heads(heads.n, dict(heads.chains)), number)
        if not fails_at(store, at, made, after=after):
            break
        assert held(path) == before, f"statement {at} left something"
        # Where only the sync of the end failed, the batch stands whole in the journal: it must not outlive a crash.
        assert path.with_name("store.db-wal").stat().st_size == 0, f"after statement {at} the journal is not empty"
    assert at > 20, "every statement was struck"
    store.close()
    assert held(path) != before
    with open_reader(path) as reader:
        assert verify(reader).ok
        assert reader.load("1").known_messages == {"SM1", "SM2"}
