"""What a fitted bilge pump really moves, and how far that is above the leak (handbook 4.4).

Makers rate at 13.6 V with an open outlet. Sources: BoatUS, December 2014 (20 % off at 12 V); E. Sherman, boats.com
(10 % a right-angled bend, 10 to 20 % a check valve; a typical pump nets 40 to 50 % of its label); BoatUS Foundation
Findings 14 (five pumps: 15 to 33 % under the label even with an open outlet).
"""

from decimal import Decimal

from gateway.reckoning.answers import Answer, Reckoned
from gateway.reckoning.asking import Quantity, Result, Sum, out_of_range
from gateway.reckoning.rounding import down, figures
from gateway.reckoning.units import us_gallons
from gateway.vocabulary.priority import Priority

PUMP_L_PER_H = Quantity(
    key="pump_l_per_h",
    unit="L/h",
    words="the pump's real flow",
    lowest=10,
    highest=1_000_000,
    also=(us_gallons("pump"),),
)
LABEL_L_PER_H = Quantity(
    key="label_l_per_h",
    unit="L/h",
    words="the flow on the pump's label",
    lowest=10,
    highest=1_000_000,
    also=(us_gallons("label"),),
)
BENDS = Quantity(
    key="bends", unit="", words="the number of right-angled bends", lowest=0, highest=20, usual=0, whole=True
)
VALVE_LOSS_PERCENT = Quantity(
    key="valve_loss_percent", unit="%", words="the check valve's loss (0 without one)", lowest=0, highest=20, usual=0
)
SUPPLY_LOSS_PERCENT = Quantity(
    key="supply_loss_percent", unit="%", words="the loss at battery volts", lowest=0, highest=60, usual=20
)
INFLOW_L_PER_H = Quantity(key="inflow_l_per_h", unit="L/h", words="the inflow", lowest=0.000_001, highest=10_000_000)

BEND_LOSS = 0.10
TYPICAL_NET = (0.40, 0.50)
"""What a typical fitted pump nets of its label (E. Sherman, boats.com)."""
WARNING_BELOW, ALARM_BELOW = 3.0, 1.5
"""Margins below which a text is a warning, an alarm (handbook 4.4, our rule)."""


def fitted_l_per_h(
    *, label_l_per_h: float, bends: float = 0, valve_loss_percent: float = 0, supply_loss_percent: float = 20
) -> Answer:
    """What is left of the label's flow, L/h: label x (1 - supply loss) x 0.9^bends x (1 - valve loss).

    valve_loss_percent: 0 without a check valve, else 10 to 20. supply_loss_percent: 20 at 12 V. The lift is not in it.
    Source: handbook 4.4, module docstring.
    """
    if wrong := out_of_range(
        (LABEL_L_PER_H, label_l_per_h),
        (BENDS, bends),
        (VALVE_LOSS_PERCENT, valve_loss_percent),
        (SUPPLY_LOSS_PERCENT, supply_loss_percent),
    ):
        return wrong
    part = (1 - supply_loss_percent / 100) * (1 - BEND_LOSS) ** bends * (1 - valve_loss_percent / 100)
    flow = label_l_per_h * part
    return Reckoned(value=flow, shown=figures(flow, 2), unit="L/h")


def margin(*, pump_l_per_h: float, inflow_l_per_h: float) -> Answer:
    """How many times the pump's flow is the inflow (both L/h): Q / q, shown in tenths, rounded down."""
    if wrong := out_of_range((PUMP_L_PER_H, pump_l_per_h), (INFLOW_L_PER_H, inflow_l_per_h)):
        return wrong
    times = pump_l_per_h / inflow_l_per_h
    return Reckoned(value=times, shown=down(times, Decimal("0.1")), unit="")


def margin_priority(times: float) -> Priority | None:
    """What a margin is worth saying as: alarm below 1.5, warning below 3, else None (handbook 4.4, our rule)."""
    if times < ALARM_BELOW:
        return Priority.ALARM
    return Priority.WARNING if times < WARNING_BELOW else None


def _at_the_bench(label_l_per_h: float, **losses: float) -> tuple[Result, ...]:
    fitted = fitted_l_per_h(label_l_per_h=label_l_per_h, **losses)
    if not isinstance(fitted, Reckoned):
        return (Result("Fitted flow", fitted),)
    least, most = (
        Reckoned(value=label_l_per_h * part, shown=figures(label_l_per_h * part, 2), unit="L/h") for part in TYPICAL_NET
    )
    return (
        Result("Fitted flow by these losses", fitted),
        Result("A typical fitted pump, from", least),
        Result("A typical fitted pump, to", most),
    )


PUMP = Sum(
    name="pump",
    asks="What does a bilge pump move once it is fitted?",
    takes=(LABEL_L_PER_H, BENDS, VALVE_LOSS_PERCENT, SUPPLY_LOSS_PERCENT),
    reckon=_at_the_bench,
    formula="label x (1 - supply loss) x 0.9^bends x (1 - valve loss)",
    source=(
        "handbook 4.4; BoatUS, December 2014 (20% at 12 V); E. Sherman, boats.com (bends, valves, 40 to 50% net); "
        "BoatUS Foundation Findings 14"
    ),
    caution="The lift and the hose take more. Measure it at the boat with a bucket and a watch, and keep that figure.",
)
