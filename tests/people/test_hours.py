"""Hours of the week, by a wall clock."""

from datetime import datetime

import pytest

from gateway.people.hours import WeekHours

FRIDAY_NIGHT = WeekHours(days=(4,), begins=22 * 60, ends=7 * 60)


@pytest.mark.parametrize(
    ("local", "inside"),
    [
        ("2026-03-06T21:59", False),
        ("2026-03-06T22:00", True),
        ("2026-03-07T06:59", True),
        ("2026-03-07T07:00", False),
        ("2026-03-07T22:00", False),
        ("2026-03-06T03:00", False),
    ],
)
def test_what_runs_over_midnight_belongs_to_the_day_on_which_it_begins(local: str, inside: bool) -> None:
    assert FRIDAY_NIGHT.cover(datetime.fromisoformat(local)) is inside


def test_without_days_it_is_every_day_and_without_an_end_the_whole_day() -> None:
    assert WeekHours(begins=22 * 60, ends=7 * 60).cover(datetime.fromisoformat("2026-03-04T02:30"))
    sunday = WeekHours(days=(6,))
    assert [sunday.cover(datetime.fromisoformat(f"2026-03-0{day}T00:00")) for day in (7, 8, 9)] == [False, True, False]


def test_the_hour_that_a_change_of_the_clocks_repeats_lies_in_them_both_times() -> None:
    twice = WeekHours(begins=60, ends=120)
    assert [twice.cover(datetime(2026, 10, 25, 1, 30, fold=fold)) for fold in (0, 1)] == [True, True]
