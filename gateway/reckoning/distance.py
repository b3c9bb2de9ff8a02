"""The distance between two positions (handbook 4.9, haversine).

a = sin^2(dlat/2) + cos lat1 cos lat2 sin^2(dlon/2); d = 2 R asin(sqrt a), R = 6371008.8 m, the mean radius (IUGG). The
sphere differs from the WGS84 ellipsoid by some tenths of a per cent: 0.2 m in 70 m, nothing against GNSS noise.
"""

from decimal import Decimal
from math import asin, cos, radians, sin, sqrt
from typing import NamedTuple

from gateway.reckoning.answers import Reckoned
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import nearest

MEAN_RADIUS_M = 6_371_008.8


class Position(NamedTuple):
    """Latitude and longitude in degrees WGS84, north and east positive."""

    lat: float
    lon: float


def _angle(key: str, words: str, most: int) -> Quantity:
    return Quantity(key=key, unit="deg", words=words, lowest=-most, highest=most)


FROM_LAT, FROM_LON = (
    _angle("from_lat_deg", "the first latitude", 90),
    _angle("from_lon_deg", "the first longitude", 180),
)
TO_LAT, TO_LON = _angle("to_lat_deg", "the second latitude", 90), _angle("to_lon_deg", "the second longitude", 180)


def is_position(position: Position) -> bool:
    """Whether it lies on the globe: -90 to 90, -180 to 180 degrees; not a number never does."""
    return FROM_LAT.holds(position.lat) and FROM_LON.holds(position.lon)


def metres_between(one: Position, other: Position) -> float:
    """The distance over the mean sphere, m. Any longitudes; the date line is no obstacle. Source: handbook 4.9."""
    half_lat = radians(other.lat - one.lat) / 2
    half_lon = radians(other.lon - one.lon) / 2
    a = sin(half_lat) ** 2 + cos(radians(one.lat)) * cos(radians(other.lat)) * sin(half_lon) ** 2
    return 2 * MEAN_RADIUS_M * asin(sqrt(min(1.0, a)))  # of antipodes a may come out a hair above 1


def _at_the_bench(from_lat_deg: float, from_lon_deg: float, to_lat_deg: float, to_lon_deg: float) -> tuple[Result, ...]:
    if wrong := out_of_range(
        (FROM_LAT, from_lat_deg), (FROM_LON, from_lon_deg), (TO_LAT, to_lat_deg), (TO_LON, to_lon_deg)
    ):
        return (Result("Distance", wrong),)
    metres = metres_between(Position(from_lat_deg, from_lon_deg), Position(to_lat_deg, to_lon_deg))
    return (Result("Distance", Reckoned(value=metres, shown=nearest(metres, Decimal(1)), unit="m")),)


DISTANCE = Sum(
    name="distance",
    asks="How far apart are two positions?",
    takes=(FROM_LAT, FROM_LON, TO_LAT, TO_LON),
    reckon=_at_the_bench,
    formula="haversine: d = 2 R asin sqrt(sin^2(dlat/2) + cos lat1 cos lat2 sin^2(dlon/2)), R = 6371008.8 m",
    source="handbook 4.9; haversine, mean radius of the IUGG",
    caution="Over a sphere: up to about 0.6% from the ellipsoid. Not for navigation.",
)
