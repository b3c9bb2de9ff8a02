"""Check values of windows, rates and positions: CHK-40 and the rows P02, P03, P16, P23 and P25 of the handbook, through
the whole desk and from the sentence on.

The rows are installers' starting limits (common practice, unless the row says otherwise). CHK-40 was computed for
the handbook from its own rule of 3 of 5 fixes. CHK-04 is said once more here as one sentence with a deadband; its
meaning is that of OPC 10000-9, B.1.5.
"""

import pytest

from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from tests.desk.small_boat import BEGAN, Small
from tests.desk.watched_boat import cleared, comes, keeps, raised, said, value, watched

INSIDE, OUTSIDE = "50.0001 -5.0000", "50.0005 -5.0000"
"""11 m and 56 m north of the berth (handbook 4.9: 0.0010 degrees of latitude are 111.195 m)."""

DRIFT = said(
    "drift",
    "3 of 5 fixes of position further than 25 m from its set position",
    "5 of 5 fixes of position within 25 m of its set position",
)


def fixes(boat: Small, *places: str) -> None:
    """One fix every 15 s: five of them span the 60 s of P23."""
    for place in places:
        comes(boat, value("position", place))
        boat.wait(15 * SECOND)


def times(found: list[tuple[str, Ms]]) -> list[Ms]:
    """Whole seconds: two happenings never have one instant."""
    return [at // SECOND for _, at in found]


def test_chk_40_out_in_out_in_out_is_an_alarm_at_the_fifth_fix() -> None:
    boat = watched(DRIFT)
    fixes(boat, OUTSIDE, INSIDE, OUTSIDE, INSIDE)
    assert raised(boat) == []
    fixes(boat, OUTSIDE)
    assert times(raised(boat)) == [60]


def test_chk_40_out_out_in_in_in_is_none() -> None:
    boat = watched(DRIFT)
    fixes(boat, OUTSIDE, OUTSIDE, INSIDE, INSIDE, INSIDE)
    assert raised(boat) == []


@pytest.mark.parametrize("clears", [DRIFT.clears, None], ids=["said", "not said"])
def test_p23_drift_clears_when_five_of_five_fixes_are_inside_again(clears: object) -> None:
    boat = watched(
        said("drift", "3 of 5 fixes of position further than 25 m from 50.0, -5.0") if clears is None else DRIFT
    )
    fixes(boat, *[OUTSIDE] * 5, *[INSIDE] * 4)
    assert (times(raised(boat)), cleared(boat)) == ([30], [])
    fixes(boat, INSIDE)
    assert times(cleared(boat)) == [135]


def test_p23_a_receiver_that_reports_each_second_counts_with_one_fix_in_15_s() -> None:
    boat = watched(DRIFT)
    for second in range(31):
        assert raised(boat) == [], f"after {second} s"
        comes(boat, value("position", OUTSIDE))
        boat.wait(SECOND)
    assert times(raised(boat)) == [30]


def test_p02_a_pump_that_runs_more_than_300_s_in_an_hour_is_told_at_that_second() -> None:
    boat = watched(said("stuck", "pump on for more than 300 s in the last hour"))
    keeps(boat, 10 * MINUTE, pump="off")
    keeps(boat, 4 * MINUTE, pump="on")
    keeps(boat, 10 * MINUTE, pump="off")
    assert raised(boat) == []
    keeps(boat, 2 * MINUTE, pump="on")
    assert raised(boat) == [("stuck", 25 * MINUTE + 1)]  # 4 min and 1 min on: longer than 300 s 1 ms later


def test_p02_a_pump_that_runs_exactly_300_s_is_not_too_long() -> None:
    boat = watched(said("stuck", "pump on for more than 300 s in the last hour"))
    keeps(boat, 5 * MINUTE - 30 * SECOND, pump="on")
    comes(boat, value("pump", "on"))
    boat.wait(30 * SECOND - 1)
    boat.now += 1
    comes(boat, value("pump", "off"))
    keeps(boat, 10 * MINUTE, pump="off")
    assert raised(boat) == []


def started(boat: Small, count: int, every: Ms) -> None:
    """So many starts, each on for 30 s."""
    for _ in range(count):
        keeps(boat, 30 * SECOND, pump="on")
        keeps(boat, every - 30 * SECOND, pump="off")


def test_p03_three_starts_in_an_hour_are_none_and_the_fourth_is_a_warning() -> None:
    boat = watched(said("cycles", "pump started more than 3 times in the last hour"))
    keeps(boat, MINUTE, pump="off")
    started(boat, 3, 10 * MINUTE)
    assert raised(boat) == []
    started(boat, 1, MINUTE)
    assert times(raised(boat)) == [31 * 60]


def test_p03_four_starts_spread_over_more_than_an_hour_are_none() -> None:
    boat = watched(said("cycles", "pump started more than 3 times in the last hour"))
    keeps(boat, MINUTE, pump="off")
    started(boat, 6, 20 * MINUTE)
    assert raised(boat) == []


def test_p03_it_clears_when_the_window_has_rolled_on() -> None:
    boat = watched(said("cycles", "pump started more than 3 times in the last hour"))
    keeps(boat, HOUR, pump="off")
    started(boat, 4, 10 * MINUTE)
    keeps(boat, 19 * MINUTE, pump="off")
    assert cleared(boat) == []
    keeps(boat, 2 * MINUTE, pump="off")
    assert times(cleared(boat)) == [2 * 3600]  # the first of the four was at 1 h


DOUBLING = said("doubling", "pump started at least 2 times as often as the hour before in each of the last 2 hours")


def test_p03_an_hour_count_that_doubles_twice_running_is_told_at_the_start_that_doubles_it() -> None:
    boat = watched(DOUBLING)
    keeps(boat, 20 * MINUTE, pump="off")
    started(boat, 1, HOUR)
    started(boat, 2, 30 * MINUTE)
    started(boat, 3, 15 * MINUTE)
    assert raised(boat) == []
    started(boat, 1, 15 * MINUTE)
    assert times(raised(boat)) == [3 * 3600 + 5 * 60]  # 1, 2, and now 4 in the hour before this instant
    [step] = [one.entry.body for one in boat.entries if one.entry.kind == "alarm-step"]
    assert step["measured"] == "1, 2, 4 starts hour by hour"


def test_p03_a_steady_leak_however_busy_does_not_double() -> None:
    boat = watched(DOUBLING)
    keeps(boat, MINUTE, pump="off")
    started(boat, 24, 10 * MINUTE)
    assert raised(boat) == []


def test_p03_doubling_clears_by_time_alone_as_the_starts_pass_into_the_hour_before() -> None:
    boat = watched(DOUBLING)
    keeps(boat, MINUTE, pump="off")
    started(boat, 1, HOUR)
    started(boat, 2, 30 * MINUTE)
    started(boat, 4, 15 * MINUTE)
    keeps(boat, HOUR, pump="off")
    assert len(raised(boat)) == len(cleared(boat)) == 1


def falls(boat: Small, key: str, begin: float, per_hour: float, length: Ms) -> None:
    """A value that moves evenly, one reading a minute, shown without decimals where the sensor has none."""
    for minute in range(length // MINUTE):
        now = begin + per_hour * minute / 60
        comes(boat, value(key, f"{now:.0f}" if key == "fuel" else f"{now:.2f}"))
        boat.wait(MINUTE)


def test_p16_fuel_falling_more_than_2_percent_an_hour_is_told_and_slower_is_not() -> None:
    boat = watched(said("leak", "fuel falling faster than 2 % an hour over 2 h"))
    falls(boat, "fuel", 80, -1.5, 4 * HOUR)
    assert raised(boat) == []
    falls(boat, "fuel", 74, -6, 2 * HOUR)
    assert [key for key, _ in raised(boat)] == ["leak"]


def test_p16_one_step_of_the_sensor_is_no_fall() -> None:
    """The sensor shows whole per cent: a level at the edge between two of them may drop by one at any time."""
    boat = watched(said("leak", "fuel falling faster than 1 % an hour"))
    falls(boat, "fuel", 80, 0, 40 * MINUTE)
    falls(boat, "fuel", 79, 0, 40 * MINUTE)
    assert raised(boat) == []


def test_p25_a_cabin_below_4_c_for_60_min_is_a_freezing_risk_and_59_min_are_none() -> None:
    boat = watched(said("cold", "cabin below 4 C with deadband 1 C for 60 min", "gone for 60 s"))
    keeps(boat, 59 * MINUTE, cabin="3.9")
    keeps(boat, 10 * MINUTE, cabin="4.5")
    assert raised(boat) == []
    keeps(boat, 61 * MINUTE, cabin="3.9")
    assert times(raised(boat)) == [(69 + 60) * 60]
    keeps(boat, 30 * MINUTE, cabin="5.0")
    assert cleared(boat) == []  # inside its deadband
    keeps(boat, 2 * MINUTE, cabin="5.1")
    assert times(cleared(boat)) == [(130 + 30 + 1) * 60]


def test_p25_falling_more_than_1_c_an_hour_brings_the_warning_forward() -> None:
    boat = watched(said("cold", "cabin below 4 C and cabin falling faster than 1 C an hour for 10 min"))
    falls(boat, "cabin", 6, -2, 2 * HOUR)
    assert times(raised(boat)) == [(61 + 10) * 60]  # 6 C less 2 C an hour is below 4 C with the reading at 61 min


def one_a_second(boat: Small, text: str, seconds: int) -> None:
    for _ in range(seconds):
        boat.wait(SECOND - 1)
        boat.now += 1  # what comes at the very instant at which a delay is complete comes first
        comes(boat, value("volts", text))


@pytest.mark.long
def test_chk_04_as_one_sentence_with_its_deadband() -> None:
    low = said("low", "volts below 12.0 V with deadband 0.2 V for 600 s", "gone for 60 s")
    boat = watched(low)
    comes(boat, value("volts", "11.9"))
    one_a_second(boat, "11.9", 599)
    one_a_second(boat, "12.05", 5)
    assert raised(boat) == []
    one_a_second(boat, "11.9", 601)
    assert [at // SECOND for _, at in raised(boat)] == [599 + 5 + 1 + 600]
    one_a_second(boat, "12.15", 3600)
    assert cleared(boat) == []
    began = (boat.now - BEGAN) // SECOND + 1
    one_a_second(boat, "12.25", 61)
    assert times(cleared(boat)) == [began + 60]
