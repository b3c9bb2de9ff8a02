"""Reading back what the last run left, page by page, so that a long logbook needs no more memory than a short one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from sqlalchemy import ColumnClause, Connection, Row, func, literal_column, select

from gateway.doors.faces import Loaded, Marks, OpenText, ReadingRow, Snapshot
from gateway.doors.store.marks import marks_of
from gateway.doors.store.schema import (
    ENTRIES,
    PEOPLE,
    READING_BLOCKS,
    SEALED_PARTS,
    SEEN_TEXTS,
    SETTLED_ORDERS,
    SNAPSHOTS,
    WAITING_COMMANDS,
    WAITING_MAILS,
    WAITING_TEXTS,
)
from gateway.doors.store.thinning import unpacked_row
from gateway.doors.store.trouble import told, unreadable
from gateway.logbook.blocks import checksum, places_of
from gateway.logbook.canonical import NotPlain
from gateway.logbook.chains import digest, entry_of
from gateway.logbook.kept_readings import read_line
from gateway.logbook.seals import part_of, seal_hash
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.moments import HOUR, Ms
from gateway.vocabulary.orders import SendMail, SendText
from gateway.vocabulary.priority import Priority

PAGE = 500
"""Rows fetched at a time: no query stays open while the service commits. Our choice."""
KNOWN_FOR: Ms = 48 * HOUR
"""How long the carrier's ids of our own texts are handed back, as the face of the store promises."""

_BY_ROW: ColumnClause[int] = literal_column("rowid")


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


def left_by_last_run(core: Connection, path: Path, state_version: str, *, n: int, now: Ms | None) -> Loaded:
    """What the store holds up to entry n and its last block of readings. now: the latest instant recorded.

    Entries and readings are fetched while they are gone through. Raises StoreUnreadable.
    """
    snapshot = newest_snapshot(core, state_version)
    after, happening = (snapshot.n, snapshot.happening) if snapshot else (0, -1)
    return Loaded(
        snapshot=snapshot,
        entries=KeptEntries(core, path, after=after, upto=n),
        readings=KeptReadings(core, path, happening=happening, upto=last_block(core)),
        open_texts=open_texts(core, path),
        open_commands=open_commands(core),
        open_mails=open_mails(core),
        known_messages=known_messages(core, (now or 0) - KNOWN_FOR),
        people=people(core),
        last_now=now,
        marks=_marks(core, path),
    )


def _marks(core: Connection, path: Path) -> Marks:
    try:
        return marks_of(core)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise unreadable(path, f"its notes about itself are damaged ({error})") from None


def newest_snapshot(core: Connection, state_version: str) -> Snapshot | None:
    """The newest snapshot that fits: of this state version, sound, and of an entry that stands here; else None."""
    wanted = select(SNAPSHOTS).where(SNAPSHOTS.c.state_version == state_version).order_by(SNAPSHOTS.c.id.desc())
    for row in core.execute(wanted).all():
        entry = core.execute(select(ENTRIES.c.digest).where(ENTRIES.c.n == row.n)).scalar()
        if digest(row.data) == row.digest and (entry or "") == row.entry_digest and (entry or row.n == 0):
            return Snapshot(n=row.n, happening=row.happening, state_version=row.state_version, data=row.data)
    return None


def last_entry(core: Connection) -> tuple[int, Ms | None]:
    """n of the last entry and its instant; 0 and None in a new store."""
    row = core.execute(select(ENTRIES.c.n, ENTRIES.c.now).order_by(ENTRIES.c.n.desc()).limit(1)).first()
    return (row.n, row.now) if row else (0, None)


def last_happening(core: Connection) -> int:
    """The largest happening number recorded; -1 in a new store."""
    moments = [
        core.execute(select(ENTRIES.c.happening).order_by(ENTRIES.c.n.desc()).limit(1)).scalar(),
        core.execute(select(func.max(READING_BLOCKS.c.last_happening))).scalar(),
    ]
    return max((happening for happening in moments if happening is not None), default=-1)


def last_block(core: Connection) -> int:
    """Id of the last block of readings; 0 in a new store."""
    return int(core.execute(select(func.coalesce(func.max(READING_BLOCKS.c.id), 0))).scalar_one())


def last_moment(core: Connection) -> Ms | None:
    """The latest instant anywhere recorded (ms UTC); None in a new store."""
    blocks = READING_BLOCKS.c
    newest = select(func.max(blocks.batch)).scalar_subquery()
    moments = [
        last_entry(core)[1],
        core.execute(select(func.max(blocks.last_now)).where(blocks.id >= newest)).scalar(),
    ]
    for column in (
        SEEN_TEXTS.c.taken_at,
        SETTLED_ORDERS.c.settled_at,
        WAITING_TEXTS.c.queued_at,
        WAITING_COMMANDS.c.queued_at,
        WAITING_MAILS.c.at,
    ):
        moments.append(core.execute(select(func.max(column))).scalar())
    return max((moment for moment in moments if moment is not None), default=None)


def open_texts(core: Connection, path: Path) -> list[OpenText]:
    """Texts whose end is not known, in the order in which they were queued. Raises StoreUnreadable."""
    found = []
    for row in core.execute(select(WAITING_TEXTS).order_by(WAITING_TEXTS.c.queued_at, _BY_ROW)):
        if row.priority not in set(Priority):
            raise unreadable(path, f"the waiting text {row.id} is damaged")
        order = SendText(
            id=row.id,
            carrier=row.carrier,
            person=row.person,
            number=row.number,
            body=row.body,
            priority=Priority(row.priority),
            valid_for=row.valid_for,
            spoken=bool(row.spoken),
        )
        found.append(OpenText(order=order, queued_at=row.queued_at))
    return found


def open_mails(core: Connection) -> list[SendMail]:
    """Mails whose end is not known, in the order in which they were queued."""
    rows = core.execute(select(WAITING_MAILS).order_by(WAITING_MAILS.c.at, _BY_ROW))
    return [SendMail(**row._asdict()) for row in rows]


def open_commands(core: Connection) -> list[str]:
    """Ids of commands whose end is not known, in the order in which they were queued."""
    wanted = select(WAITING_COMMANDS.c.id).order_by(WAITING_COMMANDS.c.queued_at, _BY_ROW)
    return list(core.execute(wanted).scalars())


def known_messages(core: Connection, since: Ms) -> frozenset[str]:
    """Carrier's ids of texts of ours that were accepted since then (ms UTC)."""
    wanted = select(SETTLED_ORDERS.c.message).where(
        SETTLED_ORDERS.c.settled_at >= since, SETTLED_ORDERS.c.message != ""
    )
    return frozenset(core.execute(wanted).scalars())


def people(core: Connection) -> list[tuple[str, str, str]]:
    """(random id, key, number) of all persons ever met, in the order of meeting."""
    return [(row.id, row.key, row.number) for row in core.execute(select(PEOPLE).order_by(PEOPLE.c.place))]


def seen_among(core: Connection, messages: Sequence[str]) -> frozenset[str]:
    """Which of these carrier's ids were taken in before."""
    found: set[str] = set()
    for start in range(0, len(messages), PAGE):
        wanted = select(SEEN_TEXTS.c.message).where(SEEN_TEXTS.c.message.in_(messages[start : start + PAGE]))
        found.update(core.execute(wanted).scalars())
    return frozenset(found)


def _part(data: bytes | None, sealed: str) -> SealedPart | None:
    if data is None:
        return None
    try:
        part = part_of(data)
    except NotPlain:
        return None
    return part if seal_hash(part) == sealed else None
