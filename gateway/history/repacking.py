"""Many small blocks of one hour become one packed block a boat, in the same order of taking."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from gateway.history.packing import deflated_places, packed
from gateway.logbook.blocks import Block, checksum, pack, places_of
from gateway.logbook.canonical import NotPlain
from gateway.logbook.kept_readings import read_line
from gateway.vocabulary.moments import HOUR, Ms
from gateway.vocabulary.readings import Reading

LARGEST_GROUP = 20_000
"""Readings packed at one go: more are packed in several groups, so that going through them again never holds more in
memory than a few MB, and one step never takes long (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseBlock:
    """A block as one commit left it, unpacked: its number, the number of its commit's first block, places, lines."""

    id: int
    batch: int
    last_now: Ms
    places: bytes | None
    lines: bytes
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedBlock:
    """A block as it is kept from now on. id, batch: its number, and that of the first of its group. block: what it
    holds, unpacked; places, lines: the packed form; checksum: over the unpacked one."""

    id: int
    batch: int
    block: Block
    places: bytes | None
    lines: bytes
    checksum: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Repacked:
    """These blocks take the place of all from number `first` to `last`, of which there were `count`."""

    first: int
    last: int
    count: int
    blocks: tuple[PackedBlock, ...]


def group_of(loose: Iterable[LooseBlock]) -> list[LooseBlock]:
    """From the beginning of a run of blocks, in order, those that are packed together: whole commits of one hour, and
    no more readings than `LARGEST_GROUP` unless the first commit alone has more."""
    taken: list[LooseBlock] = []
    readings = 0
    for block in loose:
        if taken and block.last_now // HOUR != taken[0].last_now // HOUR:
            break
        if taken and block.batch != taken[-1].batch and readings + block.count > LARGEST_GROUP:
            break
        taken.append(block)
        readings += block.count
    return taken


def repacked(group: Sequence[LooseBlock]) -> Repacked:
    """The group packed. Raises NotPlain when a line or place of it is damaged: then it stays as it is."""
    rows = [row for _, commit in groupby(group, lambda each: each.batch) for row in _in_order(commit)]
    first = group[0].id
    blocks = tuple(_packed(number, first, block) for number, block in enumerate(pack(rows), first))
    if len(blocks) > len(group):
        raise NotPlain("more boats than blocks")
    if sum(block.block.count for block in blocks) != sum(block.count for block in group):
        raise NotPlain("the blocks do not hold as many readings as they say")
    return Repacked(first=first, last=group[-1].id, count=len(group), blocks=blocks)


def _in_order(commit: Iterable[LooseBlock]) -> list[tuple[int, Ms, Reading]]:
    """The readings of one commit in the order of taking."""
    placed: list[tuple[int, tuple[int, Ms, Reading]]] = []
    for block in commit:
        lines = block.lines.split(b"\n")
        placed += zip(places_of(block.places, len(lines)), map(read_line, lines), strict=True)
    placed.sort(key=lambda each: each[0])
    return [row for _, row in placed]


def _packed(number: int, batch: int, block: Block) -> PackedBlock:
    return PackedBlock(
        id=number,
        batch=batch,
        block=block,
        places=deflated_places(block.places),
        lines=packed(block.lines),
        checksum=checksum(number, batch, block.places, block.lines),
    )
