"""From the command to what was measured."""

from dataclasses import replace
from decimal import Decimal

import orjson
import pytest

from gateway.requests.answers import CautionAndCode, NotProved, NotSent, Proved
from gateway.requests.facts import RequestStep
from gateway.requests.life import RequestEvent
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, from_rfc3339
from grammar.meanings import IsNumber, Than
from tests.requests.fake_world import GENERATOR, LIGHTS, NOON, Room, room

AT_LEAST_207 = IsNumber(signal="generator-volts", than=Than.AT_LEAST, limit=Decimal(207), unit="V")
BELOW_50 = IsNumber(signal="generator-volts", than=Than.BELOW, limit=Decimal(50), unit="V")


def sent(equipment: Equipment = GENERATOR, action: str = "start", minutes: int | None = 120) -> Room:
    one = room()
    question = one.ask(equipment, action, minutes=minutes)
    assert isinstance(question, CautionAndCode)
    assert one.go(question.words) == ()
    return one


def test_the_command_carries_id_times_run_and_what_was_seen_of_the_node() -> None:
    (order,) = sent().orders
    body = orjson.loads(order.payload)
    assert list(body) == ["id", "do", "issued_at", "valid_until", "run_minutes", "seen"]
    assert " " not in order.payload
    assert body["id"] == order.id
    assert (body["do"], body["run_minutes"], body["seen"]) == ("start", 120, 7)
    assert from_rfc3339(body["issued_at"]) == NOON
    assert from_rfc3339(body["valid_until"]) - NOON == order.expires_after == MINUTE
    assert (order.broker, order.topic) == ("boats", GENERATOR.topic)


def test_seen_is_nothing_when_the_node_was_never_heard_and_a_stop_has_no_run() -> None:
    one = room()
    one.report(generator_running="on")
    del one.world.values[GENERATOR.count]
    question = one.ask(GENERATOR, "stop")
    assert isinstance(question, CautionAndCode)
    one.go(question.words)
    body = orjson.loads(one.orders[-1].payload)
    assert (body["do"], body["seen"], body["run_minutes"]) == ("stop", None, None)


def test_a_run_until_a_clock_time_is_rounded_up_to_whole_minutes() -> None:
    one = room(NOON + 20 * SECOND)
    question = one.ask(GENERATOR, "start", until=13 * 60)
    assert isinstance(question, CautionAndCode)
    one.go(question.words)
    assert orjson.loads(one.orders[-1].payload)["run_minutes"] == 60


def test_contact_and_number_together_prove_at_once() -> None:
    one = sent()
    one.broker()
    one.wait(14 * SECOND, fresh=False)
    (answer,) = one.report(generator_running="on", generator_volts="231")
    assert isinstance(answer, Proved)
    assert (answer.measured, answer.after, answer.ended) == ("231 V", 14 * SECOND, False)
    assert answer.stops_at == one.world.now + 2 * HOUR


def test_a_number_from_before_the_contact_is_not_the_proof() -> None:
    one = sent()
    one.wait(3 * SECOND, fresh=False)
    one.report(generator_volts="0")
    one.wait(SECOND, fresh=False)
    assert one.report(generator_running="on") == ()
    one.wait(4 * SECOND, fresh=False)
    (answer,) = one.report(generator_volts="229.5")
    assert isinstance(answer, Proved)
    assert (answer.measured, answer.after) == ("229.5 V", 4 * SECOND)


def test_without_the_number_the_contact_alone_is_told_after_five_seconds() -> None:
    one = sent()
    one.wait(4 * SECOND, fresh=False)
    one.report(generator_running="on")
    assert one.wait(5 * SECOND - 1, fresh=False) == ()
    (answer,) = one.wait(1, fresh=False)
    assert isinstance(answer, Proved)
    assert (answer.measured, answer.after) == ("", 4 * SECOND)


