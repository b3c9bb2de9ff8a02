"""CHK-22: distances (handbook 4.9) against GeographicLib, on the sphere and on the WGS84 ellipsoid."""

from math import hypot

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import Reckoned
from gateway.reckoning.distance import MEAN_RADIUS_M, Position, metres_between
from gateway.reckoning.drift import about_m, swing_radius_m

MM = 0.001
SPHERE = Geodesic(MEAN_RADIUS_M, 0)
ELLIPSOID = Geodesic.WGS84

CHK_22 = [
    ((50.0000, -5.0000), (50.0010, -5.0000), 111.195, 111.229),
    ((50.0000, -5.0000), (50.0000, -4.9990), 71.475, 71.696),
    ((50.0000, -5.0000), (50.0003, -4.9995), 48.887, 48.975),
    ((60.0000, 20.0000), (60.0005, 20.0010), 78.626, 78.846),
    ((-33.8500, 151.2700), (-33.8505, 151.2705), 72.271, 72.229),
    ((0.0, 179.9999), (0.0, -179.9999), 22.239, 22.264),
    ((0.0, 0.0), (0.0, 1.0), 111195.080, 111319.491),
    ((50.0, -5.0), (50.0, -5.0), 0.0, 0.0),
]


def by_library(library: Geodesic, one: tuple[float, float], other: tuple[float, float]) -> float:
    return float(library.Inverse(*one, *other)["s12"])


@pytest.mark.parametrize(("one", "other", "sphere", "ellipsoid"), CHK_22)
def test_chk_22_haversine_to_the_millimetre(
    one: tuple[float, float], other: tuple[float, float], sphere: float, ellipsoid: float
) -> None:
    assert metres_between(Position(*one), Position(*other)) == pytest.approx(sphere, abs=MM)
    assert by_library(ELLIPSOID, one, other) == pytest.approx(ellipsoid, abs=MM)


def test_the_library_itself_meets_two_published_geodesics() -> None:
    """GeographicLib's documentation example, and Flinders Peak to Buninyong of the Australian GDA manual (both from
    memory): so that the yardstick is a yardstick."""
    assert by_library(ELLIPSOID, (-41.32, 174.81), (40.96, -5.50)) == pytest.approx(19959679.267, abs=MM)
    flinders = (-(37 + 57 / 60 + 3.72030 / 3600), 144 + 25 / 60 + 29.52440 / 3600)
    buninyong = (-(37 + 39 / 60 + 10.15610 / 3600), 143 + 55 / 60 + 35.38390 / 3600)
    assert by_library(ELLIPSOID, flinders, buninyong) == pytest.approx(54972.271, abs=MM)


places = st.tuples(st.floats(-89.9, 89.9), st.floats(-180, 180))


@given(places, places)
def test_over_the_sphere_the_library_agrees(one: tuple[float, float], other: tuple[float, float]) -> None:
    ours = metres_between(Position(*one), Position(*other))
    # near the antipodes the formula loses digits, which no boat will notice
    assert ours == pytest.approx(by_library(SPHERE, one, other), abs=MM if ours < 19_900_000 else 1.0)


@given(places, st.floats(-0.01, 0.01), st.floats(-0.01, 0.01))
def test_within_a_mile_the_ellipsoid_differs_by_less_than_0_6_per_cent(
    one: tuple[float, float], north: float, east: float
) -> None:
    """Movable Type's page says up to about 0.3 %; at the equator and the poles along a meridian it is more."""
    other = (max(-90.0, min(90.0, one[0] + north)), one[1] + east)
    ours = metres_between(Position(*one), Position(*other))
    assert ours == pytest.approx(by_library(ELLIPSOID, one, other), rel=0.006, abs=MM)


def test_the_swing_is_the_base_of_rode_and_depth_and_what_comes_on_top() -> None:
    """Common practice, no source: sqrt(rode^2 - depth^2) + bow to antenna + 5 to 10 m. A 3-4-5 triangle."""
    found = swing_radius_m(rode_m=50, water_m=30, antenna_m=8, gnss_m=10)
    assert isinstance(found, Reckoned)
    assert found.value == pytest.approx(40 + 8 + 10)
    assert hypot(found.value - 18, 30) == pytest.approx(50)


def test_a_distance_off_is_told_no_finer_than_a_receiver_knows_it() -> None:
    """A boat adrift at 50.0018, -4.9991 from 50.0010, -5.0005 is 134 m off by the ellipsoid, and told to be 130: the
    nearest ten metres, by which receivers wander (handbook 4.9: 5 to 10 m)."""
    place, boat = (50.0010, -5.0005), (50.0018, -4.9991)
    assert by_library(ELLIPSOID, place, boat) == pytest.approx(134, abs=0.5)
    found = about_m(metres_between(Position(*place), Position(*boat)))
    assert isinstance(found, Reckoned)
    assert found.said == "about 130 m"


@given(st.floats(0, 999))
def test_below_100_m_whole_metres_are_told_and_from_there_on_tens(metres: float) -> None:
    found = about_m(metres)
    assert isinstance(found, Reckoned)
    step = 10 if metres >= 99.5 else 1
    assert found.shown % step == 0
    assert abs(float(found.shown) - metres) <= step / 2 + 1e-6
