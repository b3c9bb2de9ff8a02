"""An emergency that nobody has is called by voice as well; a call is recorded, and takes nothing."""

from itertools import permutations

from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import DeliveryReported, SendAnswered
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, LIST, MARINA, SHORE, TOBIAS, WATER, Small, point, small


def alarmed(*, callout: CallOutList = LIST) -> Small:
    boat = small(WATER, SHORE, callouts=(callout,))
    boat.reads("water", "on")
    boat.wait(15 * SECOND)
    boat.reads("water", "on")
    return boat


def minutes(boat: Small) -> list[tuple[str, Ms]]:
    return [(person, (at - 15 * SECOND) // MINUTE) for person, at, _ in boat.rung]


def orders(boat: Small) -> list[SendText]:
    found = (order for turn in boat.turns for order in turn.orders)
    return [order for order in found if isinstance(order, SendText) and order.spoken]


def test_an_emergency_is_called_from_three_minutes_on_beside_its_texts() -> None:
    boat = alarmed()
    boat.wait(2 * MINUTE)
    assert boat.rung == []
    boat.wait(7 * MINUTE)
    assert minutes(boat) == [(TOBIAS, 5), (MARINA, 8)]
    assert [person for person, about, _ in boat.told() if about == "alarm told"] == [INES, TOBIAS, MARINA]


def test_a_lesser_alarm_is_called_only_where_the_list_says_so() -> None:
    boat = small(SHORE)
    boat.keeps_reading("shore", "off", 40 * MINUTE)
    assert boat.rung == []
    ringing = CallOutList(key="list", steps=(Step(after=0, tell=(INES,), text=False, ring=True),), repeat=None)
    boat = small(SHORE, callouts=(ringing,))
    boat.keeps_reading("shore", "off", 40 * MINUTE)
    assert [person for person, _, _ in boat.rung] == [INES]
    assert boat.told() == []


def test_the_call_says_the_boat_the_matter_and_which_words_to_text() -> None:
    boat = alarmed()
    boat.wait(6 * MINUTE)
    words = boat.rung[0][2]
    assert "GREY WAGTAIL" in words
    assert "have it 1" in words
    assert "Water" in words


def test_nobody_is_called_any_more_once_somebody_has_it() -> None:
    boat = alarmed()
    boat.texts(INES, "have it")
    boat.wait(9 * MINUTE)  # before the holder is asked again
    assert boat.rung == []


def test_a_call_that_was_taken_takes_nothing_and_the_list_goes_on() -> None:
    boat = alarmed()
    boat.wait(5 * MINUTE)
    call = orders(boat)[0]
    boat.take(SendAnswered(order=call.id, accepted=True, message="CA1"))
    boat.take(DeliveryReported(order=call.id, status="completed"))
    boat.wait(4 * MINUTE)
    assert minutes(boat) == [(TOBIAS, 5), (MARINA, 8)]


def test_where_nobody_takes_the_call_the_next_one_is_told_at_once() -> None:
    for word in ("no-answer", "busy"):
        boat = alarmed()
        boat.wait(5 * MINUTE)
        call = orders(boat)[0]
        boat.take(SendAnswered(order=call.id, accepted=True, message="CA1"))
        boat.take(DeliveryReported(order=call.id, status=word, code=word))
        boat.wait(SECOND)
        assert minutes(boat)[-1] == (MARINA, 5), word


def test_a_phone_that_opted_out_of_texts_is_still_called_of_an_emergency_and_hears_how_to_come_back() -> None:
    boat = small(WATER)
    boat.texts(TOBIAS, "STOP")
    boat.keeps_reading("water", "on", 7 * MINUTE)
    called = [words for person, _, words in boat.rung if person == TOBIAS]
    assert len(called) == 1
    assert "text: start" in called[0]


def test_what_was_called_stands_in_the_record_and_the_fold_knows_it() -> None:
    boat = alarmed()
    boat.wait(9 * MINUTE)
    queued = [w.entry.body for w in boat.entries if w.entry.kind == "text-queued" and w.entry.body.get("spoken")]
    assert [body["person"] for body in queued] == [TOBIAS, MARINA]
    assert boat.rebuilt() == boat.bytes()


def test_what_becomes_of_a_call_may_be_told_in_any_order() -> None:
    for words in permutations(["initiated", "ringing", "in-progress", "busy"]):
        boat = alarmed()
        boat.wait(5 * MINUTE)
        call = orders(boat)[0]
        boat.take(SendAnswered(order=call.id, accepted=True, message="CA1"))
        for word in words:
            boat.take(DeliveryReported(order=call.id, status=word, code=word if word == "busy" else ""))
        boat.wait(SECOND)
        assert minutes(boat) == [(TOBIAS, 5), (MARINA, 5)], words


def test_a_call_that_was_busy_before_we_knew_that_it_was_made_hastens_the_next_one_as_well() -> None:
    boat = alarmed()
    boat.wait(5 * MINUTE)
    call = orders(boat)[0]
    boat.take(DeliveryReported(order=call.id, status="busy", code="busy"))
    boat.take(SendAnswered(order=call.id, accepted=True, message="CA1"))
    boat.wait(SECOND)
    assert minutes(boat) == [(TOBIAS, 5), (MARINA, 5)]


def test_the_first_text_to_whoever_was_only_called_before_is_held_back_by_no_limit() -> None:
    """A voicemail may have taken the call (design rule 11: the first text of an alarm always goes)."""
    hatch = point("hatch", when=IsContact(signal="hatch", wanted=True), priority=Priority.ALARM)
    panel = point("panel", when=IsContact(signal="panel", wanted=True), priority=Priority.ALARM, callout="busy")
    first_called = CallOutList(
        key="list",
        steps=(Step(after=0, tell=(TOBIAS,), text=False, ring=True), Step(after=20 * MINUTE, tell=(TOBIAS,))),
        repeat=None,
    )
    busy = CallOutList(key="busy", steps=(Step(after=0, tell=(TOBIAS,)),), repeat=2 * MINUTE)
    boat = small(hatch, panel, callouts=(first_called, busy))
    boat.reads("panel", "on")
    boat.wait(15 * MINUTE)  # six repeats: the limit of the hour is used up
    boat.reads("hatch", "on")
    boat.wait(20 * MINUTE + 1)
    number = next(a.number for a in boat.desk.state.standing.by_point.values() if a.point == hatch.id)
    texts = [w.entry.body for w in boat.entries if w.entry.kind == "text-queued" and not w.entry.body["spoken"]]
    assert any(number in one["numbers"] for one in texts)  # type: ignore[operator]


def test_whoever_was_only_called_hears_who_has_it() -> None:
    called = CallOutList(
        key="list",
        steps=(Step(after=0, tell=(TOBIAS,), text=False, ring=True), Step(after=MINUTE, tell=(INES,))),
        repeat=None,
    )
    boat = small(WATER, callouts=(called,))
    boat.reads("water", "on")
    boat.wait(2 * MINUTE)
    boat.texts(INES, "have it")
    assert (TOBIAS, "alarm taken") in [(who, what) for who, what, _ in boat.told()]
