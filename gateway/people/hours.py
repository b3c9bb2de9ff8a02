"""Hours of the week, by the clock on a boat's wall. What runs over midnight belongs to the day on which it begins."""

from dataclasses import dataclass
from datetime import datetime, timedelta

MINUTES_A_DAY = 24 * 60


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekHours:
    """days: 0 Monday to 6 Sunday, empty for every day. begins, ends: minutes after midnight; equal: from then until the
    same time of the next day."""

    days: tuple[int, ...] = ()
    begins: int = 0
    ends: int = 0

    @property
    def length(self) -> int:
        """Minutes by the clock on the wall, 1 to 1440."""
        return (self.ends - self.begins - 1) % MINUTES_A_DAY + 1

    def cover(self, local: datetime) -> bool:
        """Whether this time of the wall clock lies in them. The hour that a change of the clocks repeats does so both
        times."""
        for day in (local.date(), local.date() - timedelta(days=1)):
            minute = local.hour * 60 + local.minute + (local.date() - day).days * MINUTES_A_DAY
            if (not self.days or day.weekday() in self.days) and self.begins <= minute < self.begins + self.length:
                return True
        return False
