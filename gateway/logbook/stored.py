"""Rows of the store as verification meets them: nothing about them is believed, so every field may be anything.

The store's door fills these in; whoever verifies sees plain values only.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol


class CannotRead(Exception):
    """The store's file gave no rows. The message says what the file said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredEntry:
    """A row of an entry: its canonical bytes, their hash, and what the row repeats of it."""

    n: object
    chain: object
    place: object
    now: object
    happening: object
    kind: object
    data: object
    digest: object


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredPart:
    """A row of a sealed part of entry n. data: canonical bytes, None when erased."""

    n: object
    place: object
    data: object


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredHead:
    """A row of a chain's end."""

    chain: object
    place: object
    digest: object


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredBlock:
    """A row of a block of readings: its number, the number of the first block of its commit, the block itself
    (`gateway.logbook.blocks.Block` says what each field should be), and the checksum over them."""

    id: object
    batch: object
    boat: object
    first_happening: object
    last_happening: object
    first_now: object
    last_now: object
    count: object
    places: object
    lines: object
    checksum: object


class Source(Protocol):
    """One unchanging view of a store. Each method may raise CannotRead, also half way through."""

    def entries(self) -> Iterator[StoredEntry]:
        """All entries, by n."""
        ...

    def parts(self) -> Iterator[StoredPart]:
        """All sealed parts, by n and place."""
        ...

    def heads(self) -> Iterator[StoredHead]:
        """The ends of all chains."""
        ...

    def blocks(self) -> Iterator[StoredBlock]:
        """All blocks of readings, in the order in which they were written."""
        ...
