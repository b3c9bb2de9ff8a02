"""Whether a boat has left her circle."""

from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import NoEnd, NotReckoned, Reckoned
from gateway.reckoning.distance import Position, is_position, metres_between
from gateway.reckoning.drift import (
    APART,
    RODE_M,
    Fix,
    Whereabouts,
    about_m,
    is_usable,
    metres_per_minute,
    swing_radius_m,
    whereabouts,
)
from gateway.reckoning.lines import Sample
from gateway.vocabulary.moments import SECOND

CENTRE = Position(50.0, -5.0)
NEAR, FAR = Position(50.0001, -5.0), Position(50.001, -5.0)  # 11 m and 111 m away
INSIDE, OUTSIDE, UNSETTLED = Whereabouts.INSIDE, Whereabouts.OUTSIDE, Whereabouts.UNSETTLED
places = st.builds(Position, st.floats(-90, 90), st.floats(-180, 180))


def said(pattern: Iterable[str], apart: int = APART, radius_m: float = 25) -> Whereabouts:
    """i: a fix inside, o: one outside, oldest first."""
    fixes = [Fix(place * apart, NEAR if letter == "i" else FAR) for place, letter in enumerate(pattern)]
    return whereabouts(fixes, centre=CENTRE, radius_m=radius_m)


@pytest.mark.parametrize(
    ("pattern", "expected"),
    [
        ("iiooo", OUTSIDE),
        ("oioio", OUTSIDE),
        ("ooiii", UNSETTLED),
        ("oiiii", UNSETTLED),
        ("iiiii", INSIDE),
        ("oooooiiiii", INSIDE),
        ("iiiiiooo", OUTSIDE),
        ("ooo", OUTSIDE),
        ("oo", UNSETTLED),
        ("iiii", UNSETTLED),
        ("", UNSETTLED),
    ],
)
def test_three_of_five_outside_are_a_drift_and_five_of_five_inside_are_none(
    pattern: str, expected: Whereabouts
) -> None:
    assert said(pattern) is expected


@given(st.lists(st.sampled_from("io"), max_size=12))
def test_the_last_five_alone_decide(pattern: list[str]) -> None:
    assert said(pattern) is said(pattern[-5:])


def test_a_reflection_of_some_seconds_is_no_drift() -> None:
    assert said("i" * 120 + "o" * 20, apart=SECOND) is UNSETTLED
    assert said("i" * 120 + "o" * 32, apart=SECOND) is OUTSIDE


def test_exactly_on_the_circle_is_inside() -> None:
    assert said("ooooo", radius_m=metres_between(CENTRE, FAR)) is INSIDE


def test_a_circle_that_is_no_number_holds_no_boat() -> None:
    assert said("iiiii", radius_m=float("nan")) is OUTSIDE


@pytest.mark.parametrize(
    ("fix", "usable"),
    [
        (Fix(0, NEAR), True),
        (Fix(0, NEAR, 4.0, 5), True),
        (Fix(0, NEAR, 4.1, 5), False),
        (Fix(0, NEAR, float("nan"), 5), False),
        (Fix(0, NEAR, 1.0, 4), False),
        (Fix(0, Position(0.0, 0.0)), False),
        (Fix(0, Position(91.0, 0.0)), False),
        (Fix(0, Position(50.0, float("nan"))), False),
    ],
)
def test_poor_fixes_do_not_count(fix: Fix, usable: bool) -> None:
    assert is_usable(fix) is usable


def test_poor_fixes_neither_raise_nor_clear() -> None:
    good = [Fix(place * APART, NEAR) for place in range(5)]
    poor = [Fix((5 + place) * APART, FAR, hdop=9.0) for place in range(5)]
    assert whereabouts([*good, *poor], centre=CENTRE, radius_m=25) is INSIDE
    assert whereabouts(poor, centre=CENTRE, radius_m=25) is UNSETTLED


@given(places, places)
def test_a_distance_is_the_same_both_ways_and_nothing_to_oneself(one: Position, other: Position) -> None:
    assert metres_between(one, other) == pytest.approx(metres_between(other, one))
    assert metres_between(one, one) == 0
    assert is_position(one)


@given(st.floats(1, 500), st.floats(0, 200), st.floats(0, 100))
def test_more_rode_is_never_a_smaller_circle_and_the_tide_never_a_larger_one(
    rode: float, water: float, antenna: float
) -> None:
    def radius(rode_m: float, water_m: float) -> float:
        found = swing_radius_m(rode_m=rode_m, water_m=water_m, antenna_m=antenna, gnss_m=10)
        return found.value if isinstance(found, Reckoned) else 0.0

    assert radius(rode, water) <= radius(rode, 0.0) + 1e-9
    assert radius(rode, water) <= radius(min(rode + 10, 500), water) + 1e-9


def test_a_rode_that_does_not_reach_the_bottom_has_no_circle() -> None:
    found = swing_radius_m(rode_m=10, water_m=10, antenna_m=5, gnss_m=10)
    assert found == NotReckoned("the rode does not reach the bottom")
    wrong = swing_radius_m(rode_m=0, water_m=10, antenna_m=5, gnss_m=10)
    assert isinstance(wrong, NotReckoned)
    assert wrong.wrong_input == RODE_M.key


@given(st.floats(-5, 5).filter(lambda speed: abs(speed) > 0.2), st.floats(0, 5000))
def test_a_boat_that_moves_evenly_shows_her_own_speed_and_its_sign(speed_m_per_s: float, begins: float) -> None:
    """In metres a minute: sixty times what it is in metres a second."""
    fixes = [Sample(place * APART, begins + speed_m_per_s * place * 15) for place in range(5)]
    rate = metres_per_minute(fixes)
    assert isinstance(rate, Reckoned), rate
    assert rate.value == pytest.approx(60 * speed_m_per_s, rel=1e-6)


def test_less_than_a_receivers_noise_is_no_moving_off() -> None:
    assert isinstance(metres_per_minute([Sample(n * APART, 20 + 2.4 * n) for n in range(5)]), NoEnd)  # 9.6 m
    assert isinstance(metres_per_minute([Sample(n * APART, 20 + 2.6 * n) for n in range(5)]), Reckoned)  # 10.4 m


def test_two_fixes_or_some_seconds_make_no_rate() -> None:
    assert isinstance(metres_per_minute([Sample(0, 0.0), Sample(60_000, 100.0)]), NotReckoned)
    assert isinstance(metres_per_minute([Sample(n * 10_000, 50.0 * n) for n in range(3)]), NotReckoned)


def test_a_distance_is_shown_with_two_figures_and_whole_metres() -> None:
    for metres, shown in ((3.4, "about 3 m"), (117.0, "about 120 m"), (0.2, "about 0 m")):
        told = about_m(metres)
        assert isinstance(told, Reckoned)
        assert told.said == shown
