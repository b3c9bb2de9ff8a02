"""What was, beside what would have been."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from gateway.rehearsal.lines import NEARLY, Line, nearly_same
from gateway.rehearsal.replaying import Difference


class Which(StrEnum):
    """On which side a line stands."""

    BOTH = "both"
    WAS = "was"
    WOULD_BE = "would be"


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """One line. assumed: it stands at or behind the first difference, where what would be is assumed."""

    which: Which
    line: Line
    assumed: bool


def side_by_side(was: Sequence[Line], would: Sequence[Line], different: Difference | None) -> list[Beside]:
    """Both in order of time; a line that stands on both sides, within a few seconds, once. Each side in its own order
    of time."""
    matched: set[int] = set()
    rows: list[tuple[Which, Line]] = []
    begin = 0
    for line in was:
        while begin < len(would) and would[begin].now < line.now - NEARLY:
            begin += 1
        place = _first_like(line, would, begin, matched)
        rows.append((Which.WAS if place is None else Which.BOTH, line))
        if place is not None:
            matched.add(place)
    rows += [(Which.WOULD_BE, line) for place, line in enumerate(would) if place not in matched]
    rows.sort(key=lambda row: row[1].now)
    begins = next((place for place, (which, _) in enumerate(rows) if which is not Which.BOTH), len(rows))
    if different is not None:
        begins = min(begins, next((p for p, (_, line) in enumerate(rows) if line.now > different.now), len(rows)))
    return [Beside(which=which, line=line, assumed=place >= begins) for place, (which, line) in enumerate(rows)]


def _first_like(line: Line, others: Sequence[Line], begin: int, but: set[int]) -> int | None:
    """The place of the first line from `begin` on that says the same and is not among these; None for none."""
    for place in range(begin, len(others)):
        if others[place].now > line.now + NEARLY:
            return None
        if place not in but and nearly_same(line, others[place]):
            return place
    return None
