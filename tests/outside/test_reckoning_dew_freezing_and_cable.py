"""CHK-23 and CHK-24: dew point, freezing of the acid, drop in a cable (handbook 4.10)."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import Reckoned
from gateway.reckoning.cable import CRITICAL_PERCENT, NON_CRITICAL_PERCENT, least_mm2, volts_lost
from gateway.reckoning.dew import dew_point_c, is_wet
from gateway.reckoning.freezing import acid_freezes_c


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


def test_a_surface_at_the_dew_point_is_wet_and_one_above_is_not() -> None:
    dew = dew_point_c(air_c=10, humidity_percent=100)
    assert isinstance(dew, Reckoned)
    assert dew.value == pytest.approx(10)
    assert is_wet(dew.value, dew)
    assert not is_wet(dew.value + 0.1, dew)


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
