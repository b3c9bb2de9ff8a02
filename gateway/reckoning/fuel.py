"""How long the generator's fuel lasts (handbook 4.6)."""

from gateway.reckoning.answers import Answer, NotReckoned, Reckoned, hours
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import figures

FUEL_L = Quantity(key="fuel_tank_l", unit="L", words="the fuel tank's volume", lowest=1, highest=1_000_000)
FUEL_PERCENT = Quantity(key="level_percent", unit="%", words="the fuel level", lowest=0, highest=100)
RESERVE_PERCENT = Quantity(
    key="reserve_percent", unit="%", words="the reserve that is not to be used", lowest=0, highest=100, usual=15
)
BURN_L_PER_H = Quantity(
    key="burn_l_per_h", unit="L/h", words="the set's consumption at the present load", lowest=0.05, highest=1_000
)
LOAD_KW = Quantity(key="load_kw", unit="kW", words="the electrical load", lowest=0, highest=500)
IDLE_L_PER_H = Quantity(key="idle_l_per_h", unit="L/h", words="the set's consumption idling", lowest=0, highest=50)

LITRES_PER_KWH = 0.3
"""Small diesel sets, roughly, on top of idling (handbook 4.6: a rule of thumb from memory)."""


def fuel_endurance_h(
    *, fuel_tank_l: float, level_percent: float, reserve_percent: float, burn_l_per_h: float
) -> Answer:
    """Hours until the reserve: volume x (level - reserve) / 100 / consumption. L, %, L/h.

    Refused when the reserve is reached already. Source: handbook 4.6.
    """
    if wrong := out_of_range(
        (FUEL_L, fuel_tank_l),
        (FUEL_PERCENT, level_percent),
        (RESERVE_PERCENT, reserve_percent),
        (BURN_L_PER_H, burn_l_per_h),
    ):
        return wrong
    if level_percent <= reserve_percent:
        return NotReckoned("already at or below the reserve")
    return hours(fuel_tank_l * (level_percent - reserve_percent) / 100 / burn_l_per_h)


def burn_by_rule_of_thumb(*, load_kw: float, idle_l_per_h: float) -> Answer:
    """A small diesel set's consumption, L/h: idling + 0.3 L/kWh. Only where the maker's curve is missing."""
    if wrong := out_of_range((LOAD_KW, load_kw), (IDLE_L_PER_H, idle_l_per_h)):
        return wrong
    burn = idle_l_per_h + LITRES_PER_KWH * load_kw
    return Reckoned(value=burn, shown=figures(burn, 1), unit="L/h")


_SOURCE = "handbook 4.6"

FUEL = Sum(
    name="fuel",
    asks="How long does the generator run until the reserve?",
    takes=(FUEL_L, FUEL_PERCENT, RESERVE_PERCENT, BURN_L_PER_H),
    reckon=lambda **given: (Result("Down to the reserve", fuel_endurance_h(**given)),),
    formula="t = volume x (level - reserve) / consumption",
    source=_SOURCE,
    caution=(
        "Take the consumption from the maker's curve at the present load. The pick-up ends above the tank's bottom. "
        "A running engine makes carbon monoxide."
    ),
)

BURN = Sum(
    name="burn",
    asks="What does a small diesel set use, roughly?",
    takes=(LOAD_KW, IDLE_L_PER_H),
    reckon=lambda **given: (Result("Consumption", burn_by_rule_of_thumb(**given)),),
    formula="idling + 0.3 L/kWh x load",
    source=f"{_SOURCE}: a rule of thumb, from memory, no published source",
    caution="Only where the maker's curve is missing.",
)
