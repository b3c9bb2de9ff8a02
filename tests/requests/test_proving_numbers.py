"""A number is proved before it may start, switch on or open anything; stopping and being told never need it."""

from dataclasses import replace

import pytest

from gateway.people.settings import Person
from gateway.requests.answers import Answer, CautionAndCode, CodeAnswer, CodeTrouble, NotDone, Rule
from gateway.requests.facts import CodeSpent, RequestStep
from gateway.requests.life import RequestState
from gateway.requests.number_answers import CommandsLocked, NumberIsProved, ProveFirst
from gateway.requests.number_facts import NumberAsked, NumberProved, NumberUnproved, Unproved
from gateway.requests.proving_numbers import fell_silent, numbers_in_files
from gateway.requests.state import Requests
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from tests.requests.fake_world import GAS_VALVE, GENERATOR, INES, LIGHTS, MARINA, PEOPLE, RUTH, TOBIAS, Room, room

WRONG = ("sofa", "kettle")


def unproved() -> Room:
    """All is well but that nobody's number is proved."""
    one = room()
    one.state.numbers.proved.clear()
    one.facts.clear()
    one.chains.clear()
    return one


def to_prove(one: Room, who: Person = INES) -> ProveFirst:
    answer = one.ask(LIGHTS, "on", who=who)
    assert isinstance(answer, ProveFirst), answer
    return answer


def trouble(answers: tuple[Answer, ...]) -> CodeTrouble:
    answer = answers[-1]
    assert isinstance(answer, CodeAnswer), answer
    return answer.trouble


# ---------------------------------------------------------------- the two words


def test_a_number_that_is_not_proved_gets_two_words_and_nothing_is_switched() -> None:
    one = unproved()
    asked = to_prove(one)
    assert (asked.person, asked.equipment, asked.action) == (INES.id, LIGHTS.id, "on")
    assert asked.expires == one.world.now + 10 * MINUTE
    (step, made) = one.facts
    assert isinstance(step, RequestStep)
    assert step.after is RequestState.REFUSED
    assert step.objections == ("number not proved: your number is not proved",)
    assert isinstance(made, NumberAsked)
    assert one.chains == [LIGHTS.boat, INSTALLATION]
    assert not one.orders


def test_the_words_sent_back_prove_the_number_and_switch_nothing() -> None:
    one = unproved()
    (answer,) = one.prove(to_prove(one).words)
    assert answer == NumberIsProved(person=INES.id)
    assert not one.orders
    assert isinstance(one.ask(LIGHTS, "on"), CautionAndCode)


def test_the_proof_of_one_number_is_none_of_another() -> None:
    one = unproved()
    words = to_prove(one).words
    assert trouble(one.prove(words, who=TOBIAS)) is CodeTrouble.NOTHING_OPEN
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), ProveFirst)
    assert isinstance(one.ask(LIGHTS, "on", who=INES), ProveFirst)


def test_the_words_of_a_proof_confirm_nothing_and_those_of_a_code_prove_nothing() -> None:
    one = unproved()
    one.report(deck_lights_running="on")
    code = one.ask(LIGHTS, "off")
    assert isinstance(code, CautionAndCode)
    proof = to_prove(one)
    assert trouble(one.go(proof.words)) is CodeTrouble.PROVES
    assert trouble(one.prove(code.words)) is CodeTrouble.WRONG
    assert not one.orders
    assert not one.state.numbers.is_proved(INES.id)


@pytest.mark.parametrize(("after", "proves"), [(10 * MINUTE, True), (10 * MINUTE + 1, False)])
def test_the_words_are_good_for_ten_minutes_their_last_instant_included(after: Ms, proves: bool) -> None:
    one = unproved()
    words = to_prove(one).words
    one.world.now += after
    answers = one.prove(words)
    assert one.state.numbers.is_proved(INES.id) is proves
    if not proves:
        assert trouble(answers) is CodeTrouble.EXPIRED


