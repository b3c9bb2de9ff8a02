"""Who is on duty: a roster by weekday and by date, in the boat's own time.

A shift belongs to the day on which it begins, also where it runs over midnight. A date goes before a weekday, and of
several that fit the last one of the file counts (our choice: what was added for a holiday stands below).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from gateway.vocabulary.moments import Ms, as_utc, from_datetime

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MINUTES_A_DAY = 24 * 60

LOOKED_AHEAD = 15
"""Days: two weeks and today, so that every weekday comes twice and a holiday of a week ends (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """One row. person: random id. days: 0 Monday to 6 Sunday; dates: single days. begins, ends: minutes after midnight
    by the clock on the wall; equal: from then until the same time of the next day."""

    person: str
    days: tuple[int, ...] = ()
    dates: tuple[date, ...] = ()
    begins: int = 0
    ends: int = 0

    @property
    def length(self) -> int:
        """Minutes by the clock on the wall, 1 to 1440."""
        return (self.ends - self.begins - 1) % MINUTES_A_DAY + 1

    def covers(self, local: datetime, *, by_date: bool) -> bool:
        """Whether it runs at this time of the wall clock; by one of its dates, or by one of its weekdays."""
        for day in (local.date(), local.date() - timedelta(days=1)):
            minute = local.hour * 60 + local.minute + (local.date() - day).days * MINUTES_A_DAY
            named = day in self.dates if by_date else day.weekday() in self.days
            if named and self.begins <= minute < self.begins + self.length:
                return True
        return False


def on_duty(roster: Sequence[Shift], now: Ms, zone: ZoneInfo) -> str | None:
    """The id of whoever is on duty at this instant (ms UTC), None where the roster has nobody then."""
    local = as_utc(now).astimezone(zone)
    for by_date in (True, False):
        for shift in reversed(roster):
            if shift.covers(local, by_date=by_date):
                return shift.person
    return None


def changes_after(roster: Sequence[Shift], now: Ms, zone: ZoneInfo) -> Ms | None:
    """The next instant (ms UTC) from which somebody else is on duty than now, or nobody; None when that does not come
    within LOOKED_AHEAD days."""
    today, present = as_utc(now).astimezone(zone).date(), on_duty(roster, now, zone)
    minutes = sorted({shift.begins for shift in roster} | {shift.ends for shift in roster})
    for ahead in range(LOOKED_AHEAD):
        day = today + timedelta(days=ahead)
        for minute in minutes:
            at = from_datetime(datetime(day.year, day.month, day.day, minute // 60, minute % 60, tzinfo=zone))
            if at > now and on_duty(roster, at, zone) != present:
                return at
    return None


def holes(roster: Sequence[Shift]) -> Iterator[str]:
    """The times of an ordinary week at which nobody is on duty: "Sat 08:00 to Mon 08:00"."""
    free = [True] * (7 * MINUTES_A_DAY)
    for shift in roster:
        for day in shift.days:
            begin = day * MINUTES_A_DAY + shift.begins
            for minute in range(begin, begin + shift.length):
                free[minute % len(free)] = False
    if all(free):
        yield "at any time of an ordinary week"
        return
    starts = [m for m in range(len(free)) if free[m] and not free[m - 1]]
    for start in starts:
        end = next(m for m in range(start + 1, start + len(free) + 1) if not free[m % len(free)])
        yield f"{_said(start)} to {_said(end)}"


def _said(minute: int) -> str:
    day, rest = divmod(minute % (7 * MINUTES_A_DAY), MINUTES_A_DAY)
    return f"{DAYS[day]} {rest // 60:02}:{rest % 60:02}"
