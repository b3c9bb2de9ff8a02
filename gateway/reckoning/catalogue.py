"""Every sum that the bench offers, in the handbook's order."""

from gateway.reckoning.asking import Sum
from gateway.reckoning.bilge import BILGE_CYCLE, BILGE_STARTS
from gateway.reckoning.cable import CABLE
from gateway.reckoning.charge import CHARGE
from gateway.reckoning.cold import FOOD
from gateway.reckoning.cranking import CRANKING
from gateway.reckoning.dew import DEW
from gateway.reckoning.distance import DISTANCE
from gateway.reckoning.drift import DRIFT, SWING
from gateway.reckoning.endurance import ENDURANCE, EXPONENT
from gateway.reckoning.freezing import ACID_FREEZING, FREEZING_RISK
from gateway.reckoning.fuel import BURN, FUEL
from gateway.reckoning.holes import HOLE
from gateway.reckoning.limit_ahead import LIMIT_AHEAD
from gateway.reckoning.monoxide import CO
from gateway.reckoning.pump_margin import PUMP
from gateway.reckoning.tanks import TANK_RATE, TANK_TIME

SUMS: dict[str, Sum] = {
    found.name: found
    for found in (
        CHARGE,
        ENDURANCE,
        EXPONENT,
        LIMIT_AHEAD,
        BILGE_CYCLE,
        BILGE_STARTS,
        PUMP,
        HOLE,
        TANK_TIME,
        TANK_RATE,
        FUEL,
        BURN,
        CRANKING,
        FOOD,
        CO,
        DISTANCE,
        SWING,
        DRIFT,
        DEW,
        ACID_FREEZING,
        FREEZING_RISK,
        CABLE,
    )
}
"""By name."""
