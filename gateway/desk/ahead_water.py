"""Water and fuel: the bilge's inflow and its pump's margin (handbook 4.4), tanks and the generator's fuel (4.6)."""

from itertools import pairwise

from gateway.conditions.looking_back import STEP_IN_A_LINE
from gateway.conditions.past import Keeps, Need, Span
from gateway.desk.ahead_data import At, Found, Missing, need, said
from gateway.desk.bundle import Bundle
from gateway.reckoning.answers import NoEnd, NotReckoned, Reckoned, hours
from gateway.reckoning.bilge import NO_LONGER_KEEPS_UP, pump_cycle
from gateway.reckoning.fuel import fuel_endurance_h
from gateway.reckoning.lines import rate_in_words, rate_per_hour
from gateway.reckoning.own_sums import OwnSum
from gateway.reckoning.rounding import hours_and_minutes, hours_left
from gateway.reckoning.tanks import litres_per_h, time_to_level_h
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms

LOOKS_BACK: Ms = 6 * HOUR
"""Runs of the bilge pump within this count (our choice: a pump that starts less often has little to do)."""
WITHOUT_PAUSE: Ms = 5 * MINUTE
"""A run as long as this has no pause (point P02: an alarm at 300 s)."""
LONGER = 1.5
"""A run that goes on for half as long again as the longest before it (our choice) is of another inflow, or of a stuck
float: Q - V / t_on (handbook 4.4) is then many times what the runs before tell, which is not told as the present."""
LEVEL_OVER: Ms = HOUR
"""The line through a level is laid over this, as by the sentence "falling faster than" (our choice)."""


def runs_of_the_pump(own: OwnSum, bundle: Bundle) -> tuple[Need, ...]:
    """The pump's runs."""
    return (need(own, bundle, "pump", Keeps.RUNS, LOOKS_BACK),)


def level_of_an_hour(own: OwnSum, bundle: Bundle) -> tuple[Need, ...]:
    """The level's samples."""
    return (need(own, bundle, "level", Keeps.SAMPLES, LEVEL_OVER),)


def bilge(at: At) -> Found:
    """Inflow, how many times that the pump moves, and the time to high water if it stops."""
    flow = at.figure("pump_l_per_h")
    at.fresh("pump")
    kept, past = at.past("pump", Keeps.RUNS, LOOKS_BACK)
    going_on = past.open_span(kept, at.now)
    spans = seen_last([*past.spans, *([] if going_on is None else [going_on])])
    if not spans:
        raise Missing("its pump has just begun to be watched")
    standing = on_without_pause(spans)
    if standing >= WITHOUT_PAUSE:
        return Found({"floods": f"{NO_LONGER_KEEPS_UP}: {standing // MINUTE} min without a pause"})
    starts = [later.begin for one, later in pairwise(spans) if one.plain and not one.on and later.on and later.plain]
    if not starts:
        if any(span.on for span in spans):
            raise Missing("only one run of its pump seen")
        if at.now - spans[0].begin < HOUR:
            raise Missing("its pump has just begun to be watched")
        return Found({"quiet": hours_and_minutes(hours_left((at.now - spans[0].begin) / HOUR))})
    if len(starts) == 1:
        raise Missing("only one run of its pump seen")
    recent = [start for start in starts if start > at.now - HOUR]
    first, last = (recent if len(recent) > 1 else starts)[0], starts[-1]
    runs = [span.on for span in spans if span.on and first <= span.begin < last]
    if standing > LONGER * max(runs):
        raise Missing("this run of its pump is longer than those before")
    run = sum(runs)
    cycles = sum(1 for start in starts if first <= start < last)
    found = pump_cycle(pump_l_per_h=flow, run_s=run / cycles / SECOND, pause_s=(last - first - run) / cycles / SECOND)
    if isinstance(found, NotReckoned) or not isinstance(found.inflow, Reckoned):
        raise Missing("its pump's runs make no sum")
    says = {"inflow": found.inflow.said, "margin": _times(found.margin)}
    if "high_water_l" in at.own.figures:
        says["high"] = hours(at.own.figures["high_water_l"] / found.inflow.value).said
    return Found(says)


def _times(margin: object) -> str:
    return f"{margin.shown.normalize():f}" if isinstance(margin, Reckoned) else ""


def seen_last(spans: list[Span]) -> list[Span]:
    """The spans up to the newest without a gap between them: what lies before a gap says nothing of a cycle."""
    found = spans[-1:]
    for one in reversed(spans[:-1]):
        if one.end != found[0].begin:
            break
        found.insert(0, one)
    return found


def on_without_pause(spans: list[Span]) -> Ms:
    """How long it has been on up to now (ms), 0 when it is off."""
    long = 0
    for span in reversed(spans):
        if not span.on or not span.plain:
            break
        long += span.length
    return long


def tank(at: At) -> Found:
    """The level's rate, and the time until the level asked about; else until it is empty or full."""
    level = at.number("level")
    signal = at.signal("level")
    rate = rate_per_hour(at.samples("level", LEVEL_OVER), noise=STEP_IN_A_LINE * float(signal.step), unit="%")
    if isinstance(rate, NoEnd):
        return Found({"steady": rate.because})
    if not isinstance(rate, Reckoned):
        raise Missing("too few fresh values for a rate")
    until = at.own.figures.get("until_percent", 0.0 if rate.value < 0 else 100.0)
    left = at.from_now(time_to_level_h(level_percent=level, until_percent=until, percent_per_h=rate.value), "level")
    says = {"rate": rate_in_words(rate)}
    if isinstance(left, Reckoned):
        says |= {"until": f"{until:g}%", "left": left.said}
    if "tank_l" in at.own.figures:
        flow = litres_per_h(percent_per_h=abs(rate.value), tank_l=at.own.figures["tank_l"])
        says["flow"] = said(flow)
    return Found(says)


def fuel(at: At) -> Found:
    """How long the generator's fuel lasts."""
    reserve = at.figure("reserve_percent")
    left = fuel_endurance_h(
        fuel_tank_l=at.figure("tank_l"),
        level_percent=at.number("level"),
        reserve_percent=reserve,
        burn_l_per_h=at.figure("burn_l_per_h"),
    )
    return Found({"left": said(left), "until": f"{reserve:g}%"})
