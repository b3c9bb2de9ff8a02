"""Verification: does what stands in a store agree with itself, and with what was published outside?

By itself a chain shows what was altered, missing or reordered inside it. A chain that was cut off at its end, or
rewritten from some entry on to its end, agrees with itself; only an end value published outside shows that.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from gateway.logbook.canonical import NotPlain
from gateway.logbook.chains import Head, digest, entry_of
from gateway.logbook.checks import CHECKS, Meeting, Past, go_on
from gateway.logbook.gone import Gone
from gateway.logbook.hours import Hours
from gateway.logbook.kept_readings import HOUR_KEPT
from gateway.logbook.report import Bad, ChainSeen, Report
from gateway.logbook.stored import CannotRead, Source, StoredBlock, StoredEntry, StoredPart


def verify(source: Source, published: Mapping[str, str] | None = None) -> Report:
    """Check a whole store. Never raises on what the store holds.

    published: for each chain an end value kept outside, as ``PLACE:HASH`` or the hash alone. With the place the
    report can tell a chain that was cut off from one that was rewritten.
    """
    seen = _Seen({chain: _end(value) for chain, value in (published or {}).items()})
    unreadable = ""
    try:
        blocks = _Blocks(source.blocks())
        seen.take_entries(source, blocks)
        seen.take_heads(source)
        seen.take_blocks(blocks.rest())
    except CannotRead as error:
        unreadable = str(error)
    else:
        seen.conclude()
    return seen.report(unreadable)


@dataclass(slots=True)
class _Seen:
    published: dict[str, Head]
    past: Past = field(default_factory=Past)
    hours: Hours = field(default_factory=Hours)
    gone: Gone = field(default_factory=Gone)
    first_bad: Bad | None = None
    bad: int = 0
    entries: int = 0
    counted: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    kept: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    erased: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    found: dict[str, int] = field(default_factory=dict)
    passed: set[str] = field(default_factory=set)

    def take_entries(self, source: Source, blocks: "_Blocks") -> None:
        parts = _Parts(source.parts())
        for row in source.entries():
            self.entries += 1
            n = row.n if type(row.n) is int else self.past.heads.n + 1
            for stray in parts.before(n):
                self.note(Bad(n=stray, chain="", what="a sealed part stands here, but no entry"))
            if n > self.past.heads.n + 1:
                missing = self.past.heads.n + 1
                self.note(Bad(n=missing, chain="", what=f"it is missing; the next that stands here is entry {n}"))
            elif n <= self.past.heads.n:  # only in a damaged file: rows are asked for by number
                self.note(Bad(n=n, chain="", what="it stands out of order"))
            self._take_entry(n, row, parts.of(n), blocks)
            self.past.heads.n = n
        for stray in parts.before(None):
            self.note(Bad(n=stray, chain="", what="a sealed part stands here, but no entry"))

    def _take_entry(self, n: int, row: StoredEntry, parts: list[StoredPart], blocks: "_Blocks") -> None:
        try:
            if not isinstance(row.data, bytes):
                raise NotPlain("no bytes")
            entry = entry_of(row.data)
        except NotPlain as error:
            self.note(Bad(n=n, chain=_plain(row.chain), what=f"its content cannot be read: {error}"))
            return
        meeting = Meeting(row=row, entry=entry, data=row.data, digest=digest(row.data), parts=parts)
        for check in CHECKS.values():
            what = check(meeting, self.past)
            if what is not None:
                self.note(Bad(n=n, chain=entry.chain, what=what))
        if entry.kind == HOUR_KEPT:
            self.take_blocks(blocks.up_to(entry.happening))
            for bad in self.hours.claim(entry):
                self.note(bad)
        go_on(meeting, self.past)
        self._count(meeting)

    def _count(self, meeting: Meeting) -> None:
        chain, place = meeting.entry.chain, meeting.entry.place
        self.counted[chain] += 1
        erased = sum(part.data is None for part in meeting.parts)
        self.erased[chain] += erased
        self.gone.meet(meeting.entry, erased)
        self.kept[chain] += len(meeting.parts) - erased
        end = self.published.get(chain)
        if end is not None and meeting.digest == end.digest and end.place in (0, place):
            self.found[chain] = place
        elif end is not None and place == end.place:
            self.passed.add(chain)

    def take_heads(self, source: Source) -> None:
        due = dict(self.past.heads.chains)
        for row in source.heads():
            chain = _plain(row.chain)
            head = due.pop(row.chain, None) if isinstance(row.chain, str) else None
            if head is None:
                what = "an end of a chain is noted that has no entry"
                self.note(Bad(n=None, chain=chain, what=what), may_follow=True)
            elif (row.place, row.digest) != (head.place, head.digest):
                what = "it is the last of its chain, but the noted end of the chain is another"
                self.note(Bad(n=self.past.last[chain], chain=chain, what=what), may_follow=True)
        for chain in due:
            what = "it is the last of its chain, but the end of the chain is not noted"
            self.note(Bad(n=self.past.last[chain], chain=chain, what=what), may_follow=True)

    def take_blocks(self, blocks: Iterable[StoredBlock]) -> None:
        for block in blocks:
            what = self.hours.take(block)
            if what is not None:
                self.note(Bad(n=None, chain=_plain(block.boat), what=f"readings block {_plain(block.id)}: {what}"))

    def conclude(self) -> None:
        for bad in (*self.hours.troubles(), *self.gone.troubles(self.hours.gone)):
            self.note(bad)
        for chain in self.published:
            if chain not in self.found:
                what = f"{self._against(chain)} (the chain ends with this entry)"
                self.note(Bad(n=self.past.last.get(chain), chain=chain, what=what), may_follow=True)

    def note(self, bad: Bad, *, may_follow: bool = False) -> None:
        """Count it, and keep it when it is the first. may_follow: it may be only what an entry named already led to
        (the end of a chain whose last entry cannot be read), and does not push that one aside."""
        self.bad += 1
        first = self.first_bad
        earlier = first is not None and first.n is not None and bad.n is not None and bad.n < first.n
        if first is None or (first.n is None and bad.n is not None) or (earlier and not may_follow):
            self.first_bad = bad

    def report(self, unreadable: str) -> Report:
        return Report(
            ok=not unreadable and not self.bad,
            unreadable=unreadable,
            first_bad=self.first_bad,
            bad=self.bad,
            entries=self.entries,
            readings=self.hours.readings,
            chains=tuple(self._chain(chain) for chain in sorted({*self.counted, *self.published})),
            hours=self.hours.seen(),
        )

    def _chain(self, chain: str) -> ChainSeen:
        head = self.past.heads.of(chain)
        return ChainSeen(
            chain=chain,
            entries=self.counted[chain],
            end=f"{head.place}:{head.digest}",
            parts_kept=self.kept[chain],
            parts_erased=self.erased[chain],
            agrees=(chain in self.found) if chain in self.published else None,
            against=self._against(chain),
        )

    def _against(self, chain: str) -> str:
        if chain not in self.published:
            return "checked against itself only"
        if chain in self.found:
            return f"checked against the end value from outside: it stands at place {self.found[chain]}, as published"
        end = self.published[chain]
        if not end.place:
            return "the end value from outside stands nowhere in it: the chain was cut off before it, or rewritten"
        if chain in self.passed:
            return f"place {end.place} holds another entry than the one published: the chain was rewritten"
        return f"it ends before place {end.place}, which was published: the chain was cut off"


class _Blocks:
    """Blocks of readings, met beside the entries."""

    def __init__(self, rows: Iterator[StoredBlock]) -> None:
        self._rows = rows
        self._next = next(rows, None)

    def up_to(self, happening: int) -> Iterator[StoredBlock]:
        """Those that begin with this happening or before. A block that does not say where it begins is met at once."""
        while self._next is not None:
            first = self._next.first_happening
            if isinstance(first, int) and first > happening:
                break
            yield self._next
            self._next = next(self._rows, None)

    def rest(self) -> Iterator[StoredBlock]:
        """All that were not met yet."""
        while self._next is not None:
            yield self._next
            self._next = next(self._rows, None)


class _Parts:
    """Sealed parts, met in the order of their entries."""

    def __init__(self, rows: Iterator[StoredPart]) -> None:
        self._rows = rows
        self._next = next(rows, None)

    def before(self, n: int | None) -> list[int | None]:
        """Numbers of entries that should have come before n (None: at all), and did not. A damaged number is None."""
        strays: list[int | None] = []
        while self._next is not None:
            named = self._next.n if type(self._next.n) is int else None
            if n is not None and named is not None and named >= n:
                break
            strays.append(named)
            self._next = next(self._rows, None)
        return strays

    def of(self, n: int) -> list[StoredPart]:
        """The sealed parts of entry n."""
        found = []
        while self._next is not None and self._next.n == n:
            found.append(self._next)
            self._next = next(self._rows, None)
        return found


def _end(value: str) -> Head:
    place, colon, last = value.strip().lower().rpartition(":")
    return Head(int(place) if colon and place.isdecimal() else 0, last)


def _plain(value: object) -> str:
    return value.encode("utf-8", "backslashreplace").decode() if isinstance(value, str) else repr(value)