def asked_of_its_number(rests_when: IsNumber | None = BELOW_50) -> Room:
    """A start under way of a set of whose volts something is asked."""
    one = room()
    one.equipment[GENERATOR.id] = replace(GENERATOR, runs_when=AT_LEAST_207, rests_when=rests_when)
    question = one.ask(GENERATOR, "start", minutes=120)
    assert isinstance(question, CautionAndCode)
    one.go(question.words)
    one.wait(14 * SECOND, fresh=False)
    return one


@pytest.mark.parametrize("volts", ["0", "206.9"])
def test_a_contact_that_comes_with_a_number_of_a_dead_set_proves_no_start(volts: str) -> None:
    one = asked_of_its_number()
    assert one.report(generator_running="on", generator_volts=volts) == ()
    assert one.wait(76 * SECOND) == ()
    (answer,) = one.wait(1)
    assert isinstance(answer, NotProved)
    assert answer.measured == f"on, {volts} V"


def test_a_number_that_becomes_right_in_time_proves_it() -> None:
    one = asked_of_its_number()
    assert one.report(generator_running="on", generator_volts="120") == ()
    one.wait(20 * SECOND, fresh=False)
    (answer,) = one.report(generator_running="on", generator_volts="207")
    assert isinstance(answer, Proved)
    assert answer.measured == "207 V"


def test_a_wrong_number_after_the_contact_takes_its_word_back_until_a_right_one_comes() -> None:
    one = asked_of_its_number()
    one.report(generator_running="on")
    one.wait(2 * SECOND, fresh=False)
    assert one.report(generator_volts="0") == ()
    assert one.wait(20 * SECOND, fresh=False) == (), "nor by the contact alone after 5 s"
    (answer,) = one.report(generator_volts="229")
    assert isinstance(answer, Proved)
    assert answer.measured == "229 V"


@pytest.mark.parametrize(("rests_when", "dead"), [(BELOW_50, "49"), (None, "206")])
def test_a_stop_is_proved_only_when_the_voltage_is_gone(rests_when: IsNumber | None, dead: str) -> None:
    """Handbook 5.5, CHK-42. Without a sentence of its own: when the number no longer says that it runs."""
    one = asked_of_its_number(rests_when)
    one.report(generator_running="on", generator_volts="231")
    question = one.ask(GENERATOR, "stop")
    assert isinstance(question, CautionAndCode)
    one.go(question.words)
    one.wait(SECOND, fresh=False)
    assert one.report(generator_running="off", generator_volts="231") == ()
    one.wait(SECOND, fresh=False)
    (answer,) = one.report(generator_running="off", generator_volts=dead)
    assert isinstance(answer, Proved)
    assert (answer.action, answer.measured) == ("stop", f"{dead} V")


def test_the_end_of_a_timed_run_is_proved_only_when_the_voltage_is_gone() -> None:
    one = asked_of_its_number()
    one.report(generator_running="on", generator_volts="231")
    one.wait(2 * HOUR)
    one.wait(SECOND, fresh=False)
    assert one.report(generator_running="off", generator_volts="231") == ()
    one.wait(SECOND, fresh=False)
    (answer,) = one.report(generator_running="off", generator_volts="3")
    assert isinstance(answer, Proved)
    assert (answer.ended, answer.measured) == (True, "3 V")


def test_a_contact_that_bounces_is_no_proof() -> None:
    one = sent()
    one.wait(4 * SECOND, fresh=False)
    one.report(generator_running="on")
    one.wait(SECOND, fresh=False)
    one.report(generator_running="off")
    (answer,) = one.wait(2 * MINUTE, fresh=False)
    assert isinstance(answer, NotProved)


def test_equipment_without_a_number_is_proved_by_its_contact() -> None:
    one = sent(LIGHTS, "on", 30)
    one.wait(2 * SECOND, fresh=False)
    (answer,) = one.report(deck_lights_running="on")
    assert isinstance(answer, Proved)
    assert (answer.measured, answer.after) == ("", 2 * SECOND)


