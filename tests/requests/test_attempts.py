"""Starts that fail: a rest after each, a lock-out after three, never in the way of a stop (handbook G5, 5.2).

Each seen to fail with its line broken: a lock-out after 99, the rest a millisecond short, a stop asked the same, the
count begun anew by each failure or by whatever is switched, a run at the boat that opens nothing, a proof that does not
wait for the cool-down, a timed end that is trouble in it. Not seen to fail: a series left standing by a proved start,
because the contact that proves it ends the series too.
"""

from dataclasses import replace

import pytest

from gateway.requests.answers import CautionAndCode, NotDone, NotProved, Objection, Rule, StopTrouble
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from tests.requests.fake_world import GENERATOR, Room, room

SET = replace(GENERATOR, attempts=3, cooling_off=10 * MINUTE, cool_down=5 * MINUTE, permitted=None)


def bench() -> Room:
    one = room()
    one.equipment[SET.id] = SET
    one.freshen()
    return one


def fails(one: Room) -> None:
    """One start with a right code that is never proved."""
    answer = one.ask(SET, "start", minutes=60)
    assert isinstance(answer, CautionAndCode), answer
    one.go(answer.words)
    told = one.wait(SET.prove_within + 1)
    assert any(isinstance(answer, NotProved) for answer in told)
    one.wait(15 * SECOND)  # the contact is as it was
    one.state.runs.pop(SET.id, None)  # the end of the timed run is another matter


def refused(one: Room) -> Objection:
    answer = one.ask(SET, "start", minutes=60)
    assert isinstance(answer, NotDone), answer
    (objection,) = answer.objections
    return objection


def test_after_a_start_that_was_not_proved_it_rests_to_the_millisecond() -> None:
    one = bench()
    fails(one)
    objection = refused(one)
    assert (objection.rule, objection.cure) == (Rule.ATTEMPTS, "wait 10 min more")
    one.wait(10 * MINUTE - 15 * SECOND - 1)
    assert refused(one).cure == "wait 1 s more"
    one.wait(1)
    assert isinstance(one.ask(SET, "start", minutes=60), CautionAndCode)


def test_chk_35_after_three_only_a_run_at_the_boat_opens_it_again_however_long_one_waits() -> None:
    """Handbook 5.5, CHK-35: overcrank lock-out, reset at the set."""
    one = bench()
    for _ in range(3):
        fails(one)
        one.wait(10 * MINUTE)
    one.wait(6 * HOUR)
    objection = refused(one)
    assert (objection.rule, objection.says) == (Rule.ATTEMPTS, "3 failed in a row: locked out")
    assert "at the boat" in objection.cure
    one.report(generator_running="on")
    one.wait(MINUTE)
    one.report(generator_running="off", generator_volts="0")
    assert isinstance(one.ask(SET, "start", minutes=60), CautionAndCode)


def test_a_set_that_catches_and_dies_each_time_does_not_begin_its_count_again() -> None:
    one = bench()
    for _ in range(3):
        answer = one.ask(SET, "start", minutes=60)
        assert isinstance(answer, CautionAndCode), answer
        one.go(answer.words)
        one.wait(5 * SECOND, fresh=False)
        one.report(generator_running="on")
        one.wait(2 * SECOND, fresh=False)
        one.report(generator_running="off")
        one.wait(SET.prove_within)
        one.state.runs.pop(SET.id, None)
        one.wait(11 * MINUTE)
    assert refused(one).rule is Rule.ATTEMPTS


def test_the_count_outlives_a_restart_and_a_command_cut_off_by_one_counts() -> None:
    one = bench()
    for _ in range(3):
        answer = one.ask(SET, "start", minutes=60)
        assert isinstance(answer, CautionAndCode), answer
        one.go(answer.words)
        one.restart()
        one.state.runs.pop(SET.id, None)
        one.wait(11 * MINUTE)
    assert refused(one).says == "3 failed in a row: locked out"


def test_a_start_that_was_proved_ends_the_series() -> None:
    one = bench()
    fails(one)
    one.wait(10 * MINUTE)
    answer = one.ask(SET, "start", minutes=60)
    assert isinstance(answer, CautionAndCode)
    one.go(answer.words)
    one.wait(SECOND)
    one.report(generator_running="on", generator_volts="231")
    assert one.state.failed_in_a_row(SET.id, "start") is None


def test_neither_starts_nor_stops_that_failed_stand_in_the_way_of_a_stop() -> None:
    one = bench()
    for _ in range(3):
        fails(one)
        one.wait(10 * MINUTE)
    one.report(generator_running="on")
    for _ in range(4):
        question = one.ask(SET, "stop")
        assert isinstance(question, CautionAndCode)
        one.go(question.words)
        told = one.wait(SET.prove_within + SET.cool_down + 1)
        assert any(isinstance(answer, NotProved) for answer in told)


@pytest.mark.parametrize(
    ("after", "told"), [(SET.prove_within + 5 * MINUTE, 0), (SET.prove_within + 5 * MINUTE + 1, 1)]
)
def test_chk_42_a_stop_by_text_is_unproven_only_after_the_cool_down(after: int, told: int) -> None:
    """Handbook 5.5, CHK-42: cool-down, then the result only when the voltage is seen gone."""
    one = bench()
    one.report(generator_running="on", generator_volts="231")
    answer = one.ask(SET, "stop")
    assert isinstance(answer, CautionAndCode)
    one.go(answer.words)
    answers = one.wait(after)
    assert len([answer for answer in answers if isinstance(answer, NotProved)]) == told


def test_a_timed_end_in_its_cool_down_is_no_trouble_and_after_it_is() -> None:
    one = bench()
    answer = one.ask(SET, "start", minutes=60)
    assert isinstance(answer, CautionAndCode)
    one.go(answer.words)
    one.wait(SECOND)
    one.report(generator_running="on", generator_volts="231")
    assert not [told for told in one.wait(HOUR + 5 * MINUTE) if isinstance(told, StopTrouble)]
    assert [told.tries for told in one.wait(MINUTE) if isinstance(told, StopTrouble)] == [7]
