"""Peukert's endurance, the exponent, and the time to a limit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import Answer, NoEnd, NotReckoned, Reckoned
from gateway.reckoning.endurance import PEUKERT_K, endurance_h, peukert_exponent
from gateway.reckoning.limit_ahead import (
    LEAST_COVER,
    LEAST_DRAWN,
    drawn_since,
    hours_to_value,
    mean_of_last_quarter,
    time_to_limit_h,
)
from gateway.reckoning.lines import Sample
from gateway.vocabulary.moments import HOUR, MINUTE, Ms

capacities = st.floats(10, 2_000)
exponents = st.floats(1.0, 1.6)
loads = st.floats(0.6, 500)


def number(answer: Answer) -> float:
    assert isinstance(answer, Reckoned), answer
    return answer.value


@given(capacities, exponents, loads, loads)
def test_more_load_never_lasts_longer(capacity: float, k: float, one: float, other: float) -> None:
    short, long = (
        number(endurance_h(capacity_ah=capacity, rated_h=20, peukert_k=k, load_a=load))
        for load in sorted((one, other), reverse=True)
    )
    assert short <= long * (1 + 1e-12)


@given(capacities, exponents, loads)
def test_nothing_is_credited_with_more_than_its_rating(capacity: float, k: float, load: float) -> None:
    lasts = number(endurance_h(capacity_ah=capacity, rated_h=20, peukert_k=k, load_a=load))
    assert lasts * load <= capacity * (1 + 1e-12)


@given(capacities, exponents, loads)
def test_from_full_to_nothing_is_the_endurance(capacity: float, k: float, load: float) -> None:
    whole = endurance_h(capacity_ah=capacity, rated_h=20, peukert_k=k, load_a=load)
    left = time_to_limit_h(
        capacity_ah=capacity, rated_h=20, peukert_k=k, charge_percent=100, limit_percent=0, load_a=load
    )
    assert number(left) == pytest.approx(number(whole))


@given(capacities, exponents, st.floats(1, 50))
def test_two_ratings_that_peukert_made_give_his_exponent_back(capacity: float, k: float, load: float) -> None:
    load = capacity / 20 * (1 + load)
    short_h = number(endurance_h(capacity_ah=capacity, rated_h=20, peukert_k=k, load_a=load))
    found = peukert_exponent(first_ah=capacity, first_h=20, second_ah=load * short_h, second_h=short_h)
    if isinstance(found, Reckoned):
        assert found.value == pytest.approx(k, abs=1e-6)
    else:
        assert found.wrong_input  # the second rating itself lies outside what is reckoned with


@given(exponents, st.floats(51, 100), st.floats(51, 100), loads)
def test_more_charge_never_lasts_shorter(k: float, one: float, other: float, load: float) -> None:
    short, long = (
        number(
            time_to_limit_h(
                capacity_ah=400, rated_h=20, peukert_k=k, charge_percent=charge, limit_percent=50, load_a=load
            )
        )
        for charge in sorted((one, other))
    )
    assert short <= long


@pytest.mark.parametrize("charge_percent", [50.0, 49.9, 0.0])
@pytest.mark.parametrize("load_a", [40.0, 0.0, -20.0])
def test_a_limit_that_is_reached_is_not_counted_down_to(charge_percent: float, load_a: float) -> None:
    found = time_to_limit_h(
        capacity_ah=400, rated_h=20, peukert_k=1.15, charge_percent=charge_percent, limit_percent=50, load_a=load_a
    )
    assert found == NotReckoned("already at or below the limit")


@pytest.mark.parametrize("k", [0.9, 1.61, float("nan")])
def test_an_exponent_that_no_battery_has_is_refused_by_name(k: float) -> None:
    found = endurance_h(capacity_ah=100, rated_h=20, peukert_k=k, load_a=10)
    assert isinstance(found, NotReckoned)
    assert found.wrong_input == PEUKERT_K.key


@pytest.mark.parametrize(
    ("second_ah", "second_h"),
    [(100, 20), (90, 20), (101, 5), (20, 5), (25, 5)],  # the same, two for one time, more when faster, far too little
)
def test_two_ratings_that_contradict_each_other_give_no_exponent(second_ah: float, second_h: float) -> None:
    found = peukert_exponent(first_ah=100, first_h=20, second_ah=second_ah, second_h=second_h)
    assert isinstance(found, NotReckoned)
    assert not found.wrong_input


def test_a_battery_that_gives_the_same_at_every_rate_has_the_exponent_1() -> None:
    for capacity, first_h, second_h in ((100, 20, 7), (50, 8, 7), (57, 100, 20)):  # two that come out a hair below 1
        found = peukert_exponent(first_ah=capacity, first_h=first_h, second_ah=capacity, second_h=second_h)
        assert number(found) == 1


# ---------------------------------------------------------------- the mean of the last quarter of an hour

NOW: Ms = 10 * HOUR


def mean(samples: list[Sample], longest_hold: Ms = 3 * MINUTE) -> Answer:
    return mean_of_last_quarter(samples, now=NOW, unit="A", longest_hold=longest_hold)


def every_minute(first: int, value: float) -> list[Sample]:
    return [Sample(NOW - back * MINUTE, value) for back in range(first, 0, -1)]


def test_a_pump_that_ran_for_three_minutes_weighs_a_fifth() -> None:
    samples = [*every_minute(15, 10.0)[:-3], *every_minute(3, 60.0)]
    assert number(mean(samples)) == pytest.approx((12 * 10 + 3 * 60) / 15)


def test_values_from_before_weigh_nothing_but_for_the_one_that_still_stood() -> None:
    samples = [Sample(NOW - HOUR, 500.0), Sample(NOW - 16 * MINUTE, 20.0), Sample(NOW - 14 * MINUTE, 10.0)]
    assert number(mean(samples, longest_hold=30 * MINUTE)) == pytest.approx((1 * 20 + 14 * 10) / 15)


def test_values_weigh_by_how_long_they_stood_and_not_by_how_many_there_are() -> None:
    chatty = [Sample(NOW - 5 * MINUTE + place, 100.0) for place in range(1000)]
    samples = [*every_minute(15, 10.0)[:10], *chatty]
    assert number(mean(samples, longest_hold=5 * MINUTE)) == pytest.approx((10 * 10 + 5 * 100) / 15)


def test_silence_is_not_taken_for_a_steady_load() -> None:
    early = every_minute(15, 10.0)[:4]  # then nothing for 11 min
    assert mean(early) == NotReckoned("values for only 6 of the last 15 min")
    assert mean([]) == NotReckoned("values for only 0 of the last 15 min")


def test_ten_minutes_of_values_are_enough_and_less_are_not() -> None:
    enough = [Sample(NOW - LEAST_COVER, 10.0)]
    assert number(mean(enough, longest_hold=HOUR)) == 10
    assert isinstance(mean([Sample(NOW - LEAST_COVER + 1, 10.0)], longest_hold=HOUR), NotReckoned)


def test_a_charger_that_carried_the_load_until_now_is_not_counted_as_rest() -> None:
    """Shore power was lost 5 min ago: with the charger's minutes 12.4 A would become 4.1 A, and 14 h 43 h."""
    loads = [*every_minute(15, -0.3)[:10], *every_minute(5, 12.4)]
    assert drawn_since(loads) == NOW - 5 * MINUTE
    found = mean_of_last_quarter(loads, now=NOW, unit="A", longest_hold=3 * MINUTE, since=drawn_since(loads))
    assert number(found) == pytest.approx(12.4)


