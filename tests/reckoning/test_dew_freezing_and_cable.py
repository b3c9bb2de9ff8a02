"""Dew, ice in batteries, and what a cable takes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import Bound, NotReckoned, Reckoned
from gateway.reckoning.cable import least_mm2, volts_lost
from gateway.reckoning.charge import Chemistry
from gateway.reckoning.dew import AIR_C, HUMIDITY_PERCENT, dew_point_c
from gateway.reckoning.freezing import acid_freezes_c, may_freeze


def number(answer: object) -> float:
    assert isinstance(answer, Reckoned), answer
    return answer.value


@given(st.floats(-45, 60), st.floats(1, 100), st.floats(1, 100))
def test_drier_air_has_the_lower_dew_point_and_none_is_above_the_airs_temperature(
    air_c: float, one: float, other: float
) -> None:
    dry, moist = (number(dew_point_c(air_c=air_c, humidity_percent=rh)) for rh in sorted((one, other)))
    assert dry <= moist + 1e-9
    assert moist <= air_c + 1e-9


@pytest.mark.parametrize(
    ("air_c", "humidity", "named"),
    [(61.0, 50.0, AIR_C.key), (20.0, 0.0, HUMIDITY_PERCENT.key), (20.0, 101.0, HUMIDITY_PERCENT.key)],
)
def test_what_magnus_does_not_hold_for_is_refused(air_c: float, humidity: float, named: str) -> None:
    found = dew_point_c(air_c=air_c, humidity_percent=humidity)
    assert isinstance(found, NotReckoned)
    assert found.wrong_input == named


@given(st.floats(1.1, 1.265), st.floats(1.1, 1.265))
def test_denser_acid_never_freezes_sooner(one: float, other: float) -> None:
    thin, dense = (number(acid_freezes_c(density_kg_per_l=density)) for density in sorted((one, other)))
    assert dense <= thin


def test_between_two_densities_the_warmer_temperature_is_given() -> None:
    found = acid_freezes_c(density_kg_per_l=1.199)
    assert isinstance(found, Reckoned)
    assert (found.value, found.said) == (-15.0, "about -15 C")


def test_a_full_batterys_acid_freezes_below_the_table_and_an_empty_ones_has_no_number() -> None:
    full = acid_freezes_c(density_kg_per_l=1.28)
    assert isinstance(full, Reckoned)
    assert full.bound is Bound.LESS_THAN
    empty = acid_freezes_c(density_kg_per_l=1.09)
    assert isinstance(empty, NotReckoned)
    assert not empty.wrong_input


@pytest.mark.parametrize(
    ("charge", "celsius", "risk"), [(39.9, -5.1, True), (40, -5.1, False), (39.9, -5.0, False), (0, 0, False)]
)
def test_a_lead_battery_below_40_per_cent_and_below_minus_5_may_freeze(
    charge: float, celsius: float, risk: bool
) -> None:
    for chemistry in (Chemistry.FLOODED, Chemistry.AGM, Chemistry.GEL):
        assert may_freeze(chemistry=chemistry, charge_percent=charge, celsius=celsius) is risk
    assert not may_freeze(chemistry=Chemistry.LIFEPO4, charge_percent=charge, celsius=celsius)


@given(st.floats(0.1, 100), st.floats(0.1, 200), st.floats(0.1, 500))
def test_twice_the_copper_loses_half_and_twice_the_way_twice(run_m: float, amps: float, mm2: float) -> None:
    drop = number(volts_lost(run_m=run_m, current_a=amps, copper_mm2=mm2))
    assert number(volts_lost(run_m=run_m, current_a=amps, copper_mm2=2 * mm2)) == pytest.approx(drop / 2)
    assert number(volts_lost(run_m=2 * run_m, current_a=amps, copper_mm2=mm2)) == pytest.approx(2 * drop)


@given(st.floats(0.1, 100), st.floats(0.1, 200))
def test_24_volts_need_a_quarter_of_the_copper_for_the_same_power(run_m: float, amps: float) -> None:
    at_12 = number(least_mm2(run_m=run_m, current_a=amps, system_v=12, percent=3))
    at_24 = number(least_mm2(run_m=run_m, current_a=amps / 2, system_v=24, percent=3))
    assert at_24 == pytest.approx(at_12 / 4)
