"""The general interlocks that rest on the boat: link, alarms, detectors, selector, lock-out, people.

Handbook 5.1, G0 to G3. They carry no safety-integrity claim; the wired chain at the boat must be safe without them.
Unknown counts as no.
"""

from collections.abc import Iterator

from gateway.alarms.settings import Concerns
from gateway.boat.latest import Latest, is_stale
from gateway.boat.settings import Senses, Signal
from gateway.conditions.judging import said
from gateway.requests.answers import Rule
from gateway.requests.asked import TOLD_WHO_IS_ABOARD, Asked, Finding, against, clock, length, met
from gateway.requests.settings import Sort
from gateway.requests.state import Requests
from gateway.requests.world import World
from gateway.vocabulary.moments import DAY

REMOTE = "remote"
"""The word of the boat's own selector that lets a text act, compared without case (handbook G0)."""

WANTS_DETECTORS = frozenset({Sort.ENGINE, Sort.HEAT})
"""The sorts for which the catalogue asks for a carbon monoxide and a fire detector (handbook 5.2)."""


NOT_SET = "off"
"""What the boat says while no maintenance lock-out is set."""


def boat_findings(asked: Asked, state: Requests, world: World) -> Iterator[Finding]:
    """Every interlock of this kind that binds the action, met or not, in the order in which it is told."""
    yield from alarms(asked, world)
    yield link(asked, world)
    yield from lock_out(asked, state, world)
    if asked.starts:
        yield from detectors(asked, world)
    if asked.grave_start:
        yield from selector(asked, world)
        yield somebody_aboard(asked, world)


def alarms(asked: Asked, world: World) -> Iterator[Finding]:
    """Gas or fire: no switching at all, stops as well, because a contactor that opens is a spark; only the gas valve
    may be closed. Carbon monoxide: no start, and never in the way of a stop (handbook G3)."""
    boat = asked.equipment.boat
    closes_gas = _closes_gas(asked)
    for concerns in (Concerns.GAS, Concerns.FIRE):
        number = world.alarm_active(boat, concerns)
        if number is None or closes_gas:
            yield met(f"{concerns} alarm: {'none' if number is None else number}")
        else:
            yield against(
                Rule.GAS_OR_FIRE, f"{concerns} alarm {number} stands", f"ask again when alarm {number} is over"
            )
    if asked.starts:
        number = world.alarm_active(boat, Concerns.CO)
        if number is None:
            yield met(f"{Concerns.CO} alarm: none")
        else:
            yield against(Rule.CO, f"{Concerns.CO} alarm {number} stands", f"ask again when alarm {number} is over")


def _closes_gas(asked: Asked) -> bool:
    return asked.equipment.sort is Sort.GAS_VALVE and not asked.starts


def link(asked: Asked, world: World) -> Finding:
    """A command never fires late: none is sent while the boat is not heard (design 4, rule 6)."""
    boat = asked.equipment.boat
    if not world.link_up(boat):
        return against(Rule.LINK_DOWN, "no link to the boat", "ask again when the link is back")
    silent = world.silent_since(boat)
    if silent is not None:
        return against(
            Rule.SILENT_BOAT, f"boat silent for {length(world.now - silent)}", "ask again when the boat is heard"
        )
    for signal in world.sensing(boat, Senses.LINK):
        latest = world.latest(signal.id)
        if latest is not None and latest.value is False:  # a hint, so `on` proves nothing, and no news of it neither
            return against(
                Rule.LINK_DOWN, "the boat's link is down", "ask again when it is back", signal=signal.id, measured="off"
            )
    return met("link: up, boat heard")


def detectors(asked: Asked, world: World) -> Iterator[Finding]:
    """Detectors must be live and clear: gas and fire for switching anything on but a pump; carbon monoxide and fire
    must be fitted as well for an engine or heat (handbook G3, 5.2)."""
    sort = asked.equipment.sort
    wants = sort in WANTS_DETECTORS
    for senses, rule in ((Senses.CO, Rule.CO), (Senses.FIRE, Rule.GAS_OR_FIRE), (Senses.GAS, Rule.GAS_OR_FIRE)):
        if sort is Sort.PUMP or (senses is Senses.CO and not wants):
            continue
        fitted = world.sensing(asked.equipment.boat, senses)
        if not fitted and wants and senses is not Senses.GAS:
            yield against(Rule.DETECTOR_SILENT, f"no {senses} detector fitted", "the installer fits one")
        for signal in fitted:
            yield _detector(signal, senses, rule, world)


