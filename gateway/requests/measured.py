"""What the boat reports after a command: the feedback contact, and the number that goes with it."""

from decimal import Decimal

from gateway.boat.latest import Latest
from gateway.conditions.judging import said
from gateway.requests.boat_interlocks import live
from gateway.requests.settings import Equipment
from gateway.requests.world import World
from gateway.vocabulary.moments import Ms


def shows(contact: Latest | None, later_than: Ms, wanted: bool) -> bool:
    """Whether a live reading that arrived later than that instant shows the contact so. Late, retained and unreadable
    readings show nothing."""
    return contact is not None and contact.sure and contact.arrived > later_than and contact.value is wanted


def number_since(piece: Equipment, since: Ms, world: World) -> str | None:
    """The number that goes with a proof, as said, when a live one arrived at that instant or later; else None."""
    if piece.proof is None:
        return None
    latest = world.latest(piece.proof)
    if latest is None or not latest.sure or latest.arrived < since or not isinstance(latest.value, Decimal):
        return None
    return said(latest, world.signal(piece.proof))


def feedback_says(piece: Equipment | None, world: World) -> str:
    """What the contact says at this moment ("off"); "" when nothing fresh is known or the equipment is gone."""
    return "" if piece is None else live(world.signal(piece.feedback), world) or ""
