"""The dew point of air (handbook 4.10, Magnus).

g = ln(RH/100) + 17.62 T / (243.12 + T); Td = 243.12 g / (17.62 - g), over water. Constants as the WMO recommends them
(Guide to Meteorological Instruments, as given by a psychrometry page), good from -45 to 60 C.
"""

from decimal import Decimal
from enum import StrEnum
from math import log

from gateway.reckoning.answers import Answer, Found, Reckoned
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import up

_B, _C = 17.62, 243.12

AIR_C = Quantity(key="air_c", unit="C", words="the air's temperature", lowest=-45, highest=60)
HUMIDITY_PERCENT = Quantity(key="humidity_percent", unit="%", words="the relative humidity", lowest=1, highest=100)
SURFACE_C = Quantity(key="surface_c", unit="C", words="the surface's temperature", lowest=-60, highest=80, needed=False)


class Surface(StrEnum):
    """What a surface does in such air."""

    WET = "water condenses on it"
    MAY_BE_WET = "so near that water may condense on it"
    DRY = "above the dew point"


HALF_DEGREE = Decimal("0.5")
"""A humidity sensor is 2 to 3 % wrong, which is half a degree here (our choice): so finely a dew point is known."""


def dew_point_c(*, air_c: float, humidity_percent: float) -> Answer:
    """The dew point, C. air_c: -45 to 60; humidity_percent: 1 to 100. Source: handbook 4.10.

    Shown in half degrees, rounded up (our choice): 7.56 is told as 8.0. Water condenses at and below it, so no surface
    that gets wet may stand above the number that is told.
    """
    if wrong := out_of_range((AIR_C, air_c), (HUMIDITY_PERCENT, humidity_percent)):
        return wrong
    g = log(humidity_percent / 100) + _B * air_c / (_C + air_c)
    dew = _C * g / (_B - g)
    return Reckoned(value=dew, shown=up(dew, HALF_DEGREE), unit="C")


def surface_in(surface_c: float, dew_point: Reckoned) -> Surface:
    """What a surface (C) does: water condenses at or below the dew point (handbook 4.10). Less than half a degree above
    it nobody knows, by the sensors (our choice); never is one called dry that lies below the number that is told."""
    if surface_c <= dew_point.value:
        return Surface.WET
    return Surface.MAY_BE_WET if surface_c < dew_point.value + float(HALF_DEGREE) else Surface.DRY


def _at_the_bench(air_c: float, humidity_percent: float, surface_c: float | None) -> tuple[Result, ...]:
    dew = dew_point_c(air_c=air_c, humidity_percent=humidity_percent)
    if surface_c is None or not isinstance(dew, Reckoned):
        return (Result("Dew point", dew),)
    if wrong := out_of_range((SURFACE_C, surface_c)):
        return (Result("Surface", wrong),)
    state = surface_in(surface_c, dew).value
    return (Result("Dew point", dew), Result(f"Surface at {surface_c:g} C", Found(state)))


DEW = Sum(
    name="dew",
    asks="At which temperature does the air's water condense?",
    takes=(AIR_C, HUMIDITY_PERCENT, SURFACE_C),
    reckon=_at_the_bench,
    formula="Magnus: g = ln(RH/100) + 17.62 T / (243.12 + T); Td = 243.12 g / (17.62 - g)",
    source="handbook 4.10; Magnus constants as recommended by the WMO",
    caution=(
        "A humidity sensor is 2 to 3% wrong, which is half a degree. Behind linings and in lockers the air stands, "
        "and their walls are colder than the cabin."
    ),
)
