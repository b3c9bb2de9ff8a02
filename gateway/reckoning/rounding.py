"""Honest rounding: a number shows no more than its inputs know.

What is still left (hours, margins) is rounded down, so that nobody is promised more than was reckoned; what something
must not come up to (a circle's radius, a dew point) is rounded up; what was measured goes to the nearest (our choices).
Sums go on with the unrounded number: a time that a text gives may differ by a quarter of an hour and one part in twenty
from what the shown rate would give, because two figures of a rate are so fine.
A number within a billionth of a step counts as the step: 10 h must not become 9 h because a float fell short.
"""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_DOWN, Decimal
from math import floor, log10

_HAIR = Decimal("1e-9")
LONG_H = 6
"""From this many hours on only whole hours are given, below it quarters (handbook 4.3, our rule)."""
QUARTER_H = Decimal("0.25")


def nearest(value: float, step: Decimal) -> Decimal:
    """The multiple of `step` nearest to `value`; exactly between two, the lower (our choice: claim less)."""
    return _steps(value, step, ROUND_HALF_DOWN)


def down(value: float, step: Decimal) -> Decimal:
    """The multiple of `step` at or below `value`."""
    return _steps(value, step, ROUND_FLOOR)


def up(value: float, step: Decimal) -> Decimal:
    """The multiple of `step` at or above `value`."""
    return _steps(value, step, ROUND_CEILING)


def figures(value: float, count: int) -> Decimal:
    """`value` to `count` significant figures; 0 stays 0."""
    if value == 0:
        return Decimal(0)
    return nearest(value, Decimal(1).scaleb(floor(log10(abs(value))) - count + 1))


def hours_left(hours: float) -> Decimal:
    """Hours still left as they may be shown: whole hours from 6 h on, quarter hours below (handbook 4.3), down."""
    return down(hours, Decimal(1) if hours >= LONG_H else QUARTER_H)


def hours_and_minutes(hours: Decimal) -> str:
    """ "10 h", "2 h 45 min", "15 min"; whole minutes."""
    minutes = int(hours * 60)
    parts = [f"{minutes // 60} h"] if minutes >= 60 else []
    if minutes % 60 or not parts:
        parts.append(f"{minutes % 60} min")
    return " ".join(parts)


def _steps(value: float, step: Decimal, way: str) -> Decimal:
    exact = Decimal(repr(value)) / step
    whole = exact.to_integral_value(rounding=ROUND_HALF_DOWN)
    if abs(exact - whole) > _HAIR:
        whole = exact.to_integral_value(rounding=way)
    if whole == 0:
        return Decimal(0)  # and never "-0"
    return whole * step
