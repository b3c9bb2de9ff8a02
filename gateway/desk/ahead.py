"""What a boat's own sums say now (handbook 4): from fresh data or not at all, and then what is missing.

All that they rest on stands in the readings, so every number in a text can be reckoned again from the record.
"""

from collections.abc import Callable, Iterable, Mapping

from gateway.conditions.past import Need
from gateway.desk import ahead_air, ahead_cold, ahead_place, ahead_water
from gateway.desk.ahead_data import At, Found, Missing
from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.reckoning.own_sums import HOUSE_BANK, OwnSum, Reckons
from gateway.telling.situation import Ahead
from gateway.vocabulary.moments import Ms

NEEDS: Mapping[Reckons, Callable[[OwnSum, Bundle], tuple[Need, ...]]] = {
    Reckons.BILGE: ahead_water.runs_of_the_pump,
    Reckons.TANK: ahead_water.level_of_an_hour,
    Reckons.COLD: ahead_cold.supply_and_warmth,
    Reckons.CO: ahead_air.level_of_four_hours,
    Reckons.DRIFT: ahead_place.last_fixes,
    Reckons.FROST: ahead_air.warmth_of_an_hour,
}
"""What must be kept of the past; a sum that is missing here looks at newest values only."""

SUMS: Mapping[Reckons, Callable[[At], Found]] = {
    Reckons.BILGE: ahead_water.bilge,
    Reckons.TANK: ahead_water.tank,
    Reckons.FUEL: ahead_water.fuel,
    Reckons.COLD: ahead_cold.cold,
    Reckons.CO: ahead_air.monoxide,
    Reckons.DRIFT: ahead_place.drift,
    Reckons.DEW: ahead_air.dew,
    Reckons.FROST: ahead_air.frost,
}


def needs_of_sums(bundle: Bundle) -> Iterable[tuple[str, Need]]:
    """By boat's key, what must be kept of her signals' past for her sums."""
    for boat, sums in bundle.sums_of.items():
        for own in sums:
            if own.reckons in NEEDS:
                for need in NEEDS[own.reckons](own, bundle):
                    yield boat, need


def ahead(state: State, bundle: Bundle, own: OwnSum, now: Ms) -> Ahead:
    """What the sum says at this instant."""
    try:
        found = SUMS[own.reckons](At(state=state, bundle=bundle, own=own, now=now))
    except Missing as missing:
        return Ahead(sum=own.id, reckons=own.reckons, missing=str(missing))
    return Ahead(sum=own.id, reckons=own.reckons, says=found.says, at=found.at)


def ahead_for(state: State, bundle: Bundle, reckon: str | None, now: Ms) -> Ahead | None:
    """For an alarm that asks for one of the boat's sums; None for any other."""
    if reckon is None or reckon == HOUSE_BANK or reckon not in bundle.sums:
        return None
    return ahead(state, bundle, bundle.sums[reckon], now)


def all_ahead(state: State, bundle: Bundle, boat: str, now: Ms) -> tuple[Ahead, ...]:
    """Every sum of the boat, in the installer's order."""
    return tuple(ahead(state, bundle, own, now) for own in bundle.sums_of.get(boat, ()))
