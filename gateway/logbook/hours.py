"""Hours of readings against the entries that closed them: kept as recorded, changed, or no longer kept.

Holds two small rows in memory for each boat and closed hour (about 17,500 for a boat in two years).
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from gateway.logbook.blocks import checksum, places_of
from gateway.logbook.canonical import NotPlain
from gateway.logbook.kept_readings import HOUR_KEPT, boat_of, hour_of, read_line, roll
from gateway.logbook.report import Bad, HoursSeen
from gateway.logbook.stored import StoredBlock
from gateway.vocabulary.entries import Entry
from gateway.vocabulary.moments import Ms, rfc3339


@dataclass(frozen=True, slots=True)
class Claim:
    """What an entry says of an hour: n of the entry, how many readings, their rolled hash."""

    n: int
    count: int
    digest: str


@dataclass(slots=True)
class Hours:
    """Claims of the entries and readings found, by boat and hour (instant of its beginning, ms UTC)."""

    readings: int = 0
    claims: dict[tuple[str, Ms], Claim] = field(default_factory=dict)
    found: dict[tuple[str, Ms], tuple[int, str]] = field(default_factory=dict)

    def claim(self, entry: Entry) -> str | None:
        """Note what an entry says of an hour; other entries are passed over. Returns what is wrong with it, or None."""
        if entry.kind != HOUR_KEPT:
            return None
        match entry.body:
            case {"boat": str(boat), "hour": int(hour), "count": int(count), "digest": str(rolled)}:
                if (boat, hour) in self.claims:
                    return f"it closes an hour of {boat} that entry {self.claims[boat, hour].n} has closed already"
                self.claims[boat, hour] = Claim(entry.n, count, rolled)
                return None
        return "it closes an hour, but does not say which, how many readings and with which hash"

    def take(self, block: StoredBlock) -> str | None:
        """Roll the lines of a block into their hours. Returns what is wrong with the block itself, or None."""
        lines, places = block.lines, block.places
        if not isinstance(lines, bytes) or not (places is None or isinstance(places, bytes)):
            return "it holds no lines"
        if not isinstance(block.id, int) or not isinstance(block.batch, int):
            return "it does not say where it stands"
        fits = checksum(block.id, block.batch, places, lines) == block.checksum
        trouble = None if fits else "its checksum does not fit"
        rows = lines.split(b"\n")
        try:
            places_of(places, len(rows))
            read = [read_line(row) for row in rows]
        except NotPlain as error:
            return str(error)
        self.readings += len(rows)
        for row, (_, now, reading) in zip(rows, read, strict=True):
            key = (boat_of(reading.signal), hour_of(now))
            count, rolled = self.found.get(key, (0, ""))
            self.found[key] = (count + 1, roll(rolled, row))
        (first, first_now, _), (last, last_now, _) = read[0], read[-1]
        told = (block.first_happening, block.last_happening, block.first_now, block.last_now, block.count)
        if told != (first, last, first_now, last_now, len(rows)) or {boat_of(r.signal) for _, _, r in read} != {
            block.boat
        }:
            trouble = trouble or "its row says something else than its lines"
        return trouble

    def troubles(self) -> Iterator[Bad]:
        """Every closed hour whose readings are not those recorded."""
        for (boat, hour), claim in self.claims.items():
            found = self.found.get((boat, hour))
            if found is not None and found != (claim.count, claim.digest):
                told = f"readings of {boat} in the hour from {rfc3339(hour)} are not those recorded ({found[0]} found, "
                yield Bad(n=claim.n, chain=boat, what=f"{told}{claim.count} recorded)")
        for boat, hour in self._added():
            what = f"readings of {boat} stand in the hour from {rfc3339(hour)}, which had none when it passed"
            yield Bad(n=None, chain=boat, what=what)

    def seen(self) -> tuple[HoursSeen, ...]:
        """How it stands with each boat's hours, by boat."""
        kept: dict[str, int] = defaultdict(int)
        changed: dict[str, int] = defaultdict(int)
        gone: dict[str, int] = defaultdict(int)
        waiting: dict[str, int] = defaultdict(int)
        for (boat, hour), claim in self.claims.items():
            found = self.found.get((boat, hour), (0, ""))
            if found == (claim.count, claim.digest):
                kept[boat] += 1
            elif found[0] == 0:
                gone[boat] += 1
            else:
                changed[boat] += 1
        added = set(self._added())
        for boat, _ in added:
            changed[boat] += 1
        for (boat, hour), (count, _) in self.found.items():
            if (boat, hour) not in self.claims and (boat, hour) not in added:
                waiting[boat] += count
        return tuple(
            HoursSeen(
                boat=boat,
                kept=kept[boat],
                changed=changed[boat],
                no_longer_kept=gone[boat],
                readings_not_closed=waiting[boat],
            )
            for boat in sorted({*kept, *changed, *gone, *waiting})
        )

    def _added(self) -> list[tuple[str, Ms]]:
        """Hours with readings that no entry closed though a later hour of the boat is closed."""
        last: dict[str, Ms] = {}
        for boat, hour in self.claims:
            last[boat] = max(hour, last.get(boat, hour))
        return [key for key in self.found if key not in self.claims and key[1] < last.get(key[0], key[1])]
