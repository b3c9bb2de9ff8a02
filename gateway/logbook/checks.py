"""What each entry must agree with: itself, what stands beside it, and what came before it.

Each check is one function, so that a test can take one away and see that its damage then goes unseen.
"""

from array import array
from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from gateway.logbook.canonical import NotPlain
from gateway.logbook.chains import REFERENCE, Head, Heads, digest
from gateway.logbook.seals import part_of
from gateway.logbook.stored import StoredEntry, StoredPart
from gateway.vocabulary.entries import INSTALLATION, Entry


class Meant:
    """Hashes of entries by n, in 40 bytes each: a record may hold millions."""

    def __init__(self) -> None:
        self._numbers, self._hashes = array("q"), bytearray()

    def add(self, n: int, found: bytes) -> None:
        """The hash (32 bytes) of entry n; numbers that do not grow are passed over, they are bad in themselves."""
        if not self._numbers or n > self._numbers[-1]:
            self._numbers.append(n)
            self._hashes += found

    def get(self, n: int) -> bytes | None:
        """The hash of entry n; None when there is none."""
        place = bisect_left(self._numbers, n)
        if place == len(self._numbers) or self._numbers[place] != n:
            return None
        return bytes(self._hashes[32 * place : 32 * place + 32])


@dataclass(slots=True)
class Past:
    """What stood before the entry under check.

    heads: the chains so far. last: n of each chain's last entry. meant: hashes of the installation's entries, for the
    references to them.
    """

    heads: Heads = field(default_factory=Heads)
    last: dict[str, int] = field(default_factory=dict)
    meant: Meant = field(default_factory=Meant)


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """One entry under check: its row, the entry its bytes hold, those bytes and their true hash, its sealed parts."""

    row: StoredEntry
    entry: Entry
    data: bytes
    digest: str
    parts: Sequence[StoredPart]


Check: TypeAlias = Callable[[Meeting, Past], str | None]
"""None when all is well, else what disagrees, in plain words."""


def own_hash(meeting: Meeting, _: Past) -> str | None:
    """The hash beside the bytes is the hash of the bytes."""
    if meeting.row.digest != meeting.digest:
        return "its content does not have the hash that stands beside it"
    return None


def own_columns(meeting: Meeting, _: Past) -> str | None:
    """What the row repeats is what the bytes say."""
    names = ("n", "chain", "place", "now", "happening", "kind")
    other = [name for name in names if getattr(meeting.row, name) != getattr(meeting.entry, name)]
    return f"its row says something else than its content about: {', '.join(other)}" if other else None


def place_follows(meeting: Meeting, past: Past) -> str | None:
    """Places run within a chain without a gap."""
    due = past.heads.of(meeting.entry.chain).place + 1
    return f"its place in the chain is {meeting.entry.place}, {due} was due" if meeting.entry.place != due else None


def previous_follows(meeting: Meeting, past: Past) -> str | None:
    """The entry holds the hash of the one before it in its chain."""
    if meeting.entry.previous != past.heads.of(meeting.entry.chain).digest:
        return "it does not hold the hash of the entry before it in its chain: that one, or this one, was altered"
    return None


def parts_are_those_sealed(meeting: Meeting, _: Past) -> str | None:
    """Beside the entry stand the sealed parts it names: each with the hash it names, or marked as erased."""
    beside = {part.place: part.data for part in meeting.parts}
    due = range(len(meeting.entry.sealed))
    if len(beside) != len(meeting.parts) or not set(beside) <= set(due):
        return "a sealed part stands beside it that it does not name"
    for place in due:
        if place not in beside:
            return f"its sealed part {place + 1} is missing, and not marked as erased"
        if not _is_sealed(beside[place], meeting.entry.sealed[place]):
            return f"its sealed part {place + 1} is not the one that was sealed"
    return None


def reference_is_true(meeting: Meeting, past: Past) -> str | None:
    """A reference names an earlier entry of the installation's chain, by number and hash."""
    if meeting.entry.kind != REFERENCE:
        return None
    n, named = meeting.entry.body.get("n"), meeting.entry.body.get("digest")
    found = past.meant.get(n) if isinstance(n, int) else None
    if found is None or found.hex() != named:
        return f"it refers to entry {n} of the installation, which is not as it says"
    return None


CHECKS: Mapping[str, Check] = {
    check.__name__: check
    for check in (
        own_hash,
        own_columns,
        place_follows,
        previous_follows,
        parts_are_those_sealed,
        reference_is_true,
    )
}
"""All checks of an entry, by name, in the order in which they are asked."""


def go_on(meeting: Meeting, past: Past) -> None:
    """Move the past on to this entry as it stands here, so that what follows is judged for itself."""
    entry = meeting.entry
    past.heads.chains[entry.chain] = Head(entry.place, meeting.digest)
    past.last[entry.chain] = entry.n
    if entry.chain == INSTALLATION:
        past.meant.add(entry.n, bytes.fromhex(meeting.digest))


def _is_sealed(data: object, sealed: str) -> bool:
    if data is None:
        return True
    if not isinstance(data, bytes) or digest(data) != sealed:
        return False
    try:
        part_of(data)
    except NotPlain:
        return False
    return True
