"""The refusal under a maintenance lock-out names since when it was seen, and who set it as far as the boat says so.

Handbook 5.1 (G1) and 5.5 (CHK-37). Whether it is set is asked of the reading of the moment; what is kept
is only told.
"""

from dataclasses import replace

import pytest

from gateway.boat.settings import Carries
from gateway.people.settings import Person
from gateway.requests.answers import CautionAndCode, NotDone, Rule
from gateway.requests.facts import LockOutSeen, RequestStep
from gateway.requests.state import Requests
from gateway.vocabulary.moments import DAY, HOUR, MINUTE
from tests.requests.fake_world import BOAT, GAS_VALVE, GENERATOR, INES, LIGHTS, RUTH, SIGNALS, TOBIAS, Room, room

LOCK_OUT = f"{BOAT}/lock-out"


@pytest.fixture
def named(monkeypatch: pytest.MonkeyPatch) -> Room:
    """A room whose panel says whose key is in it."""
    words = ("off", "Ruth Okell", "Tobias Penhale")
    monkeypatch.setitem(SIGNALS, LOCK_OUT, replace(SIGNALS[LOCK_OUT], carries=Carries.WORD, words=words))
    return room()


def refusal(one: Room, who: Person = INES, action: str = "start") -> str:
    answer = one.ask(GENERATOR, action, who=who)
    assert isinstance(answer, NotDone)
    (says,) = (objection.says for objection in answer.objections if objection.rule is Rule.LOCK_OUT)
    return says


def seen(one: Room) -> list[tuple[str, int]]:
    return [(fact.value, fact.at) for fact in one.facts if isinstance(fact, LockOutSeen)]


def test_everybody_hears_since_when_it_was_seen_and_by_whom(named: Room) -> None:
    named.report(lock_out="Ruth Okell")
    named.wait(2 * HOUR)
    for who in (INES, TOBIAS, RUTH):
        assert refusal(named, who=who) == "maintenance lock-out set by Ruth Okell, seen since 12:00"


def test_a_contact_names_nobody() -> None:
    one = room()
    one.report(lock_out="on")
    assert refusal(one) == "maintenance lock-out set, seen since 12:00"


def test_the_day_is_said_when_it_was_not_today() -> None:
    one = room()
    one.report(lock_out="on")
    one.wait(3 * DAY + HOUR)
    assert refusal(one) == "maintenance lock-out set, seen since 12:00, 3 d ago"


def test_each_change_is_kept_once_and_the_same_again_is_none(named: Room) -> None:
    began = named.world.now
    named.report(lock_out="off")
    assert seen(named) == []
    named.report(lock_out="Ruth Okell")
    named.wait(HOUR)
    named.report(lock_out="Ruth Okell")
    named.report(lock_out="Tobias Penhale")
    named.wait(MINUTE)
    named.report(lock_out="off")
    assert seen(named) == [
        ("Ruth Okell", began),
        ("Tobias Penhale", began + HOUR),
        ("off", began + HOUR + MINUTE),
    ]
    assert named.state.lock_outs == {}


def test_one_that_was_lifted_and_set_again_counts_from_the_new_one() -> None:
    one = room()
    one.report(lock_out="on")
    one.report(lock_out="off")
    one.wait(HOUR)
    one.report(lock_out="on")
    assert refusal(one) == "maintenance lock-out set, seen since 13:00"


@pytest.mark.parametrize("unsure", ["retained", "late"])
def test_what_may_be_old_sets_no_time_and_lifts_nothing(unsure: str) -> None:
    one = room()
    one.report(lock_out="on")
    one.wait(HOUR)
    one.set("lock-out", "off", retained=unsure == "retained", late=unsure == "late")
    one.take_readings("lock-out")
    assert [value for value, _ in seen(one)] == ["on"]
    one.report(lock_out="on")
    assert refusal(one) == "maintenance lock-out set, seen since 12:00"


def test_without_a_time_that_was_kept_it_refuses_all_the_same() -> None:
    one = room()
    one.set("lock-out", "on")
    assert refusal(one) == "maintenance lock-out set"
    answer = one.ask(LIGHTS, "on")
    assert isinstance(answer, NotDone)


def test_after_a_restart_the_time_is_known_from_the_record() -> None:
    one = room()
    one.report(lock_out="on")
    again = Requests()
    for fact in one.facts:
        if isinstance(fact, LockOutSeen):
            again.apply(fact, one.world.now + HOUR, ())
    one.state = again
    one.wait(HOUR)
    assert refusal(one, action="stop") == "maintenance lock-out set, seen since 12:00"


@pytest.mark.parametrize("silent", [False, True])
def test_the_gas_valve_may_be_closed_under_it_also_while_its_switch_is_silent(silent: bool) -> None:
    one = room()
    one.set("gas-valve-open", "on")
    one.report(lock_out="on")
    if silent:
        one.world.values.pop(LOCK_OUT)
    question = one.ask(GAS_VALVE, "close")
    assert isinstance(question, CautionAndCode)
    one.go(question.words)
    assert [order.payload.count('"do":"close"') for order in one.orders] == [1]
    kept = [line for fact in one.facts if isinstance(fact, RequestStep) for line in fact.values]
    assert f"lock-out: {'no fresh data' if silent else 'on'}, gas may be closed" in kept


def test_nothing_else_goes_past_it_with_the_gas_valve() -> None:
    one = room()
    one.report(lock_out="on")
    for piece, action in ((GENERATOR, "stop"), (LIGHTS, "off"), (LIGHTS, "on")):
        answer = one.ask(piece, action)
        assert isinstance(answer, NotDone)
        assert Rule.LOCK_OUT in {objection.rule for objection in answer.objections}