def test_what_was_drawn_all_along_or_is_not_drawn_now_has_no_such_beginning() -> None:
    assert drawn_since(every_minute(15, 12.4)) is None
    assert drawn_since([*every_minute(15, 12.4)[:10], *every_minute(5, 0.5)]) is None
    assert drawn_since([]) is None


def test_two_minutes_of_drawing_are_enough_and_less_are_not() -> None:
    def since(begin: Ms) -> Answer:
        return mean_of_last_quarter([Sample(begin, 9.0)], now=NOW, unit="A", longest_hold=HOUR, since=begin)

    assert number(since(NOW - LEAST_DRAWN)) == 9
    assert since(NOW - LEAST_DRAWN + 1) == NotReckoned("values for only 1 of the last 1 min")


def test_a_value_that_is_none_spoils_the_mean() -> None:
    samples = [*every_minute(15, 10.0)[:-1], Sample(NOW - MINUTE, float("nan"))]
    assert isinstance(mean(samples), NotReckoned)


@given(st.lists(st.tuples(st.integers(0, 20 * MINUTE), st.floats(-100, 100)), min_size=1, max_size=30))
def test_a_mean_lies_between_its_values(pairs: list[tuple[Ms, float]]) -> None:
    samples = [Sample(NOW - back, value) for back, value in sorted(pairs, reverse=True)]
    found = mean(samples, longest_hold=HOUR)
    if isinstance(found, Reckoned):
        values = [value for _, value in pairs]
        assert min(values) - 1e-9 <= found.value <= max(values) + 1e-9


@given(st.floats(-50, 50), st.floats(-50, 50), st.floats(0.01, 100), st.floats(1, 10))
def test_what_moves_faster_is_never_later_at_its_limit(
    value: float, limit: float, per_hour: float, faster: float
) -> None:
    rate = per_hour if limit >= value else -per_hour
    slow = hours_to_value(value=value, limit=limit, per_hour=rate)
    fast = hours_to_value(value=value, limit=limit, per_hour=rate * faster)
    assert isinstance(slow, Reckoned)
    assert isinstance(fast, Reckoned)
    assert fast.value <= slow.value
    assert slow.value == pytest.approx(abs(limit - value) / per_hour)


def test_what_moves_away_or_stands_has_no_limit_ahead() -> None:
    assert isinstance(hours_to_value(value=3, limit=0, per_hour=1), NoEnd)
    assert isinstance(hours_to_value(value=3, limit=0, per_hour=0), NoEnd)
    assert isinstance(hours_to_value(value=float("nan"), limit=0, per_hour=-1), NotReckoned)


def test_half_an_ampere_is_no_load_so_that_drawing_begins_behind_it() -> None:
    """Handbook 4.3: up to 0.5 A there is no limit ahead."""
    loads = [*every_minute(15, 0.5)[:10], *every_minute(5, 12.4)]
    first = next(load.at for load in loads if load.value == 12.4)
    assert drawn_since(loads) == first
    assert drawn_since([Sample(one.at, max(one.value, 0.51)) for one in loads]) is None
