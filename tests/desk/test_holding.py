"""Who has an alarm: where that person is, who has it next, when silence about it ends, and remarks for the record."""

from dataclasses import replace

import pytest

from gateway.alarms.holding import Whereabouts
from gateway.alarms.life import AlarmState
from gateway.alarms.limits import ASKED_AGAIN
from gateway.vocabulary.moments import MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import BOAT, INES, MARINA, TOBIAS, WATER, Small, point, small

ASKS = ASKED_AGAIN[Priority.EMERGENCY]
FIRE = point("fire", when=IsContact(signal="hatch", wanted=True), priority=Priority.EMERGENCY, latching=True)


def flooding() -> Small:
    """Water since 15 s, Ines and Tobias told, nobody has it."""
    boat = small(replace(WATER, ask_again=ASKS, name="Bilge high water"), FIRE)
    boat.keeps_reading("water", "on", 6 * MINUTE)
    return boat


def bodies(boat: Small, since: int = 0) -> list[tuple[str, str]]:
    return [(text.person, text.body) for turn in boat.turns[since:] for text in turn.orders if hasattr(text, "body")]


def said_to(boat: Small, person: str, since: int) -> list[str]:
    return [body for who, body in bodies(boat, since) if who == person]


def test_the_others_hear_once_that_the_holder_is_at_the_boat_and_once_that_he_is_ashore() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    since = len(boat.turns)
    boat.texts(TOBIAS, "at boat 1")
    boat.texts(TOBIAS, "at boat 1")
    boat.texts(TOBIAS, "ashore")
    heard = said_to(boat, INES, since)
    assert len(heard) == 2
    assert "Tobias is at the boat since 03:06, has alarm 1" in heard[0]
    assert "Tobias is ashore again since 03:06, has alarm 1" in heard[1]
    assert boat.kinds().count("holder-progressed") == 3  # every word of his is kept
    assert boat.rebuilt() == boat.bytes()


def test_arrival_silences_nothing_and_begins_no_visit_but_somebody_counts_as_aboard() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "visit over")
    boat.texts(TOBIAS, "have it 1")
    boat.texts(TOBIAS, "at boat 1")
    occupied = boat.desk.state.standing.occupancy(BOAT)
    assert occupied is not None
    assert occupied.by != "text"  # an announced visit would mute an intruder
    assert boat.state_of("water") is AlarmState.ACKNOWLEDGED


@pytest.mark.parametrize(
    ("who", "words", "says"),
    [
        (INES, "at boat 1", "Tobias has alarm 1, you do not"),  # two went, and the second is there first
        (INES, "at boat", "you have no alarm"),
        (INES, "at boat 77", "alarm 77 is not open"),
    ],
)
def test_who_is_at_the_boat_without_having_its_alarm_counts_as_aboard_no_less(who: str, words: str, says: str) -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    boat.texts(TOBIAS, "visit over")
    since = len(boat.turns)
    boat.texts(who, words)
    answer = f"{says}. You count as aboard: no text starts an engine until you reply VISIT OVER"
    assert answer in said_to(boat, who, since)[0]
    occupied = boat.desk.state.standing.occupancy(BOAT)
    assert occupied is not None
    assert occupied.by != "text", "an announced visit would mute an intruder"
    assert boat.rebuilt() == boat.bytes()
    boat.texts(who, "visit over")
    assert boat.desk.state.standing.occupancy(BOAT) is None


def test_ashore_of_somebody_without_an_alarm_changes_nothing() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "visit over")
    since = len(boat.turns)
    boat.texts(INES, "ashore")
    assert "you have no alarm, so nothing was changed" in said_to(boat, INES, since)[0]
    assert boat.desk.state.standing.occupancy(BOAT) is None


def test_only_the_holder_says_where_he_is() -> None:
    boat = flooding()
    since = len(boat.turns)
    boat.texts(INES, "at boat 1")
    assert "nobody has alarm 1 yet, you neither. Reply HAVE IT 1 first" in said_to(boat, INES, since)[0]
    boat.texts(TOBIAS, "have it 1")
    since = len(boat.turns)
    boat.texts(INES, "at boat 1")
    assert "Tobias has alarm 1, you do not" in said_to(boat, INES, since)[0]
    assert said_to(boat, TOBIAS, since) == []
    assert "holder-progressed" not in boat.kinds()


def test_of_two_who_want_it_at_once_the_first_has_it_and_the_second_is_told_how_to_take_it_over() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    since = len(boat.turns)
    boat.texts(INES, "have it 1")
    assert said_to(boat, INES, since) == [
        "GREY WAGTAIL: Tobias has alarm 1, you do not. Nothing was changed. To have it instead reply TAKE OVER 1"
    ]
    assert said_to(boat, TOBIAS, since) == []
    assert boat.desk.state.telling.calls[WATER.id].holder == TOBIAS


