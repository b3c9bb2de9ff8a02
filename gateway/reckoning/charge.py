"""State of charge from the volts of a battery at rest (handbook 4.1).

Linear between the points of a table for each chemistry, 12 V battery at about 25 C; a 24 V bank reads half. Sources:
flooded, the BCI table as reproduced in "State of Charge - SOC Measurement"; AGM, Concorde Battery Corporation's
charging procedures; gel, a consumer web page (weak, and it ends at 30 %); LiFePO4, two consumer charts that disagree
in the middle. A meter error of 1 % is about 15 points, so only whole tens are shown.
"""

from decimal import Decimal
from enum import StrEnum
from itertools import pairwise
from math import isnan
from typing import NamedTuple

from gateway.reckoning.answers import Answer, Bound, NotReckoned, Reckoned
from gateway.reckoning.asking import Choice, Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import nearest


class Chemistry(StrEnum):
    """What a battery is made of. The text of each is how it is written in files and at the bench."""

    FLOODED = "flooded"
    AGM = "AGM"
    GEL = "gel"
    LIFEPO4 = "LiFePO4"


class _Point(NamedTuple):
    volts: float
    percent: float


_TABLES: dict[Chemistry, tuple[_Point, ...]] = {
    Chemistry.FLOODED: (
        _Point(11.89, 0),
        _Point(12.06, 25),
        _Point(12.24, 50),
        _Point(12.45, 75),
        _Point(12.65, 100),
    ),
    Chemistry.AGM: (
        _Point(10.50, 0),
        _Point(11.75, 25),
        _Point(12.20, 50),
        _Point(12.55, 75),
        _Point(12.80, 100),
    ),
    Chemistry.GEL: (
        _Point(11.80, 30),
        _Point(11.95, 40),
        _Point(12.10, 50),
        _Point(12.25, 60),
        _Point(12.40, 70),
        _Point(12.55, 80),
        _Point(12.70, 90),
        _Point(12.85, 100),
    ),
    # 13.0 to 13.3 V is never read from it: there the two charts give 30 to 70 %.
    Chemistry.LIFEPO4: (
        _Point(10.0, 0),
        _Point(12.0, 10),
        _Point(12.8, 20),
        _Point(13.0, 30),
        _Point(13.3, 70),
        _Point(13.4, 90),
        _Point(13.6, 99),
    ),
}

FLAT_FROM_V, FLAT_TO_V = 13.0, 13.3
"""Both inclusive: where a LiFePO4 battery's volts say nothing (handbook 4.1, our rule)."""

_STILL_CHARGED_ABOVE_V = {
    Chemistry.FLOODED: 13.2,
    Chemistry.AGM: 13.2,
    Chemistry.GEL: 13.2,
    Chemistry.LIFEPO4: 13.8,
}
"""A 12 V battery above this is on a charger or has just been (common practice: lead floats at 13.2 V and more,
LiFePO4 at 13.5 V and more; our choice of the figures)."""

REST_AFTER_CHARGING_H = 8
"""Handbook 4.1: an open-circuit test note asks for 8 h of rest, better 24 h."""
REST_PART = 50
"""At rest is a current of at most the capacity divided by this (C/50, handbook 4.1, our rule)."""
TENS = Decimal(10)

BANK_V = Quantity(key="bank_v", unit="V", words="the bank's volts", lowest=8, highest=34)
"""8 to 17 V for a 12 V bank, 16 to 34 V for one of 24 V (our choice: from a flat battery to a charger gone wild)."""
NOMINAL_V = Choice(key="nominal_v", words="the bank's nominal volts", options=("12", "24"), usual="12")
CAPACITY_AH = Quantity(key="capacity_ah", unit="Ah", words="the rated capacity", lowest=1, highest=100_000)
CURRENT_A = Quantity(
    key="current_a",
    unit="A",
    words="the current (minus when charging)",
    lowest=-10_000,
    highest=10_000,
    needed=False,
)
HOURS_SINCE_CHARGING = Quantity(
    key="hours_since_charging", unit="h", words="the time since charging", lowest=0, highest=100_000, needed=False
)
CHEMISTRY = Choice(key="chemistry", words="what the battery is made of", options=tuple(Chemistry))


