"""What is gone from a record, against the entries that say so: sealed parts erased, hours of readings dropped.

Both go by age, readings by size too, and a person's parts at somebody's word; an entry says so before anything goes.
What is gone without one was taken out by another hand.
"""

from array import array
from bisect import bisect_left
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from gateway.logbook.report import Bad
from gateway.vocabulary.entries import Entry
from gateway.vocabulary.moments import Ms, rfc3339

READINGS_DROPPED = "readings-dropped"
"""Kind of the entry before readings go: ``before`` in its body (instant, ms UTC) ends what went."""
PARTS_ERASED = "parts-erased"
"""Kind of the entry before sealed parts go by age: ``before`` in its body, as above."""
PERSON_ERASED = "person-erased"
"""Kind of the entry with which a person's sealed parts went: ``count`` in its body says how many."""


@dataclass(slots=True)
class Gone:
    """Used once over a record, in the order of its entries. dropped, erased: the latest instant (ms UTC) before which
    readings and sealed parts went by an entry's word; at_word: how many parts went at somebody's word.

    Of each erased part two numbers are kept, 16 bytes: a record may hold a million.
    """

    dropped: Ms = 0
    erased: Ms = 0
    at_word: int = 0
    _numbers: "array[int]" = field(default_factory=lambda: array("q"))
    _moments: "array[int]" = field(default_factory=lambda: array("q"))

    def meet(self, entry: Entry, erased_parts: int) -> None:
        """One entry, and how many of its sealed parts are marked as erased."""
        match entry.kind, entry.body:
            case (kind, {"before": int(before)}) if kind == READINGS_DROPPED:
                self.dropped = max(self.dropped, before)
            case (kind, {"before": int(before)}) if kind == PARTS_ERASED:
                self.erased = max(self.erased, before)
            case (kind, {"count": int(count)}) if kind == PERSON_ERASED:
                self.at_word += count
            case _:
                pass
        for _ in range(erased_parts):
            self._numbers.append(entry.n)
            self._moments.append(entry.now)

    def troubles(self, hours: Mapping[str, tuple[Ms, int]]) -> Iterator[Bad]:
        """At the end: what is gone and no entry accounts for. hours: of each boat the last hour whose readings are
        gone (its beginning, ms UTC), and n of the entry that closed it."""
        for boat, (hour, n) in hours.items():
            if hour >= self.dropped:
                what = f"the readings of {boat} in the hour from {_instant(hour)} are gone, and no entry says so"
                yield Bad(n=n, chain=boat, what=what)
        first = bisect_left(self._moments, self.erased)
        young = len(self._moments) - first
        if young > self.at_word:
            parts = "1 sealed part is" if young == 1 else f"{young} sealed parts are"
            what = f"from here on {parts} marked as erased, and entries account for {self.at_word}"
            yield Bad(n=self._numbers[first], chain="", what=what)


def _instant(ms: Ms) -> str:
    """Also of a number that is no instant: what a record holds is not believed."""
    try:
        return rfc3339(ms)
    except (OverflowError, ValueError):
        return str(ms)
