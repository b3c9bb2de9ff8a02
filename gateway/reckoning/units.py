"""Units that the trade uses beside those of the SI, exact by definition (NIST Special Publication 811, annex B)."""

from gateway.reckoning.asking import Measure

LITRES_PER_US_GALLON = 3.785411784
MM_PER_INCH = 25.4
METRES_PER_FOOT = 0.3048
MINUTES_PER_HOUR = 60
SECONDS_PER_HOUR = 3_600
HOURS_PER_DAY = 24
MS_PER_HOUR = 3_600_000


def us_gallons(name: str) -> Measure:
    """Flow in US gallons an hour for a quantity in litres an hour."""
    return Measure(f"{name}_us_gph", "US gal/h", LITRES_PER_US_GALLON)


def inches(name: str) -> Measure:
    """Inches for a quantity in millimetres."""
    return Measure(f"{name}_in", "in", MM_PER_INCH)


def feet(name: str) -> Measure:
    """Feet for a quantity in metres."""
    return Measure(f"{name}_ft", "ft", METRES_PER_FOOT)
