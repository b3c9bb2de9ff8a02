"""What is kept of a signal's past: how much, how long, and what a gap makes unknown."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.boat.settings import Carries, Signal
from gateway.conditions.looking_back import (
    MOST_STARTS,
    growth_turns,
    mean_turns_after,
    ran,
    ran_enough_at,
    started,
    starts_by_the_hour,
    starts_grow,
    time_on,
)
from gateway.conditions.past import (
    FINEST,
    MOST_SPANS,
    SAMPLES_A_WINDOW,
    Keeps,
    Kept,
    Need,
    Past,
    Pasts,
    Span,
    kept_fact,
    needs_in,
)
from gateway.conditions.sight import need_of
from gateway.conditions.verdicts import Verdict
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import IsMoving, RanLonger, StartedOften, StartsGrow, Trend

STALE = 90 * SECOND
T0 = 1_772_334_240_000
PUMP = Signal(
    id="grey-wagtail/pump",
    boat="grey-wagtail",
    key="pump",
    topic="t",
    carries=Carries.CONTACT,
    report_interval=30 * SECOND,
)
RUNS = Need(PUMP.id, Keeps.RUNS, HOUR, STALE)
LONG = RanLonger(signal="pump", wanted=True, more_than=20 * MINUTE, window=HOUR)


def contact(text: str) -> Reading:
    return Reading(signal=PUMP.id, grade=Grade.CONTACT, text=text)


def fed(need: Need, *values: tuple[Ms, str]) -> Past:
    past = Past()
    for at, text in values:
        past.take(need, contact(text), T0 + at)
    return past


def test_a_contact_counts_as_it_was_until_its_next_value_and_no_longer_than_it_is_fresh() -> None:
    past = fed(RUNS, (0, "on"), (60 * SECOND, "off"), (100 * SECOND, "on"), (300 * SECOND, "off"))
    assert time_on(past, RUNS, HOUR, True, T0 + 300 * SECOND).least == 60 * SECOND + STALE
    assert time_on(past, RUNS, HOUR, True, T0 + 300 * SECOND).most == HOUR - 40 * SECOND


def test_what_is_not_known_may_have_been_either() -> None:
    past = fed(RUNS, (0, "off"), (30 * SECOND, "off"))
    on = time_on(past, RUNS, MINUTE, True, T0 + 30 * SECOND)
    assert (on.least, on.most) == (0, 30 * SECOND)  # half of the window lies before the first value


def test_unreadable_values_and_states_of_unknown_age_break_what_is_known() -> None:
    past = fed(RUNS, (0, "on"))
    past.lose(RUNS, T0 + 20 * SECOND)
    past.take(RUNS, contact("on"), T0 + 50 * SECOND)
    assert time_on(past, RUNS, HOUR, True, T0 + 60 * SECOND).least == 30 * SECOND


def test_the_instant_at_which_it_will_have_been_on_for_too_long_is_found_to_the_millisecond() -> None:
    past = fed(RUNS, *((number * 30 * SECOND, "on") for number in range(40)))
    assert ran_enough_at(LONG, past, RUNS, T0 + 39 * 30 * SECOND) == T0 + 20 * MINUTE + 1
    assert ran(LONG, past, RUNS, T0 + 20 * MINUTE) is not Verdict.HOLDS
    assert ran(LONG, past, RUNS, T0 + 20 * MINUTE + 1) is Verdict.HOLDS


def test_a_contact_that_will_be_stale_before_is_never_on_for_too_long_by_time_alone() -> None:
    past = fed(RUNS, *((number * 30 * SECOND, "on") for number in range(37)))  # the last at 18 min
    assert ran_enough_at(LONG, past, RUNS, T0 + 18 * MINUTE) is None


@given(st.lists(st.tuples(st.integers(1, 200), st.booleans()), min_size=1, max_size=60), st.integers(1, 40))
def test_the_crossing_found_is_the_first(values: list[tuple[int, bool]], limit: int) -> None:
    need = Need(PUMP.id, Keeps.RUNS, 10 * MINUTE, STALE)
    condition = RanLonger(signal="pump", wanted=True, more_than=limit * 7 * SECOND, window=10 * MINUTE)
    past, at = Past(), T0
    for apart, on in values:
        at += apart * SECOND
        past.take(need, contact("on" if on else "off"), at)
    found = ran_enough_at(condition, past, need, at)
    holding = [s for s in range(92) if ran(condition, past, need, at + s * SECOND) is Verdict.HOLDS]
    if found is None:
        assert not holding
    else:
        assert ran(condition, past, need, found) is Verdict.HOLDS
        assert found == at or ran(condition, past, need, found - 1) is not Verdict.HOLDS
        assert not holding or at + holding[0] * SECOND >= found


def test_a_pump_that_chatters_for_a_day_costs_bounded_memory_and_is_counted_to_the_second() -> None:
    need = Need(PUMP.id, Keeps.RUNS, DAY, STALE)
    past = Past()
    for second in range(0, 40_000, 2):
        past.take(need, contact("on" if second % 4 else "off"), T0 + second * SECOND)
        assert len(past.spans) <= MOST_SPANS
    on = time_on(past, need, DAY, True, T0 + 39_998 * SECOND)
    assert on.least == 19_998 * SECOND  # nothing has left the window, so nothing is lost
    late = T0 + 39_998 * SECOND + DAY - 20_000 * SECOND  # half of it has left
    past.take(need, contact("off"), late)
    exact = 10_000 * SECOND + STALE  # the last value on counts on while it is fresh
    assert 0 <= exact - time_on(past, need, DAY, True, late).least <= DAY // FINEST


def test_starts_are_kept_as_many_as_decide() -> None:
    often = StartedOften(signal="pump", more_than=3, window=HOUR)
    need = need_of(often, PUMP)
    past = fed(need, *((number * 30 * SECOND, "on" if number % 2 else "off") for number in range(100)))
    assert (need.amount, len(past.instants)) == (4, 4)
    assert started(often, past, T0 + 99 * 30 * SECOND) is Verdict.HOLDS


def test_a_first_value_on_is_no_start_and_one_behind_a_gap_is() -> None:
    need = Need(PUMP.id, Keeps.STARTS, 4, STALE)
    assert fed(need, (0, "on"), (30 * SECOND, "on")).instants == []
    assert fed(need, (0, "off"), (HOUR, "on")).instants == [T0 + HOUR]


def test_of_samples_no_more_are_kept_than_a_line_needs() -> None:
    fuel = Signal(id="grey-wagtail/fuel", boat="grey-wagtail", key="fuel", topic="t", unit="%", report_interval=SECOND)
    need = need_of(IsMoving(signal="fuel", trend=Trend.FALLING, faster_than=Decimal(2), unit="%"), fuel)
    past = Past()
    for second in range(3 * 3_600):
        past.take(need, Reading(signal=fuel.id, grade=Grade.NUMBER, text="50"), T0 + second * SECOND)
        assert len(past.values) <= SAMPLES_A_WINDOW + 1


def test_what_is_kept_goes_on_when_the_settings_change_and_what_nobody_asks_for_is_dropped() -> None:
    pasts, often = Pasts(), Need(PUMP.id, Keeps.STARTS, 4, STALE)
    pasts.apply(kept_fact("grey-wagtail", (RUNS, often)))
    pasts.absorb(contact("on"), T0)
    longer = Need(PUMP.id, Keeps.RUNS, DAY, STALE)
    pasts.apply(kept_fact("grey-wagtail", (longer,)))
    assert list(pasts.past) == [longer.key]
    assert pasts.past[longer.key].known_since == T0
    pasts.apply(kept_fact("grey-wagtail", ()))
    assert (pasts.needs, pasts.past) == ({}, {})


def test_the_fact_says_what_is_kept() -> None:
    fact = kept_fact("grey-wagtail", (RUNS,))
    assert fact.needs == ("grey-wagtail/pump runs 3600000 90000",)
    assert needs_in(fact) == (RUNS,)


OFTENER = StartedOften(signal="pump", more_than=2, window=HOUR, mean_of=7 * DAY)


def pumped(*starts: int, until: int) -> Past:
    """A pump that is read every 30 s and runs for 30 s from each of these instants (ms from the beginning)."""
    need = need_of(OFTENER, PUMP)
    past = Past()
    for at in range(0, until + 1, 30 * SECOND):
        past.take(need, contact("on" if at in starts else "off"), T0 + at)
    return past


def test_twice_the_mean_of_the_week_before_the_hour_holds_and_exactly_twice_does_not() -> None:
    usual = range(HOUR, 48 * HOUR, 2 * HOUR)  # one start in two hours: 0.5 an hour
    now = 49 * HOUR
    once = pumped(*usual, now - 20 * MINUTE, until=now)
    assert started(OFTENER, once, T0 + now) is Verdict.DOES_NOT  # one start, twice 0.5
    twice = pumped(*usual, now - 20 * MINUTE, now - 10 * MINUTE, until=now)
    assert started(OFTENER, twice, T0 + now) is Verdict.HOLDS
    assert started(OFTENER, twice, T0 + now + 2 * HOUR) is Verdict.DOES_NOT  # they have left the hour


def test_no_mean_is_made_of_less_than_a_day_without_a_break() -> None:
    short = pumped(23 * HOUR, 23 * HOUR + 10 * MINUTE, until=24 * HOUR - MINUTE)
    assert started(OFTENER, short, T0 + 24 * HOUR - MINUTE) is Verdict.UNKNOWN
    assert started(OFTENER, short, T0 + 24 * HOUR) is Verdict.HOLDS


def test_a_mean_turns_by_time_when_a_start_leaves_the_hour_or_the_week() -> None:
    past = pumped(HOUR, until=2 * HOUR)
    assert mean_turns_after(OFTENER, past, T0) == [T0 + DAY, T0 + 2 * HOUR, T0 + HOUR + 7 * DAY]
    assert mean_turns_after(OFTENER, past, T0 + 2 * HOUR) == [T0 + DAY, T0 + HOUR + 7 * DAY]


GROWING = StartsGrow(signal="pump", times=2, hours=2)


def growing(*counts: int, until: int = 0) -> tuple[Past, int]:
    """A pump read every 30 s that starts so often in each hour, every four minutes from half a minute after the hour's
    begin on; and the instant of the end of these hours."""
    need = need_of(GROWING, PUMP)
    past, end = Past(), len(counts) * HOUR + until
    starts = {hour * HOUR + 30 * SECOND + n * 4 * MINUTE for hour, count in enumerate(counts) for n in range(count)}
    for at in range(0, end + 1, 30 * SECOND):
        past.take(need, contact("on" if at in starts else "off"), T0 + at)
    return past, T0 + end


@pytest.mark.parametrize(
    ("counts", "verdict"),
    [
        ((1, 2, 4), Verdict.HOLDS),  # doubled twice running
        ((3, 7, 15), Verdict.HOLDS),
        ((1, 2, 3), Verdict.DOES_NOT),
        ((2, 3, 6), Verdict.DOES_NOT),
        ((4, 4, 8), Verdict.DOES_NOT),
        ((0, 1, 2), Verdict.DOES_NOT),  # of nothing nothing is a multiple
        ((0, 0, 0), Verdict.DOES_NOT),
        ((2, 4), Verdict.UNKNOWN),  # the hour before was not read
    ],
)
def test_starts_grow_when_each_hour_has_twice_those_of_the_hour_before(
    counts: tuple[int, ...], verdict: Verdict
) -> None:
    past, at = growing(*counts)
    assert starts_grow(GROWING, past, at) is verdict


def test_a_gap_in_any_of_the_hours_leaves_growth_unknown_until_they_are_read_again() -> None:
    past, at = growing(0, 1, 2, 4)
    past.lose(need_of(GROWING, PUMP), at)
    past.take(need_of(GROWING, PUMP), contact("off"), at + 30 * SECOND)
    assert starts_grow(GROWING, past, at + 30 * SECOND) is Verdict.UNKNOWN
    assert starts_by_the_hour(GROWING, past, at + 30 * SECOND + 3 * HOUR) == [0, 0, 0]


def test_a_start_passes_from_one_hour_to_the_one_before_at_the_very_instant() -> None:
    past, at = growing(1, 2, 4)
    assert starts_by_the_hour(GROWING, past, at + 30 * SECOND - 1) == [1, 2, 4]
    assert starts_by_the_hour(GROWING, past, at + 30 * SECOND) == [1, 2, 3]  # and the first has left the three hours
    assert growth_turns(GROWING, past, need_of(GROWING, PUMP)) == [at + 30 * SECOND] * 3


def test_growth_may_begin_to_hold_by_time_alone_as_the_oldest_hour_is_known() -> None:
    past, at = growing(1, 2, 4, until=-30 * SECOND)
    assert starts_grow(GROWING, past, at) is Verdict.UNKNOWN
    assert T0 + 3 * HOUR in growth_turns(GROWING, past, need_of(GROWING, PUMP))
    assert starts_grow(GROWING, past, T0 + 3 * HOUR) is Verdict.HOLDS


def test_more_starts_than_are_kept_are_not_compared() -> None:
    need = need_of(GROWING, PUMP)
    past = Past()
    for second in range(0, 3 * 3_600 + 1, 5):
        past.take(need, contact("on" if second % 10 else "off"), T0 + second * SECOND)
    assert len(past.instants) == MOST_STARTS
    assert starts_grow(GROWING, past, T0 + 3 * HOUR) is Verdict.UNKNOWN


def test_the_mean_of_more_starts_than_are_kept_is_that_of_the_last_ones() -> None:
    """A start every two minutes for 40 h, and 55 in the hour behind them: of the last thousand, that is 30 an hour, and
    55 are not twice as many. Held against the whole 40 h they would be."""
    usual = [n * 2 * MINUTE for n in range(40 * 30)]
    hour = [40 * HOUR + n * MINUTE for n in range(1, 56)]
    past = Past(known_since=T0, instants=[T0 + at for at in (*usual, *hour)][-MOST_STARTS:])
    assert started(OFTENER, past, T0 + 41 * HOUR) is Verdict.DOES_NOT
    more = [40 * HOUR + n * 50 * SECOND for n in range(1, 72)]
    past.instants = [T0 + at for at in (*usual, *more)][-MOST_STARTS:]
    assert started(OFTENER, past, T0 + 41 * HOUR) is Verdict.HOLDS


def test_a_position_that_a_receiver_gives_before_it_has_one_is_no_fix() -> None:
    """0, 0 (handbook 4.9, ours): five of them would be a boat adrift. One fix in 15 s counts."""
    need, past = Need("grey-wagtail/position", Keeps.FIXES, 5, STALE), Past()
    given = [(0, "50.0 -5.0"), (15, "0 0"), (29, "0.0 0.0"), (30, "50.1 -5.0"), (44, "50.2 -5.0"), (45, "50.3 -5.0")]
    for at, text in given:
        past.take(need, Reading(signal=need.signal, grade=Grade.POSITION, text=text), T0 + at * SECOND)
    assert [one.text for one in past.values] == ["50.0 -5.0", "50.1 -5.0", "50.3 -5.0"]


@given(
    st.lists(st.tuples(st.integers(1, 120), st.integers(0, 100)), min_size=1, max_size=8),
    st.integers(1, 60),
    st.booleans(),
)
def test_the_crossing_is_the_first_also_where_short_spans_were_joined(
    joined: list[tuple[int, int]], limit: int, wanted: bool
) -> None:
    """Of a joined span that leaves the window the part that was off is taken to leave last."""
    need = Need(PUMP.id, Keeps.RUNS, 10 * MINUTE, 10 * MINUTE)
    condition = RanLonger(signal="pump", wanted=wanted, more_than=limit * 7 * SECOND, window=10 * MINUTE)
    past, at = Past(known_since=T0), T0
    for length, per_cent in joined:
        past.spans.append(Span(at, at + length * SECOND, length * per_cent * SECOND // 100))
        at += length * SECOND
    past.newest = Kept(at, "on" if wanted else "off")
    found = ran_enough_at(condition, past, need, at)
    holding = next((s for s in range(601) if ran(condition, past, need, at + s * SECOND) is Verdict.HOLDS), None)
    if holding is None:
        assert found is None or ran(condition, past, need, found) is Verdict.HOLDS
    else:
        assert found is not None
        assert at + (holding - 1) * SECOND < found <= at + holding * SECOND or (found, holding) == (at, 0)
