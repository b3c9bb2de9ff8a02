"""Nothing is dropped without a word: what a limit held back is recorded, and said in the next text."""

from gateway.vocabulary.moments import MINUTE
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, WATER, Small, point, small

BACK = IsContact(signal="shore", wanted=True)
FIRST = point("shore", when=IsContact(signal="shore", wanted=False), clears=BACK, priority=Priority.WARNING)
SECOND = point("hatch", when=IsContact(signal="hatch", wanted=True), priority=Priority.WARNING)
ALARM = point("panel", when=IsContact(signal="panel", wanted=True))


def spent() -> Small:
    """Ines has had the three warnings of an hour; that the hatch is open is held back from her."""
    boat = small(FIRST, SECOND, ALARM, WATER)
    for _ in range(2):
        boat.reads("shore", "off")
        boat.reads("shore", "on")
        boat.wait(11 * MINUTE)
    boat.reads("hatch", "on")
    return boat


def test_what_is_held_back_is_said_in_the_next_text_and_recorded_with_its_reason() -> None:
    boat = spent()
    held = [w.entry.body for w in boat.entries if w.entry.kind == "held-back" and w.entry.body["person"] == INES]
    assert any(one["numbers"] == [2] and one["because"] == "limit on warning texts" for one in held)
    turn = boat.reads("panel", "on")
    [body] = [order.body for order in turn.orders if getattr(order, "person", "") == INES]
    assert "Held back from you: 2. Reply ALARMS" in body
    assert 2 not in boat.desk.state.telling.held.get(INES, ())
    assert boat.rebuilt() == boat.bytes()


def test_an_emergency_speaks_of_nothing_else() -> None:
    boat = spent()
    boat.keeps_reading("water", "on", MINUTE)
    water = [text.body for text in boat.sent if text.person == INES and "WATER" in text.body]
    assert water
    assert all("held back" not in body.casefold() for body in water)
