"""What is due to be dropped: readings by age and by size, sealed parts by age.

Readings go by whole UTC hours, because an hour is what an entry vouches for: an hour is there as recorded, or is not
kept any more; never a part of one.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from gateway.history.settings import Keeping
from gateway.vocabulary.moments import DAY, HOUR, Ms, as_utc, from_datetime

ALWAYS_KEPT: Ms = 2 * DAY
"""Of readings, whatever their size: what led to an alarm of last night must be there in the morning (our choice)."""

MEGABYTE = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class HourHeld:
    """The readings of all boats in one UTC hour. hour: instant of its beginning. size: bytes. loose: blocks that are
    not packed yet. first: number of its first block."""

    hour: Ms
    first: int
    readings: int
    size: int
    loose: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Dropping:
    """Readings taken before `before` (an instant at the beginning of an hour) are due to go. because: age or size."""

    before: Ms
    hours: int
    readings: int
    size: int
    because: str


def readings_due(held: Sequence[HourHeld], now: Ms, rules: Keeping) -> Dropping | None:
    """What is due to be dropped of these hours; None when nothing is."""
    begun = now - now % HOUR
    by_age = begun - rules.readings_days * DAY
    by_size = min(_fitting(held, rules.readings_megabytes * MEGABYTE), begun - ALWAYS_KEPT)
    before = max(by_age, by_size)
    gone = [hour for hour in held if hour.hour < before]
    if not gone:
        return None
    return Dropping(
        before=before,
        hours=len(gone),
        readings=sum(hour.readings for hour in gone),
        size=sum(hour.size for hour in gone),
        because="age" if by_age >= by_size else "size",
    )


def _fitting(held: Sequence[HourHeld], most: int) -> Ms:
    """The hour from which on everything fits into so many bytes; 0 when all of it does."""
    size = 0
    for hour in sorted(held, key=lambda each: each.hour, reverse=True):
        size += hour.size
        if size > most:
            return hour.hour + HOUR
    return 0


def sealed_due(now: Ms, rules: Keeping) -> Ms:
    """The instant before which sealed parts are due to be erased: so many calendar months ago, at 00:00 UTC; where
    that month is shorter, on its last day."""
    today = as_utc(now).replace(hour=0, minute=0, second=0, microsecond=0)
    months = today.year * 12 + today.month - 1 - rules.sealed_months
    year, month = divmod(months, 12)
    for day in range(today.day, today.day - 4, -1):
        try:
            return from_datetime(today.replace(year=year, month=month + 1, day=day))
        except ValueError:  # the 29th to 31st of a shorter month
            continue
    raise ValueError(f"no day of month {month + 1} in {year} for the {today.day}th")


def to_pack(held: Sequence[HourHeld], now: Ms) -> list[HourHeld]:
    """Hours that are over and hold blocks not packed yet, oldest first. The last two wait: their readings may still
    be on the way to the disk (our choice)."""
    over = now - now % HOUR - 2 * HOUR
    return sorted((hour for hour in held if hour.loose and hour.hour <= over), key=lambda each: each.hour)


def bytes_a_reading(held: Sequence[HourHeld], *, packed: bool) -> float | None:
    """How many bytes a reading takes, in hours that are packed or in those that are not; None without any."""
    these = [hour for hour in held if (hour.loose == 0) is packed]
    readings = sum(hour.readings for hour in these)
    return sum(hour.size for hour in these) / readings if readings else None
