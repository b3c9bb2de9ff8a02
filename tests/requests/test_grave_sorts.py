"""Heat and inverter as well as engines: what handbook 5.1 and 5.2 ask of every start that can hurt somebody."""

from collections.abc import Callable

import orjson
import pytest

from gateway.alarms.aboard import UNKNOWN_OCCUPANCY, Occupied
from gateway.alarms.settings import Concerns
from gateway.requests.answers import CautionAndCode, NotDone, NotProved, Proved, Rule, StopTrouble
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from tests.requests.fake_world import (
    BOAT,
    GENERATOR,
    HEATER,
    INES,
    INVERTER,
    NOON,
    TOBIAS,
    Room,
    drop_selector_of,
    room,
)

GRAVE_PIECES = (GENERATOR, HEATER, INVERTER)
BURN = (GENERATOR, HEATER)

ASKED_OF_ALL: dict[str, tuple[Callable[[Room], object], Rule]] = {
    "selector in LOCAL": (lambda r: r.set("selector", "LOCAL"), Rule.SELECTOR),
    "selector of unknown age": (lambda r: r.set("selector", "REMOTE", retained=True), Rule.STALE),
    "no selector": (lambda r: [drop_selector_of(r, piece) for piece in GRAVE_PIECES], Rule.SELECTOR),
    "lock-out set": (lambda r: r.set("lock-out", "on"), Rule.LOCK_OUT),
    "lock-out of unknown age": (lambda r: r.set("lock-out", "off", late=True), Rule.STALE),
    "a hatch was opened": (lambda r: setattr(r.world, "somebody", Occupied(NOON - HOUR, "hatch")), Rule.OCCUPIED),
    "nobody has said": (lambda r: setattr(r.world, "somebody", UNKNOWN_OCCUPANCY), Rule.OCCUPIED),
    "gas alarm": (lambda r: r.world.alarms.update({Concerns.GAS: 4}), Rule.GAS_OR_FIRE),
    "fire alarm": (lambda r: r.world.alarms.update({Concerns.FIRE: 5}), Rule.GAS_OR_FIRE),
    "carbon monoxide alarm": (lambda r: r.world.alarms.update({Concerns.CO: 6}), Rule.CO),
    "smoke detector on": (lambda r: r.set("smoke-detector", "on"), Rule.GAS_OR_FIRE),
    "gas detector silent": (lambda r: r.world.values.pop(f"{BOAT}/gas-detector"), Rule.DETECTOR_SILENT),
    "boat silent": (lambda r: setattr(r.world, "silent", NOON - HOUR), Rule.SILENT_BOAT),
    "no link": (lambda r: setattr(r.world, "link", False), Rule.LINK_DOWN),
    "clock in doubt": (lambda r: setattr(r.world, "doubtful", True), Rule.CLOCK),
}
ASKED_OF_WHAT_BURNS: dict[str, tuple[Callable[[Room], object], Rule]] = {
    "carbon monoxide detector on": (lambda r: r.set("co-detector", "on"), Rule.CO),
    "carbon monoxide detector silent": (lambda r: r.world.values.pop(f"{BOAT}/co-detector"), Rule.DETECTOR_SILENT),
    "no carbon monoxide detector": (lambda r: r.world.left_out.add("co-detector"), Rule.DETECTOR_SILENT),
    "no smoke detector": (lambda r: r.world.left_out.add("smoke-detector"), Rule.DETECTOR_SILENT),
}
CASES = [(piece, trip, rule) for piece in GRAVE_PIECES for trip, rule in ASKED_OF_ALL.values()] + [
    (piece, trip, rule) for piece in BURN for trip, rule in ASKED_OF_WHAT_BURNS.values()
]
NAMES = [f"{piece.key}, {name}" for piece in GRAVE_PIECES for name in ASKED_OF_ALL] + [
    f"{piece.key}, {name}" for piece in BURN for name in ASKED_OF_WHAT_BURNS
]


def begun(one: Room, piece: Equipment) -> CautionAndCode:
    answer = one.ask(piece, piece.pair[0])
    assert isinstance(answer, CautionAndCode), answer
    return answer


def runs(one: Room, piece: Equipment, value: str = "on") -> None:
    """Its contact says so, and a generator's volts with it."""
    volts = {"generator-volts": "231" if value == "on" else "0"} if piece is GENERATOR else {}
    one.hear({piece.feedback.partition("/")[2]: value, **volts})


