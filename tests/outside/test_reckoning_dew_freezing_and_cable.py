"""CHK-23 and CHK-24: dew point, freezing of the acid, drop in a cable (handbook 4.10)."""

from math import exp, log
from statistics import linear_regression

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import NoEnd, Reckoned
from gateway.reckoning.cable import CRITICAL_PERCENT, NON_CRITICAL_PERCENT, least_mm2, volts_lost
from gateway.reckoning.dew import Surface, dew_point_c, surface_in
from gateway.reckoning.freezing import acid_freezes_c
from gateway.reckoning.limit_ahead import counted_from_now, hours_to_value
from gateway.reckoning.lines import Sample, rate_in_words, rate_per_hour
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND


def number(answer: object) -> float:
    assert isinstance(answer, Reckoned), answer
    return answer.value


@pytest.mark.parametrize(("air_c", "humidity", "dew"), [(20, 50, 9.26), (20, 80, 16.44), (5, 90, 3.50), (10, 65, 3.72)])
def test_chk_23_the_dew_point(air_c: float, humidity: float, dew: float) -> None:
    assert number(dew_point_c(air_c=air_c, humidity_percent=humidity)) == pytest.approx(dew, abs=0.02)


def vapour_pascal(celsius: float) -> float:
    """Over water, Hyland and Wexler 1983 as in the ASHRAE Handbook of Fundamentals (constants from memory)."""
    t = celsius + 273.15
    return exp(
        -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2 - 1.4452093e-8 * t**3 + 6.5459673 * log(t)
    )


def test_the_second_formula_meets_the_pressure_of_the_steam_tables() -> None:
    """2339 Pa at 20 C and 611 Pa at 0 C (steam tables, from memory)."""
    assert vapour_pascal(20) == pytest.approx(2339, abs=2)
    assert vapour_pascal(0.01) == pytest.approx(611.7, abs=0.5)


@given(st.floats(-10, 45), st.floats(20, 100))
def test_a_second_formula_gives_the_same_dew_point(air_c: float, humidity: float) -> None:
    """At the dew point the air holds all the water it can: checked by pressures after Hyland and Wexler, not Magnus."""
    dew = number(dew_point_c(air_c=air_c, humidity_percent=humidity))
    assert vapour_pascal(dew) == pytest.approx(vapour_pascal(air_c) * humidity / 100, rel=0.006)


def test_a_surface_at_the_dew_point_is_wet_and_half_a_degree_above_it_is_not() -> None:
    """Handbook 4.10: condensation at or below it."""
    dew = dew_point_c(air_c=10, humidity_percent=100)
    assert isinstance(dew, Reckoned)
    assert dew.value == pytest.approx(10)
    above = {by: surface_in(dew.value + by, dew) for by in (0, 0.1, 0.49, 0.51)}
    assert above == {0: Surface.WET, 0.1: Surface.MAY_BE_WET, 0.49: Surface.MAY_BE_WET, 0.51: Surface.DRY}


def test_half_a_degree_is_what_two_to_three_per_cent_of_humidity_make_in_a_damp_cabin() -> None:
    """So no dew point is known more finely than it is told: by the second formula, at 10 C and 80 %."""
    for wrong, least, most in ((2, 0.3, 0.5), (3, 0.4, 0.7)):
        higher = number(dew_point_c(air_c=10, humidity_percent=80 + wrong))
        assert least < higher - number(dew_point_c(air_c=10, humidity_percent=80)) < most
        assert vapour_pascal(higher) == pytest.approx(vapour_pascal(10) * (80 + wrong) / 100, rel=0.006)


@pytest.mark.parametrize(
    ("air_c", "humidity", "dew", "told"),
    [
        (20, 50, 9.26, "9.5"),
        (20, 80, 16.44, "16.5"),
        (5, 90, 3.50, "3.5"),
        (10, 65, 3.72, "4.0"),
        (10.9, 80, 7.58, "8.0"),
    ],
)
def test_a_dew_point_is_told_in_half_degrees_and_never_lower_than_it_is(
    air_c: float, humidity: float, dew: float, told: str
) -> None:
    """CHK-23, and a night in a cabin: 7.58 C told as 7.5 would lie below a surface of 7.55 that gets wet."""
    found = dew_point_c(air_c=air_c, humidity_percent=humidity)
    assert isinstance(found, Reckoned)
    assert found.value == pytest.approx(dew, abs=0.02)
    assert found.said == f"about {told} C"


