"""Rates from readings, and when a tank is empty or full."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import NoEnd, NotReckoned, Reckoned
from gateway.reckoning.cranking import TRIES, start_takes_at_most_s
from gateway.reckoning.fuel import burn_by_rule_of_thumb, fuel_endurance_h
from gateway.reckoning.lines import STEADY, Sample, line_through, rate_in_words, rate_per_hour
from gateway.reckoning.tanks import time_to_level_h
from gateway.vocabulary.moments import HOUR, MINUTE, Ms

START: Ms = 1_773_025_455_000


def falling(count: int, apart: Ms, per_hour: float = -2.0) -> list[Sample]:
    return [Sample(START + place * apart, 60 + per_hour * place * apart / (60 * MINUTE)) for place in range(count)]


def test_ten_samples_over_thirty_minutes_make_a_rate() -> None:
    found = rate_per_hour(falling(10, 200_000), noise=0.5, unit="%")
    assert isinstance(found, Reckoned)
    assert found.value == pytest.approx(-2)
    assert (found.unit, rate_in_words(found)) == ("%/h", "falling 2.0 %/h")


def test_fewer_samples_or_less_time_make_none() -> None:
    assert rate_per_hour(falling(9, 10 * MINUTE), noise=0, unit="%") == NotReckoned(
        "9 samples; 10 are needed for a rate"
    )
    found = rate_per_hour(falling(10, 199_999), noise=0, unit="%")
    assert found == NotReckoned("29 min of samples; 30 min are needed for a rate")


def test_what_moves_less_than_the_sensor_wanders_is_steady() -> None:
    hour = falling(13, 5 * MINUTE)  # 2 % in an hour
    assert rate_per_hour(hour, noise=2.01, unit="%") == NoEnd("steady")
    assert isinstance(rate_per_hour(hour, noise=1.99, unit="%"), Reckoned)


@given(st.floats(0, 100), st.integers(10, 50))
def test_a_steady_tank_has_no_end(level: float, count: int) -> None:
    still = [Sample(START + place * 10 * MINUTE, level) for place in range(count)]
    assert rate_per_hour(still, noise=0, unit="%") == NoEnd("steady")
    assert time_to_level_h(level_percent=level, until_percent=(level + 10) % 100, percent_per_h=0) == NoEnd("steady")


def test_slosh_does_not_turn_a_falling_tank() -> None:
    sloshing = [
        Sample(at, level + (3 if place % 2 else -3)) for place, (at, level) in enumerate(falling(60, 4 * MINUTE))
    ]
    found = rate_per_hour(sloshing, noise=3, unit="%")
    assert isinstance(found, Reckoned)
    assert found.value == pytest.approx(-2, abs=0.1)


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_a_sample_that_is_no_number_makes_no_rate(bad: float) -> None:
    samples = [*falling(10, 5 * MINUTE), Sample(START + 60 * MINUTE, bad)]
    assert rate_per_hour(samples, noise=0, unit="%") == NotReckoned("a sample is not a number")
    assert line_through([]) is None


def test_a_level_behind_the_tank_has_no_time_and_one_that_it_stands_at_neither() -> None:
    found = time_to_level_h(level_percent=58, until_percent=95, percent_per_h=-2)
    assert found == NoEnd("it is falling, away from that level")
    assert time_to_level_h(level_percent=58, until_percent=10, percent_per_h=2) == NoEnd(
        "it is rising, away from that level"
    )
    assert isinstance(time_to_level_h(level_percent=10, until_percent=10, percent_per_h=-2), NotReckoned)


@given(st.floats(1, 99), st.floats(0.1, 100), st.floats(0.1, 100))
def test_a_faster_fall_is_never_longer(level: float, one: float, other: float) -> None:
    slow, fast = (
        time_to_level_h(level_percent=level, until_percent=0, percent_per_h=-rate) for rate in sorted((one, other))
    )
    assert isinstance(slow, Reckoned)
    assert isinstance(fast, Reckoned)
    assert fast.value <= slow.value


def test_fuel_at_its_reserve_is_not_counted_down() -> None:
    found = fuel_endurance_h(fuel_tank_l=300, level_percent=15, reserve_percent=15, burn_l_per_h=3)
    assert found == NotReckoned("already at or below the reserve")


@given(st.floats(16, 100), st.floats(0.05, 100), st.floats(0.05, 100))
def test_more_consumption_never_lasts_longer(level: float, one: float, other: float) -> None:
    long, short = (
        fuel_endurance_h(fuel_tank_l=300, level_percent=level, reserve_percent=15, burn_l_per_h=burn)
        for burn in sorted((one, other))
    )
    assert isinstance(long, Reckoned)
    assert isinstance(short, Reckoned)
    assert short.value <= long.value


def test_the_rule_of_thumb_shows_one_figure_because_it_is_one() -> None:
    found = burn_by_rule_of_thumb(load_kw=4, idle_l_per_h=0.8)
    assert isinstance(found, Reckoned)
    assert found.value == pytest.approx(2.0)
    assert found.said == "about 2 L/h"


@pytest.mark.parametrize("tries", [0, 4, 2.5])
def test_more_than_three_tries_or_part_of_one_is_refused(tries: float) -> None:
    found = start_takes_at_most_s(tries=tries, crank_s=15, rest_s=15)
    assert isinstance(found, NotReckoned)
    assert found.wrong_input == TRIES.key
    assert "a whole number from 1 to 3" in found.because


def test_a_crank_longer_than_15_s_or_a_shorter_rest_is_refused() -> None:
    assert isinstance(start_takes_at_most_s(tries=3, crank_s=16, rest_s=15), NotReckoned)
    assert isinstance(start_takes_at_most_s(tries=3, crank_s=15, rest_s=14), NotReckoned)


def test_what_moves_just_as_far_as_the_sender_wanders_is_a_rate_and_a_hair_less_is_none() -> None:
    """Handbook 4.6: below the noise it is steady. Over an hour in sixteenths, so that no digit is lost."""
    rises = [Sample(step * HOUR // 16, 50 + step / 8) for step in range(17)]
    found = rate_per_hour(rises, noise=2.0, unit="%")
    assert isinstance(found, Reckoned)
    assert found.value == 2.0
    assert rate_per_hour(rises, noise=2.000001, unit="%") == NoEnd(STEADY)