def charge_percent(
    *,
    chemistry: Chemistry,
    bank_v: float,
    nominal_v: int,
    capacity_ah: float,
    current_a: float | None,
    hours_since_charging: float | None,
) -> Answer:
    """State of charge, % (0 to 100), shown in whole tens.

    bank_v: volts of the whole bank. nominal_v: 12 or 24. capacity_ah: rated, Ah. current_a: A, either sign;
    hours_since_charging: since current last flowed in. Both None when nobody knows, and then nothing is reckoned.
    Refused under load or charge (above C/50), within 8 h of charging, and in the middle of LiFePO4. Below the lowest
    point of the gel table "less than 30%" is all that is said. Source: handbook 4.1, module docstring.
    """
    if wrong := out_of_range((BANK_V, bank_v), (CAPACITY_AH, capacity_ah)):
        return wrong
    volts = bank_v / 2 if nominal_v == 24 else bank_v
    if nominal_v not in (12, 24) or not 8 <= volts <= 17:
        return NotReckoned(f"{bank_v:g} V is no voltage of a {nominal_v} V bank", wrong_input=BANK_V.key)
    if unrest := _unrest(chemistry, volts, capacity_ah, current_a, hours_since_charging):
        return NotReckoned(unrest)
    percent = _between(_TABLES[chemistry], volts)
    lowest = _TABLES[chemistry][0]
    below = lowest.percent > 0 and volts < lowest.volts
    return Reckoned(
        value=percent, shown=nearest(percent, TENS), unit="%", bound=Bound.LESS_THAN if below else Bound.ABOUT
    )


def _unrest(chemistry: Chemistry, volts: float, capacity_ah: float, amps: float | None, rested_h: float | None) -> str:
    """Why these volts say nothing about the charge, "" when they do."""
    if amps is None or isnan(amps):
        return "the current is not known, so nobody can say whether the battery is at rest"
    if abs(amps) > capacity_ah / REST_PART:
        return f"{abs(amps):g} A flow; at rest is at most {capacity_ah / REST_PART:.3g} A (capacity / {REST_PART})"
    if rested_h is None or not rested_h >= 0:
        return "nobody knows how long ago it was charged"
    if rested_h < REST_AFTER_CHARGING_H:
        return f"charged {rested_h:.3g} h ago; volts mean something {REST_AFTER_CHARGING_H} h after charging"
    if volts > _STILL_CHARGED_ABOVE_V[chemistry]:
        return "no battery at rest has so many volts: a charger is on or has just been"
    if chemistry is Chemistry.LIFEPO4 and FLAT_FROM_V <= volts <= FLAT_TO_V:
        return "middle of its range, ask the shunt"
    return ""


def _between(table: tuple[_Point, ...], volts: float) -> float:
    """Linear between the points, clamped at both ends."""
    if volts <= table[0].volts:
        return table[0].percent
    for low, high in pairwise(table):
        if volts <= high.volts:
            return low.percent + (volts - low.volts) / (high.volts - low.volts) * (high.percent - low.percent)
    return table[-1].percent


def _at_the_bench(chemistry: str, nominal_v: str, **given: float) -> tuple[Result, ...]:
    answer = charge_percent(
        chemistry=Chemistry(chemistry),
        nominal_v=int(nominal_v),
        bank_v=given["bank_v"],
        capacity_ah=given["capacity_ah"],
        current_a=given["current_a"],
        hours_since_charging=given["hours_since_charging"],
    )
    return (Result("State of charge", answer),)


CHARGE = Sum(
    name="charge",
    asks="How full is a battery at rest, by its volts?",
    takes=(CHEMISTRY, BANK_V, NOMINAL_V, CAPACITY_AH, CURRENT_A, HOURS_SINCE_CHARGING),
    reckon=_at_the_bench,
    formula="linear between the points of the chemistry's table (12 V, about 25 C); 24 V: half the volts",
    source=(
        "handbook 4.1; flooded: BCI table as reproduced in 'State of Charge - SOC Measurement'; AGM: Concorde Battery "
        "Corporation, charging procedures; gel: consumer web page (weak); LiFePO4: two consumer charts that disagree"
    ),
    caution=(
        "Only at rest. A meter that is 1% wrong is 15 points wrong here, and cold makes volts lower; a shunt knows "
        "better. Batteries give hydrogen and can arc: no flame, tools insulated."
    ),
)
