"""What a person is told who is about to go to a boat in trouble.

Never an order into danger. The trade's usual cautions (handbook 3 P01, P19 to P23; 7.3 no. 2); local rescue and fire
services, the makers' instructions and local codes go before them. This is a text, not a safeguard.
"""

from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Boat
from gateway.vocabulary.priority import Priority
from gateway.wording.fitting import Piece, Worth, clipped, fixed, shortening, tidy

DEFAULT_NUMBER = "112"
"""Where the boat is unknown by now: the emergency number of ITU-T E.161.1 and of the European Union."""

MEANINGS = {
    Concerns.FIRE: "Boat may be on fire",
    Concerns.GAS: "Gas may explode",
    Concerns.CO: "CO KILLS",
    Concerns.FLOODING: "Boat may be flooding",
    Concerns.INTRUSION: "Somebody may be aboard",
    Concerns.DRIFT: "Boat may be adrift",
}
"""What it means where the installer wrote nothing, from the same section of the handbook."""


def emergency_number(boat: Boat | None) -> str:
    """The number to call at the boat; at most 20 septets."""
    return clipped(tidy(boat.emergency_number) if boat else "", 20) or DEFAULT_NUMBER


def meaning(point: Point | None) -> str:
    """What the alarm means: the installer's words, else ours by what it concerns, else ""."""
    if point is None:
        return ""
    return tidy(point.means) or (MEANINGS[point.concerns] if point.concerns else "")


def while_it_lasts(point: Point | None, boat: Boat | None) -> Piece:
    """What stands in every first text of a fire, CO or gas alarm (handbook 3 P19 to P21), unless the installer's own
    words say it already. Never dropped."""
    said = meaning(point).casefold()
    match point.concerns if point else None:
        case Concerns.FIRE:
            number = emergency_number(boat)
            return fixed("" if number in said else f". Fire service: {number}")
        case Concerns.CO:
            return fixed("" if "not go below" in said else ". Do not go below")
        case Concerns.GAS:
            if "no flame" in said:
                return fixed("")
            return shortening(Worth.VALUE, ". No switches, no flame, no phone aboard", ". No switches, no flame")
        case _:
            return fixed("")


def not_proof(point: Point | None) -> Piece:
    """What a detector that has gone quiet does not prove; nothing for other alarms."""
    match point.concerns if point else None:
        case Concerns.FIRE:
            return fixed(". No proof that a fire is out")
        case Concerns.CO | Concerns.GAS:
            return fixed(". No proof that the air is clean")
        case _:
            return fixed("")


def may_be_boarded(point: Point | None) -> bool:
    """Whether a text may speak of being aboard at all: not with fire, gas, CO or an intruder about."""
    return point is None or point.concerns not in (Concerns.FIRE, Concerns.GAS, Concerns.CO, Concerns.INTRUSION)


def on_arrival(point: Point | None, boat: Boat | None) -> list[Piece]:
    """What to mind before boarding, with the number to call; nothing for an alarm that harms nobody."""
    call = f"call {emergency_number(boat)}"
    post = clipped(tidy(boat.berth), 12) if boat else ""
    match point.concerns if point else None:
        case Concerns.FLOODING:
            at_post = f" at post {post}" if post else ""
            lead = (f". Before you board: shore lead off{at_post}", ". Shore lead off first")
            at_a_berth = post or boat is None  # on a mooring there is no lead
            return [
                shortening(Worth.CAUTION, *lead) if at_a_berth else fixed(""),
                fixed(f". Low in water, gas smell or sparks: stay ashore and {call}"),
            ]
        case Concerns.FIRE:
            return [fixed(f". Do not board. Stay ashore, upwind, and {call}"), _warn("Warn boats alongside")]
        case Concerns.GAS:
            return [fixed(f". Do not board: no switches, no flame, no phone there. From a distance {call}")]
        case Concerns.CO:
            return [fixed(f". CO KILLS: do not go below. Anyone aboard, ill or dizzy: {call}")]
        case Concerns.INTRUSION:
            return [fixed(f". Do not board alone. Somebody there: keep away and {call}")]
        case Concerns.DRIFT:
            return [fixed(f". Do not jump or swim to her. People in danger: {call}")]
        case _ if point is not None and point.priority is Priority.EMERGENCY:
            return [fixed(f". Gas smell, smoke, sparks or low in water: stay ashore and {call}")]
        case _:
            return []


def _warn(words: str) -> Piece:
    return Piece((f". {words}", ""), (Worth.ADVICE,))