def test_who_takes_over_has_it_and_both_sides_hear_once() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    since = len(boat.turns)
    boat.texts(INES, "take over 1")
    assert "alarm 1 is yours" in said_to(boat, INES, since)[0]
    assert len(said_to(boat, INES, since)) == 1
    assert ["Ines has alarm 1 now, you no longer" in body for body in said_to(boat, TOBIAS, since)] == [True]
    assert boat.desk.state.telling.calls[WATER.id].holder == INES
    assert boat.desk.state.standing.by_point[WATER.id].taken_by == INES
    assert boat.rebuilt() == boat.bytes()


def test_what_is_handed_over_stays_with_its_holder_until_somebody_takes_it() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    since = len(boat.turns)
    boat.texts(TOBIAS, "hand over 1")
    assert {who for who, _ in bodies(boat, since)} == {INES, TOBIAS, MARINA}
    assert "Tobias asks to hand over alarm 1" in said_to(boat, INES, since)[0]
    assert "TAKE OVER 1" in said_to(boat, INES, since)[0]
    assert boat.desk.state.telling.calls[WATER.id].holder == TOBIAS
    boat.texts(MARINA, "take over 1")
    assert boat.desk.state.telling.calls[WATER.id].holder == MARINA
    boat.keeps_reading("water", "on", ASKS // 2)
    boat.texts(MARINA, "note 1 pumping")
    since = len(boat.turns)
    boat.keeps_reading("water", "on", ASKS // 2 + MINUTE)
    assert bodies(boat, since) == []  # what had been asked was over with the taking
    assert boat.state_of("water") is AlarmState.ACKNOWLEDGED


def test_the_list_begins_anew_when_nobody_takes_what_was_handed_over() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    boat.texts(TOBIAS, "hand over 1")
    since = len(boat.turns)
    boat.keeps_reading("water", "on", ASKS + 6 * MINUTE)
    assert boat.state_of("water") is AlarmState.UNACKNOWLEDGED
    assert any("still BILGE" in body or "WATER since" in body for body in said_to(boat, INES, since))


def test_a_holder_who_sleeps_is_asked_and_then_the_list_begins_anew() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    since = len(boat.turns)
    boat.keeps_reading("water", "on", ASKS + MINUTE)
    assert [who for who, _ in bodies(boat, since)] == [TOBIAS]
    assert "Still yours? Reply HAVE IT 1" in said_to(boat, TOBIAS, since)[0]
    boat.keeps_reading("water", "on", 3 * MINUTE)
    assert said_to(boat, INES, since)


def test_a_word_of_where_he_is_answers_whether_it_is_still_his() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    boat.keeps_reading("water", "on", ASKS + MINUTE)
    boat.texts(TOBIAS, "at boat 1")
    since = len(boat.turns)
    boat.keeps_reading("water", "on", ASKS - MINUTE)
    assert bodies(boat, since) == []
    assert boat.state_of("water") is AlarmState.ACKNOWLEDGED
    assert boat.desk.state.standing.by_point[WATER.id].where is Whereabouts.AT_BOAT


def test_another_emergency_ends_the_silence_at_once() -> None:
    boat = flooding()
    boat.texts(TOBIAS, "have it 1")
    since = len(boat.turns)
    boat.reads("hatch", "on")
    assert any("Still yours? Reply HAVE IT 1" in body for body in said_to(boat, TOBIAS, since))
    assert any("FIRE" in body for body in said_to(boat, INES, since))
    boat.keeps_reading("water", "on", 4 * MINUTE + 30 * SECOND)
    assert any("WATER" in body for body in said_to(boat, INES, since))  # unanswered: its list begins anew


def test_a_remark_is_kept_in_a_sealed_part_and_does_nothing_else() -> None:
    boat = flooding()
    before = boat.state_of("water")
    turn = boat.texts(TOBIAS, 'note 1 have it 1, go teapot marble, "STOP"')
    [kept] = [w for w in turn.entries if w.entry.kind == "note-kept"]
    assert kept.entry.chain == BOAT
    assert [part.content for part in kept.parts if part] == [{"words": 'have it 1, go teapot marble, "STOP"'}]
    assert boat.state_of("water") is before
    assert [order.body for order in turn.orders if hasattr(order, "body")] == [
        "GREY WAGTAIL: your note of alarm 1 is in the record. It was not read as an order. Nobody was told of it"
    ]