@given(st.floats(-10, 45), st.floats(20, 100), st.floats(-1, 1))
def test_what_is_said_of_a_surface_never_contradicts_the_number_that_is_told(
    air_c: float, humidity: float, apart: float
) -> None:
    dew = dew_point_c(air_c=air_c, humidity_percent=humidity)
    assert isinstance(dew, Reckoned)
    state, told = surface_in(dew.value + apart, dew), float(dew.shown)
    assert state is not Surface.WET or dew.value + apart <= told + 1e-6
    assert state is not Surface.DRY or dew.value + apart >= told - 1e-6


@pytest.mark.parametrize(("density", "celsius"), [(1.265, -57.4), (1.200, -26.7), (1.150, -15), (1.100, -7.2)])
def test_the_acid_freezes_where_the_makers_table_says(density: float, celsius: float) -> None:
    """Rolls Battery, support article on winter storage."""
    assert number(acid_freezes_c(density_kg_per_l=density)) == celsius


def test_chk_24_the_drop_in_a_cable() -> None:
    drop = number(volts_lost(run_m=5, current_a=10, copper_mm2=4))
    assert drop == pytest.approx(0.430, abs=0.0005)
    assert drop / 12 * 100 == pytest.approx(3.58, abs=0.005)


def test_the_allowed_drops_are_those_printed() -> None:
    """10 %: a chandler's catalogue, p. 53; 3 %: ABYC E-11 (from memory)."""
    assert (CRITICAL_PERCENT, NON_CRITICAL_PERCENT) == (3, 10)
    section = number(least_mm2(run_m=5, current_a=10, system_v=12, percent=3))
    assert number(volts_lost(run_m=5, current_a=10, copper_mm2=section)) == pytest.approx(0.36)


@pytest.mark.parametrize(
    ("mm2", "ohm_per_km"), [(2.5, 7.98), (4, 4.95), (6, 3.30), (10, 1.91), (16, 1.21), (25, 0.780), (35, 0.554)]
)
def test_stranded_cable_loses_up_to_a_sixth_more_than_the_formula_which_the_caution_says(
    mm2: float, ohm_per_km: float
) -> None:
    """IEC 60228, class 5, plain copper at 20 C: the most a kilometre may have (from memory)."""
    drop = number(volts_lost(run_m=1, current_a=1, copper_mm2=mm2))
    assert 1.05 < 2 * ohm_per_km / 1000 / drop < 1.20


def test_the_time_since_the_value_was_measured_is_not_left_any_more() -> None:
    """Handbook 4.3 (quarters below 6 h, ours: down) and 7.2 (a value is that of now up to one report interval): 5.00 C
    that fall at 2 C/h are 2.50 h to 0 C; told a minute later they are 2.48 h, and "2 h 30 min" would be too long."""
    left = hours_to_value(value=5.0, limit=0.0, per_hour=-2.0)
    later = {age: counted_from_now(left, age=age * SECOND, report_interval=30 * SECOND) for age in (0, 30, 60, 9_000)}
    assert {age: one.said for age, one in later.items() if isinstance(one, Reckoned)} == {
        0: "about 2 h 30 min",
        30: "about 2 h 30 min",
        60: "about 2 h 15 min",
        9_000: "less than 15 min",
    }
    assert number(later[60]) == pytest.approx(2.4833, abs=1e-4)
    away = NoEnd("no limit ahead")
    assert counted_from_now(away, age=60 * SECOND, report_interval=30 * SECOND) is away


def test_until_it_freezes_goes_by_the_line_itself_and_not_by_the_rate_that_is_told() -> None:
    """Handbook 4.6 (least squares) and 4.3 (quarters below 6 h). By the library's regression 4.96 C fall at 1.96 C/h,
    so 2.53 h; whoever divides by the 2.0 C/h of the text comes to 2.48 h, rounded down a quarter of an hour less."""
    falls = [Sample(minute * MINUTE, 6.92 - 1.96 * minute / 60) for minute in range(61)]
    slope = linear_regression([one.at / HOUR for one in falls], [one.value for one in falls]).slope
    assert slope == pytest.approx(-1.96)
    rate = rate_per_hour(falls, noise=0.3, unit="C")
    assert isinstance(rate, Reckoned)
    assert rate_in_words(rate) == "falling 2.0 C/h"
    left = hours_to_value(value=falls[-1].value, limit=0.0, per_hour=rate.value)
    assert isinstance(left, Reckoned)
    assert left.value == pytest.approx(4.96 / 1.96)
    assert left.said == "about 2 h 30 min"
    by_the_text = hours_to_value(value=falls[-1].value, limit=0.0, per_hour=float(rate.shown))
    assert isinstance(by_the_text, Reckoned)
    assert by_the_text.said == "about 2 h 15 min"
