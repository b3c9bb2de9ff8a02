"""Two persons for one action: each with own words, in their order, and every interlock asked each time."""

from dataclasses import replace

import pytest

from gateway.alarms.settings import Concerns
from gateway.people.settings import Person, Right
from gateway.requests.answers import (
    Answer,
    CautionAndCode,
    CodeAnswer,
    CodeTrouble,
    Dropped,
    NotDone,
    NotProved,
    Proved,
    Rule,
    SecondDidNot,
    WaitsForSecond,
)
from gateway.requests.codes import LATEST
from gateway.requests.life import RequestState
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from tests.requests.fake_world import BOAT, GENERATOR, INES, LIGHTS, MARINA, RUTH, TOBIAS, Room, room

SET = replace(GENERATOR, second_persons={"start": (INES.key, RUTH.key)})
WRONG = ("sofa", "kettle")


def bench() -> Room:
    one = room()
    one.equipment[SET.id] = SET
    return one


def question(one: Room, who: Person = TOBIAS) -> CautionAndCode:
    answer = one.ask(SET, "start", minutes=60, who=who)
    assert isinstance(answer, CautionAndCode), answer
    assert answer.who == ""
    return answer


def passed_on(one: Room, who: Person = TOBIAS) -> tuple[CautionAndCode, CautionAndCode]:
    """Tobias has asked and confirmed; both questions."""
    own = question(one, who)
    waits, second = one.go(own.words, who=who)
    assert isinstance(waits, WaitsForSecond)
    assert isinstance(second, CautionAndCode)
    assert (waits.person, waits.who) == (who.id, second.person)
    return own, second


def only(answers: tuple[Answer, ...], who: Person) -> Answer:
    (found,) = [answer for answer in answers if answer.person == who.id]
    return found


def test_after_the_first_word_the_second_person_is_asked_the_same_and_nothing_is_switched() -> None:
    one = bench()
    own, second = passed_on(one)
    assert (second.person, second.who) == (INES.id, TOBIAS.id)
    assert (second.equipment, second.action, second.run) == (own.equipment, own.action, own.run)
    assert second.words != own.words
    assert second.expires == one.world.now + 10 * MINUTE
    assert one.orders == []


def test_with_both_words_it_is_sent_once_and_both_hear_what_was_measured() -> None:
    one = bench()
    _, second = passed_on(one)
    assert one.go(second.words, who=INES) == ()
    assert len(one.orders) == 1
    one.wait(SECOND, fresh=False)
    told = one.report(generator_running="on", generator_volts="231")
    assert {answer.person for answer in told if isinstance(answer, Proved)} == {TOBIAS.id, INES.id}
    again = only(one.go(second.words, who=INES), INES)
    assert isinstance(again, CodeAnswer)
    assert again.trouble is CodeTrouble.USED
    assert len(one.orders) == 1


def test_both_hear_when_it_is_not_proved() -> None:
    one = bench()
    _, second = passed_on(one)
    one.go(second.words, who=INES)
    told = one.wait(SET.prove_within + 1)
    assert {answer.person for answer in told if isinstance(answer, NotProved)} == {TOBIAS.id, INES.id}


@pytest.mark.parametrize("who", [TOBIAS, RUTH, MARINA])
def test_nobody_else_can_give_the_second_word(who: Person) -> None:
    one = bench()
    _, second = passed_on(one)
    answers = one.go(second.words, who=who)
    assert any(isinstance(answer, CodeAnswer) for answer in answers)
    assert one.orders == []


def test_the_first_words_do_nothing_a_second_time() -> None:
    one = bench()
    own, _ = passed_on(one)
    answer = only(one.go(own.words, who=TOBIAS), TOBIAS)
    assert isinstance(answer, CodeAnswer)
    assert answer.trouble is CodeTrouble.USED
    assert one.orders == []


def test_whoever_asks_is_never_the_own_second_person() -> None:
    _, second = passed_on(bench(), INES)
    assert second.person == RUTH.id


def test_somebody_without_the_right_or_locked_is_not_asked() -> None:
    one = bench()
    one.people[INES.id] = replace(INES, rights=(Right(boat=BOAT, equipment="deck-lights"),))
    _, second = passed_on(one)
    assert second.person == RUTH.id
    other = bench()
    for _ in range(5):
        other.go(WRONG, who=INES)
    _, second = passed_on(other)
    assert second.person == RUTH.id


def test_with_nobody_else_to_ask_it_is_refused_at_the_question() -> None:
    one = bench()
    one.equipment[SET.id] = replace(SET, second_persons={"start": (TOBIAS.key,)})
    answer = one.ask(SET, "start", minutes=60, who=TOBIAS)
    assert isinstance(answer, NotDone)
    assert [objection.rule for objection in answer.objections] == [Rule.SECOND_PERSON]


