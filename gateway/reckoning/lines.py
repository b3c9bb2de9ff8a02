"""The straight line through readings, by least squares, and what rate it honestly shows (handbook 4.6).

slope = sum (t - mean t)(y - mean y) / sum (t - mean t)^2 (Gauss; any textbook of statistics). Rates of tanks, of fuel
and of temperatures are all this one sum.
"""

from collections.abc import Sequence
from decimal import Decimal
from math import isfinite
from typing import NamedTuple

from gateway.reckoning.answers import Answer, NoEnd, NotReckoned, Reckoned
from gateway.reckoning.asking import spaced
from gateway.reckoning.rounding import figures
from gateway.reckoning.units import MS_PER_HOUR
from gateway.vocabulary.moments import MINUTE, Ms


class Sample(NamedTuple):
    """A value with its instant (ms UTC)."""

    at: Ms
    value: float


class Line(NamedTuple):
    """per_hour: slope, units an hour. mean_at, mean: the point in the middle that it runs through (ms UTC, units)."""

    per_hour: float
    mean_at: float
    mean: float

    def at(self, instant: Ms) -> float:
        """The line's value at an instant."""
        return self.mean + self.per_hour * (instant - self.mean_at) / MS_PER_HOUR


FEWEST_SAMPLES = 10
SHORTEST_SPAN: Ms = 30 * MINUTE
"""Handbook 4.6, our rules."""
STEADY = "steady"


def line_through(samples: Sequence[Sample]) -> Line | None:
    """The line of least squares. None when all samples have one instant, or there are none, or a value is none.

    Instants and values are taken from the first sample on: the squares of instants would swallow the digits that
    matter, and values that are all equal must come out as no slope at all.
    """
    if not samples:
        return None
    first, count = samples[0], len(samples)
    hours_in = [(sample.at - first.at) / MS_PER_HOUR for sample in samples]
    risen = [sample.value - first.value for sample in samples]
    mean_h, mean = sum(hours_in) / count, sum(risen) / count
    spread = sum((hour - mean_h) ** 2 for hour in hours_in)
    if spread == 0 or not isfinite(mean):
        return None
    lean = sum((hour - mean_h) * (rise - mean) for hour, rise in zip(hours_in, risen, strict=True))
    return Line(lean / spread, first.at + mean_h * MS_PER_HOUR, first.value + mean)


def rate_per_hour(samples: Sequence[Sample], *, noise: float, unit: str) -> Answer:
    """How fast a value rises (+) or falls (-), `unit`/h.

    noise: how far the sensor wanders by itself, in `unit`, 0 or more: a line that moves less than that over all its
    samples is "steady". Refused with fewer than 10 samples or less than 30 min. Source: handbook 4.6.
    """
    if len(samples) < FEWEST_SAMPLES:
        return NotReckoned(f"{len(samples)} samples; {FEWEST_SAMPLES} are needed for a rate")
    span = max(sample.at for sample in samples) - min(sample.at for sample in samples)
    if span < SHORTEST_SPAN:
        return NotReckoned(f"{span // MINUTE} min of samples; {SHORTEST_SPAN // MINUTE} min are needed for a rate")
    line = line_through(samples)
    if line is None:
        return NotReckoned("a sample is not a number")
    if line.per_hour == 0 or abs(line.per_hour) * span / MS_PER_HOUR < noise:
        return NoEnd(STEADY)
    return Reckoned(value=line.per_hour, shown=figures(line.per_hour, 2), unit=f"{unit}/h")


def rate_in_words(rate: Reckoned) -> str:
    """ "falling 2 %/h", "rising 0.5 C/h"."""
    shown: Decimal = abs(rate.shown)
    return f"{'falling' if rate.value < 0 else 'rising'} {shown:f}{spaced(rate.unit)}"
