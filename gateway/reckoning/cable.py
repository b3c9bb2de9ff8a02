"""What a cable takes of the volts (handbook 4.10).

dU = 2 L I rho / A: there and back, copper of 0.0172 ohm mm2/m at 20 C. Allowed are 10 % for non-critical loads (a
chandler's catalogue, p. 53) and 3 % for critical ones (ABYC E-11, from memory). Fine-stranded cable may have 10 to 16 %
more than solid copper (IEC 60228 class 5, from memory), and copper 0.4 % more for each kelvin.
"""

from decimal import Decimal

from gateway.reckoning.answers import Answer, Reckoned
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import figures, nearest, up
from gateway.reckoning.units import feet

COPPER_OHM_MM2_PER_M = 0.0172
CRITICAL_PERCENT = 3.0
NON_CRITICAL_PERCENT = 10.0

RUN_M = Quantity(
    key="run_m", unit="m", words="the cable's length, one way", lowest=0.1, highest=500, also=(feet("run"),)
)
CABLE_A = Quantity(key="current_a", unit="A", words="the current", lowest=0.001, highest=10_000)
COPPER_MM2 = Quantity(key="copper_mm2", unit="mm2", words="the copper's section", lowest=0.1, highest=1_000)
SYSTEM_V = Quantity(key="system_v", unit="V", words="the system's volts", lowest=5, highest=300, usual=12)


def volts_lost(*, run_m: float, current_a: float, copper_mm2: float) -> Answer:
    """The drop over both conductors, V. run_m: one way, m; current_a: A; copper_mm2: of each conductor, mm2.

    Solid copper at 20 C; shown to two figures. Source: handbook 4.10.
    """
    if wrong := out_of_range((RUN_M, run_m), (CABLE_A, current_a), (COPPER_MM2, copper_mm2)):
        return wrong
    volts = 2 * run_m * current_a * COPPER_OHM_MM2_PER_M / copper_mm2
    return Reckoned(value=volts, shown=figures(volts, 2), unit="V")


def least_mm2(*, run_m: float, current_a: float, system_v: float, percent: float) -> Answer:
    """The section that loses just `percent` of the system's volts, mm2, shown rounded up. Source: handbook 4.10."""
    if wrong := out_of_range((RUN_M, run_m), (CABLE_A, current_a), (SYSTEM_V, system_v)):
        return wrong
    section = 2 * run_m * current_a * COPPER_OHM_MM2_PER_M / (system_v * percent / 100)
    return Reckoned(value=section, shown=up(section, Decimal("0.1")), unit="mm2")


def _at_the_bench(run_m: float, current_a: float, copper_mm2: float, system_v: float) -> tuple[Result, ...]:
    drop = volts_lost(run_m=run_m, current_a=current_a, copper_mm2=copper_mm2)
    if wrong := out_of_range((SYSTEM_V, system_v)):
        drop = wrong
    if not isinstance(drop, Reckoned):
        return (Result("Lost in the cable", drop),)
    part = drop.value / system_v * 100
    return (
        Result("Lost in the cable", drop),
        Result("Of the system's volts", Reckoned(value=part, shown=nearest(part, Decimal("0.1")), unit="%")),
        *(
            Result(
                f"Section for at most {percent:g}% ({use})",
                least_mm2(run_m=run_m, current_a=current_a, system_v=system_v, percent=percent),
            )
            for percent, use in ((CRITICAL_PERCENT, "critical loads"), (NON_CRITICAL_PERCENT, "others"))
        ),
    )


CABLE = Sum(
    name="cable",
    asks="What does a cable take of the volts?",
    takes=(RUN_M, CABLE_A, COPPER_MM2, SYSTEM_V),
    reckon=_at_the_bench,
    formula="dU = 2 L I rho / A, rho = 0.0172 ohm mm2/m (copper, 20 C)",
    source="handbook 4.10; 10%: a chandler's catalogue; 3%: ABYC E-11, from memory",
    caution=(
        "Only the drop: section and fuse against heat follow the local code and licensed practice. Stranded and warm "
        "cable loses up to a quarter more. A sense wire on a loaded cable reads low by the drop: fit separate ones."
    ),
)
