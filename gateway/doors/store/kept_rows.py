"""Entries and readings as they stand in the file, page by page, so that a long record needs no more memory than a short
one. Each is held against its hash on the way."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Row, func, select

from gateway.doors.faces import ReadingRow
from gateway.doors.store.schema import (
    ENTRIES,
    READING_BLOCKS,
    SEALED_PARTS,
)
from gateway.doors.store.thinning import unpacked_row
from gateway.doors.store.trouble import told, unreadable
from gateway.logbook.blocks import checksum, places_of
from gateway.logbook.canonical import NotPlain
from gateway.logbook.chains import digest, entry_of
from gateway.logbook.kept_readings import read_line
from gateway.logbook.seals import part_of, seal_hash
from gateway.vocabulary.entries import SealedPart, Written

PAGE = 500
"""Rows fetched at a time: no query stays open while the service commits. Our choice."""


@dataclass(frozen=True, slots=True)
class KeptEntries:
    """Entries after `after` up to `upto`, by n; may be gone through more than once. chain: only of this chain.

    Going through raises StoreUnreadable at an entry whose bytes are none or have another hash. A sealed part that is
    erased or is not what was sealed comes back as None: no state depends on it.
    """

    core: Connection
    path: Path
    after: int
    upto: int
    chain: str | None = None

    def __iter__(self) -> Iterator[Written]:
        after = self.after
        while rows := self._page(after):
            first, last = rows[0].n, rows[-1].n
            if last <= after:  # only in a damaged file, where it would go round for ever
                raise unreadable(self.path, f"entry {last} stands out of order")
            after = last
            parts = self._parts(first, after)
            for row in rows:
                yield self._written(row, parts)

    def _page(self, after: int) -> Sequence[Row[Any]]:
        wanted = select(ENTRIES).where(ENTRIES.c.n > after, ENTRIES.c.n <= self.upto).order_by(ENTRIES.c.n).limit(PAGE)
        if self.chain is not None:
            wanted = wanted.where(ENTRIES.c.chain == self.chain)
        with told(self.path):
            return self.core.execute(wanted).all()

    def _parts(self, first: int, last: int) -> dict[tuple[int, int], bytes | None]:
        wanted = select(SEALED_PARTS).where(SEALED_PARTS.c.n.between(first, last))
        with told(self.path):
            return {(n, place): data for n, place, data in self.core.execute(wanted)}

    def _written(self, row: Row[Any], parts: dict[tuple[int, int], bytes | None]) -> Written:
        try:
            entry = entry_of(row.data)
        except NotPlain as error:
            raise unreadable(self.path, f"entry {row.n} is damaged ({error})") from None
        if entry.n != row.n or digest(row.data) != row.digest:
            raise unreadable(self.path, f"entry {row.n} is not what was written")
        found = tuple(_part(parts.get((row.n, place)), sealed) for place, sealed in enumerate(entry.sealed))
        return Written(entry=entry, data=row.data, digest=row.digest, parts=found)


@dataclass(frozen=True, slots=True)
class KeptReadings:
    """Readings of happenings after `happening`, in the order of taking; may be gone through more than once.

    upto: id of the last block that counts. Going through raises StoreUnreadable at a damaged block.
    """

    core: Connection
    path: Path
    happening: int
    upto: int

    def __iter__(self) -> Iterator[ReadingRow]:
        for _, blocks in groupby(self._blocks(), lambda block: block.batch):
            rows = [placed for block in blocks for placed in self._rows(block)]
            rows.sort(key=lambda placed: placed[0])
            for _, row in rows:
                if row.happening > self.happening:
                    yield row

    def _blocks(self) -> Iterator[Row[Any]]:
        table = READING_BLOCKS.c
        since = select(func.min(table.batch)).where(table.last_happening > self.happening)
        with told(self.path):
            first = self.core.execute(since).scalar()
        after = self.upto if first is None else first - 1
        while after < self.upto:
            wanted = select(READING_BLOCKS).where(table.id > after, table.id <= self.upto)
            with told(self.path):
                rows = self.core.execute(wanted.order_by(table.id).limit(PAGE)).all()
            if not rows:
                return
            if rows[-1].id <= after:  # only in a damaged file, where it would go round for ever
                raise unreadable(self.path, f"readings block {rows[-1].id} stands out of order")
            after = rows[-1].id
            yield from rows

    def _rows(self, block: Row[Any]) -> Iterator[tuple[int, ReadingRow]]:
        try:
            places, packed = unpacked_row(block)
            if checksum(block.id, block.batch, places, packed) != block.checksum:
                raise NotPlain("its checksum does not fit")
            lines = packed.split(b"\n")
            for place, data in zip(places_of(places, len(lines)), lines, strict=True):
                happening, now, reading = read_line(data)
                yield place, ReadingRow(happening=happening, now=now, reading=reading)
        except NotPlain as error:
            raise unreadable(self.path, f"readings block {block.id} of {block.boat} is damaged ({error})") from None


def _part(data: bytes | None, sealed: str) -> SealedPart | None:
    if data is None:
        return None
    try:
        part = part_of(data)
    except NotPlain:
        return None
    return part if seal_hash(part) == sealed else None
