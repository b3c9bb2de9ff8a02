"""The end of a timed run: due whatever happens, sent until proved, told."""

import orjson
import pytest

from gateway.alarms.settings import Concerns
from gateway.requests.answers import (
    Answer,
    CautionAndCode,
    NotDone,
    NotProved,
    Proved,
    Rule,
    StopTrouble,
)
from gateway.requests.run_facts import Over, RunEnded, StopAnswered, StopSent
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from tests.requests.fake_world import FRIDGE, GENERATOR, INES, LIGHTS, NOON, RUTH, TOBIAS, Room, room


def sent(one: Room, equipment: Equipment, action: str, minutes: int | None = None, until: int | None = None) -> None:
    question = one.ask(equipment, action, minutes=minutes, until=until)
    assert isinstance(question, CautionAndCode), question
    one.go(question.words)
    one.broker()


def running(minutes: int = 60) -> Room:
    """A generator that was seen to run 10 s after the command."""
    one = room()
    sent(one, GENERATOR, "start", minutes)
    one.wait(10 * SECOND)
    one.report(generator_running="on", generator_volts="231")
    return one


def over(one: Room) -> list[Over]:
    return [fact.because for fact in one.facts if isinstance(fact, RunEnded)]


def dos(one: Room) -> list[str]:
    return [orjson.loads(order.payload)["do"] for order in one.orders]


def test_the_end_is_counted_from_the_proof_and_sent_and_proved_and_told() -> None:
    one = running()
    one.wait(HOUR - 1)
    assert dos(one) == ["start"]
    one.wait(1)
    assert dos(one) == ["start", "stop"]
    one.wait(20 * SECOND, fresh=False)
    (answer,) = one.report(generator_running="off", generator_volts="0")
    assert isinstance(answer, Proved)
    assert (answer.person, answer.action, answer.ended, answer.after) == (INES.id, "stop", True, 20 * SECOND)
    assert answer.measured == "0 V"
    assert over(one) == [Over.PROVED]
    one.wait(HOUR)
    assert len(one.orders) == 2


def test_a_run_until_a_clock_time_ends_at_that_time() -> None:
    one = room()
    sent(one, GENERATOR, "start", until=13 * 60)
    one.wait(10 * SECOND)
    one.report(generator_running="on", generator_volts="231")
    one.wait(HOUR - 10 * SECOND - 1)
    assert dos(one) == ["start"]
    one.wait(1)
    assert one.world.now == NOON + HOUR
    assert dos(one) == ["start", "stop"]


def test_a_set_that_was_never_proved_is_stopped_as_well_counted_from_sending() -> None:
    one = room()
    sent(one, GENERATOR, "start", 60)
    (answer,) = one.wait(HOUR - 1)
    assert isinstance(answer, NotProved)
    one.wait(1)
    assert dos(one) == ["start", "stop"]


def test_a_stop_that_is_due_survives_a_restart() -> None:
    one = room()
    sent(one, GENERATOR, "start", 60)
    one.restart()
    one.wait(HOUR)
    assert dos(one) == ["start", "stop"]


def test_a_stop_is_sent_every_minute_ten_times_at_most_each_with_its_own_id_and_told() -> None:
    one = running()
    told = one.wait(HOUR + 30 * MINUTE)
    assert dos(one) == ["start"] + ["stop"] * 10
    assert len({order.id for order in one.orders}) == 11
    sends = [fact for fact in one.facts if isinstance(fact, StopSent)]
    assert [fact.number for fact in sends] == list(range(1, 11))
    assert all(isinstance(answer, StopTrouble) for answer in told)
    troubles = [answer for answer in told if isinstance(answer, StopTrouble)]
    assert [t.tries for t in troubles if not t.given_up] == list(range(2, 11))
    assert {t.person for t in troubles if t.given_up} == {INES.id, RUTH.id}
    assert over(one) == [Over.GIVEN_UP]


def test_tries_lie_a_minute_apart() -> None:
    one = running()
    one.wait(HOUR + MINUTE - 1)
    assert len(one.orders) == 2
    one.wait(1)
    assert len(one.orders) == 3


def test_what_the_broker_says_to_a_stop_is_kept_and_the_stop_stays_due() -> None:
    one = running()
    one.wait(HOUR)
    assert one.broker(taken=False) == ()
    assert isinstance(one.facts[-1], StopAnswered)
    one.wait(MINUTE)
    assert dos(one) == ["start", "stop", "stop"]


@pytest.mark.parametrize("concerns", [Concerns.GAS, Concerns.FIRE])
def test_gas_or_fire_holds_a_stop_and_that_is_told_once(concerns: Concerns) -> None:
    one = running()
    one.world.alarms[concerns] = 14
    told = one.wait(2 * HOUR)
    one.freshen()
    assert [(a.held_by, a.tries, a.unreachable) for a in told if isinstance(a, StopTrouble)] == [(14, 0, False)]
    assert dos(one) == ["start"]
    del one.world.alarms[concerns]
    one.freshen()  # readings come, and the stop goes out
    one.wait(2 * SECOND)
    assert dos(one) == ["start", "stop"]


