"""Who is on duty: weekdays, dates, midnight, and both changes of the clocks."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from gateway.people.roster import Shift, changes_after, holes, on_duty
from gateway.vocabulary.moments import HOUR, MINUTE, from_datetime, from_rfc3339

LONDON = ZoneInfo("Europe/London")
DAY = Shift(person="day", days=tuple(range(7)), begins=8 * 60, ends=20 * 60)
NIGHT = Shift(person="night", days=tuple(range(7)), begins=20 * 60, ends=8 * 60)
WEEK = (DAY, NIGHT)


def test_a_shift_runs_over_midnight_and_belongs_to_the_day_on_which_it_begins() -> None:
    friday_night = (Shift(person="ines", days=(4,), begins=20 * 60, ends=8 * 60),)
    for at, who in (
        ("2026-03-06T19:59:59Z", None),
        ("2026-03-06T20:00:00Z", "ines"),
        ("2026-03-07T07:59:59Z", "ines"),
        ("2026-03-07T08:00:00Z", None),
        ("2026-03-06T03:00:00Z", None),
    ):
        assert on_duty(friday_night, from_rfc3339(at), LONDON) == who, at


def test_a_date_goes_before_a_weekday_and_the_last_row_before_the_others() -> None:
    holiday = Shift(person="ruth", dates=(date(2026, 12, 24),))
    assert on_duty((holiday, *WEEK), from_rfc3339("2026-12-24T09:00:00Z"), LONDON) == "ruth"
    assert on_duty((holiday, *WEEK), from_rfc3339("2026-12-25T09:00:00Z"), LONDON) == "day"
    assert on_duty((*WEEK, Shift(person="ines", days=(3,))), from_rfc3339("2026-12-24T09:00:00Z"), LONDON) == "ines"


@pytest.mark.parametrize("day", ["2026-03-29", "2026-10-25"])
@pytest.mark.parametrize("zone", ["Europe/London", "America/New_York", "Australia/Lord_Howe"])
def test_every_quarter_of_an_hour_of_a_change_of_the_clocks_is_as_the_wall_clock_says(day: str, zone: str) -> None:
    there = ZoneInfo(zone)
    begin = from_datetime(datetime.fromisoformat(day).replace(tzinfo=there) - timedelta(days=8))
    for at in range(begin, begin + 16 * 24 * HOUR, 15 * MINUTE):
        local = datetime.fromtimestamp(at / 1000, there)
        assert on_duty(WEEK, at, there) == ("day" if 8 <= local.hour < 20 else "night"), local


def test_every_hole_of_the_week_is_named() -> None:
    assert list(holes(WEEK)) == []
    assert next(iter(holes((DAY,)))) == "Mon 20:00 to Tue 08:00"
    assert len(list(holes((DAY,)))) == 7
    assert list(holes((Shift(person="a", days=(0, 1, 2, 3, 4)),))) == ["Sat 00:00 to Mon 00:00"]
    assert list(holes((Shift(person="a", dates=(date(2026, 1, 1),)),))) == ["at any time of an ordinary week"]


def test_the_next_change_is_the_instant_from_which_somebody_else_is_on_duty() -> None:
    london = ZoneInfo("Europe/London")
    week = (Shift(person="a", days=(0, 1, 2, 3, 4)), Shift(person="b", days=(5, 6), begins=8 * 60, ends=8 * 60))
    at = from_rfc3339
    assert changes_after(week, at("2026-03-04T12:00:00Z"), london) == at("2026-03-07T00:00:00Z"), "to nobody"
    assert changes_after(week, at("2026-03-07T00:00:00Z"), london) == at("2026-03-07T08:00:00Z")
    assert changes_after(week, at("2026-03-28T12:00:00Z"), london) == at("2026-03-30T07:00:00Z"), "b until 08:00 BST"


def test_a_roster_of_one_person_never_changes() -> None:
    always = (Shift(person="a", days=tuple(range(7))),)
    assert changes_after(always, from_rfc3339("2026-03-04T12:00:00Z"), ZoneInfo("Europe/London")) is None
    assert changes_after((), from_rfc3339("2026-03-04T12:00:00Z"), ZoneInfo("Europe/London")) is None
