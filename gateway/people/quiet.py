"""Quiet hours of a person, by the clock on the wall in the person's own zone."""

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from gateway.vocabulary.moments import HOUR, MINUTE, Ms, as_utc

SHORTEST, LONGEST = 60, 12 * 60
"""Minutes: a night's sleep and some more, so that by day everybody can be told of everything (our choice)."""

_GRID: Ms = 15 * MINUTE
"""Clocks are changed at whole quarters of an hour UTC (the time zone database has no other change since 1972), so
between two of them a wall clock runs on evenly."""

_LOOKED_AHEAD: Ms = 26 * HOUR
"""A day, and what a change of the clocks may add to it."""


@dataclass(frozen=True, slots=True)
class QuietHours:
    """begins, ends: minutes after midnight; an end before the begin is of the next day."""

    begins: int
    ends: int

    @property
    def length(self) -> int:
        """Minutes by the clock on the wall, 1 to 1440."""
        return (self.ends - self.begins - 1) % (24 * 60) + 1

    def hold(self, at: Ms, zone: ZoneInfo) -> bool:
        """Whether the wall clock shows a time of them at this instant (ms UTC). An hour that a change repeats is in
        them both times; one that it leaves out is not waited for."""
        local = as_utc(at).astimezone(zone)
        return (local.hour * 60 + local.minute - self.begins) % (24 * 60) < self.length

    def until(self, now: Ms, zone: ZoneInfo, offset: Ms = 0) -> Ms | None:
        """The instant at which they end, None outside them. offset: ms that the wall clock is ahead of our instants."""
        at = now + offset
        if not self.hold(at, zone):
            return None
        inside = at - at % MINUTE
        for quarter in range(at - at % _GRID + _GRID, at + _LOOKED_AHEAD, _GRID):
            if not self.hold(quarter, zone):
                return next(m for m in range(inside, quarter + MINUTE, MINUTE) if not self.hold(m, zone)) - offset
            inside = quarter
        raise AssertionError("quiet hours of half a day at most end within a day")


NIGHT = QuietHours(22 * 60, 7 * 60)
"""When a caution is told to nobody whose own quiet hours are not written down (handbook 2.3: never between 22:00 and
07:00 local)."""
