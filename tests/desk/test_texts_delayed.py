"""A text that the carrier has not taken yet: others are told at once, and nobody gets a second one beside it for as
long as it is tried."""

from gateway.telling.outcomes import NO_ANSWER
from gateway.telling.texts_out import UNDER_WAY
from gateway.vocabulary.happenings import SendDelayed
from gateway.vocabulary.moments import MINUTE, SECOND
from tests.desk.small_boat import INES, MARINA, TOBIAS, WATER, WATER_DELAY, Small, small


def delayed() -> Small:
    """Water has come, and the text to Ines does not go."""
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY + 10 * SECOND)
    boat.take(SendDelayed(order=boat.sent[0].id, code=NO_ANSWER))
    return boat


def told(boat: Small, person: str) -> list[int]:
    """The minutes since the alarm at which a person was told of it."""
    raised = WATER_DELAY
    return [(at - raised) // MINUTE for who, what, at in boat.told() if (who, what) == (person, "alarm told")]


def test_the_next_person_is_told_at_once() -> None:
    boat = delayed()
    assert told(boat, TOBIAS) == [0]
    boat.wait(10 * MINUTE)
    assert told(boat, MARINA) == [8], "the others at their own time"


def test_no_second_text_goes_beside_it_while_it_is_tried_and_one_goes_once_that_is_over() -> None:
    boat = delayed()
    boat.wait(UNDER_WAY - MINUTE)
    assert told(boat, INES) == [0]
    held = {(one["person"], one["because"]) for one in boat.held}
    assert (INES, "its last text has not gone yet") in held
    boat.wait(11 * MINUTE)
    assert told(boat, INES)[1:] == [28]
    assert boat.rebuilt() == boat.bytes()