def test_a_gas_alarm_between_two_tries_holds_the_next() -> None:
    one = running()
    one.wait(HOUR)
    one.world.alarms[Concerns.GAS] = 3
    one.wait(10 * MINUTE)
    assert dos(one) == ["start", "stop"]
    one.world.alarms.clear()
    one.freshen()
    one.wait(2 * SECOND)
    assert dos(one) == ["start", "stop", "stop"]


def test_carbon_monoxide_never_holds_a_stop() -> None:
    one = running()
    one.world.alarms[Concerns.CO] = 2
    one.wait(HOUR)
    assert dos(one) == ["start", "stop"]


def test_a_silent_boat_gets_its_stop_when_it_is_heard_again() -> None:
    one = running()
    one.wait(30 * MINUTE)
    one.world.silent = one.world.now
    told = one.wait(3 * HOUR, fresh=False)
    assert [(a.tries, a.unreachable) for a in told if isinstance(a, StopTrouble)] == [(0, True)]
    assert dos(one) == ["start"]
    one.world.silent = None
    one.report(fuel_level="40")
    one.wait(2 * SECOND - 1)
    assert dos(one) == ["start"], "what lay with the broker comes first"
    one.set("generator-count", "99")
    one.wait(1)
    assert dos(one) == ["start", "stop"]
    assert orjson.loads(one.orders[-1].payload)["seen"] == 99


def test_a_stop_waits_for_the_link() -> None:
    one = running()
    one.world.link = False
    one.wait(2 * HOUR, fresh=False)
    assert dos(one) == ["start"]
    one.world.link = True
    one.report(fuel_level="40")
    one.wait(2 * SECOND)
    assert dos(one) == ["start", "stop"]


def test_a_stop_that_is_due_asks_neither_selector_nor_occupancy_nor_freshness() -> None:
    one = running()
    one.set("selector", "LOCAL")
    one.wait(HOUR, fresh=False)
    assert dos(one) == ["start", "stop"]


def test_a_stop_by_hand_ends_the_run_when_it_is_proved() -> None:
    one = running()
    one.wait(10 * MINUTE)
    sent(one, GENERATOR, "stop")
    one.wait(5 * SECOND, fresh=False)
    one.report(generator_running="off", generator_volts="0")
    assert over(one) == [Over.ASKED]
    assert one.wait(2 * HOUR) == ()
    assert dos(one) == ["start", "stop"]


def test_a_stop_by_hand_that_is_not_proved_leaves_the_stop_due() -> None:
    one = running()
    one.wait(10 * MINUTE)
    sent(one, GENERATOR, "stop")
    one.wait(HOUR)
    assert dos(one)[:3] == ["start", "stop", "stop"]


def test_a_set_seen_stopped_for_a_minute_needs_no_stop() -> None:
    one = running()
    one.wait(10 * MINUTE)
    one.report(generator_running="off", generator_volts="0")
    one.wait(MINUTE)
    assert over(one) == [Over.BY_ITSELF]
    assert one.wait(2 * HOUR) == ()
    assert dos(one) == ["start"]


def test_a_bouncing_contact_does_not_cost_a_running_set_its_stop() -> None:
    one = running()
    one.wait(10 * MINUTE)
    one.report(generator_running="off")
    one.wait(30 * SECOND)
    one.report(generator_running="on")
    one.wait(HOUR)
    assert dos(one)[:2] == ["start", "stop"]


def test_a_contact_that_goes_silent_does_not_cost_a_running_set_its_stop() -> None:
    one = running()
    one.wait(10 * MINUTE)
    one.report(generator_running="off")
    one.set("generator-running", "off", retained=True)
    one.wait(HOUR, fresh=False)
    assert dos(one)[:2] == ["start", "stop"]


def test_a_run_can_be_ended_but_not_replaced() -> None:
    one = room()
    sent(one, LIGHTS, "on", 60)
    one.wait(SECOND)
    one.report(deck_lights_running="on")
    answer = one.ask(LIGHTS, "off", minutes=30)
    assert isinstance(answer, NotDone)
    assert [objection.rule for objection in answer.objections] == [Rule.PENDING]


def test_while_a_timed_end_is_out_nothing_else_goes_to_that_equipment() -> None:
    one = running()
    one.wait(HOUR)
    answer = one.ask(GENERATOR, "stop")
    assert isinstance(answer, NotDone)
    assert [objection.rule for objection in answer.objections] == [Rule.PENDING]


