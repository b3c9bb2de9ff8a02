"""CHK-18 to CHK-21 and the carbon monoxide points: tanks, fuel, start, cold food (handbook 4.6 to 4.8)."""

from statistics import linear_regression

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import NoEnd, Reckoned
from gateway.reckoning.cold import Box, ColdReading, clock_since, food_limit
from gateway.reckoning.cranking import start_takes_at_most_s
from gateway.reckoning.fuel import fuel_endurance_h
from gateway.reckoning.lines import Sample, line_through, rate_per_hour
from gateway.reckoning.monoxide import Detector, Standard, detector_by_now
from gateway.reckoning.tanks import litres_per_h, time_to_level_h
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms, from_rfc3339, rfc3339


def number(answer: object) -> float:
    assert isinstance(answer, Reckoned), answer
    return answer.value


TWO_HOURS = [Sample(5 * place * MINUTE, 62 - 4 * place / 24) for place in range(25)]  # 62 -> 58 % in exactly 2 h


def test_chk_18_a_tank_that_falls() -> None:
    rate = number(rate_per_hour(TWO_HOURS, noise=1, unit="%"))
    assert rate == pytest.approx(-2.0, abs=1e-9)
    assert number(litres_per_h(percent_per_h=rate, tank_l=400)) == pytest.approx(-8.0)
    assert number(time_to_level_h(level_percent=58, until_percent=0, percent_per_h=rate)) == pytest.approx(29.0)
    assert number(time_to_level_h(level_percent=58, until_percent=10, percent_per_h=rate)) == pytest.approx(24.0)


def test_chk_18_a_tank_that_rises_and_one_that_is_steady() -> None:
    assert number(time_to_level_h(level_percent=80, until_percent=95, percent_per_h=2)) == pytest.approx(7.5)
    assert time_to_level_h(level_percent=80, until_percent=95, percent_per_h=0) == NoEnd("steady")
    assert rate_per_hour([Sample(at, 60) for at, _ in TWO_HOURS], noise=0, unit="%") == NoEnd("steady")


@given(
    st.integers(0, 2_000_000_000_000),
    st.lists(st.tuples(st.integers(0, DAY), st.floats(-1000, 1000)), min_size=2, max_size=60),
)
def test_the_line_is_that_of_the_standard_librarys_regression(start: Ms, pairs: list[tuple[Ms, float]]) -> None:
    """statistics.linear_regression (Python's library) as the second implementation of least squares."""
    line = line_through([Sample(start + at, value) for at, value in pairs])
    if len({at for at, _ in pairs}) == 1:
        assert line is None
        return
    assert line is not None
    slope, begin = linear_regression([at / HOUR for at, _ in pairs], [value for _, value in pairs])
    assert line.per_hour == pytest.approx(slope, rel=1e-6, abs=1e-6)
    assert line.at(start) == pytest.approx(begin, rel=1e-4, abs=1e-2)


def test_chk_19_fuel() -> None:
    found = fuel_endurance_h(fuel_tank_l=300, level_percent=45, reserve_percent=15, burn_l_per_h=3.0)
    assert number(found) == pytest.approx(30.0)
    assert isinstance(found, Reckoned)
    assert found.said == "about 30 h"


def test_chk_20_three_tries_take_75_seconds() -> None:
    """The 75 s limiter of NFPA 110, table 5.6.4.2 (from memory); 15 s cycles from its 2002 edition, 5.6.4.2.1-2."""
    assert number(start_takes_at_most_s(tries=3, crank_s=15, rest_s=15)) == 75


OFF = from_rfc3339("2026-03-09T02:00:00Z")


@pytest.mark.parametrize(
    ("box", "limit"),
    [
        (Box.REFRIGERATOR, "2026-03-09T06:00:00Z"),
        (Box.FULL_FREEZER, "2026-03-11T02:00:00Z"),
        (Box.HALF_FREEZER, "2026-03-10T02:00:00Z"),
    ],
)
def test_chk_21_power_off_at_two(box: Box, limit: str) -> None:
    """USDA FSIS, FDA and FoodSafety.gov: 4 h, 48 h, 24 h unopened."""
    found = food_limit(box=box, off_since=OFF, warm_since=None)
    assert found is not None
    assert rfc3339(found.at) == limit


def test_chk_21_of_two_official_figures_above_40_f_the_stricter_one_counts() -> None:
    found = food_limit(box=Box.REFRIGERATOR, off_since=OFF, warm_since=OFF + HOUR)
    assert found == (OFF + 3 * HOUR, "2 h above 4.4 C")


def test_chk_21_the_clock_starts_anew_only_after_the_box_was_back_within_its_limit() -> None:
    off, back, off_again = ColdReading(OFF, False, 4.0), ColdReading(OFF + HOUR, True, 5.5), OFF + 2 * HOUR
    warm = [off, back, ColdReading(off_again, False, 5.0)]
    assert clock_since(warm, Box.REFRIGERATOR) == OFF
    cold = [off, back, ColdReading(OFF + 90 * MINUTE, True, 4.4), ColdReading(off_again, False, 4.4)]
    assert clock_since(cold, Box.REFRIGERATOR) == off_again


@pytest.mark.parametrize(
    ("standard", "ppm", "minutes", "by_then"),
    [
        # UL 2034 as printed in a CO alarm maker's user manual
        (Standard.UL_2034, 70, 60, Detector.MAY),
        (Standard.UL_2034, 70, 59.9, Detector.MUST_NOT),
        (Standard.UL_2034, 70, 240, Detector.MUST),
        (Standard.UL_2034, 150, 9.9, Detector.MUST_NOT),
        (Standard.UL_2034, 150, 10, Detector.MAY),
        (Standard.UL_2034, 150, 50, Detector.MUST),
        (Standard.UL_2034, 400, 3.9, Detector.MUST_NOT),
        (Standard.UL_2034, 400, 4, Detector.MAY),
        (Standard.UL_2034, 400, 15, Detector.MUST),
        (Standard.UL_2034, 30, 30 * 24 * 60 - 1, Detector.MUST_NOT),
        (Standard.UL_2034, 30, 30 * 24 * 60, Detector.MAY),
        # EN 50291 as summarised by a sensor maker
        (Standard.EN_50291, 30, 119.9, Detector.MUST_NOT),
        (Standard.EN_50291, 30, 120, Detector.MAY),
        (Standard.EN_50291, 50, 59.9, Detector.MUST_NOT),
        (Standard.EN_50291, 50, 60, Detector.MAY),
        (Standard.EN_50291, 50, 90, Detector.MUST),
        (Standard.EN_50291, 100, 9.9, Detector.MUST_NOT),
        (Standard.EN_50291, 100, 10, Detector.MAY),
        (Standard.EN_50291, 100, 40, Detector.MUST),
        (Standard.EN_50291, 300, 2.9, Detector.MAY),
        (Standard.EN_50291, 300, 3, Detector.MUST),
    ],
)
def test_the_printed_alarm_points_of_both_standards(
    standard: Standard, ppm: float, minutes: float, by_then: Detector
) -> None:
    assert detector_by_now(co_ppm=ppm, held=round(minutes * MINUTE), standard=standard) is by_then