@pytest.mark.parametrize(("retained", "late"), [(True, False), (False, True)])
def test_a_retained_or_late_reading_proves_nothing(retained: bool, late: bool) -> None:
    one = sent(LIGHTS, "on", 30)
    one.wait(2 * SECOND, fresh=False)
    one.set("deck-lights-running", "on", retained=retained, late=late)
    assert one.report() == ()
    one.take_readings("deck-lights-running")
    assert not any(isinstance(answer, Proved) for answer in one.told)


def test_what_was_reported_before_the_command_proves_nothing() -> None:
    one = sent(LIGHTS, "on", 30)
    assert one.report(deck_lights_running="on") == ()  # the same instant as the command
    one.wait(1, fresh=False)
    assert len(one.report(deck_lights_running="on")) == 1


def test_no_proof_in_time_is_told_with_what_the_contact_says_and_nothing_is_sent_again() -> None:
    one = sent()
    one.broker()
    assert one.wait(90 * SECOND) == ()
    (answer,) = one.wait(1)
    assert isinstance(answer, NotProved)
    assert (answer.waited, answer.measured, answer.restarted) == (90 * SECOND, "off", False)
    one.wait(30 * MINUTE)
    assert len(one.orders) == 1


def test_proof_in_the_last_instant_counts() -> None:
    one = sent()
    one.wait(90 * SECOND, fresh=False)
    (answer,) = one.report(generator_running="on", generator_volts="231")
    assert isinstance(answer, Proved)


def test_what_the_broker_did_not_take_is_told_and_ended() -> None:
    one = sent()
    (answer,) = one.broker(taken=False)
    assert isinstance(answer, NotSent)
    assert one.state.open == {}
    assert one.state.runs == {}
    assert one.wait(5 * HOUR) == ()
    assert len(one.orders) == 1


def test_what_was_measured_outweighs_what_the_broker_said() -> None:
    one = sent()
    one.wait(SECOND, fresh=False)
    one.report(generator_running="on")
    assert one.broker(taken=False) == ()
    one.wait(SECOND, fresh=False)
    (answer,) = one.report(generator_volts="231")
    assert isinstance(answer, Proved)


def test_a_second_word_of_the_broker_changes_nothing() -> None:
    one = sent()
    one.broker()
    before = len(one.facts)
    assert one.broker() == ()
    assert one.broker(taken=False) == ()
    assert one.broker(order="never made") == ()
    assert len(one.facts) == before


@pytest.mark.parametrize("taken", [True, False])
def test_after_a_restart_a_command_under_way_is_unproven_and_never_sent_again(taken: bool) -> None:
    one = sent()
    if taken:
        one.broker()
    one.wait(20 * SECOND)
    (answer,) = one.restart()
    assert isinstance(answer, NotProved)
    assert (answer.restarted, answer.waited) == (True, 20 * SECOND)
    assert one.state.open == {}
    one.wait(20 * MINUTE)
    assert len(one.orders) == 1


def test_an_open_code_survives_a_restart() -> None:
    one = room()
    question = one.ask(LIGHTS, "on")
    assert isinstance(question, CautionAndCode)
    assert one.restart() == ()
    one.go(question.words)
    assert len(one.orders) == 1


def test_every_step_of_a_request_stands_in_the_record_of_its_boat() -> None:
    one = sent()
    one.broker()
    one.wait(SECOND, fresh=False)
    one.report(generator_running="on", generator_volts="231")
    steps = [fact for fact in one.facts if isinstance(fact, RequestStep)]
    assert [fact.event for fact in steps] == [
        RequestEvent.OFFER,
        RequestEvent.CONFIRM,
        RequestEvent.SEND,
        RequestEvent.TAKE,
        RequestEvent.SEE,
        RequestEvent.PROVE,
    ]
    assert len({fact.request for fact in steps}) == 1
    assert steps[2].values
    assert steps[-1].measured == "231 V"
    assert {chain for fact, chain in zip(one.facts, one.chains, strict=True) if fact in steps} == {GENERATOR.boat}