def test_a_run_whose_command_the_broker_did_not_take_never_began() -> None:
    one = room()
    question = one.ask(GENERATOR, "start", minutes=60)
    assert isinstance(question, CautionAndCode)
    one.go(question.words)
    one.broker(taken=False)
    assert over(one) == [Over.NEVER_SENT]


def test_a_stop_is_carried_out_even_when_the_equipment_has_left_the_installation() -> None:
    one = running()
    del one.equipment[GENERATOR.id]
    one.wait(HOUR)
    assert dos(one) == ["start", "stop"]
    one.wait(SECOND, fresh=False)
    (answer,) = one.report(generator_running="off")
    assert isinstance(answer, Proved)


def test_trouble_with_a_stop_goes_to_owner_and_installer_when_the_asker_is_gone() -> None:
    one = room()
    question = one.ask(GENERATOR, "start", minutes=60, who=TOBIAS)
    assert isinstance(question, CautionAndCode)
    one.go(question.words, who=TOBIAS)
    del one.people[TOBIAS.id]
    told = one.wait(HOUR + MINUTE)
    assert {a.person for a in told if isinstance(a, StopTrouble)} == {INES.id, RUTH.id}


# ---------------------------------------------------------------- off for a time


def chilled(minutes: int = 60) -> Room:
    """A refrigerator that was switched off for a time and seen to be off."""
    one = room()
    sent(one, FRIDGE, "off", minutes)
    one.wait(2 * SECOND)
    one.report(refrigeration_running="off")
    return one


def answers(one: Room, told: tuple[Answer, ...]) -> list[Rule]:
    (answer,) = told
    assert isinstance(answer, NotDone)
    assert dos(one) == ["off"]
    return [objection.rule for objection in answer.objections]


def test_off_for_a_time_goes_on_again_when_due_and_that_is_proved() -> None:
    one = chilled()
    one.wait(HOUR)
    assert dos(one) == ["off", "on"]
    one.wait(3 * SECOND, fresh=False)
    (answer,) = one.report(refrigeration_running="on")
    assert isinstance(answer, Proved)
    assert (answer.action, answer.ended) == ("on", True)


def test_switching_on_again_is_tried_once_and_told_when_it_is_not_proved() -> None:
    one = chilled()
    (answer,) = one.wait(2 * HOUR)
    assert isinstance(answer, NotProved)
    assert (answer.action, answer.measured) == ("on", "off")
    assert dos(one) == ["off", "on"]
    assert over(one) == [Over.GIVEN_UP]


def test_switching_on_again_asks_every_interlock() -> None:
    one = chilled()
    one.world.alarms[Concerns.GAS] = 9
    assert answers(one, one.wait(2 * HOUR)) == [Rule.GAS_OR_FIRE]
    assert over(one) == [Over.REFUSED]


def test_an_overdue_switching_on_again_is_refused() -> None:
    one = chilled()
    one.world.now += HOUR + 6 * MINUTE  # the gateway did not run meanwhile
    one.freshen()
    assert answers(one, tuple(one.told[-1:])) == [Rule.TOO_OLD]


def test_what_somebody_has_switched_on_meanwhile_needs_no_switching_on() -> None:
    one = chilled()
    one.wait(30 * MINUTE)
    one.report(refrigeration_running="on")
    assert one.wait(2 * HOUR) == ()
    assert dos(one) == ["off"]
    assert over(one) == [Over.BY_ITSELF]


def test_switching_on_again_lapses_with_its_equipment() -> None:
    one = chilled()
    del one.equipment[FRIDGE.id]
    assert one.wait(2 * HOUR) == ()
    assert dos(one) == ["off"]
    assert over(one) == [Over.LAPSED]


def test_a_contact_that_stays_off_before_the_proof_does_not_cost_a_set_its_stop() -> None:
    one = room()
    sent(one, GENERATOR, "start", 60)
    one.wait(5 * SECOND)
    one.report(generator_running="off")
    one.wait(3 * MINUTE)
    assert over(one) == [], "it may still be on its way to running"
    one.wait(HOUR)
    assert dos(one)[:2] == ["start", "stop"]


def test_a_run_whose_contact_shows_off_for_a_moment_may_be_ended_by_text() -> None:
    one = running()
    one.report(generator_running="off", generator_volts="0")
    assert isinstance(one.ask(GENERATOR, "stop"), CautionAndCode), "it is off already, and its run is not over"


def test_a_clock_that_is_put_forward_brings_the_end_of_an_open_question_nearer() -> None:
    one = room()
    question = one.ask(LIGHTS, "on", until=13 * 60)
    assert isinstance(question, CautionAndCode)
    one.state.clock_moved(MINUTE)
    one.go(question.words)
    assert [run.due for run in one.state.runs.values()] == [NOON + HOUR - MINUTE]
