"""Drift: how far the boat is from her place, and how fast she goes (handbook 4.9)."""

from gateway.conditions.past import Keeps, Need, position_in
from gateway.desk.ahead_data import At, Found, Missing, need, said
from gateway.desk.bundle import Bundle
from gateway.reckoning.answers import NoEnd, NotReckoned, Reckoned
from gateway.reckoning.distance import Position, metres_between
from gateway.reckoning.drift import OF_FIXES, Fix, about_m, is_usable, metres_per_minute
from gateway.reckoning.lines import Sample
from gateway.reckoning.own_sums import OwnSum


def last_fixes(own: OwnSum, bundle: Bundle) -> tuple[Need, ...]:
    """As many fixes as decide."""
    return (need(own, bundle, "position", Keeps.FIXES, OF_FIXES),)


def drift(at: At) -> Found:
    """Distance of the last fix, and how fast the distance grows or shrinks."""
    latest = at.fresh("position")
    place = at.signal("position").set_position
    if place is None:
        raise Missing("no place is set")
    centre = Position(float(place[0]), float(place[1]))
    past = at.past("position", Keeps.FIXES, OF_FIXES)[1]
    fixes = [Sample(one.at, metres_between(centre, position_in(one.text))) for one in past.values[-OF_FIXES:]]
    here = position_in(latest.reading.text)
    if not fixes or not is_usable(Fix(latest.measured, here)):
        raise Missing("no usable fix")
    says = {"off": said(about_m(metres_between(centre, here)))}
    rate = metres_per_minute(fixes)
    if isinstance(rate, Reckoned):
        says["out" if rate.value > 0 else "in"] = f"{abs(rate.shown):f} m/min"
    elif isinstance(rate, NoEnd):
        says["still"] = rate.because
    elif isinstance(rate, NotReckoned):
        says["unknown"] = rate.because
    return Found(says)
