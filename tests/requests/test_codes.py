"""Rights, ages, codes and locks."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.people.settings import Right
from gateway.requests.answers import Answer, CautionAndCode, CodeAnswer, CodeTrouble, Dropped, NotDone, Rule
from gateway.requests.authority import wait_after
from gateway.requests.codes import draw_code, mark_of, same_words
from gateway.requests.facts import CodeMade, CodeRefused, LockLifted, WrongCode
from gateway.requests.number_answers import CommandsLocked
from gateway.requests.settings import Equipment
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.facts import body_of
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from tests.requests.fake_world import BOAT, GENERATOR, INES, LIGHTS, MARINA, RUTH, TOBIAS, Room, at, room

WRONG = ("sofa", "kettle")


def question(
    one: Room, equipment: Equipment = LIGHTS, action: str = "on", minutes: int | None = None
) -> CautionAndCode:
    answer = one.ask(equipment, action, minutes=minutes)
    assert isinstance(answer, CautionAndCode), answer
    return answer


def trouble(answers: tuple[Answer, ...]) -> CodeTrouble:
    answer = answers[-1]
    assert isinstance(answer, CodeAnswer), answer
    return answer.trouble


def barred(answer: Answer) -> Rule:
    assert isinstance(answer, NotDone), answer
    (objection,) = answer.objections
    return objection.rule


# ---------------------------------------------------------------- who may ask


def test_a_person_without_the_right_gets_no_code() -> None:
    assert barred(room().ask(LIGHTS, "on", who=MARINA)) is Rule.NOT_YOURS


def test_a_right_is_bound_to_boat_equipment_and_action() -> None:
    one = room()
    for right in (
        Right(boat="salt-harrier", equipment="*"),
        Right(boat=BOAT, equipment="generator"),
        Right(boat=BOAT, equipment="deck-lights", actions=("off",)),
    ):
        assert barred(one.ask(LIGHTS, "on", who=replace(TOBIAS, rights=(right,)))) is Rule.NOT_YOURS
    allowed = replace(TOBIAS, rights=(Right(boat=BOAT, equipment="deck-lights", actions=("on",)),))
    assert isinstance(one.ask(LIGHTS, "on", who=allowed), CautionAndCode)


DAYTIME = Right(boat=BOAT, equipment="*", begins=8 * 60, ends=20 * 60)


@pytest.mark.parametrize(
    ("clock", "granted"), [("07:59:59", False), ("08:00:00", True), ("19:59:59", True), ("20:00:00", False)]
)
def test_a_right_with_hours_holds_in_them_and_the_refusal_says_when(clock: str, granted: bool) -> None:
    answer = room(at(clock)).ask(LIGHTS, "on", who=replace(TOBIAS, rights=(DAYTIME,)))
    assert isinstance(answer, CautionAndCode) is granted
    if isinstance(answer, NotDone):
        (objection,) = answer.objections
        assert objection.rule is Rule.NOT_NOW
        assert objection.says == f"your right to deck lights on is for 08:00-20:00, it is {clock[:5]}"
        assert objection.cure == "ask again from 08:00"


def test_of_several_hours_all_are_said_and_the_next_to_begin_is_named() -> None:
    rights = (DAYTIME, replace(DAYTIME, begins=22 * 60, ends=60))
    answer = room(at("20:30:00")).ask(LIGHTS, "on", who=replace(TOBIAS, rights=rights))
    assert isinstance(answer, NotDone)
    assert "08:00-20:00 and 22:00-01:00" in answer.objections[0].says
    assert answer.objections[0].cure == "ask again from 22:00"
    evening = room(at("23:30:00")).ask(LIGHTS, "on", who=replace(TOBIAS, rights=rights))
    assert isinstance(evening, CautionAndCode)


def test_what_was_started_within_the_hours_may_be_stopped_after_them() -> None:
    one = room(at("20:30:00"))
    one.report(deck_lights_running="on")
    assert isinstance(one.ask(LIGHTS, "off", who=replace(TOBIAS, rights=(DAYTIME,))), CautionAndCode)


def test_a_code_that_comes_back_after_the_hours_switches_nothing() -> None:
    one = room(at("19:55:00"))
    tobias = replace(TOBIAS, rights=(DAYTIME,))
    code = one.ask(LIGHTS, "on", who=tobias)
    assert isinstance(code, CautionAndCode)
    one.wait(5 * MINUTE)
    answer = one.go(code.words, who=tobias)[-1]
    assert isinstance(answer, NotDone)
    assert [each.rule for each in answer.objections] == [Rule.NOT_NOW]
    assert not one.orders


@pytest.mark.parametrize(("age", "late"), [(5 * MINUTE, False), (5 * MINUTE + 1, True), (None, True), (DAY, True)])
def test_a_text_older_than_five_minutes_or_of_unknown_age_never_asks(age: Ms | None, late: bool) -> None:
    answer = room().ask(LIGHTS, "on", age=age)
    if late:
        assert barred(answer) is Rule.TOO_OLD
    else:
        assert isinstance(answer, CautionAndCode)


def test_a_late_text_is_told_how_late_it_came() -> None:
    answer = room().ask(LIGHTS, "on", age=5 * MINUTE + 20 * SECOND)
    assert isinstance(answer, NotDone)
    assert (answer.objections[0].says, answer.objections[0].cure) == ("came 6 min late", "send it again")


@pytest.mark.parametrize("age", [5 * MINUTE + 1, None])
def test_a_late_text_never_confirms_and_leaves_the_code_open(age: Ms | None) -> None:
    one = room()
    words = question(one).words
    assert trouble(one.go(words, age=age)) is CodeTrouble.TOO_OLD
    assert one.orders == []
    one.go(words)
    assert len(one.orders) == 1


def test_a_late_text_that_cannot_ask_leaves_an_open_code_alone() -> None:
    one = room()
    words = question(one).words
    one.ask(LIGHTS, "off", age=None)
    one.go(words)
    assert len(one.orders) == 1


# ---------------------------------------------------------------- the code


def test_a_code_is_two_different_words_of_the_list() -> None:
    drawn = [draw_code(Draws(n.to_bytes(32, "big")), ("alder", "birch", "cedar")) for n in range(300)]
    assert set(drawn) == {(a, b) for a in ("alder", "birch", "cedar") for b in ("alder", "birch", "cedar") if a != b}


def test_too_short_a_list_makes_no_code() -> None:
    with pytest.raises(ValueError, match="two words"):
        draw_code(Draws(bytes(32)), ("alder",))


def test_case_does_not_count_and_order_does() -> None:
    assert same_words(("Teapot", "marble"), ("TEAPOT", "Marble"))
    assert not same_words(("teapot", "marble"), ("marble", "teapot"))
    assert not same_words(None, ("teapot", "marble"))
    assert mark_of("1", ("Teapot", "marble")) == mark_of("1", ("teapot", "MARBLE"))
    assert mark_of("1", None) == ""


def test_the_words_in_the_other_order_are_wrong() -> None:
    one = room()
    first, second = question(one).words
    assert trouble(one.go((second, first))) is CodeTrouble.WRONG


def test_code_words_stand_in_a_sealed_part_and_nowhere_else() -> None:
    one = room()
    words = question(one).words
    made = next(fact for fact in one.facts if isinstance(fact, CodeMade))
    for fact in one.facts:
        assert not any(word in str(body_of(fact).values()).split("'") for word in words)
    assert made.expires == one.world.now + 10 * MINUTE


def test_no_snapshot_is_taken_while_a_code_is_open() -> None:
    one = room()
    assert not one.state.open_code()
    words = question(one).words
    assert one.state.open_code()
    one.go(words)
    assert not one.state.open_code()
    assert all(request.words is None for request in one.state.open.values())


@pytest.mark.parametrize(
    ("sent", "age", "good"),
    [
        ("12:10:00", 0, True),
        ("12:10:00", 4 * MINUTE, True),
        ("12:10:00", 5 * MINUTE, True),
        ("12:10:01", 0, False),
        ("12:10:01", 2 * MINUTE, False),
    ],
)
def test_a_code_is_judged_by_the_texts_own_time_however_long_the_carrier_had_it(sent: str, age: Ms, good: bool) -> None:
    one = room(at("12:00:00"))
    words = question(one).words
    one.wait(at(sent) + age - one.world.now)
    answers = one.go(words, age=age)
    assert len(one.orders) == int(good)
    if not good:
        assert trouble(answers) is CodeTrouble.EXPIRED


def test_words_that_are_late_by_more_than_five_minutes_are_told_until_when_to_send_them_again() -> None:
    one = room(at("12:00:00"))
    code = question(one)
    one.wait(7 * MINUTE)
    answer = one.go(code.words, age=6 * MINUTE)[-1]
    assert isinstance(answer, CodeAnswer)
    assert (answer.trouble, answer.age, answer.until) == (CodeTrouble.TOO_OLD, 6 * MINUTE, code.expires)
    one.go(code.words)
    assert len(one.orders) == 1, "nothing was used up by the late one"


def test_a_code_whose_time_is_over_is_kept_for_words_on_their_way_and_stands_in_nobodys_way() -> None:
    one = room(at("12:00:00"))
    question(one)
    one.wait(10 * MINUTE)
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), NotDone), "one at a time, to its last instant"
    one.wait(1)
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), CautionAndCode)
    assert one.state.open_code()
    one.wait(5 * MINUTE)
    assert one.state.waiting(INES.id) is None


def test_a_request_after_the_time_of_the_older_code_speaks_of_no_words_that_are_void() -> None:
    one = room()
    older = question(one).words
    one.wait(10 * MINUTE + 1)
    refused = one.ask(GENERATOR, "start", minutes=600)
    assert isinstance(refused, NotDone)
    assert refused.voided is None
    assert trouble(one.go(older)) is CodeTrouble.EXPIRED


def test_an_erased_code_can_never_be_confirmed_and_changes_nothing_else() -> None:
    one = room()
    one.erase = True
    words = question(one).words
    assert trouble(one.go(words)) is CodeTrouble.WRONG
    assert one.orders == []
    assert trouble(one.wait(16 * MINUTE) + one.go(words)) is CodeTrouble.NOTHING_OPEN


def test_a_code_works_for_its_own_person_only() -> None:
    one = room()
    words = question(one).words
    assert trouble(one.go(words, who=TOBIAS)) is CodeTrouble.NOTHING_OPEN
    assert one.orders == []
    one.go(words)
    assert len(one.orders) == 1


def test_a_code_is_bound_to_what_was_asked() -> None:
    one = room()
    question(one, GENERATOR, "start", minutes=60)
    words = question(one, LIGHTS, "on", minutes=45).words
    one.go(words)
    (order,) = one.orders
    assert order.topic == LIGHTS.topic
    assert '"do":"on"' in order.payload
    assert '"run_minutes":45' in order.payload


def test_a_newer_request_voids_the_older_code_even_when_it_is_refused() -> None:
    one = room()
    older = question(one).words
    refused = one.ask(GENERATOR, "start", minutes=600)
    assert isinstance(refused, NotDone)
    assert refused.voided == LIGHTS.id, "and says which words are void"
    assert trouble(one.go(older)) is CodeTrouble.REPLACED
    assert one.orders == []


def test_a_right_that_was_taken_away_meanwhile_refuses_the_confirmation() -> None:
    one = room()
    words = question(one).words
    assert barred(one.go(words, who=replace(INES, rights=()))[-1]) is Rule.NOT_YOURS
    assert one.orders == []


def test_equipment_that_is_gone_lapses_its_code() -> None:
    one = room()
    words = question(one).words
    del one.equipment[LIGHTS.id]
    assert trouble(one.go(words)) is CodeTrouble.NOTHING_OPEN
    assert one.orders == []
    assert not one.state.open_code()


def test_a_code_of_a_person_who_is_gone_lapses() -> None:
    one = room()
    question(one)
    del one.people[INES.id]
    one.due()
    assert not one.state.open_code()


def test_drop_withdraws_and_the_words_are_dead() -> None:
    one = room()
    words = question(one).words
    (answer,) = one.drop(words)
    assert isinstance(answer, Dropped)
    assert trouble(one.go(words)) is CodeTrouble.USED
    assert one.orders == []


def test_a_late_drop_still_withdraws_because_it_switches_nothing() -> None:
    one = room()
    words = question(one).words
    assert isinstance(one.drop(words, age=None)[-1], Dropped)


def test_wrong_words_of_a_drop_are_not_counted() -> None:
    one = room()
    question(one)
    for _ in range(6):
        assert trouble(one.drop(WRONG)) is CodeTrouble.WRONG
    assert not any(isinstance(fact, WrongCode) for fact in one.facts)
    assert trouble(one.drop(WRONG, who=TOBIAS)) is CodeTrouble.NOTHING_OPEN
    assert trouble(one.drop(WRONG, age=None)) is CodeTrouble.TOO_OLD


# ---------------------------------------------------------------- wrong words and locks


def test_three_wrong_tries_void_a_code() -> None:
    one = room()
    words = question(one).words
    left = []
    for _ in range(2):
        answer = one.go(WRONG)[-1]
        assert isinstance(answer, CodeAnswer)
        left.append(answer.tries_left)
    assert left == [2, 1]
    assert trouble(one.go(WRONG)) is CodeTrouble.VOID
    assert trouble(one.go(words)) is CodeTrouble.VOID
    assert one.orders == []


def test_after_each_wrong_code_no_words_are_compared_for_twice_as_long_up_to_an_hour() -> None:
    """Handbook 6.1, SP 800-63B-4, 3.2.2: from 30 s up to 1 h."""
    assert [wait_after(series) // SECOND for series in range(10)] == [0, 30, 60, 120, 240, 480, 960, 1920, 3600, 3600]
    one = room()
    words = question(one).words
    one.go(WRONG)
    one.wait(30 * SECOND - 1)
    (answer,) = one.go(words, patient=False)
    assert isinstance(answer, CodeAnswer)
    assert (answer.trouble, answer.wait) == (CodeTrouble.WAITS, 1)
    assert one.orders == []
    one.wait(1)
    one.go(words, patient=False)
    assert len(one.orders) == 1, "the right words are good again when the wait is over"


def test_a_wait_is_ended_by_the_right_words_and_not_by_a_new_question_or_a_lock() -> None:
    one = room()
    one.go(WRONG)
    question(one)
    assert trouble(one.go(WRONG, patient=False)) is CodeTrouble.WAITS
    for _ in range(4):
        one.go(WRONG)
    one.wait(30 * MINUTE)
    one.go(WRONG)
    one.wait(16 * MINUTE - 1)
    assert trouble(one.go(WRONG, patient=False)) is CodeTrouble.WAITS
    one.go(question(one).words)
    assert len(one.orders) == 1
    assert wait_after(one.state.tries[INES.id].series) == 0


def test_nobody_elses_words_wait() -> None:
    one = room()
    one.go(WRONG, who=TOBIAS)
    one.go(question(one).words, patient=False)
    assert len(one.orders) == 1


PAUSES = st.sampled_from([1, 29_999, 30_000, 60_000, 240_000, 16 * MINUTE, HOUR, 5 * HOUR, DAY + 1])


@given(st.lists(PAUSES, max_size=40))
def test_each_guess_that_is_compared_was_waited_for_and_the_waits_never_shrink(pauses: list[Ms]) -> None:
    one = room()
    compared: list[Ms] = []
    waited: list[Ms] = []
    for pause in pauses:
        one.world.now += pause
        answers = one.go(WRONG, who=TOBIAS, patient=False)
        if trouble(answers) in (CodeTrouble.WAITS, CodeTrouble.LOCKED) and not any(
            isinstance(answer, CommandsLocked) for answer in answers
        ):
            continue
        now = one.world.now
        if compared and now - compared[-1] >= DAY:
            waited.clear()
        if compared and waited:
            assert now - compared[-1] >= waited[-1]
        waited.append(wait_after(one.state.tries[TOBIAS.id].series))
        compared.append(now)
        assert waited == sorted(waited)
        assert 30 * SECOND <= waited[-1] <= HOUR
        assert len([at for at in compared if now - at < DAY]) <= 20


def test_a_day_without_a_wrong_code_begins_the_waits_anew() -> None:
    one = room()
    for wait in (30 * SECOND, MINUTE):
        (answer,) = one.go(WRONG)
        assert isinstance(answer, CodeAnswer)
        assert answer.wait == wait
    one.wait(DAY)
    (answer,) = one.go(WRONG)
    assert isinstance(answer, CodeAnswer)
    assert answer.wait == 30 * SECOND
    one.wait(30 * SECOND - 1)
    assert trouble(one.go(WRONG, patient=False)) is CodeTrouble.WAITS
    one.wait(1)
    assert trouble(one.go(WRONG, patient=False)) is CodeTrouble.NOTHING_OPEN


def test_a_new_code_does_not_reset_the_count_and_a_right_one_does() -> None:
    one = room()
    for _ in range(2):
        question(one)
        one.go(WRONG)
        one.go(WRONG)
    one.go(question(one).words)  # four in a row, then the right one
    assert len(one.orders) == 1
    one.broker()
    one.wait(1)
    one.report(deck_lights_running="on")
    words = question(one, LIGHTS, "off").words
    one.go(WRONG)
    assert trouble(one.go(WRONG)) is CodeTrouble.WRONG
    one.go(words)
    assert len(one.orders) == 2


def test_guessing_without_an_open_code_locks_as_well() -> None:
    one = room()
    for _ in range(4):
        assert trouble(one.go(WRONG)) is CodeTrouble.NOTHING_OPEN
    assert trouble(one.go(WRONG)) is CodeTrouble.LOCKED


def locked(one: Room) -> tuple[Answer, ...]:
    answers: tuple[Answer, ...] = ()
    for _ in range(5):
        answers = one.go(WRONG, who=TOBIAS)
    return answers


def test_a_lock_is_told_to_owner_and_installer_of_the_persons_boats() -> None:
    one = room()
    one.people["id-other"] = replace(RUTH, id="id-other", boats=("salt-harrier",))
    *others, own = locked(one)
    assert [(o.person, o.who) for o in others if isinstance(o, CommandsLocked)] == [
        (INES.id, TOBIAS.id),
        (RUTH.id, TOBIAS.id),
    ]
    assert isinstance(own, CodeAnswer)
    assert own.until == one.world.now + 30 * MINUTE


def test_a_lock_voids_the_open_code_and_stops_asking_and_ends_after_thirty_minutes() -> None:
    one = room()
    answer = one.ask(LIGHTS, "on", who=TOBIAS)
    assert isinstance(answer, CautionAndCode)
    locked(one)
    assert not one.state.open_code()
    one.wait(30 * MINUTE - 1)
    assert barred(one.ask(LIGHTS, "on", who=TOBIAS)) is Rule.LOCKED
    assert trouble(one.go(answer.words, who=TOBIAS)) is CodeTrouble.LOCKED
    assert isinstance(one.ask(GENERATOR, "start", who=INES, minutes=60), CautionAndCode)  # nobody else is locked
    one.wait(1)
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), CautionAndCode)


def test_words_are_not_even_compared_during_a_lock() -> None:
    one = room()
    locked(one)
    before = len([fact for fact in one.facts if isinstance(fact, WrongCode)])
    for _ in range(30):
        assert trouble(one.go(WRONG, who=TOBIAS)) is CodeTrouble.LOCKED
    assert len([fact for fact in one.facts if isinstance(fact, WrongCode)]) == before


def test_twenty_wrong_codes_in_a_day_lock_until_the_installer_proves_the_person_again() -> None:
    one = room()
    answers: tuple[Answer, ...] = ()
    for _ in range(4):
        answers = locked(one)
        one.wait(HOUR)
    assert [a.endless for a in answers if isinstance(a, CommandsLocked)] == [True, True]
    own = answers[-1]
    assert isinstance(own, CodeAnswer)
    assert own.until is None
    one.wait(2 * DAY)
    assert barred(one.ask(LIGHTS, "on", who=TOBIAS)) is Rule.LOCKED
    one.state.apply(LockLifted(person=TOBIAS.id, by=RUTH.id), one.world.now, ())
    assert isinstance(one.ask(LIGHTS, "on", who=TOBIAS), CautionAndCode)


def test_a_second_lock_within_a_day_lasts_an_hour_and_after_a_quiet_day_half_an_hour_again() -> None:
    one = room()

    def lasts() -> Ms:
        locks = [a.until - one.world.now for a in locked(one) if isinstance(a, CommandsLocked)]
        assert len(set(locks)) == 1
        one.wait(locks[0])
        return locks[0]

    assert [lasts(), lasts(), lasts()] == [30 * MINUTE, HOUR, HOUR]
    one.wait(DAY)
    assert lasts() == 30 * MINUTE


def test_wrong_codes_spread_over_more_than_a_day_lock_for_a_time_only() -> None:
    one = room()
    for _ in range(8):
        locked(one)
        one.wait(9 * HOUR)
    assert not one.state.locked(TOBIAS.id, one.world.now)


def test_locks_and_guesses_stand_in_the_chain_of_the_installation() -> None:
    one = room()
    locked(one)
    for fact, chain in zip(one.facts, one.chains, strict=True):
        if isinstance(fact, WrongCode | CodeRefused):
            assert chain == INSTALLATION
