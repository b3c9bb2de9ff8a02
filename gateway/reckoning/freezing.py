"""When a lead battery's acid freezes (handbook 4.10).

-57.4 C at a density of 1.265, -26.7 C at 1.200, -15 C at 1.150, -7.2 C at 1.100 (Rolls Battery, support article on
winter storage). Other printed tables differ by more than 10 K at low charge. Between two densities the true curve
bends so that a straight line would promise too much, so the lower density's temperature is given.
"""

from decimal import Decimal

from gateway.reckoning.answers import Answer, Bound, Found, NotReckoned, Reckoned
from gateway.reckoning.asking import Choice, Quantity, Result, Sum, out_of_range
from gateway.reckoning.charge import CHEMISTRY, Chemistry
from gateway.reckoning.rounding import up

FREEZES_AT_C = ((1.265, -57.4), (1.200, -26.7), (1.150, -15.0), (1.100, -7.2))
"""(density kg/L, C), densest first."""

DENSITY = Quantity(key="density_kg_per_l", unit="kg/L", words="the acid's density", lowest=1.0, highest=1.35)
CHARGE_PERCENT = Quantity(key="charge_percent", unit="%", words="the state of charge", lowest=0, highest=100)
COLD_C = Quantity(key="celsius", unit="C", words="the temperature", lowest=-60, highest=60)

RISK_BELOW_PERCENT = 40.0
RISK_BELOW_C = -5.0
"""A warning below both (handbook 4.10, our rule)."""


def acid_freezes_c(*, density_kg_per_l: float) -> Answer:
    """Temperature down to which the acid stays liquid, C, shown rounded up. Density at 25 C, kg/L (specific gravity).

    Above the densest point "less than -57 C"; below 1.100 no number is given. Source: handbook 4.10.
    """
    if wrong := out_of_range((DENSITY, density_kg_per_l)):
        return wrong
    for density, celsius in FREEZES_AT_C:
        if density_kg_per_l >= density:
            beyond = density_kg_per_l > density and density == FREEZES_AT_C[0][0]
            return Reckoned(
                value=celsius,
                shown=up(celsius, Decimal(1)),
                unit="C",
                bound=Bound.LESS_THAN if beyond else Bound.ABOUT,
            )
    return NotReckoned("below 1.100 the acid is nearly water: reckon with ice at a few degrees below 0 C")


def may_freeze(*, chemistry: Chemistry, charge_percent: float, celsius: float) -> bool:
    """Whether a lead battery is so empty and so cold that it is worth a warning: below 40 % and below -5 C. LiFePO4 has
    no water to freeze (it must not be charged below 0 C, which is another matter). Source: handbook 4.10, our rule."""
    return chemistry is not Chemistry.LIFEPO4 and charge_percent < RISK_BELOW_PERCENT and celsius < RISK_BELOW_C


def _risk_at_the_bench(chemistry: str, charge_percent: float, celsius: float) -> tuple[Result, ...]:
    if wrong := out_of_range((CHARGE_PERCENT, charge_percent), (COLD_C, celsius)):
        return (Result("Battery", wrong),)
    risk = may_freeze(chemistry=Chemistry(chemistry), charge_percent=charge_percent, celsius=celsius)
    said = "may freeze: charge it or warm it" if risk else "not below both limits of the warning"
    return (Result("Battery", Found(said)),)


_SOURCE = "handbook 4.10; Rolls Battery, support article on winter storage"

ACID_FREEZING = Sum(
    name="acid-freezing",
    asks="At which temperature does a battery's acid freeze?",
    takes=(DENSITY,),
    reckon=lambda **given: (Result("It stays liquid down to", acid_freezes_c(**given)),),
    formula="table of density and temperature; between two densities the lower one's temperature",
    source=_SOURCE,
    caution=(
        "Printed tables differ by more than 10 K at low charge. Never charge a frozen battery. Acid burns: goggles and "
        "gloves, water at hand."
    ),
)

FREEZING_RISK = Sum(
    name="freezing-risk",
    asks="Is a battery so empty and so cold that it may freeze?",
    takes=(
        Choice(key=CHEMISTRY.key, words=CHEMISTRY.words, options=CHEMISTRY.options, usual=Chemistry.FLOODED),
        CHARGE_PERCENT,
        COLD_C,
    ),
    reckon=_risk_at_the_bench,
    formula="below 40% and below -5 C",
    source=f"{_SOURCE}; the limits are our rule",
    caution="Never charge a frozen battery. LiFePO4: no charging below 0 C.",
)
