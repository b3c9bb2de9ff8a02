"""When regular texts come, as an installer writes it."""

from zoneinfo import ZoneInfo

import pytest

from gateway.installation.regular_times import day_clock, week_clock
from gateway.installation.slips import Slip
from gateway.people.regular import Regular, Wish
from gateway.vocabulary.moments import from_rfc3339


@pytest.mark.parametrize("written", ["06:59", "22:01", "03:00", "8", 8])
def test_what_can_wait_is_not_told_at_night(written: object) -> None:
    with pytest.raises(Slip):
        day_clock(written)


@pytest.mark.parametrize("written", ["Someday 18:00", "Sunday", "18:00", "Sunday 23:00", 7])
def test_a_weekly_word_needs_a_day_and_a_time(written: object) -> None:
    with pytest.raises(Slip):
        week_clock(written)


def test_a_day_and_a_time_are_read() -> None:
    assert week_clock("Sunday 18:00") == (6, 18 * 60)
    assert day_clock("08:00") == 480


def test_the_clock_of_the_person_is_kept_to_over_a_change_of_the_clocks() -> None:

    wish = Wish(kind=Regular.ROUND, minute=480)
    before = from_rfc3339("2026-10-24T12:00:00Z")
    first = wish.next_after(before, ZoneInfo("Europe/London"), 0)
    assert first == from_rfc3339("2026-10-25T08:00:00Z")  # the clocks have gone back in the night
    assert wish.next_after(from_rfc3339("2026-10-23T12:00:00Z"), ZoneInfo("Europe/London"), 0) == from_rfc3339(
        "2026-10-24T07:00:00Z"
    )
