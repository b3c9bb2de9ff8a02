"""What a float tells about a leak, and how far a pump is above it."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from gateway.reckoning.answers import Found, NotReckoned, Reckoned
from gateway.reckoning.bilge import (
    NO_LONGER_KEEPS_UP,
    PAUSE_S,
    RUN_S,
    PumpCycle,
    inflow_l_per_h,
    pump_cycle,
    run_s_of,
)
from gateway.reckoning.catalogue import SUMS
from gateway.reckoning.pump_margin import PUMP_L_PER_H, fitted_l_per_h, margin, margin_priority
from gateway.vocabulary.priority import Priority

flows = st.floats(100, 20_000)
seconds = st.floats(1, 3_000)


def number(answer: object) -> float:
    assert isinstance(answer, Reckoned), answer
    return answer.value


def cycle(pump: float, run_s: float, pause_s: float) -> PumpCycle:
    found = pump_cycle(pump_l_per_h=pump, run_s=run_s, pause_s=pause_s)
    assert isinstance(found, PumpCycle), found
    return found


@given(flows, seconds, seconds)
def test_the_water_that_comes_in_a_cycle_is_what_the_pump_takes_out(pump: float, run_s: float, pause_s: float) -> None:
    found = cycle(pump, run_s, pause_s)
    assert number(found.inflow) * (run_s + pause_s) == pytest.approx(pump * run_s)
    assert number(found.between_floats) == pytest.approx((pump - number(found.inflow)) * run_s / 3600)


@given(flows, seconds, seconds)
def test_both_ways_to_reckon_the_leak_agree(pump: float, run_s: float, pause_s: float) -> None:
    assume(4 <= run_s <= pause_s)
    found = cycle(pump, run_s, pause_s)
    between, cycles = number(found.between_floats), number(found.cycles)
    assume(between >= 0.1)
    leak = inflow_l_per_h(between_floats_l=between, cycles_per_h=cycles * (1 - 1e-12), pump_l_per_h=pump)
    assert number(leak) == pytest.approx(number(found.inflow), rel=1e-4)
    assert number(run_s_of(between_floats_l=between, inflow_l_per_h=number(leak), pump_l_per_h=pump)) == pytest.approx(
        run_s, rel=1e-3
    )


@given(flows, seconds, seconds, seconds)
def test_a_shorter_pause_is_never_less_water(pump: float, run_s: float, one: float, other: float) -> None:
    short, long = sorted((one, other))
    assert number(cycle(pump, run_s, short).inflow) >= number(cycle(pump, run_s, long).inflow)


def test_without_a_pause_nothing_but_the_current_drawn_is_a_number() -> None:
    found = pump_cycle(pump_l_per_h=1800, run_s=600, pause_s=0, pump_a=5)
    assert isinstance(found, PumpCycle)
    for answer in (found.inflow, found.between_floats, found.cycles, found.margin):
        assert answer == NotReckoned(NO_LONGER_KEEPS_UP)
    assert number(found.charge_a_day) == 120


def test_more_starts_than_the_pump_can_make_are_said_to_be_impossible() -> None:
    at_most = 1800 / (4 * 15)
    assert number(inflow_l_per_h(between_floats_l=15, cycles_per_h=at_most, pump_l_per_h=1800)) == pytest.approx(900)
    found = inflow_l_per_h(between_floats_l=15, cycles_per_h=at_most * 1.01, pump_l_per_h=1800)
    assert isinstance(found, NotReckoned)
    assert "at most 30 starts an hour with 15 L between the floats" in found.because


@pytest.mark.parametrize("inflow", [1800.0, 2000.0, -1.0, float("nan")])
def test_a_run_that_never_ends_has_no_length(inflow: float) -> None:
    assert run_s_of(between_floats_l=15, inflow_l_per_h=inflow, pump_l_per_h=1800) == NotReckoned(NO_LONGER_KEEPS_UP)


@pytest.mark.parametrize("pump", [9.0, 0.0, -1.0, float("nan"), float("inf")])
def test_a_flow_that_no_pump_has_is_named(pump: float) -> None:
    found = pump_cycle(pump_l_per_h=pump, run_s=40, pause_s=1200)
    assert isinstance(found, NotReckoned)
    assert found.wrong_input == PUMP_L_PER_H.key


@pytest.mark.parametrize(
    ("times", "priority"),
    [(3.0, None), (2.99, Priority.WARNING), (1.5, Priority.WARNING), (1.49, Priority.ALARM), (0.5, Priority.ALARM)],
)
def test_a_margin_below_three_warns_and_below_one_and_a_half_alarms(times: float, priority: Priority | None) -> None:
    assert margin_priority(times) is priority


def test_a_margin_is_shown_rounded_down() -> None:
    found = margin(pump_l_per_h=1800, inflow_l_per_h=602)
    assert isinstance(found, Reckoned)
    assert found.value == pytest.approx(2.99, abs=0.005)
    assert str(found.shown) == "2.9"  # never as the 3 that would not warn


@given(flows, st.integers(0, 19), st.floats(0, 20), st.floats(0, 60))
def test_every_bend_and_every_loss_takes_something(label: float, bends: int, valve: float, supply: float) -> None:
    fitted = number(
        fitted_l_per_h(label_l_per_h=label, bends=bends, valve_loss_percent=valve, supply_loss_percent=supply)
    )
    one_more = number(
        fitted_l_per_h(label_l_per_h=label, bends=bends + 1, valve_loss_percent=valve, supply_loss_percent=supply)
    )
    assert one_more == pytest.approx(0.9 * fitted)
    assert 0 < fitted <= label


def test_the_slowest_leak_that_can_be_asked_about_has_its_margin() -> None:
    found = cycle(PUMP_L_PER_H.lowest, RUN_S.lowest, PAUSE_S.highest)
    assert number(found.margin) == pytest.approx(PAUSE_S.highest + 1)


@pytest.mark.parametrize(
    ("run_s", "pause_s", "said"),
    [
        (40, 1200, "enough in hand"),
        (120, 300, "enough in hand"),
        (300, 500, "warning"),
        (300, 100, "alarm"),
        (60, 0, "alarm"),
    ],
)
def test_the_bench_says_what_a_margin_is_worth(run_s: float, pause_s: float, said: str) -> None:
    """Margins 31, 3.5, 2.67, 1.33 and, without a pause, none (handbook 4.4: under 3 a warning, under 1.5 an alarm)."""
    results = SUMS["bilge-cycle"].reckon(pump_l_per_h=1800, run_s=run_s, pause_s=pause_s, pump_a=None)
    assert [result.answer for result in results if result.name == "By our points"] == [Found(said)]
