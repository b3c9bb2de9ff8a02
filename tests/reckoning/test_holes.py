"""What runs in through a hole."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import NotReckoned, Reckoned
from gateway.reckoning.holes import DEPTH_M, HOLE_MM, Edge, hole_l_per_min

sizes = st.floats(1, 250)
depths = st.floats(0.01, 10)


def inflow(hole_mm: float, depth_m: float, edge: Edge = Edge.SHARP) -> float:
    found = hole_l_per_min(hole_mm=hole_mm, depth_m=depth_m, edge=edge)
    assert isinstance(found, Reckoned), found
    return found.value


@given(sizes, depths, depths)
def test_the_deeper_the_more(hole_mm: float, one: float, other: float) -> None:
    shallow, deep = sorted((one, other))
    assert inflow(hole_mm, shallow) <= inflow(hole_mm, deep)


@given(sizes, depths)
def test_twice_the_diameter_is_four_times_the_water(hole_mm: float, depth_m: float) -> None:
    assert inflow(2 * hole_mm, depth_m) == pytest.approx(4 * inflow(hole_mm, depth_m))


@given(sizes, st.floats(0.01, 2.5))
def test_four_times_the_depth_is_twice_the_water(hole_mm: float, depth_m: float) -> None:
    assert inflow(hole_mm, 4 * depth_m) == pytest.approx(2 * inflow(hole_mm, depth_m))


@given(sizes, depths)
def test_a_sharp_edge_lets_in_six_tenths_of_the_ideal(hole_mm: float, depth_m: float) -> None:
    assert inflow(hole_mm, depth_m) == pytest.approx(0.6 * inflow(hole_mm, depth_m, Edge.IDEAL))


@pytest.mark.parametrize(
    ("hole_mm", "depth_m", "named"),
    [(0.0, 1.0, HOLE_MM.key), (501.0, 1.0, HOLE_MM.key), (25.0, 0.0, DEPTH_M.key), (25.0, float("nan"), DEPTH_M.key)],
)
def test_what_is_out_of_range_is_named(hole_mm: float, depth_m: float, named: str) -> None:
    found = hole_l_per_min(hole_mm=hole_mm, depth_m=depth_m, edge=Edge.SHARP)
    assert isinstance(found, NotReckoned)
    assert found.wrong_input == named
