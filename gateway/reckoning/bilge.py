"""What a bilge pump's float tells about the leak (handbook 4.4).

Steady inflow q, real flow of the pump Q, volume between the floats V, run t_on, pause t_off: V = q t_off while the
water rises, V = (Q - q) t_on while it falls. So q = Q t_on / (t_on + t_off), and with n cycles an hour
q^2 - Q q + Q V n = 0, whose smaller root is the leak of a pump that rests more than it runs.
"""

from dataclasses import dataclass
from math import sqrt

from gateway.reckoning.answers import Answer, Found, NotReckoned, Reckoned
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.pump_margin import PUMP_L_PER_H, margin, margin_priority
from gateway.reckoning.rounding import figures
from gateway.reckoning.units import HOURS_PER_DAY, SECONDS_PER_HOUR

RUN_S = Quantity(key="run_s", unit="s", words="the pump's run", lowest=1, highest=86_400)
PAUSE_S = Quantity(key="pause_s", unit="s", words="the pause behind it", lowest=0, highest=2_592_000)
PUMP_A = Quantity(key="pump_a", unit="A", words="the pump's current", lowest=0.1, highest=200, needed=False)
BETWEEN_FLOATS_L = Quantity(
    key="between_floats_l", unit="L", words="the water between float off and float on", lowest=0.1, highest=10_000
)
CYCLES_PER_H = Quantity(key="cycles_per_h", unit="/h", words="the starts an hour", lowest=0.01, highest=1_000)

NO_LONGER_KEEPS_UP = "pump no longer keeps up"


@dataclass(frozen=True, slots=True, kw_only=True)
class PumpCycle:
    """One cycle of the float. duty: part of the time that the pump runs, 0 to 1, unrounded. Each answer in its unit:
    inflow L/h, between_floats L, cycles /h, charge_a_day Ah/day (None without the pump's current), margin times."""

    duty: float
    inflow: Answer
    between_floats: Answer
    cycles: Answer
    charge_a_day: Answer | None
    margin: Answer


def pump_cycle(
    *, pump_l_per_h: float, run_s: float, pause_s: float, pump_a: float | None = None
) -> PumpCycle | NotReckoned:
    """What one run (s) and the pause behind it (s) tell, with the pump's real flow (L/h) and current (A).

    Without a pause the inflow is at least the pump's flow, and no number is given. Source: handbook 4.4.
    """
    given = [(PUMP_L_PER_H, pump_l_per_h), (RUN_S, run_s), (PAUSE_S, pause_s)]
    if wrong := out_of_range(*given, *([] if pump_a is None else [(PUMP_A, pump_a)])):
        return wrong
    duty = run_s / (run_s + pause_s)
    charge = None if pump_a is None else _rough(pump_a * duty * HOURS_PER_DAY, "Ah/day")
    if pause_s == 0:
        flooded = NotReckoned(NO_LONGER_KEEPS_UP)
        return PumpCycle(
            duty=duty, inflow=flooded, between_floats=flooded, cycles=flooded, charge_a_day=charge, margin=flooded
        )
    inflow = pump_l_per_h * duty
    return PumpCycle(
        duty=duty,
        inflow=_rough(inflow, "L/h"),
        between_floats=_rough(inflow * pause_s / SECONDS_PER_HOUR, "L"),
        cycles=_rough(SECONDS_PER_HOUR / (run_s + pause_s), "/h"),
        charge_a_day=charge,
        margin=margin(pump_l_per_h=pump_l_per_h, inflow_l_per_h=inflow),
    )


def inflow_l_per_h(*, between_floats_l: float, cycles_per_h: float, pump_l_per_h: float) -> Answer:
    """The leak, L/h, from starts an hour, water between the floats (L) and the pump's real flow (L/h).

    For a pump that rests at least as long as it runs. Refused when the pump cannot make so many starts: most are made,
    Q / (4 V) an hour, at an inflow of half the pump's flow. Source: handbook 4.4.
    """
    if wrong := out_of_range(
        (BETWEEN_FLOATS_L, between_floats_l), (CYCLES_PER_H, cycles_per_h), (PUMP_L_PER_H, pump_l_per_h)
    ):
        return wrong
    within = pump_l_per_h**2 - 4 * pump_l_per_h * between_floats_l * cycles_per_h
    if within < 0:
        most = pump_l_per_h / (4 * between_floats_l)
        return NotReckoned(
            f"this pump makes at most {most:.3g} starts an hour with {between_floats_l:g} L between the floats: "
            "look at the water between the floats, the pump's flow and water that runs back from the hose"
        )
    # The smaller root as 2 Q V n / (Q + sqrt(...)): the plain form loses its digits for a small leak.
    return _rough(2 * pump_l_per_h * between_floats_l * cycles_per_h / (pump_l_per_h + sqrt(within)), "L/h")


