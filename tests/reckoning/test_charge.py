"""Volts say how full a battery is only when it rests."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import Answer, NotReckoned, Reckoned
from gateway.reckoning.charge import BANK_V, CAPACITY_AH, Chemistry, charge_percent

LEAD = st.sampled_from([Chemistry.FLOODED, Chemistry.AGM, Chemistry.GEL])


def charge(**changed: Any) -> Answer:
    resting: dict[str, Any] = {
        "chemistry": Chemistry.AGM,
        "bank_v": 12.4,
        "nominal_v": 12,
        "capacity_ah": 400,
        "current_a": 0.0,
        "hours_since_charging": 24.0,
    }
    return charge_percent(**{**resting, **changed})


def refusal(**changed: Any) -> NotReckoned:
    found = charge(**changed)
    assert isinstance(found, NotReckoned), found
    return found


@pytest.mark.parametrize("amps", [8.0, -8.0])
def test_a_fiftieth_of_the_capacity_still_counts_as_rest(amps: float) -> None:
    assert isinstance(charge(current_a=amps), Reckoned)


@pytest.mark.parametrize("amps", [8.01, -8.01, 60.0])
def test_more_current_in_or_out_is_no_rest(amps: float) -> None:
    assert "at rest is at most 8 A (capacity / 50)" in refusal(current_a=amps).because


def test_eight_hours_after_charging_is_rest_and_sooner_is_not() -> None:
    assert isinstance(charge(hours_since_charging=8.0), Reckoned)
    assert "volts mean something 8 h after charging" in refusal(hours_since_charging=7.99).because


def test_what_nobody_knows_counts_as_no_rest() -> None:
    assert "current is not known" in refusal(current_a=None).because
    assert "current is not known" in refusal(current_a=float("nan")).because
    assert "how long ago it was charged" in refusal(hours_since_charging=None).because
    assert "how long ago it was charged" in refusal(hours_since_charging=float("nan")).because


@pytest.mark.parametrize(("chemistry", "volts"), [(Chemistry.AGM, 13.3), (Chemistry.LIFEPO4, 13.9)])
def test_volts_that_only_a_charger_makes_are_no_rest(chemistry: Chemistry, volts: float) -> None:
    assert "a charger is on or has just been" in refusal(chemistry=chemistry, bank_v=volts).because


@pytest.mark.parametrize(
    ("volts", "nominal"),
    [(24.8, 12), (12.4, 24), (7.9, 12), (0.0, 12), (34.1, 24), (float("nan"), 12), (float("inf"), 24), (12.4, 48)],
)
def test_volts_that_no_such_bank_has_name_the_input(volts: float, nominal: int) -> None:
    assert refusal(bank_v=volts, nominal_v=nominal).wrong_input == BANK_V.key


def test_a_capacity_out_of_range_is_named_with_the_range() -> None:
    assert refusal(capacity_ah=0) == NotReckoned(
        "the rated capacity is 0 Ah; 1 to 100000 Ah can be reckoned with", wrong_input=CAPACITY_AH.key
    )


@given(LEAD, st.floats(8.0, 13.2), st.floats(8.0, 13.2))
def test_more_volts_are_never_less_charge_and_it_stays_within_0_and_100(
    chemistry: Chemistry, one: float, other: float
) -> None:
    low, high = (charge(chemistry=chemistry, bank_v=volts) for volts in sorted((one, other)))
    assert isinstance(low, Reckoned)
    assert isinstance(high, Reckoned)
    assert 0 <= low.value <= high.value <= 100
    assert low.shown % 10 == 0


@given(st.sampled_from(Chemistry), st.floats(8.0, 17.0))
def test_twice_the_volts_at_24_say_what_12_say(chemistry: Chemistry, volts: float) -> None:
    assert charge(chemistry=chemistry, bank_v=2 * volts, nominal_v=24) == charge(chemistry=chemistry, bank_v=volts)
