"""Whether a boat has left her circle, and how large the circle is (handbook 4.9).

Receivers wander, so no single fix decides: 3 of 5 outside say drift, 5 of 5 inside say back (our rules). Fixes with an
HDOP above 4 or fewer than 5 satellites do not count (common practice).
"""

from collections.abc import Sequence
from decimal import Decimal
from enum import StrEnum
from itertools import islice
from math import isfinite, sqrt
from typing import NamedTuple

from gateway.reckoning.answers import Answer, Found, NoEnd, NotReckoned, Reckoned
from gateway.reckoning.asking import Quantity, Result, Several, Sum, out_of_range
from gateway.reckoning.distance import Position, is_position, metres_between
from gateway.reckoning.lines import Sample, line_through
from gateway.reckoning.rounding import figures, up
from gateway.reckoning.units import MS_PER_HOUR, feet
from gateway.vocabulary.moments import SECOND, Ms

OF_FIXES = 5
OUTSIDE_FIXES = 3
SPREAD: Ms = 60 * SECOND
"""Three of five fixes over 60 s (handbook, point P23)."""
APART: Ms = SPREAD // (OF_FIXES - 1)
"""So a receiver that reports each second counts with one fix in 15 s: one bad reflection lasts for seconds."""
MOST_HDOP = 4.0
FEWEST_SATELLITES = 5
GNSS_NOISE_M = 10.0
ALARM_BEYOND_SWING_M = 15.0
"""The alarm's radius is the swing and this (handbook, point P23)."""


class Fix(NamedTuple):
    """A position with its instant (ms UTC). hdop, satellites: None when the receiver does not tell."""

    at: Ms
    position: Position
    hdop: float | None = None
    satellites: int | None = None


class Whereabouts(StrEnum):
    """What the last fixes say together."""

    OUTSIDE = "outside the circle"
    INSIDE = "inside the circle"
    UNSETTLED = "unsettled: too few fixes, or they disagree"


def is_usable(fix: Fix) -> bool:
    """Whether a fix may count. What a receiver does not tell is not held against it; the position 0, 0, which some give
    before they have a fix, is (our choice: no boat of ours lies there)."""
    if not is_position(fix.position) or fix.position == (0, 0):
        return False
    if fix.hdop is not None and not fix.hdop <= MOST_HDOP:
        return False
    return fix.satellites is None or fix.satellites >= FEWEST_SATELLITES


def whereabouts(fixes: Sequence[Fix], *, centre: Position, radius_m: float) -> Whereabouts:
    """What the last five usable fixes, each 15 s or more apart, say. fixes: oldest first. On the circle is inside.

    Outside needs no more than three; inside needs all five. In between nothing changes: an alarm that stands goes on
    standing. Source: handbook 4.9, our rules.
    """
    last = list(islice(_apart([fix for fix in fixes if is_usable(fix)]), OF_FIXES))
    outside = sum(not metres_between(centre, fix.position) <= radius_m for fix in last)  # "unknown" is not inside
    if outside >= OUTSIDE_FIXES:
        return Whereabouts.OUTSIDE
    return Whereabouts.INSIDE if len(last) == OF_FIXES and outside == 0 else Whereabouts.UNSETTLED


def _apart(fixes: Sequence[Fix]) -> list[Fix]:
    """Newest first, each 15 s or more before the one that was kept before it."""
    kept: list[Fix] = []
    for fix in reversed(fixes):
        if not kept or kept[-1].at - fix.at >= APART:
            kept.append(fix)
    return kept


RODE_M = Quantity(key="rode_m", unit="m", words="the rode let out", lowest=1, highest=500, also=(feet("rode"),))
WATER_M = Quantity(
    key="water_m",
    unit="m",
    words="the height of the bow roller above the bottom",
    lowest=0,
    highest=200,
    also=(feet("water"),),
)
ANTENNA_M = Quantity(
    key="antenna_m", unit="m", words="bow roller to antenna", lowest=0, highest=100, also=(feet("antenna"),)
)
GNSS_M = Quantity(key="gnss_m", unit="m", words="the receiver's noise", lowest=5, highest=10, usual=10)
RADIUS_M = Quantity(key="radius_m", unit="m", words="the circle's radius", lowest=1, highest=5_000)
CENTRE_LAT = Quantity(key="centre_lat_deg", unit="deg", words="the circle's latitude", lowest=-90, highest=90)
CENTRE_LON = Quantity(key="centre_lon_deg", unit="deg", words="the circle's longitude", lowest=-180, highest=180)
FIXES = Several(
    key="fix",
    words="a fix as latitude,longitude, oldest first",
    parts=(
        Quantity(key="lat", unit="deg", words="a fix's latitude", lowest=-90, highest=90),
        Quantity(key="lon", unit="deg", words="a fix's longitude", lowest=-180, highest=180),
    ),
)