def test_words_that_ran_out_are_forgotten_by_time_alone_and_known_again() -> None:
    one = unproved()
    words = to_prove(one).words
    assert one.state.open_code(), "no snapshot is taken while they wait"
    one.wait(15 * MINUTE)
    assert one.state.open_code(), "words sent in time may be on their way for five minutes"
    one.wait(1)
    assert not one.state.open_code()
    assert trouble(one.prove(words)) is CodeTrouble.EXPIRED


def test_the_words_work_once_and_newer_ones_make_the_older_void() -> None:
    one = unproved()
    first, second = to_prove(one).words, to_prove(one).words
    assert trouble(one.prove(first)) is CodeTrouble.REPLACED
    assert isinstance(one.prove(second)[-1], NumberIsProved)
    assert trouble(one.prove(second)) is CodeTrouble.USED


def test_the_words_are_judged_by_the_texts_own_time() -> None:
    one = unproved()
    words = to_prove(one).words
    one.wait(14 * MINUTE)
    one.prove(words, age=4 * MINUTE)
    assert one.state.numbers.is_proved(INES.id)


@pytest.mark.parametrize("age", [None, 5 * MINUTE + 1])
def test_a_late_proof_proves_nothing(age: Ms | None) -> None:
    one = unproved()
    words = to_prove(one).words
    assert trouble(one.prove(words, age=age)) is CodeTrouble.TOO_OLD
    assert not one.state.numbers.is_proved(INES.id)


def test_words_whose_sealed_part_was_erased_prove_nothing() -> None:
    one = unproved()
    one.erase = True
    assert trouble(one.prove(to_prove(one).words)) is CodeTrouble.WRONG
    assert not one.state.numbers.is_proved(INES.id)


def test_three_wrong_tries_void_the_words_and_five_in_a_row_lock() -> None:
    one = unproved()
    words = to_prove(one).words
    assert trouble(one.prove(WRONG)) is CodeTrouble.WRONG
    assert trouble(one.prove(WRONG)) is CodeTrouble.WRONG
    assert trouble(one.prove(WRONG)) is CodeTrouble.VOID
    assert trouble(one.prove(words)) is CodeTrouble.VOID
    words = to_prove(one).words
    one.prove(WRONG)
    answers = one.prove(WRONG)
    assert trouble(answers) is CodeTrouble.LOCKED
    assert [a.person for a in answers if isinstance(a, CommandsLocked)] == [RUTH.id]
    assert trouble(one.prove(words)) is CodeTrouble.LOCKED
    assert not one.state.numbers.is_proved(INES.id)


def test_the_right_words_end_a_row_of_wrong_ones() -> None:
    one = unproved()
    words = to_prove(one).words
    one.prove(WRONG)
    one.prove(WRONG)
    one.prove(words)
    assert one.state.tries[INES.id].in_a_row == 0
    assert one.state.tries[INES.id].series == 0, "nor is the next wrong one made to wait for those before"


# ---------------------------------------------------------------- what needs no proof


def test_what_brings_to_rest_never_needs_a_proof() -> None:
    one = unproved()
    one.report(generator_running="on", deck_lights_running="on")
    for piece in (GENERATOR, LIGHTS, GAS_VALVE):
        code = one.ask(piece, piece.pair[1])
        assert isinstance(code, CautionAndCode), piece.key
        before = len(one.orders)
        one.go(code.words)
        assert len(one.orders) == before + 1, piece.key


def test_a_person_without_the_right_gets_no_words_either() -> None:
    answer = unproved().ask(LIGHTS, "on", who=MARINA)
    assert isinstance(answer, NotDone)
    assert answer.objections[0].rule is Rule.NOT_YOURS


