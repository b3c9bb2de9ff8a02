"""Hash chains: one per boat and one for the installation, each entry holding the hash of the one before it.

An entry's hash is SHA-256 (FIPS 180-4) over its canonical bytes (RFC 8785), which hold everything: its numbers, its
body, the hashes of its sealed parts and the hash of its predecessor. Whoever changes one entry would have to rewrite
all that follow in its chain.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

from gateway.logbook.canonical import NotPlain, read, write
from gateway.logbook.seals import seal_hash
from gateway.vocabulary.entries import Entry, SealedPart, Written
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.plain import Plain

REFERENCE = "reference"
"""Kind of the entry that a boat's chain holds when the matter itself stands in the installation's chain."""
REFERENCE_VERSION = 1


class DoesNotFollow(ValueError):
    """An entry does not continue its chain. The message names the entry and what disagrees."""


@dataclass(frozen=True, slots=True)
class Head:
    """The end of one chain: place and hash (hex) of its last entry; place 0 and "" before the first."""

    place: int
    digest: str


EMPTY = Head(0, "")


@dataclass(slots=True)
class Heads:
    """The ends of all chains, and n of the last entry of the installation (0 before the first). Mutable."""

    n: int = 0
    chains: dict[str, Head] = field(default_factory=dict)

    def of(self, chain: str) -> Head:
        """The end of one chain; of a chain without entries, `EMPTY`."""
        return self.chains.get(chain, EMPTY)


def heads_plain(heads: Heads) -> Plain:
    """The heads as plain data, for a snapshot: ``{"n": n, "chains": [[chain, place, digest], ...]}``."""
    return {"n": heads.n, "chains": [[chain, head.place, head.digest] for chain, head in heads.chains.items()]}


def heads_of(plain: Plain) -> Heads:
    """The inverse of `heads_plain`. Raises KeyError, TypeError or ValueError for anything else."""
    known: Any = plain
    return Heads(int(known["n"]), {str(chain): Head(int(place), str(last)) for chain, place, last in known["chains"]})


def digest(data: bytes) -> str:
    """SHA-256 as 64 hex digits."""
    return sha256(data).hexdigest()


def entry_bytes(entry: Entry) -> bytes:
    """Canonical JSON of the whole entry. Raises NotPlain when the body is not plain."""
    return write(
        {
            "n": entry.n,
            "chain": entry.chain,
            "place": entry.place,
            "now": entry.now,
            "happening": entry.happening,
            "kind": entry.kind,
            "version": entry.version,
            "body": entry.body,
            "sealed": entry.sealed,
            "previous": entry.previous,
        }
    )


def entry_of(data: bytes) -> Entry:
    """The entry that canonical bytes hold: the strict inverse of `entry_bytes`. Raises NotPlain."""
    plain = read(data)
    if not isinstance(plain, Mapping) or set(plain) != set(_SHAPE):
        raise NotPlain(f"not an entry: it must hold exactly {', '.join(_SHAPE)}")
    for name, kind in _SHAPE.items():
        if type(plain[name]) is not kind:
            raise NotPlain(f"not an entry: {name} is {plain[name]!r}")
    sealed = plain["sealed"]
    if any(type(item) is not str for item in sealed):  # type: ignore[union-attr]
        raise NotPlain("not an entry: a sealed hash is no text")
    return Entry(**{**plain, "sealed": tuple(sealed)})  # type: ignore[arg-type]


_SHAPE: dict[str, type] = {
    "n": int,
    "chain": str,
    "place": int,
    "now": int,
    "happening": int,
    "kind": str,
    "version": int,
    "body": dict,
    "sealed": list,
    "previous": str,
}


def link(
    heads: Heads,
    *,
    chain: str,
    now: Ms,
    happening: int,
    kind: str,
    version: int,
    body: Mapping[str, Plain],
    parts: Sequence[SealedPart] = (),
) -> Written:
    """Make the next entry of a chain and move `heads` on to it.

    now: instant, ms UTC. Raises NotPlain, and then the heads have not moved.
    """
    head = heads.of(chain)
    entry = Entry(
        n=heads.n + 1,
        chain=chain,
        place=head.place + 1,
        now=now,
        happening=happening,
        kind=kind,
        version=version,
        body=body,
        sealed=tuple(seal_hash(part) for part in parts),
        previous=head.digest,
    )
    data = entry_bytes(entry)
    written = Written(entry=entry, data=data, digest=digest(data), parts=tuple(parts))
    _advance(heads, written)
    return written


def refer(heads: Heads, *, chain: str, to: Written) -> Written:
    """Make an entry in a boat's chain that refers to one of the installation's chain, and move `heads` on.

    Its body is ``{"n": number of the entry meant, "digest": hash of the entry meant}``; instant and happening are
    those of the entry meant.
    """
    return link(
        heads,
        chain=chain,
        now=to.entry.now,
        happening=to.entry.happening,
        kind=REFERENCE,
        version=REFERENCE_VERSION,
        body={"n": to.entry.n, "digest": to.digest},
    )


def accept(heads: Heads, written: Written) -> None:
    """Move `heads` on to an entry read back. Raises DoesNotFollow, and then the heads have not moved."""
    entry, head = written.entry, heads.of(written.entry.chain)
    found = None
    if entry.n != heads.n + 1:
        found = f"entry {heads.n + 1} was expected"
    elif entry.place != head.place + 1:
        found = f"its place is {entry.place}, place {head.place + 1} was expected"
    elif entry.previous != head.digest:
        found = "it does not hold the hash of the entry before it"
    elif digest(written.data) != written.digest:
        found = "its bytes do not have the hash that stands beside them"
    if found:
        raise DoesNotFollow(f"entry {entry.n} of chain {entry.chain!r} does not follow: {found}")
    _advance(heads, written)


def _advance(heads: Heads, written: Written) -> None:
    heads.n = written.entry.n
    heads.chains[written.entry.chain] = Head(written.entry.place, written.digest)
