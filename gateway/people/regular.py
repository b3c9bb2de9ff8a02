"""What a person may wish to get regularly, unasked: the round of all boats, the weekly word, the digest of cautions."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from gateway.vocabulary.moments import Ms, as_utc, from_datetime


class Regular(StrEnum):
    """Its kind, as the installer writes it in people.toml."""

    ROUND = "round"  # all boats of the person, worst first, every day
    WEEKLY = "weekly"  # that nothing is open, and the last proof, on a chosen day
    DIGEST = "digest"  # the day's cautions in one text, instead of each by itself


BY_DAY_FROM, BY_DAY_UNTIL = 9 * 60, 20 * 60
"""Minutes after midnight between which the first text to a person goes, in that person's zone: our choice, well inside
the hours in which strangers may be rung at all (08:00 to 21:00, 47 CFR 64.1200(c)(1)). It wakes nobody."""


def next_by_day(now: Ms, zone: ZoneInfo, offset: Ms) -> Ms:
    """The first instant from `now` on that lies between these hours. offset: ms that the wall clock is ahead of our
    instants."""
    local = as_utc(now + offset).astimezone(zone)
    if BY_DAY_FROM <= local.hour * 60 + local.minute < BY_DAY_UNTIL:
        return now
    return next_morning(now, zone, offset)


def next_morning(now: Ms, zone: ZoneInfo, offset: Ms) -> Ms:
    """The first instant after `now` at which those hours begin."""
    return Wish(kind=Regular.ROUND, minute=BY_DAY_FROM).next_after(now, zone, offset)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """One regular text. minute: after midnight, in the person's zone. weekday: 0 (Monday) to 6, None for every day."""

    kind: Regular
    minute: int
    weekday: int | None = None

    def next_after(self, after: Ms, zone: ZoneInfo, offset: Ms) -> Ms:
        """The next instant later than `after`. offset: ms that the wall clock is ahead of our instants."""
        local = as_utc(after + offset).astimezone(zone)
        for days in range(9):
            day = local.date() + timedelta(days=days)
            shown = datetime(day.year, day.month, day.day, self.minute // 60, self.minute % 60, tzinfo=zone)
            at = from_datetime(shown) - offset
            if at > after and self.weekday in (None, day.weekday()):
                return at
        raise AssertionError("every minute of every weekday comes within nine days")
