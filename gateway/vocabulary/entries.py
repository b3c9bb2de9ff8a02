"""Entries: facts worth keeping, as they stand in the logbook."""

from collections.abc import Mapping
from dataclasses import dataclass

from gateway.vocabulary.moments import Ms
from gateway.vocabulary.plain import Plain

INSTALLATION = "installation"
"""The name of the chain that holds what belongs to no single boat: people, rights, files, links."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SealedPart:
    """What stands beside an entry and can be erased without breaking the chain.

    salt: 32 hex digits. content: names, numbers, message bodies. The entry holds only the hash of both.
    """

    salt: str
    content: Plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One fact in one chain.

    n: 1, 2, 3 ... over the whole installation, without a gap. chain: a boat's key or ``installation``.
    place: 1, 2, 3 ... within its chain. now: instant, ms UTC. happening: number of the happening that caused it.
    kind, version, body: the fact, as its room wrote it. sealed: hashes (hex) of its sealed parts, in order.
    previous: hash (hex) of the previous entry of the chain, "" for the first.
    """

    n: int
    chain: str
    place: int
    now: Ms
    happening: int
    kind: str
    version: int
    body: Mapping[str, Plain]
    sealed: tuple[str, ...]
    previous: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """An entry as it goes to disk: itself, its canonical bytes, their hash, and its sealed parts.

    A part that has been erased is None when read back.
    """

    entry: Entry
    data: bytes
    digest: str
    parts: tuple[SealedPart | None, ...]