def test_a_code_that_is_open_when_the_proof_is_lost_switches_nothing() -> None:
    one = room()
    code = one.ask(LIGHTS, "on")
    assert isinstance(code, CautionAndCode)
    one.state.numbers.proved.clear()
    answer = one.go(code.words)[-1]
    assert isinstance(answer, NotDone)
    assert [each.rule for each in answer.objections] == [Rule.NOT_PROVED]
    assert not one.orders


# ---------------------------------------------------------------- silence


@pytest.mark.parametrize(("silent", "again"), [(60 * DAY, False), (60 * DAY + 1, True)])
def test_after_more_than_sixty_silent_days_a_number_is_proved_again(silent: Ms, again: bool) -> None:
    one = room()
    one.state.numbers.heard[INES.id] = one.world.now
    one.wait(silent)
    one.take(fell_silent(one.state, INES, one.world.now))
    assert one.state.numbers.is_proved(INES.id) is not again
    if again:
        assert one.facts[-1] == NumberUnproved(person=INES.id, because=Unproved.SILENT)
        assert to_prove(one).silent


def test_a_text_of_any_kind_keeps_the_proof_alive() -> None:
    state = Requests()
    state.numbers.proved[INES.id] = 0
    state.numbers.heard[INES.id] = 59 * DAY
    assert not state.numbers.is_silent(INES.id, 118 * DAY)


# ---------------------------------------------------------------- the installer's files


def vouched(at: Ms, who: Person = INES) -> dict[str, Person]:
    return {**PEOPLE, who.id: replace(who, proved=at, proved_by=RUTH.key)}


@pytest.mark.parametrize(
    ("before", "counts"), [(0, True), (HOUR, True), (60 * DAY, True), (60 * DAY + 1, False), (-1, False)]
)
def test_an_installers_word_counts_for_sixty_days_and_never_ahead(before: Ms, counts: bool) -> None:
    one = unproved()
    at = one.world.now - before
    one.take(numbers_in_files(one.state, vouched(at), (), one.world.now))
    assert one.state.numbers.is_proved(INES.id) is counts
    if counts:
        assert one.facts == [NumberProved(person=INES.id, at=at, by=RUTH.id)]


def test_another_number_is_not_proved_whatever_was_proved_before() -> None:
    one = room()
    code = one.ask(LIGHTS, "on")
    assert isinstance(code, CautionAndCode)
    one.take(numbers_in_files(one.state, PEOPLE, (INES.id,), one.world.now))
    assert trouble(one.go(code.words)) is CodeTrouble.VOID, "a code that went to the number before is void"
    assert isinstance(one.ask(LIGHTS, "on"), ProveFirst)
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), CautionAndCode)


def test_words_sent_to_the_number_before_prove_nothing() -> None:
    one = unproved()
    words = to_prove(one).words
    one.take(numbers_in_files(one.state, PEOPLE, (INES.id,), one.world.now))
    assert trouble(one.prove(words)) is CodeTrouble.VOID
    assert [f.trouble for f in one.facts if isinstance(f, CodeSpent)] == [CodeTrouble.VOID]


def test_an_installers_word_counts_once_so_it_never_proves_the_next_number() -> None:
    one = unproved()
    at = one.world.now - HOUR
    one.take(numbers_in_files(one.state, vouched(at), (), one.world.now))
    one.take(numbers_in_files(one.state, vouched(at), (INES.id,), one.world.now))
    assert not one.state.numbers.is_proved(INES.id)
    one.world.now += SECOND
    one.take(numbers_in_files(one.state, vouched(one.world.now), (INES.id,), one.world.now))
    assert one.state.numbers.is_proved(INES.id), "a newer word is about the newer number"


def test_an_installers_word_later_than_the_last_text_begins_the_sixty_days_anew() -> None:
    state = Requests()
    state.numbers.heard[INES.id] = 0
    state.apply(NumberProved(person=INES.id, at=50 * DAY, by=RUTH.id), 50 * DAY, ())
    assert not state.numbers.is_silent(INES.id, 110 * DAY)
    assert state.numbers.is_silent(INES.id, 110 * DAY + 1)
