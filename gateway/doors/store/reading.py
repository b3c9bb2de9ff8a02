"""The store for those who only look: verification and the pages, also while the service runs.

All that one reader sees is one moment of the store, however long it looks.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import Row, Select, select, text

from gateway.doors.faces import Loaded, ReadingRow
from gateway.doors.store.kept_rows import PAGE, KeptEntries, KeptReadings
from gateway.doors.store.loading import last_block, last_entry, last_moment, left_by_last_run
from gateway.doors.store.migrations import KNOWN, NotOurs, standing
from gateway.doors.store.opening import open_reading
from gateway.doors.store.schema import CHAIN_HEADS, ENTRIES, READING_BLOCKS, SEALED_PARTS
from gateway.doors.store.thinning import LOOSE, survey, unpacked_row
from gateway.doors.store.trouble import FROM_SQLITE, as_trouble, of_others, told, unreadable
from gateway.history.retention import HourHeld
from gateway.logbook.canonical import NotPlain
from gateway.logbook.stored import CannotRead, StoredBlock, StoredEntry, StoredHead, StoredPart
from gateway.vocabulary.entries import Written

_Row = TypeVar("_Row", StoredEntry, StoredPart, StoredHead)


class StoreReader:
    """One moment of a store. Is a `Source` of `gateway.logbook.verify`; made by `open_reader`, closed by `with`."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._opened = open_reading(path)
        self._core = self._opened.core
        try:
            with told(path):
                self._core.execute(text("BEGIN"))
                number = standing(self._core)  # the first look fixes the moment
        except NotOurs as error:
            self.close()
            raise of_others(path, str(error), "Name the store's file, or use the release that wrote it") from None
        except BaseException:
            self.close()
            raise
        if number != KNOWN:
            self.close()
            raise unreadable(path, "it was left by an earlier release", "Start the gateway once, it brings it up")

    def __enter__(self) -> "StoreReader":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._opened.close()

    def written(self, *, after: int = 0, chain: str | None = None) -> Iterator[Written]:
        """Entries after number `after`, by number, with their sealed parts; of one chain when it is named.

        Raises StoreUnreadable at the first one that is damaged.
        """
        with told(self._path):
            upto = last_entry(self._core)[0]
        return iter(KeptEntries(self._core, self._path, after=after, upto=upto, chain=chain))

    def load(self, state_version: str) -> Loaded:
        """What a start at this moment would find, for a desk that is thrown away. Raises StoreUnreadable."""
        with told(self._path):
            n, now = last_entry(self._core)[0], last_moment(self._core)
            return left_by_last_run(self._core, self._path, state_version, n=n, now=now)

    def readings(self) -> Iterator[ReadingRow]:
        """All readings, in the order of taking. Raises StoreUnreadable at the first block that is damaged."""
        with told(self._path):
            upto = last_block(self._core)
        return iter(KeptReadings(self._core, self._path, happening=-1, upto=upto))

    def entries(self) -> Iterator[StoredEntry]:
        """All entries, by n, as they stand. Raises CannotRead."""
        return self._rows(StoredEntry, select(ENTRIES).order_by(ENTRIES.c.n))

    def parts(self) -> Iterator[StoredPart]:
        """All sealed parts, by n and place, as they stand. Raises CannotRead."""
        return self._rows(StoredPart, select(SEALED_PARTS).order_by(SEALED_PARTS.c.n, SEALED_PARTS.c.place))

    def heads(self) -> Iterator[StoredHead]:
        """The ends of all chains, as they stand. Raises CannotRead."""
        return self._rows(StoredHead, select(CHAIN_HEADS).order_by(CHAIN_HEADS.c.chain))

    def blocks(self) -> Iterator[StoredBlock]:
        """All blocks of readings in the order of writing, unpacked; lines None where that fails. Raises CannotRead."""
        try:
            for row in self._core.execute(
                select(READING_BLOCKS).order_by(READING_BLOCKS.c.id), execution_options={"yield_per": PAGE}
            ):
                yield _block(row)
        except FROM_SQLITE as error:
            raise CannotRead(str(as_trouble(self._path, error))) from error

    def survey(self) -> list[HourHeld]:
        """What is held of readings, by hour. Raises StoreUnreadable, StoreTrouble."""
        with told(self._path):
            return survey(self._core)

    def _rows(self, kind: type[_Row], wanted: Select[Any]) -> Iterator[_Row]:
        try:
            found = self._core.execute(wanted, execution_options={"yield_per": PAGE})
            names = tuple(found.keys())
            for row in found:
                yield kind(**dict(zip(names, row, strict=True)))
        except FROM_SQLITE as error:
            raise CannotRead(str(as_trouble(self._path, error))) from error


def _block(row: Row[Any]) -> StoredBlock:
    fields = row._asdict()
    form = fields.pop("form")
    if form != LOOSE:
        try:
            fields["places"], fields["lines"] = unpacked_row(row)
        except (NotPlain, TypeError):
            fields["places"] = fields["lines"] = None
    return StoredBlock(**fields)


def open_reader(path: Path) -> StoreReader:
    """Open a store's file for reading only, while the service runs or not.

    Raises StoreUnreadable when it is missing, damaged, none of ours or of another release; StoreTrouble when the
    system lets nobody read it.
    """
    return StoreReader(path)