def _detector(signal: Signal, senses: Senses, rule: Rule, world: World) -> Finding:
    value = live(signal, world)
    if value is None:
        return against(
            Rule.DETECTOR_SILENT, f"{senses} detector silent", "ask again when the detector is heard", signal=signal.id
        )
    if value == "on":
        return against(rule, f"{senses} detector on", "ask again when it is off", signal=signal.id, measured=value)
    return met(f"{signal.key}: {value}")


def selector(asked: Asked, world: World) -> Iterator[Finding]:
    """The boat's own LOCAL/REMOTE selector must be seen live in REMOTE (handbook G0)."""
    equipment = asked.equipment
    if equipment.selector is not None:
        found: tuple[Signal, ...] = (world.signal(equipment.selector),)
    else:
        found = world.sensing(equipment.boat, Senses.SELECTOR)
    if not found and equipment.exception:
        yield met(f"selector: none, excepted ({equipment.exception})")
    elif not found:
        yield against(Rule.SELECTOR, "no selector fitted", "the installer fits one")
    for signal in found:
        value = live(signal, world)
        if value is None:
            yield against(Rule.STALE, "selector: no fresh data", "ask again when it reports again", signal=signal.id)
        elif value.casefold() not in (REMOTE, "on"):
            yield against(
                Rule.SELECTOR, f"selector in {value}", "REMOTE, at the boat", signal=signal.id, measured=value
            )
        else:
            yield met(f"{signal.key}: {value}")


def lock_out(asked: Asked, state: Requests, world: World) -> Iterator[Finding]:
    """A local switch or tag blocks everything, stops as well, and only the one who set it lifts it, at the boat
    (handbook G1; the practice is that of 29 CFR 1910.147(e), as quoted there).

    Closing the gas valve alone is let through, whatever the switch says and while it is silent (handbook 5.2: always
    allowed by the interlocks). Our choice between the two rules, because closing is the state in which whoever locks
    gas out leaves it; nothing starts, moves or becomes live by it, and no text opens it again; and because the switch
    is one for the whole boat: a lock for work on the inverter, or one that was forgotten, must not keep gas flowing to
    the person it protects."""
    for signal in world.sensing(asked.equipment.boat, Senses.LOCK_OUT):
        value = live(signal, world)
        if _closes_gas(asked):
            yield met(f"{signal.key}: {value or 'no fresh data'}, gas may be closed")
        elif value is None:
            yield against(Rule.STALE, "lock-out: no fresh data", "ask again when it reports again", signal=signal.id)
        elif value.casefold() != NOT_SET:
            says = f"maintenance lock-out set{_by_whom(value)}{_seen_since(asked, signal, state, world)}"
            yield against(Rule.LOCK_OUT, says, "lifted at the boat by who set it", signal=signal.id)
        else:
            yield met(f"{signal.key}: {value}")


def lock_said(latest: Latest, signal: Signal) -> str:
    """What a lock-out signal says: NOT_SET, "on", or the name of who set it, where the boat gives one."""
    value = said(latest, signal)
    return NOT_SET if value.casefold() == NOT_SET else value


def _by_whom(value: str) -> str:
    return "" if value.casefold() == "on" else f" by {value}"


def _seen_since(asked: Asked, signal: Signal, state: Requests, world: World) -> str:
    """Since when it was seen to be set so: it may have been set before, while nobody was heard."""
    known = state.lock_outs.get(signal.id)
    if known is None:
        return ""
    days = (world.now - known.at) // DAY
    ago = f", {days} d ago" if days else ""
    return f", seen since {clock(world.minute_of_day(asked.equipment.boat, known.at))}{ago}"


def somebody_aboard(asked: Asked, world: World) -> Finding:
    """Occupied from the first sign of a person until a named person ends the visit; silence never means empty
    (handbook G2). Since when is told to owner and installer only (design 4, rule 16)."""
    occupied = world.occupied(asked.equipment.boat)
    if occupied is None:
        return met("aboard: nobody, by name")
    cure = "visit over, when nobody is aboard"
    if occupied.since is None or asked.role not in TOLD_WHO_IS_ABOARD:
        return against(Rule.OCCUPIED, "nobody has said that the boat is empty", cure)
    since = clock(world.minute_of_day(asked.equipment.boat, occupied.since))
    days = (world.now - occupied.since) // DAY
    ago = f", {days} d ago" if days else ""
    return against(Rule.OCCUPIED, f"somebody aboard since {since}{ago}", cure, signal=occupied.by)


def live(signal: Signal, world: World) -> str | None:
    """A signal's value as said; None when it is stale, late, of unknown age, unreadable or was never heard."""
    latest = world.latest(signal.id)
    if latest is None or not latest.sure or is_stale(latest, signal, world.now):
        return None
    return said(latest, signal)
