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
    left = list(would)
    rows: list[tuple[Which, Line]] = []
    for line in was:
        match = _first_like(line, left)
        if match is None:
            rows.append((Which.WAS, line))
        else:
            left.pop(match)
            rows.append((Which.BOTH, line))
    rows += [(Which.WOULD_BE, line) for line in left]
    rows.sort(key=lambda row: row[1].now)
    begins = next((place for place, (which, _) in enumerate(rows) if which is not Which.BOTH), len(rows))
    if different is not None:
        begins = min(begins, next((p for p, (_, line) in enumerate(rows) if line.now > different.now), len(rows)))
    return [Beside(which=which, line=line, assumed=place >= begins) for place, (which, line) in enumerate(rows)]


def _first_like(line: Line, others: Sequence[Line]) -> int | None:
    """The place of the first line that says the same; they stand in order of time."""
    for place, other in enumerate(others):
        if nearly_same(line, other):
            return place
        if other.now > line.now + NEARLY:
            return None
    return None
