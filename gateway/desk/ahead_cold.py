"""Cold food: which limit comes first, and when (handbook 4.7). Temperature and hours; never that food is good."""

from itertools import pairwise

from gateway.conditions.past import Keeps, Need
from gateway.desk.ahead_data import At, Found, Missing, need
from gateway.desk.bundle import Bundle
from gateway.reckoning.cold import Box, ColdReading, clock_since, food_limit, warm_since
from gateway.reckoning.lines import Sample
from gateway.reckoning.own_sums import OwnSum
from gateway.vocabulary.moments import HOUR, Ms

BEFORE: Ms = 2 * HOUR
"""It looks back for as long as the box keeps cold, and this (our choice): a clock that ran out is still seen to run."""


def _window(box: str) -> Ms:
    return Box(box).keeps + BEFORE


def supply_and_warmth(own: OwnSum, bundle: Bundle) -> tuple[Need, ...]:
    """The compressor's supply, and the box's temperature."""
    window = _window(own.words["box"])
    return (
        need(own, bundle, "supplied", Keeps.RUNS, window),
        need(own, bundle, "temperature", Keeps.SAMPLES, window),
    )


def cold(at: At) -> Found:
    """The first limit; that it is cooled and within its limit where no clock runs."""
    box = Box(at.own.words["box"])
    degrees = at.number("temperature")
    at.fresh("supplied")
    readings = _readings(at, _window(box.value), degrees)
    limit = food_limit(box=box, off_since=clock_since(readings, box), warm_since=warm_since(readings))
    if limit is None:
        return Found({"well": f"{degrees:.1f} C"})
    return Found({"rule": limit.rule, "past": "past" if limit.at <= at.now else ""}, at=limit.at)


def _readings(at: At, window: Ms, degrees: float) -> list[ColdReading]:
    """Supply and temperature, oldest first; where nothing was known of the supply nothing is said of it. What is warmer
    than the value before may have been so since then: the clock starts rather too early than too late."""
    kept, past = at.past("supplied", Keeps.RUNS, window)
    going_on = past.open_span(kept, at.now)
    spans = [*past.spans, *([] if going_on is None else [going_on])]
    if not spans:
        raise Missing("its supply has just begun to be watched")
    found = [ColdReading(span.begin, span.on > 0, None) for span in spans]
    samples = [*at.samples("temperature", window), Sample(at.now, degrees)]
    for before, sample in pairwise([samples[0], *samples]):
        when = before.at if sample.value > before.value else sample.at
        supplied = next((span.on > 0 for span in spans if span.begin <= when <= span.end), None)
        if supplied is not None:
            found.append(ColdReading(when, supplied, sample.value))
    return sorted(found, key=lambda one: one.at)