def swing_radius_m(*, rode_m: float, water_m: float, antenna_m: float, gnss_m: float) -> Answer:
    """How far the antenna comes from the anchor, m: sqrt(rode^2 - water^2) + antenna + gnss, shown rounded up.

    water_m: from the bottom to the bow roller at low tide, when the circle is largest. antenna_m: bow roller to
    antenna, along the deck. gnss_m: 5 to 10. Refused when the rode does not reach the bottom. Source: handbook 4.9,
    common practice.
    """
    if wrong := out_of_range((RODE_M, rode_m), (WATER_M, water_m), (ANTENNA_M, antenna_m), (GNSS_M, gnss_m)):
        return wrong
    if rode_m <= water_m:
        return NotReckoned("the rode does not reach the bottom")
    return _metres(sqrt(rode_m**2 - water_m**2) + antenna_m + gnss_m)


def about_m(metres: float) -> Answer:
    """A distance (m) as it may be shown: two figures, to the nearest, so 134 m is told as 130.

    From 100 m on that is the ten metres by which a receiver wanders (handbook 4.9: 5 to 10 m). Below, whole metres stay
    (our choice): next to a radius of 25 m, 27 m must not read like 30, nor 24 like 20.
    """
    if not isfinite(metres):
        return NotReckoned("the position is none")
    return Reckoned(value=metres, shown=figures(metres, 2).quantize(Decimal(1)), unit="m")


def metres_per_minute(distances: Sequence[Sample]) -> Answer:
    """How fast a boat leaves her place (+) or comes back (-), m/min, by the line of least squares through the distances
    of her last fixes (m, oldest first).

    Refused with fewer than three fixes or over less than 30 s. Moving less than a receiver's noise (10 m, handbook 4.9)
    over all of them is "not moving off": our choice. Source: handbook 4.9; 4.6 for the line.
    """
    line = line_through(distances)
    if len(distances) < OUTSIDE_FIXES or line is None or distances[-1].at - distances[0].at < SPREAD // 2:
        return NotReckoned("too few fixes for a rate")
    per_minute = line.per_hour / 60
    if abs(line.per_hour) * (distances[-1].at - distances[0].at) / MS_PER_HOUR < GNSS_NOISE_M:
        return NoEnd("not moving off")
    return Reckoned(value=per_minute, shown=figures(per_minute, 2), unit="m/min")


def _metres(value: float) -> Reckoned:
    return Reckoned(value=value, shown=up(value, Decimal(1)), unit="m")


def _swing_at_the_bench(**given: float) -> tuple[Result, ...]:
    swing = swing_radius_m(**given)
    if not isinstance(swing, Reckoned):
        return (Result("Swing", swing),)
    return (
        Result("Swing", swing),
        Result("Radius for the alarm", _metres(swing.value + ALARM_BEYOND_SWING_M)),
    )


def _drift_at_the_bench(
    centre_lat_deg: float, centre_lon_deg: float, radius_m: float, fix: tuple[tuple[float, float], ...]
) -> tuple[Result, ...]:
    centre = Position(centre_lat_deg, centre_lon_deg)
    if wrong := out_of_range((CENTRE_LAT, centre.lat), (CENTRE_LON, centre.lon), (RADIUS_M, radius_m)):
        return (Result("Boat", wrong),)
    fixes = [Fix(place * APART, Position(*given)) for place, given in enumerate(fix)]
    last = metres_between(centre, fixes[-1].position)
    return (
        Result("Boat", Found(whereabouts(fixes, centre=centre, radius_m=radius_m).value)),
        Result("Last fix from the centre", _metres(last)),
    )


SWING = Sum(
    name="swing",
    asks="How large is the circle of a boat at anchor?",
    takes=(RODE_M, WATER_M, ANTENNA_M, GNSS_M),
    reckon=_swing_at_the_bench,
    formula="sqrt(rode^2 - water^2) + bow to antenna + GNSS noise; alarm: 15 m more",
    source="handbook 4.9 and point P23: common practice, no published source",
    caution=(
        "Set the centre where the anchor lies, not where the boat lies. Take the water at low tide: then the circle is "
        "largest."
    ),
)

DRIFT = Sum(
    name="drift",
    asks="Do these fixes say that the boat has left her circle?",
    takes=(CENTRE_LAT, CENTRE_LON, RADIUS_M, FIXES),
    reckon=_drift_at_the_bench,
    formula="3 of the last 5 outside: outside; 5 of 5 inside: inside; haversine distance",
    source="handbook 4.9 and point P23, our rules",
    caution="Fixes are taken as 15 s or more apart. It replaces no anchor watch.",
)
