"""A value, its limit, and the deadband that it must cross before an alarm may go (handbook 2.5)."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.conditions.values import NARROWER, PLAIN, WIDER, meets
from grammar.meanings import ValueCondition
from grammar.sentences import read_condition


def single(sentence: str) -> ValueCondition:
    found = read_condition(sentence)
    assert isinstance(found, ValueCondition)
    return found


@pytest.mark.parametrize(
    ("sentence", "raises", "stays", "clears"),
    [
        ("volts below 12.0 V with deadband 0.2 V", "11.99", "12.20", "12.21"),
        ("volts at most 12.0 V with deadband 0.2 V", "12.00", "12.20", "12.21"),
        ("volts above 12.0 V with deadband 0.2 V", "12.01", "11.80", "11.79"),
        ("volts at least 12.0 V with deadband 0.2 V", "12.00", "11.80", "11.79"),
        ("volts outside 11.0 and 15.0 V with deadband 0.5 V", "10.99", "11.50", "11.51"),
        ("volts outside 11.0 and 15.0 V with deadband 0.5 V", "15.01", "14.50", "14.49"),
        ("volts between 11.0 and 15.0 V with deadband 0.5 V", "11.00", "10.50", "10.49"),
        ("volts between 11.0 and 15.0 V with deadband 0.5 V", "15.00", "15.50", "15.51"),
    ],
)
def test_on_the_edge_of_its_deadband_an_alarm_stays_and_one_step_further_it_may_go(
    sentence: str, raises: str, stays: str, clears: str
) -> None:
    condition = single(sentence)
    assert meets(condition, Decimal(raises), PLAIN)
    assert not meets(condition, Decimal(stays), PLAIN)
    assert meets(condition, Decimal(stays), WIDER)
    assert not meets(condition, Decimal(clears), WIDER)


figures = st.decimals(min_value=-50, max_value=50, places=2)
sides = st.sampled_from(["below", "above", "at least", "at most"])


@given(sides, figures, st.decimals(min_value="0.01", max_value=10, places=2), figures)
def test_what_raises_is_never_gone_at_once_and_what_is_narrower_is_within(
    side: str, limit: Decimal, deadband: Decimal, value: Decimal
) -> None:
    condition = single(f"x {side} {limit:f} with deadband {deadband:f}")
    if meets(condition, value, NARROWER):
        assert meets(condition, value, PLAIN)
    if meets(condition, value, PLAIN):
        assert meets(condition, value, WIDER)


@given(sides, figures, figures)
def test_without_a_deadband_the_limit_is_taken_as_written(side: str, limit: Decimal, value: Decimal) -> None:
    condition = single(f"x {side} {limit:f}")
    assert meets(condition, value, WIDER) == meets(condition, value, PLAIN) == meets(condition, value, NARROWER)


def test_a_value_of_another_kind_never_meets_a_limit() -> None:
    assert not meets(single("x below 5"), True)
    assert not meets(single("x between 1 and 5"), "4")
