"""Hours of readings against the entries that closed them: kept as recorded, changed, or no longer kept.

Blocks are met beside the entries, in the order of taking: what is held in memory is the hours of each boat that no
entry has closed yet, one or two, however long the record is.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from gateway.logbook.blocks import checksum, places_of
from gateway.logbook.canonical import NotPlain
from gateway.logbook.kept_readings import HOUR_KEPT, boat_of, hour_of, read_line, roll
from gateway.logbook.report import Bad, HoursSeen
from gateway.logbook.stored import StoredBlock
from gateway.vocabulary.entries import Entry
from gateway.vocabulary.moments import Ms, rfc3339


@dataclass(slots=True)
class Closed:
    """The last hour of a boat that an entry has closed: its beginning (ms UTC), n of the entry; and how the boat's
    hours were found so far."""

    hour: Ms
    n: int
    kept: int = 0
    changed: int = 0
    no_longer_kept: int = 0


@dataclass(slots=True)
class Hours:
    """Readings found in hours that no entry has closed yet, by boat and hour (instant of its beginning, ms UTC); by
    boat the last hour that is no longer kept, with n of the entry that closed it; and what was closed, by boat."""

    readings: int = 0
    found: dict[str, dict[Ms, tuple[int, str]]] = field(default_factory=dict)
    gone: dict[str, tuple[Ms, int]] = field(default_factory=dict)
    closed: dict[str, Closed] = field(default_factory=dict)

    def claim(self, entry: Entry) -> Iterator[Bad]:
        """Hold what an entry says of an hour against what was found in it; other entries are passed over."""
        if entry.kind != HOUR_KEPT:
            return
        match entry.body:
            case {"boat": str(boat), "hour": int(hour), "count": int(count), "digest": str(rolled)}:
                yield from self._close(entry, boat, hour, (count, rolled))
            case _:
                what = "it closes an hour, but does not say which, how many readings and with which hash"
                yield Bad(n=entry.n, chain=entry.chain, what=what)

    def _close(self, entry: Entry, boat: str, hour: Ms, recorded: tuple[int, str]) -> Iterator[Bad]:
        known = self.closed.get(boat)
        if known is not None and hour <= known.hour:
            what = f"it closes an hour of {boat} that entry {known.n} has closed already, or one before that"
            yield Bad(n=entry.n, chain=entry.chain, what=what)
            return
        closed = known or Closed(hour, entry.n)
        self.closed[boat] = closed
        closed.hour, closed.n = hour, entry.n
        found = self.found.get(boat, {}).pop(hour, None)
        if found == recorded:
            closed.kept += 1
        elif found is None:
            closed.no_longer_kept += 1
            if recorded[0]:
                self.gone[boat] = hour, entry.n
        else:
            closed.changed += 1
            told = f"readings of {boat} in the hour from {rfc3339(hour)} are not those recorded ({found[0]} found, "
            yield Bad(n=entry.n, chain=boat, what=f"{told}{recorded[0]} recorded)")
        yield from self._added(boat)

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
            of_boat = self.found.setdefault(boat_of(reading.signal), {})
            hour = hour_of(now)
            count, rolled = of_boat.get(hour, (0, ""))
            of_boat[hour] = (count + 1, roll(rolled, row))
        (first, first_now, _), (last, last_now, _) = read[0], read[-1]
        told = (block.first_happening, block.last_happening, block.first_now, block.last_now, block.count)
        if told != (first, last, first_now, last_now, len(rows)) or {boat_of(r.signal) for _, _, r in read} != {
            block.boat
        }:
            trouble = trouble or "its row says something else than its lines"
        return trouble

    def troubles(self) -> Iterator[Bad]:
        """At the end: readings in hours that were closed without them, or passed by."""
        for boat in list(self.found):
            yield from self._added(boat)

    def seen(self) -> tuple[HoursSeen, ...]:
        """How it stands with each boat's hours, by boat."""
        boats = sorted({*self.closed, *(boat for boat, hours in self.found.items() if hours)})
        return tuple(self._of(boat) for boat in boats)

    def _of(self, boat: str) -> HoursSeen:
        closed = self.closed.get(boat) or Closed(0, 0)
        return HoursSeen(
            boat=boat,
            kept=closed.kept,
            changed=closed.changed,
            no_longer_kept=closed.no_longer_kept,
            readings_not_closed=sum(count for count, _ in self.found.get(boat, {}).values()),
        )

    def _added(self, boat: str) -> Iterator[Bad]:
        """Readings in hours that no entry closed though a later hour of the boat, or that one, is closed."""
        hours, closed = self.found.get(boat, {}), self.closed.get(boat)
        for hour in sorted(hours):
            if closed is not None and hour <= closed.hour:
                del hours[hour]
                closed.changed += 1
                what = f"readings of {boat} stand in the hour from {rfc3339(hour)}, which had none when it passed"
                yield Bad(n=None, chain=boat, what=what)
