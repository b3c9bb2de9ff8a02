"""How long until a battery reaches its low limit at the present load (handbook 4.3, our rules).

t = C (SoC - limit) / 100 / I_eff, with I_eff as the battery feels the load (`endurance.counted_load_a`). The load is
the mean of the last quarter of an hour, so that a water pump that just started does not halve the night; where the
bank began to be drawn from within it, the mean since then, because a charger's minutes would promise a night that is
not there.
"""

from collections.abc import Sequence
from math import isfinite

from gateway.reckoning.answers import Answer, NoEnd, NotReckoned, Reckoned, hours
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.charge import CAPACITY_AH
from gateway.reckoning.endurance import PEUKERT_K, RATED_H, counted_load_a
from gateway.reckoning.lines import Sample
from gateway.reckoning.rounding import figures
from gateway.vocabulary.moments import HOUR, MINUTE, Ms

NO_LOAD_A = 0.5
"""Up to this a load counts as none (handbook 4.3)."""
MEAN_OVER: Ms = 15 * MINUTE
"""Handbook 4.3."""
LEAST_COVER: Ms = 10 * MINUTE
"""The readings must account for so much of the quarter of an hour (our choice: two thirds)."""
LEAST_DRAWN: Ms = 2 * MINUTE
"""And for so much since it began to be drawn from, if that is less (our choice: four reports of a shunt)."""

CHARGE_PERCENT = Quantity(key="charge_percent", unit="%", words="the state of charge", lowest=0, highest=100)
LIMIT_PERCENT = Quantity(key="limit_percent", unit="%", words="the low limit", lowest=0, highest=100, usual=50)
PRESENT_A = Quantity(
    key="load_a", unit="A", words="the present load (minus when charging)", lowest=-10_000, highest=10_000
)


def time_to_limit_h(
    *,
    capacity_ah: float,
    rated_h: float,
    peukert_k: float,
    charge_percent: float,
    limit_percent: float,
    load_a: float,
) -> Answer:
    """Hours until the limit. capacity_ah at rated_h (h); charge_percent, limit_percent: 0 to 100; load_a: A, minus
    when charging. No end at 0.5 A or less. Refused when the limit is reached already. Source: handbook 4.3."""
    if wrong := out_of_range(
        (CAPACITY_AH, capacity_ah),
        (RATED_H, rated_h),
        (PEUKERT_K, peukert_k),
        (CHARGE_PERCENT, charge_percent),
        (LIMIT_PERCENT, limit_percent),
        (PRESENT_A, load_a),
    ):
        return wrong
    if charge_percent <= limit_percent:
        return NotReckoned("already at or below the limit")
    if load_a <= NO_LOAD_A:
        return NoEnd("no limit ahead")
    counted = counted_load_a(load_a=load_a, capacity_ah=capacity_ah, rated_h=rated_h, peukert_k=peukert_k)
    return hours(capacity_ah * (charge_percent - limit_percent) / 100 / counted)


def hours_to_value(*, value: float, limit: float, per_hour: float) -> Answer:
    """Hours until something that moves evenly (units an hour) is at a limit; no end when it moves away or stands. The
    distance over the rate, as for tanks. Source: handbook 4.6, our rule.

    per_hour: not rounded; whoever divides by the rate that a text shows comes out up to one part in twenty away. Shown
    as every time that is left: quarters below 6 h, rounded down (handbook 4.3).
    """
    if not (isfinite(value) and isfinite(limit) and isfinite(per_hour)):
        return NotReckoned("a value is not a number")
    if per_hour == 0 or (limit - value) * per_hour < 0:
        return NoEnd("no limit ahead")
    return hours((limit - value) / per_hour)


def counted_from_now(left: Answer, *, age: Ms, report_interval: Ms) -> Answer:
    """Hours left that were reckoned from a value which is `age` ms old: what has passed since then is gone. All but a
    number stays as it is, and under nothing is nothing, said as "less than 15 min".

    A value up to one report interval (ms) old is that of now, as it is everywhere in texts (handbook 7.2: the age of
    data is said when older than one). Without it 5.00 C that fall at 2 C/h and were measured a minute ago by a probe
    that reports every 30 s would be "2 h 30 min" and are 2.48 h: more than was reckoned (our choice: rounded down).
    """
    if not isinstance(left, Reckoned) or age <= report_interval:
        return left
    return hours(max(0.0, left.value - age / HOUR))


def drawn_since(loads: Sequence[Sample]) -> Ms | None:
    """Since when more than 0.5 A has been drawn without a break, up to the newest load (A, minus when charging; oldest
    first). None when nothing is drawn now, or it was drawn all along. Source: handbook 4.3: up to 0.5 A is no load."""
    since = None
    for load in reversed(loads):
        if load.value <= NO_LOAD_A:
            return since
        since = load.at
    return None


def mean_of_last_quarter(
    samples: Sequence[Sample], *, now: Ms, unit: str, longest_hold: Ms, since: Ms | None = None
) -> Answer:
    """The mean over the 15 min before `now`, or from `since` on where that is later; each value weighted by how long it
    stood.

    samples: oldest first, in `unit`. A value stands until the next one, the last until now, and never longer than
    `longest_hold` (ms: the signal's stale time), so that nobody's silence is taken for a steady load. Refused when
    the values account for less than two thirds of the time, or for less than 2 min, or one is none. Source: handbook
    4.3.
    """
    begin = now - MEAN_OVER if since is None else max(now - MEAN_OVER, since)
    covered, weighed = 0, 0.0
    for place, sample in enumerate(samples):
        until = samples[place + 1].at if place + 1 < len(samples) else now
        stood = min(until, sample.at + longest_hold, now) - max(sample.at, begin)
        if stood > 0:
            covered += stood
            weighed += stood * sample.value
    least = max(LEAST_COVER * (now - begin) // MEAN_OVER, LEAST_DRAWN)
    if covered < least or not isfinite(weighed):
        return NotReckoned(f"values for only {covered // MINUTE} of the last {(now - begin) // MINUTE} min")
    mean = weighed / covered
    return Reckoned(value=mean, shown=figures(mean, 2), unit=unit)


LIMIT_AHEAD = Sum(
    name="limit-ahead",
    asks="How long until the battery is down to a limit at the present load?",
    takes=(CAPACITY_AH, RATED_H, PEUKERT_K, CHARGE_PERCENT, LIMIT_PERCENT, PRESENT_A),
    reckon=lambda **given: (Result("Down to the limit", time_to_limit_h(**given)),),
    formula="t = C (SoC - limit) / 100 / I_eff, I_eff = max(I, I (I H / C)^(k - 1))",
    source="handbook 4.3, our rules over Peukert's formula (handbook 4.2)",
    caution="Holds while the load stays as it is: a refrigerator in the sun or a bilge pump shortens it.",
)
