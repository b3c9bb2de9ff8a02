"""A record of a million entries: how long a restart and a verification take, and the memory they need.

Run it with ``python -m tests.benchmarks.million [ENTRIES]``. The record is made in bulk, by the desk's own facts:
closed hours of twenty boats with their readings, texts with sealed parts and the carrier's answers, things that fell
due. The yardstick beside both figures is a bare sqlite3 loop over the same rows. Each is measured in a process of its
own, in seconds of that process's own processor time: other work on the machine does not count.
"""

import multiprocessing
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from multiprocessing.connection import Connection
from pathlib import Path

from gateway.desk.facts import HourKept, TimeFell
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.desk.state import STATE_VERSION
from gateway.doors.faces import Batch, ReadingRow, Snapshot
from gateway.doors.store import open_reader, open_store
from gateway.logbook.chains import Heads, link
from gateway.logbook.kept_readings import line, roll
from gateway.logbook.verify import verify
from gateway.service.restoring import SNAPSHOT_EVERY, Restoring
from gateway.telling.facts import TextAnswered, TextQueued
from gateway.vocabulary.entries import INSTALLATION, SealedPart, Written
from gateway.vocabulary.facts import Fact, body_of
from gateway.vocabulary.moments import HOUR, MINUTE, from_rfc3339
from gateway.vocabulary.readings import Grade, Reading
from tests.desk.small_boat import starter_bundle

BEGAN = from_rfc3339("2024-03-01T00:00:00Z")
BOATS = 20
READINGS = 6  # of a boat in an hour
RESTART_WITHIN, VERIFY_WITHIN = 3.0, 60.0  # seconds, as promised


class Bulk:
    """Makes hours: readings of each boat, the entry that closes the hour, texts and what follows."""

    def __init__(self) -> None:
        self.heads, self.happening, self.hour = Heads(), 0, BEGAN

    def batch(self) -> tuple[list[ReadingRow], list[Written]]:
        """One hour of all boats."""
        rows, written = [], []
        for boat in (f"boat-{number}" for number in range(BOATS)):
            rolled = ""
            for i in range(READINGS):
                self.happening += 1
                reading = Reading(signal=f"{boat}/volts", grade=Grade.NUMBER, text=f"12.{self.happening % 90}")
                row = ReadingRow(happening=self.happening, now=self.hour + i * MINUTE, reading=reading)
                rolled = roll(rolled, line(row.happening, row.now, reading))
                rows.append(row)
            self.happening += 1
            written.append(self._entry(boat, HourKept(boat=boat, hour=self.hour, count=READINGS, digest=rolled)))
            order = f"{self.happening:020x}"
            queued = TextQueued(
                order=order, person="1" * 24, boat=boat, about="alarm told", numbers=(1,), priority=None, again=False
            )
            written.append(self._entry(boat, queued, {"number": "+447700900123", "body": "GREY WAGTAIL " * 9}))
            answered = TextAnswered(order=order, accepted=True, message=order, code="", detail="", found=False)
            written.append(self._entry(INSTALLATION, answered))
            written.append(self._entry(INSTALLATION, TimeFell()))
        self.hour += HOUR
        return rows, written

    def _entry(self, chain: str, fact: Fact, *sealed: dict[str, str]) -> Written:
        return link(
            self.heads,
            chain=chain,
            now=self.hour + 59 * MINUTE,
            happening=self.happening,
            kind=fact.kind,
            version=fact.version,
            body=body_of(fact),
            parts=[SealedPart(salt=f"{self.happening:032x}", content=content) for content in sealed],
        )


def build(path: Path, entries: int) -> None:
    """The store, with a snapshot as long before its end as one may be."""
    store, bulk, desk = open_store(path), Bulk(), Desk(starter_bundle())
    store._connection().driver.execute("PRAGMA synchronous = OFF")  # in bulk; nothing measured writes
    snapshot: Snapshot | None = None
    while bulk.heads.n < entries:
        rows, written = bulk.batch()
        readings = iter(rows)
        for entry in written:
            if entry.entry.kind == HourKept.kind:
                for _ in range(READINGS):
                    row = next(readings)
                    desk.apply_reading(row.happening, row.now, row.reading)
            desk.apply(entry)
        due = snapshot is None and bulk.heads.n >= entries - SNAPSHOT_EVERY
        if due:
            state = desk.state
            snapshot = Snapshot(
                n=state.heads.n, happening=state.happening, state_version=STATE_VERSION, data=state_bytes(state)
            )
        store.commit(Batch(readings=rows, written=written, snapshot=snapshot if due else None))
    store.close()


def bare(path: Path) -> None:
    """Every row, and nothing done with it."""
    file = sqlite3.connect(path)
    for table in ("entries", "sealed_parts", "reading_blocks"):
        for _ in file.execute(f"SELECT * FROM {table}"):
            pass


def restart(path: Path) -> None:
    """What a start does before it listens."""
    store = open_store(path)
    loaded, desk = Restoring(starter_bundle(), store, SNAPSHOT_EVERY).begin(0)
    assert loaded.snapshot is not None
    assert desk.state.heads.n > loaded.snapshot.n
    store.close()


def verified(path: Path) -> None:
    """What `logbook verify` does."""
    with open_reader(path) as reader:
        report = verify(reader)
    assert report.ok, report.first_bad


def prepared(path: Path) -> None:
    """Nothing: what a process needs that does none of it."""
    starter_bundle()
    assert path.exists()


def measured(work: Callable[[Path], None], path: Path) -> tuple[float, float]:
    """(seconds, MiB at the most) of the work in a process of its own."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_run, args=(work, path, theirs))
    process.start()
    found: tuple[float, float] = ours.recv()
    process.join()
    return found


def _run(work: Callable[[Path], None], path: Path, answer: Connection) -> None:
    starter_bundle()  # reading the files is no part of it
    began = time.process_time()
    work(path)
    seconds = time.process_time() - began
    answer.send((seconds, _most_resident()))


def _most_resident() -> float:
    """MiB at the most; not the system's `ru_maxrss`, which a new process takes over from the one that made it."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(next(row.split()[1] for row in status.splitlines() if row.startswith("VmHWM"))) / 1024


def lines(path: Path, entries: int) -> Iterator[str]:
    """What is printed."""
    began = time.perf_counter()
    build(path, entries)
    yield f"made in bulk: {entries} entries, {path.stat().st_size / 1e6:.0f} MB, {time.perf_counter() - began:.0f} s"
    _, idle = measured(prepared, path)
    read, read_memory = measured(bare, path)
    yield f"bare sqlite3 read of every row    {read:6.1f} s   {read_memory - idle:5.0f} MiB above the process itself"
    for name, work, promised in (
        ("restart by snapshot", restart, RESTART_WITHIN),
        ("verify", verified, VERIFY_WITHIN),
    ):
        seconds, memory = measured(work, path)
        word = "kept" if seconds < promised else "NOT KEPT"
        yield (
            f"{name:<30}    {seconds:6.1f} s   {memory - idle:5.0f} MiB above the process itself; "
            f"{seconds / read:.2f} times the bare read (promised: under {promised:.0f} s, {word})"
        )


def main() -> None:
    """Print both figures."""
    entries = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    with tempfile.TemporaryDirectory() as folder:
        for text in lines(Path(folder) / "store", entries):
            sys.stdout.write(text + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