def test_a_stop_and_other_equipment_need_one_person_only() -> None:
    one = bench()
    one.report(generator_running="on")
    stop = one.ask(SET, "stop", who=TOBIAS)
    assert isinstance(stop, CautionAndCode)
    assert one.go(stop.words, who=TOBIAS) == ()
    lights = one.ask(LIGHTS, "on", who=TOBIAS)
    assert isinstance(lights, CautionAndCode)
    one.go(lights.words, who=TOBIAS)
    assert len(one.orders) == 2


@pytest.mark.parametrize("at_the_second", [False, True])
def test_interlocks_are_asked_at_each_word(at_the_second: bool) -> None:
    one = bench()
    if at_the_second:
        _, second = passed_on(one)
        words, who = second.words, INES
    else:
        words, who = question(one).words, TOBIAS
    one.world.alarms[Concerns.CO] = 4
    answers = one.go(words, who=who)
    told = {answer.person for answer in answers if isinstance(answer, NotDone)}
    assert told == ({TOBIAS.id, INES.id} if at_the_second else {TOBIAS.id})
    assert one.orders == []
    assert one.state.open == {}


def test_a_right_or_a_lock_that_changed_since_stands_against_it() -> None:
    one = bench()
    _, second = passed_on(one)
    one.people[TOBIAS.id] = replace(TOBIAS, rights=())
    refusal = only(one.go(second.words, who=INES), INES)
    assert isinstance(refusal, NotDone)
    assert refusal.objections[0].rule is Rule.NOT_YOURS
    other = bench()
    _, second = passed_on(other)
    for _ in range(5):
        other.go(WRONG, who=TOBIAS)
    refusal = only(other.go(second.words, who=INES), INES)
    assert isinstance(refusal, NotDone)
    assert refusal.objections[0].rule is Rule.LOCKED
    assert one.orders == other.orders == []


def test_without_the_second_word_in_time_whoever_asked_is_told_and_the_words_are_dead() -> None:
    one = bench()
    _, second = passed_on(one)
    assert one.wait(10 * MINUTE + LATEST) == (), "words sent in time may come that much later"
    told = only(one.wait(1), TOBIAS)
    assert isinstance(told, SecondDidNot)
    assert (told.who, told.trouble) == (INES.id, CodeTrouble.EXPIRED)
    answer = only(one.go(second.words, who=INES), INES)
    assert isinstance(answer, CodeAnswer)
    assert answer.trouble is CodeTrouble.EXPIRED
    assert one.orders == []


def test_the_second_person_may_say_no() -> None:
    one = bench()
    _, second = passed_on(one)
    answers = one.drop(second.words, who=INES)
    assert isinstance(only(answers, INES), Dropped)
    told = only(answers, TOBIAS)
    assert isinstance(told, SecondDidNot)
    assert told.trouble is CodeTrouble.USED
    assert one.state.open == {}


def test_whoever_asked_may_take_it_back_with_the_words_of_the_first_text() -> None:
    one = bench()
    own, second = passed_on(one)
    assert isinstance(only(one.drop(own.words, who=TOBIAS), TOBIAS), Dropped)
    one.go(second.words, who=INES)
    assert one.orders == []


def test_a_newer_request_of_the_asker_voids_the_second_code() -> None:
    one = bench()
    _, second = passed_on(one)
    one.ask(LIGHTS, "on", who=TOBIAS)
    answer = only(one.go(second.words, who=INES), INES)
    assert isinstance(answer, CodeAnswer)
    assert answer.trouble is CodeTrouble.REPLACED
    assert one.orders == []


def test_three_wrong_words_of_the_second_person_void_it_and_count_for_that_person_alone() -> None:
    one = bench()
    passed_on(one)
    for _ in range(2):
        one.go(WRONG, who=INES)
    told = only(one.go(WRONG, who=INES), TOBIAS)
    assert isinstance(told, SecondDidNot)
    assert told.trouble is CodeTrouble.VOID
    assert one.state.tries[INES.id].in_a_row == 3
    assert one.state.tries[TOBIAS.id].in_a_row == 0


def test_a_second_person_keeps_an_own_request_beside_it_and_each_word_finds_its_own() -> None:
    one = bench()
    lights = one.ask(LIGHTS, "on", who=INES)
    assert isinstance(lights, CautionAndCode)
    _, second = passed_on(one)
    one.go(second.words, who=INES)
    one.go(lights.words, who=INES)
    assert [order.topic for order in one.orders] == [SET.topic, LIGHTS.topic]


def test_the_second_code_outlives_a_restart_and_a_snapshot_waits_for_it() -> None:
    one = bench()
    _, second = passed_on(one)
    assert one.restart() == ()
    assert one.state.open_code()
    one.go(second.words, who=INES)
    (request,) = one.state.open.values()
    assert request.state is RequestState.SENT
    one.wait(HOUR)
    assert len([order for order in one.orders if '"start"' in order.payload]) == 1


def test_a_second_person_who_is_gone_lapses_the_code() -> None:
    one = bench()
    _, second = passed_on(one)
    del one.people[second.person]
    one.due()
    assert not one.state.open
    assert one.orders == []
