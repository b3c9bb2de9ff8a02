"""What may be switched by text here, and the caution that belongs to it: printed by `check` and at each `run`."""

from collections.abc import Iterator, Mapping

from gateway.cli.check_sheet import wrapped
from gateway.requests.settings import GRAVE, Equipment

CAUTION = (
    "The interlocks here stand behind the boat's own wired chain and carry no safety-integrity claim: that chain must "
    "be safe without them. A licensed or qualified marine electrician, the makers' instructions, flag and local codes "
    "decide what may be started with nobody aboard."
)
"""Handbook 5: nothing here is permission."""


def switched_by_text(equipment: Mapping[str, Equipment]) -> Iterator[str]:
    """Every piece (by id) whose commands go out; those that can hurt somebody with the caution that a person is shown
    before confirming (handbook 5.2)."""
    if not equipment:
        yield "Nothing here can be switched by text."
        return
    grave = [piece for piece in equipment.values() if piece.sort in GRAVE]
    other = [piece.id for piece in equipment.values() if piece.sort not in GRAVE]
    if other:
        yield from wrapped(f"Switched by text: {', '.join(other)}.", "")
    if not grave:
        return
    yield "Started or switched on by text, with nobody aboard, and able to hurt somebody:"
    for piece in grave:
        yield from wrapped(f"{piece.id}: {piece.caution}", "  ")
    yield from wrapped(CAUTION, "  ")
