"""What `heavingline check` prints of the sums: what each rests on, what it lacks, whose texts carry it. Plain text."""

from collections.abc import Iterator, Mapping, Sequence

from gateway.cli.check_sheet import wrapped
from gateway.installation.describing_sums import Rests


def sums_lines(rows: Sequence[Rests], lacking: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """A block for each boat. lacking: by boat's key, the kinds of sums that she has none of."""
    yield "What is reckoned, and from what (said where fresh values support it; else a text says what is missing):"
    for boat, none_of in lacking.items():
        yield f"  {boat}"
        for row in rows:
            if row.boat == boat:
                yield from _one(row)
        if none_of:
            yield from wrapped(f"nothing is reckoned of: {', '.join(none_of)}", "    ")


def _one(row: Rests) -> Iterator[str]:
    kind = f" ({row.reckons})" if row.sum != row.reckons else ""
    yield from wrapped(f"{row.sum}{kind}: {', '.join(row.on) or 'nothing yet'}", "    ")
    if row.missing:
        yield from wrapped(f"MISSING: {'; '.join(row.missing)}", "      ")
    if row.unsaid:
        yield from wrapped(f"could say more with: {'; '.join(row.unsaid)}", "      ")
    told = f"in the texts of {', '.join(row.alarms)}" if row.alarms else "in answers alone, in no alarm's text"
    yield from wrapped(told, "      ")
