"""A store of 200 entries as a few hours at the marina leave it, and the same rows in memory."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from gateway.doors.faces import Batch, ReadingRow
from gateway.doors.store import open_reader, open_store
from gateway.logbook.chains import Head, Heads, entry_of, link, refer
from gateway.logbook.kept_readings import HOUR_KEPT, HOUR_KEPT_VERSION, hour_of, line, roll
from gateway.logbook.stored import StoredBlock, StoredEntry, StoredHead, StoredPart
from gateway.vocabulary.entries import INSTALLATION, SealedPart, Written
from gateway.vocabulary.moments import HOUR, MINUTE, Ms, from_rfc3339
from gateway.vocabulary.plain import Plain
from gateway.vocabulary.readings import Grade, Reading

BOATS = ("grey-wagtail", "salt-harrier")
ENTRIES = 200
BEGAN = from_rfc3339("2026-03-01T04:00:00Z")
REPEATED = ("n", "chain", "place", "now", "happening", "kind")
"""What the row of an entry repeats of its bytes."""


@dataclass(slots=True)
class Rows:
    """A source of verification in memory, to be altered at will."""

    entry_rows: list[StoredEntry]
    part_rows: list[StoredPart]
    head_rows: list[StoredHead]
    block_rows: list[StoredBlock]

    def entries(self) -> Iterator[StoredEntry]:
        return iter(self.entry_rows)

    def parts(self) -> Iterator[StoredPart]:
        return iter(self.part_rows)

    def heads(self) -> Iterator[StoredHead]:
        return iter(self.head_rows)

    def blocks(self) -> Iterator[StoredBlock]:
        return iter(self.block_rows)

    def note_ends(self) -> None:
        """Note the ends of the chains as the entries have them now."""
        ends = {row.chain: row for row in self.entry_rows}
        self.head_rows = [StoredHead(chain=chain, place=row.place, digest=row.digest) for chain, row in ends.items()]

    def add(self, kind: str, body: Mapping[str, Plain]) -> None:
        """One entry more in the chain of the installation, after all others."""
        last = entry_of(self.entry_rows[-1].data)  # type: ignore[arg-type]
        heads = Heads(last.n, {str(row.chain): Head(int(str(row.place)), str(row.digest)) for row in self.head_rows})
        w = link(
            heads, chain=INSTALLATION, now=last.now + 1, happening=last.happening + 1, kind=kind, version=1, body=body
        )
        self.entry_rows.append(
            StoredEntry(data=w.data, digest=w.digest, **{name: getattr(w.entry, name) for name in REPEATED})
        )
        self.note_ends()

    def hold_only(self, written: Sequence[Written]) -> None:
        """Hold these entries, which have no sealed parts, and nothing else."""
        self.entry_rows = [
            StoredEntry(data=w.data, digest=w.digest, **{name: getattr(w.entry, name) for name in REPEATED})
            for w in written
        ]
        self.part_rows, self.block_rows = [], []
        self.note_ends()


class Night:
    """Makes batches: a reading of each boat every two minutes, an entry now and then, an entry for each hour.

    entries: how many in all, and then no more. began: instant.
    """

    def __init__(self, entries: int = ENTRIES, began: Ms = BEGAN) -> None:
        self.entries = entries
        self.heads = Heads()
        self.now = began
        self.happening = 0
        self.hours: dict[str, tuple[int, int, str]] = {}

    def batch(self) -> Batch:
        """Two minutes more."""
        self.now += 2 * MINUTE
        self.happening += 1
        written: list[Written] = []
        rows = [self._reading(boat, written) for boat in BOATS]
        if self.happening % 10 == 0:
            matter = self._entry(INSTALLATION, parts=2)
            written += [matter, *(refer(self.heads, chain=boat, to=matter) for boat in BOATS)]
        written += [self._entry(boat, parts=self.happening % 3 == 0) for boat in BOATS]
        return Batch(readings=rows, written=written[: max(0, self.entries - written[0].entry.n + 1)])

    def _reading(self, boat: str, written: list[Written]) -> ReadingRow:
        reading = Reading(signal=f"{boat}/house-volts", grade=Grade.NUMBER, text=f"12.{self.happening % 90}")
        hour, count, rolled = self.hours.get(boat, (hour_of(self.now), 0, ""))
        if hour != hour_of(self.now):
            body = {"boat": boat, "hour": hour, "count": count, "digest": rolled}
            written.append(
                link(
                    self.heads,
                    chain=boat,
                    now=self.now,
                    happening=self.happening,
                    kind=HOUR_KEPT,
                    version=HOUR_KEPT_VERSION,
                    body=body,
                )
            )
            hour, count, rolled = hour + HOUR, 0, ""
        row = ReadingRow(happening=self.happening, now=self.now, reading=reading)
        self.hours[boat] = (hour, count + 1, roll(rolled, line(self.happening, self.now, reading)))
        return row

    def _entry(self, chain: str, *, parts: int) -> Written:
        sealed = [SealedPart(salt=f"{self.heads.n + i:032x}", content={"to": "+447700900123"}) for i in range(parts)]
        body = {"alarm": self.happening}
        return link(
            self.heads,
            chain=chain,
            now=self.now,
            happening=self.happening,
            kind="raised",
            version=1,
            body=body,
            parts=sealed,
        )


def kept(path: Path, entries: int, began: Ms = BEGAN) -> Path:
    """A store of that many entries at that path, closed."""
    store, night = open_store(path), Night(entries, began)
    while night.heads.n < entries:
        store.commit(night.batch())
    store.close()
    return path


@pytest.fixture(scope="session")
def store_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store of 200 entries, closed. Copy it before altering it."""
    return kept(tmp_path_factory.mktemp("marina") / "store.db", ENTRIES)


@pytest.fixture(scope="session")
def _rows_as_written(store_file: Path) -> Rows:
    with open_reader(store_file) as reader:
        return Rows(list(reader.entries()), list(reader.parts()), list(reader.heads()), list(reader.blocks()))


@pytest.fixture
def rows(_rows_as_written: Rows) -> Rows:
    """The store's rows in memory, fresh for each test."""
    it = _rows_as_written
    return Rows(list(it.entry_rows), list(it.part_rows), list(it.head_rows), list(it.block_rows))
