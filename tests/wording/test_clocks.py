"""Times as they are said: boat time, the day when it is not today, and both nights on which the clock changes."""

from zoneinfo import ZoneInfo

import pytest

from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, from_rfc3339
from gateway.wording.clocks import Clock, clock, lasting, run_time
from gateway.wording.scene import Scene

LONDON, NEW_YORK, PARIS = ZoneInfo("Europe/London"), ZoneInfo("America/New_York"), ZoneInfo("Europe/Paris")


def boat_clock(now: str, reader: ZoneInfo = LONDON) -> Clock:
    return Clock(from_rfc3339(now), LONDON, reader)


@pytest.mark.parametrize(
    ("moment", "says"),
    [
        ("2026-07-01T02:04:59Z", "03:04"),
        ("2026-06-30T22:59:00Z", "Tue 23:59"),
        ("2026-07-02T07:11:00Z", "Thu 08:11"),
        ("2026-06-25T02:04:00Z", "Thu 03:04"),
        ("2026-06-24T02:04:00Z", "24 Jun 03:04"),
        ("2025-12-24T02:04:00Z", "24 Dec 2025 02:04"),
    ],
)
def test_the_day_is_said_when_it_is_not_today(moment: str, says: str) -> None:
    assert boat_clock("2026-07-01T02:05:00Z").at(from_rfc3339(moment)) == says


def test_the_boats_day_counts_not_the_day_in_utc() -> None:
    # 23:30 UTC on 30 June is 00:30 on 1 July aboard.
    assert boat_clock("2026-06-30T23:40:00Z").at(from_rfc3339("2026-06-30T23:30:00Z")) == "00:30"


def test_in_the_night_the_clock_goes_forward_times_jump_over_the_hour_that_is_not_there() -> None:
    # London, 29 March 2026: 01:00 GMT becomes 02:00 BST.
    now = boat_clock("2026-03-29T02:00:00Z")
    assert now.at(from_rfc3339("2026-03-29T00:59:00Z")) == "00:59"
    assert now.at(from_rfc3339("2026-03-29T01:00:00Z")) == "02:00"


def test_in_the_night_the_clock_goes_back_the_repeated_hour_says_which_one_it_is() -> None:
    # London, 25 October 2026: 02:00 BST becomes 01:00 GMT.
    now = boat_clock("2026-10-25T03:00:00Z")
    assert now.at(from_rfc3339("2026-10-24T23:59:00Z")) == "00:59"
    assert now.at(from_rfc3339("2026-10-25T00:30:00Z")) == "01:30 BST"
    assert now.at(from_rfc3339("2026-10-25T01:30:00Z")) == "01:30 GMT"
    assert now.at(from_rfc3339("2026-10-25T02:00:00Z")) == "02:00"


def test_boat_time_is_said_to_a_reader_whose_clock_differs_at_that_moment() -> None:
    moment = from_rfc3339("2026-07-01T02:04:00Z")
    assert boat_clock("2026-07-01T02:05:00Z").told(moment) == "03:04"
    assert boat_clock("2026-07-01T02:05:00Z", NEW_YORK).told(moment) == "03:04 boat time"


def test_zones_that_agree_at_that_moment_need_no_mark() -> None:
    winter, summer = from_rfc3339("2026-01-10T02:04:00Z"), from_rfc3339("2026-07-01T02:04:00Z")
    lagos = ZoneInfo("Africa/Lagos")  # UTC+1 all the year: as London in summer, not in winter
    reader = Clock(summer, LONDON, lagos)
    assert reader.mark(summer) == ""
    assert reader.mark(winter) == " boat time"
    assert reader.mark(summer, winter) == " boat time"
    assert Clock(summer, LONDON, PARIS).mark(summer) == " boat time"


def test_what_concerns_the_gateway_itself_is_told_in_the_readers_own_time(scene: Scene) -> None:
    assert clock(scene, "", "id-ruth").zone == LONDON
    assert clock(scene, "a boat that is gone", "nobody").zone == ZoneInfo("UTC")


@pytest.mark.parametrize(
    ("length", "says"),
    [
        (0, "less than 1 s"),
        (999, "less than 1 s"),
        (14 * SECOND + 900, "14 s"),
        (119 * SECOND, "119 s"),
        (2 * MINUTE, "2 min"),
        (80 * MINUTE + 59 * SECOND, "80 min"),
        (2 * HOUR, "2 h"),
        (26 * HOUR + 30 * MINUTE + 30 * SECOND, "26 h 30 min"),
        (3 * DAY + HOUR, "3 days"),
    ],
)
def test_a_length_of_time_is_said_as_exactly_as_is_worth_it(length: Ms, says: str) -> None:
    assert lasting(length) == says


def test_a_run_is_said_as_it_may_be_texted() -> None:
    assert [run_time(each) for each in (45 * MINUTE, 2 * HOUR, 90 * MINUTE, MINUTE, 1)] == [
        "45 min",
        "2 h",
        "1 h 30 min",
        "1 min",
        "1 min",
    ]