@pytest.mark.parametrize(("piece", "trip", "rule"), CASES, ids=NAMES)
def test_each_refuses_the_start_at_the_question_and_again_at_the_code(
    piece: Equipment, trip: Callable[[Room], object], rule: Rule
) -> None:
    one = room()
    if rule is not Rule.CLOCK:  # the clock is a matter of the asking alone
        words = begun(one, piece).words
        trip(one)
        (answer,) = one.go(words)
        assert isinstance(answer, NotDone)
        assert answer.confirming
        assert [objection.rule for objection in answer.objections] == [rule]
    else:
        trip(one)
    refusal = one.ask(piece, piece.pair[0], who=TOBIAS)
    assert isinstance(refusal, NotDone)
    assert [objection.rule for objection in refusal.objections] == [rule]
    assert refusal.objections[0].says
    assert refusal.objections[0].cure, "what would change it is said"
    assert one.orders == []


@pytest.mark.parametrize("piece", GRAVE_PIECES, ids=lambda piece: piece.key)
def test_carbon_monoxide_selector_and_people_never_stand_in_the_way_of_a_stop(piece: Equipment) -> None:
    one = room()
    runs(one, piece)
    one.world.alarms[Concerns.CO] = 6
    one.set("co-detector", "on")
    one.set("selector", "LOCAL")
    one.world.somebody = Occupied(NOON - HOUR, "hatch")
    assert isinstance(one.ask(piece, piece.pair[1]), CautionAndCode)


@pytest.mark.parametrize("piece", GRAVE_PIECES, ids=lambda piece: piece.key)
@pytest.mark.parametrize("concerns", [Concerns.GAS, Concerns.FIRE])
def test_gas_and_fire_keep_everything_as_it_is_also_what_runs(piece: Equipment, concerns: Concerns) -> None:
    one = room()
    runs(one, piece)
    one.world.alarms[concerns] = 7
    answer = one.ask(piece, piece.pair[1])
    assert isinstance(answer, NotDone)
    assert [objection.rule for objection in answer.objections] == [Rule.GAS_OR_FIRE]


@pytest.mark.parametrize("piece", GRAVE_PIECES, ids=lambda piece: piece.key)
def test_a_confirmed_start_goes_out_once_and_is_done_when_the_contact_says_so(piece: Equipment) -> None:
    one = room()
    words = begun(one, piece).words
    one.go(words)
    one.go(words)
    (order,) = one.orders
    assert orjson.loads(order.payload)["do"] == piece.pair[0]
    one.wait(14 * SECOND)
    runs(one, piece)
    one.wait(6 * SECOND)
    (proved,) = [answer for answer in one.told if isinstance(answer, Proved)]
    assert (proved.equipment, proved.after) == (piece.id, 14 * SECOND)


@pytest.mark.parametrize("piece", GRAVE_PIECES, ids=lambda piece: piece.key)
def test_after_a_restart_a_start_is_unproven_and_never_sent_again_but_the_end_of_its_run_is(piece: Equipment) -> None:
    one = room()
    one.go(begun(one, piece).words)
    (unproven,) = one.restart()
    assert isinstance(unproven, NotProved)
    assert unproven.restarted
    one.wait(4 * HOUR)
    sent = [orjson.loads(order.payload)["do"] for order in one.orders]
    assert sent.count(piece.pair[0]) == 1
    assert (piece.pair[1] in sent) is (piece.default_run is not None)


@pytest.mark.parametrize("piece", GRAVE_PIECES, ids=lambda piece: piece.key)
def test_no_text_lets_it_come_back_to_life_by_itself(piece: Equipment) -> None:
    one = room()
    runs(one, piece)
    answer = one.ask(piece, piece.pair[1], minutes=60)
    assert isinstance(answer, NotDone)
    assert [objection.rule for objection in answer.objections] == [Rule.LIMIT_ON_STOP]


def test_a_heater_stops_through_its_own_cool_down_and_nobody_is_told_of_trouble_meanwhile() -> None:
    """Handbook 5.2: always through its own cool-down (3 to 5 min), never by cutting its power."""
    one = room()
    one.go(begun(one, HEATER).words)
    one.wait(30 * SECOND)
    runs(one, HEATER)
    one.wait(HOUR + 4 * MINUTE + 30 * SECOND)
    assert not [answer for answer in one.told if isinstance(answer, StopTrouble)]
    runs(one, HEATER, "off")
    assert isinstance(one.told[-1], Proved)
    assert one.told[-1].ended


def test_a_heater_that_does_not_catch_three_times_is_locked_out_for_everybody() -> None:
    one = room()
    for _ in range(3):
        one.go(begun(one, HEATER).words)
        one.wait(HEATER.prove_within + 1)
        one.state.runs.pop(HEATER.id, None)
        one.wait(10 * MINUTE)
    for who in (INES, TOBIAS):
        answer = one.ask(HEATER, "on", who=who)
        assert isinstance(answer, NotDone)
        assert [objection.rule for objection in answer.objections] == [Rule.ATTEMPTS]
