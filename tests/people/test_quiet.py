"""Quiet hours against the time zone database: every minute of both time changes."""

from zoneinfo import ZoneInfo

import pytest

from gateway.people.quiet import QuietHours
from gateway.vocabulary.moments import HOUR, MINUTE, Ms, as_utc, from_rfc3339
from tests.effort import some_of

NIGHT = QuietHours(22 * 60, 7 * 60)
LONDON = ZoneInfo("Europe/London")
CHANGES = [  # the day before each change, UTC
    ("Europe/London", "2026-03-28T12:00:00Z"),
    ("Europe/London", "2026-10-24T12:00:00Z"),
    ("America/New_York", "2026-03-07T12:00:00Z"),
    ("America/New_York", "2026-10-31T12:00:00Z"),
    ("Australia/Lord_Howe", "2026-04-04T00:00:00Z"),  # by half an hour
    ("Australia/Lord_Howe", "2026-10-03T00:00:00Z"),
    ("Pacific/Chatham", "2026-09-26T00:00:00Z"),  # an offset of three quarters of an hour
]
HOURS = [(22 * 60, 7 * 60), (23 * 60 + 30, 60 + 30), (60, 2 * 60), (60 + 15, 6 * 60), (14 * 60, 2 * 60 + 30)]


def at(text: str) -> Ms:
    return from_rfc3339(text)


def shown_inside(moment: Ms, zone: ZoneInfo, begins: int, ends: int) -> bool:
    """By the wall clock alone, in the words of the file."""
    local = as_utc(moment).astimezone(zone)
    minute = local.hour * 60 + local.minute
    return begins <= minute < ends if begins < ends else minute >= begins or minute < ends


@pytest.mark.parametrize(("zone", "before"), some_of(CHANGES, 2))
@pytest.mark.parametrize(("begins", "ends"), some_of(HOURS, 2))
def test_every_minute_of_both_time_changes_ends_when_the_wall_clock_first_shows_another_time(
    zone: str, before: str, begins: int, ends: int
) -> None:
    where, quiet = ZoneInfo(zone), QuietHours(begins, ends)
    minutes = range(at(before), at(before) + 36 * HOUR, MINUTE)
    inside = {minute: shown_inside(minute, where, begins, ends) for minute in minutes}
    end: Ms | None = None
    for minute in reversed(minutes):
        if not inside[minute]:
            end = minute
            assert quiet.until(minute, where) is None
        elif end is not None:
            assert quiet.until(minute, where) == end
            assert quiet.until(minute + 59_999, where) == end


def test_the_longest_night_has_an_hour_more_and_the_shortest_one_less() -> None:
    assert NIGHT.until(at("2026-10-24T21:00:00Z"), LONDON) == at("2026-10-25T07:00:00Z"), "ten hours"
    assert NIGHT.until(at("2026-03-28T22:00:00Z"), LONDON) == at("2026-03-29T06:00:00Z"), "eight hours"


def test_the_begin_is_inside_and_the_end_is_not() -> None:
    assert NIGHT.until(at("2026-01-05T21:59:59Z"), LONDON) is None
    assert NIGHT.until(at("2026-01-05T22:00:00Z"), LONDON) == at("2026-01-06T07:00:00Z")
    assert NIGHT.until(at("2026-01-06T06:59:59Z"), LONDON) == at("2026-01-06T07:00:00Z")
    assert NIGHT.until(at("2026-01-06T07:00:00Z"), LONDON) is None


def test_a_wall_clock_that_is_ahead_of_our_instants_ends_them_so_much_sooner() -> None:
    assert NIGHT.until(at("2026-01-05T22:00:00Z"), LONDON, HOUR) == at("2026-01-06T06:00:00Z")
