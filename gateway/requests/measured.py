"""What the boat reports after a command: the feedback contact, and the number that goes with it."""

from dataclasses import dataclass
from decimal import Decimal

from gateway.boat.latest import Latest
from gateway.conditions.judging import Verdict, said
from gateway.requests.boat_interlocks import live
from gateway.requests.settings import Equipment
from gateway.requests.world import World
from gateway.vocabulary.moments import Ms


def shows(contact: Latest | None, later_than: Ms, wanted: bool) -> bool:
    """Whether a live reading that arrived later than that instant shows the contact so. Late, retained and unreadable
    readings show nothing."""
    return contact is not None and contact.sure and contact.arrived > later_than and contact.value is wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """The number that goes with a proof, as said. agrees: whether it says the same as the contact: a set that shows
    "on" and 0 V does not deliver."""

    said: str
    agrees: bool


def number_since(piece: Equipment, since: Ms, wanted: bool, world: World) -> Number | None:
    """The number that goes with a proof of this state of the contact, when a live one arrived at that instant or later;
    else None."""
    if piece.proof is None:
        return None
    latest = world.latest(piece.proof)
    if latest is None or not latest.sure or latest.arrived < since or not isinstance(latest.value, Decimal):
        return None
    return Number(said=said(latest, world.signal(piece.proof)), agrees=_agrees(piece, wanted, world))


def _agrees(piece: Equipment, wanted: bool, world: World) -> bool:
    """A value that its signal cannot show says nothing, and so agrees with nothing."""
    if wanted or piece.rests_when is not None:
        asked = piece.runs_when if wanted else piece.rests_when
        return asked is None or world.judge(piece.boat, asked).verdict is Verdict.HOLDS
    return piece.runs_when is None or world.judge(piece.boat, piece.runs_when).verdict is Verdict.DOES_NOT


def result_says(piece: Equipment | None, since: Ms | None, wanted: bool, world: World) -> str:
    """What is measured of a command that went out at that instant and was not proved: the contact, and the number when
    that is what speaks against it ("on, 0 V"); "" when nothing fresh is known or the equipment is gone."""
    shown = feedback_says(piece, world)
    if piece is None or since is None or shown != ("on" if wanted else "off"):
        return shown
    number = number_since(piece, since, wanted, world)
    return shown if number is None or number.agrees else f"{shown}, {number.said}"


def feedback_says(piece: Equipment | None, world: World) -> str:
    """What the contact says at this moment ("off"); "" when nothing fresh is known or the equipment is gone."""
    return "" if piece is None else live(world.signal(piece.feedback), world) or ""