def run_s_of(*, between_floats_l: float, inflow_l_per_h: float, pump_l_per_h: float) -> Answer:
    """How long the pump then runs, s: V / (Q - q). Refused when it does not keep up. Source: handbook 4.4."""
    if wrong := out_of_range((BETWEEN_FLOATS_L, between_floats_l), (PUMP_L_PER_H, pump_l_per_h)):
        return wrong
    if not 0 <= inflow_l_per_h < pump_l_per_h:
        return NotReckoned(NO_LONGER_KEEPS_UP)
    return _rough(between_floats_l / (pump_l_per_h - inflow_l_per_h) * SECONDS_PER_HOUR, "s")


def _rough(value: float, unit: str) -> Reckoned:
    """Two figures: nobody knows a fitted pump's flow better (handbook 4.4: 15 to 60 % below its label)."""
    return Reckoned(value=value, shown=figures(value, 2), unit=unit)


def _cycle_at_the_bench(pump_l_per_h: float, run_s: float, pause_s: float, pump_a: float | None) -> tuple[Result, ...]:
    found = pump_cycle(pump_l_per_h=pump_l_per_h, run_s=run_s, pause_s=pause_s, pump_a=pump_a)
    if isinstance(found, NotReckoned):
        return (Result("Inflow", found),)
    results = (
        Result("Inflow", found.inflow),
        Result("Part of the time that it runs", _rough(found.duty * 100, "%")),
        Result("Water between the floats", found.between_floats),
        Result("Starts an hour", found.cycles),
        Result("Pump's flow against the inflow, times", found.margin),
        _by_our_points(found.margin),
    )
    return results if found.charge_a_day is None else (*results, Result("From the battery", found.charge_a_day))


def _starts_at_the_bench(between_floats_l: float, cycles_per_h: float, pump_l_per_h: float) -> tuple[Result, ...]:
    leak = inflow_l_per_h(between_floats_l=between_floats_l, cycles_per_h=cycles_per_h, pump_l_per_h=pump_l_per_h)
    if not isinstance(leak, Reckoned):
        return (Result("Inflow", leak),)
    run = run_s_of(between_floats_l=between_floats_l, inflow_l_per_h=leak.value, pump_l_per_h=pump_l_per_h)
    times = margin(pump_l_per_h=pump_l_per_h, inflow_l_per_h=leak.value)
    return (
        Result("Inflow", leak),
        Result("Each run of the pump", run),
        Result("Pump's flow against the inflow, times", times),
        _by_our_points(times),
    )


def _by_our_points(times: Answer) -> Result:
    """What such a margin is worth saying as (handbook 4.4, our rule); a pump that does not keep up is an alarm."""
    priority = margin_priority(times.value if isinstance(times, Reckoned) else 0.0)
    return Result("By our points", Found("enough in hand" if priority is None else priority.value))


_CAUTION = (
    "Use the flow measured at the boat (bucket and watch at survey), not the label. Water that runs back from the hose "
    "looks like a leak. Find the leak: a pump only buys time."
)

BILGE_CYCLE = Sum(
    name="bilge-cycle",
    asks="How much water comes in, by the pump's runs and pauses?",
    takes=(PUMP_L_PER_H, RUN_S, PAUSE_S, PUMP_A),
    reckon=_cycle_at_the_bench,
    formula="q = Q t_on / (t_on + t_off); V = q t_off; Ah a day = I x 24 t_on / (t_on + t_off)",
    source="handbook 4.4: balance of water, our derivation",
    caution=_CAUTION,
)

BILGE_STARTS = Sum(
    name="bilge-starts",
    asks="How much water comes in, by the pump's starts an hour?",
    takes=(BETWEEN_FLOATS_L, CYCLES_PER_H, PUMP_L_PER_H),
    reckon=_starts_at_the_bench,
    formula="smaller root of q^2 - Q q + Q V n = 0; t_on = V / (Q - q)",
    source="handbook 4.4: balance of water, our derivation",
    caution=f"For a pump that rests longer than it runs; else ask bilge-cycle. {_CAUTION}",
)
