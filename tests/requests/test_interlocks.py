"""Every interlock, each tripped once, and what is told of it."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from gateway.alarms.aboard import UNKNOWN_OCCUPANCY, Occupied
from gateway.alarms.settings import Concerns
from gateway.requests.answers import CautionAndCode, NotDone, Objection, Rule
from gateway.requests.facts import RequestStep
from gateway.requests.settings import Equipment, Sort
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND
from tests.requests.fake_world import (
    BOAT,
    FRIDGE,
    GAS_VALVE,
    GENERATOR,
    INES,
    LIGHTS,
    NOON,
    SIGNALS,
    TOBIAS,
    Room,
    at,
    drop_selector_of,
    room,
)


def objections(one: Room, equipment: Equipment, action: str, minutes: int | None = None) -> tuple[Objection, ...]:
    answer = one.ask(equipment, action, minutes=minutes)
    assert isinstance(answer, NotDone), answer
    return answer.objections


def rules(one: Room, equipment: Equipment, action: str, minutes: int | None = None) -> list[Rule]:
    return [objection.rule for objection in objections(one, equipment, action, minutes=minutes)]


def running(one: Room) -> Room:
    one.report(generator_running="on")
    return one


def test_with_all_well_a_start_gets_caution_and_code() -> None:
    answer = room().ask(GENERATOR, "start", minutes=120)
    assert isinstance(answer, CautionAndCode)
    assert answer.run == 2 * HOUR


TRIPPED: list[tuple[str, Callable[[Room], object], Rule]] = [
    ("selector in LOCAL", lambda r: r.set("selector", "LOCAL"), Rule.SELECTOR),
    ("selector retained", lambda r: r.set("selector", "REMOTE", retained=True), Rule.STALE),
    ("selector late", lambda r: r.set("selector", "REMOTE", late=True), Rule.STALE),
    ("no selector, no exception", lambda r: drop_selector_of(r, GENERATOR), Rule.SELECTOR),
    ("lock-out set", lambda r: r.set("lock-out", "on"), Rule.LOCK_OUT),
    ("lock-out never heard", lambda r: r.world.values.pop(f"{BOAT}/lock-out"), Rule.STALE),
    ("nobody has said", lambda r: setattr(r.world, "somebody", UNKNOWN_OCCUPANCY), Rule.OCCUPIED),
    ("gas alarm", lambda r: r.world.alarms.update({Concerns.GAS: 4}), Rule.GAS_OR_FIRE),
    ("fire alarm", lambda r: r.world.alarms.update({Concerns.FIRE: 5}), Rule.GAS_OR_FIRE),
    ("carbon monoxide alarm", lambda r: r.world.alarms.update({Concerns.CO: 6}), Rule.CO),
    ("carbon monoxide detector on", lambda r: r.set("co-detector", "on"), Rule.CO),
    ("smoke detector on", lambda r: r.set("smoke-detector", "on"), Rule.GAS_OR_FIRE),
    ("gas detector silent", lambda r: r.world.values.pop(f"{BOAT}/gas-detector"), Rule.DETECTOR_SILENT),
    ("carbon monoxide detector retained", lambda r: r.set("co-detector", "off", retained=True), Rule.DETECTOR_SILENT),
    ("no smoke detector fitted", lambda r: r.world.left_out.add("smoke-detector"), Rule.DETECTOR_SILENT),
    ("state of the set of unknown age", lambda r: r.set("generator-running", "off", retained=True), Rule.STALE),
    ("running already", lambda r: r.set("generator-running", "on"), Rule.ALREADY),
    ("boat silent", lambda r: setattr(r.world, "silent", NOON - HOUR), Rule.SILENT_BOAT),
    ("the boat's own link down", lambda r: r.set("presence", "off"), Rule.LINK_DOWN),
    ("the boat's own link found down", lambda r: r.set("presence", "off", retained=True), Rule.LINK_DOWN),
    ("no link", lambda r: setattr(r.world, "link", False), Rule.LINK_DOWN),
    ("fuel low", lambda r: r.set("fuel-level", "12"), Rule.OWN),
    ("fuel late", lambda r: r.set("fuel-level", "64", late=True), Rule.OWN),
]


@pytest.mark.parametrize(("trip", "rule"), [(t, r) for _, t, r in TRIPPED], ids=[name for name, _, _ in TRIPPED])
def test_each_interlock_refuses_a_start_by_itself(trip: Callable[[Room], object], rule: Rule) -> None:
    one = room()
    trip(one)
    assert rules(one, GENERATOR, "start", minutes=60) == [rule]


@pytest.mark.parametrize(("trip", "rule"), [(t, r) for _, t, r in TRIPPED], ids=[name for name, _, _ in TRIPPED])
def test_each_interlock_is_asked_again_at_the_confirmation(trip: Callable[[Room], object], rule: Rule) -> None:
    one = room()
    question = one.ask(GENERATOR, "start", minutes=60)
    assert isinstance(question, CautionAndCode)
    trip(one)
    (answer,) = one.go(question.words)
    assert isinstance(answer, NotDone)
    assert answer.confirming
    assert [objection.rule for objection in answer.objections] == [rule]
    assert one.orders == []


BINDS_A_STOP = {Rule.LOCK_OUT, Rule.GAS_OR_FIRE, Rule.SILENT_BOAT, Rule.LINK_DOWN}


@pytest.mark.parametrize(("name", "trip", "rule"), TRIPPED, ids=[name for name, _, _ in TRIPPED])
def test_a_stop_is_bound_by_few_interlocks_only(name: str, trip: Callable[[Room], object], rule: Rule) -> None:
    one = running(room())
    trip(one)
    one.set("generator-running", "on")
    detector = "detector" in name
    bound = not detector and (rule in BINDS_A_STOP or name == "lock-out never heard")
    answer = one.ask(GENERATOR, "stop")
    assert isinstance(answer, NotDone if bound else CautionAndCode), answer


def test_a_stop_with_the_state_of_the_set_unknown_is_refused() -> None:
    one = running(room())
    one.set("generator-running", "on", retained=True)
    assert rules(one, GENERATOR, "stop") == [Rule.STALE]


def test_every_objection_is_told_at_once_each_with_its_cure() -> None:
    one = room()
    one.set("selector", "LOCAL")
    one.set("fuel-level", "12")
    one.world.alarms[Concerns.CO] = 6
    found = objections(one, GENERATOR, "start", minutes=600)
    assert [o.rule for o in found] == [Rule.CO, Rule.SELECTOR, Rule.HOURS, Rule.RUN_LIMIT, Rule.OWN]
    assert all(objection.cure for objection in found)
    assert found[-1].says == "fuel under 20% (12 %)"
    assert found[-1].cure == "needs fuel-level at least 20 %"


def test_the_values_of_all_interlocks_are_kept_for_refused_and_granted_alike() -> None:
    one = room()
    one.ask(GENERATOR, "start", minutes=60)
    one.world.alarms[Concerns.GAS] = 3
    one.ask(GENERATOR, "start", minutes=60)
    steps = [fact for fact in one.facts if isinstance(fact, RequestStep) and fact.values]
    granted, refused = steps
    assert "selector: REMOTE" in granted.values
    assert "fuel: 64 %, needs fuel-level at least 20 %" in granted.values
    assert granted.objections == ()
    assert "selector: REMOTE" in refused.values
    assert refused.objections == ("gas or fire alarm: gas alarm 3 stands",)


def test_a_selector_may_be_missing_where_the_installer_excepted_it_by_name() -> None:
    one = room()
    drop_selector_of(one, GENERATOR)
    one.equipment[GENERATOR.id] = replace(GENERATOR, selector=None, exception="Ruth Okell: key switch at the set")
    assert isinstance(one.ask(GENERATOR, "start", minutes=60), CautionAndCode)


def test_lights_need_neither_selector_nor_an_empty_boat() -> None:
    one = room()
    one.set("selector", "LOCAL")
    one.world.somebody = Occupied(NOON - HOUR, "hatch")
    assert isinstance(one.ask(LIGHTS, "on", minutes=30), CautionAndCode)


def test_lights_are_not_switched_on_while_a_gas_or_fire_detector_is_silent() -> None:
    one = room()
    one.world.values.pop(f"{BOAT}/smoke-detector")
    assert rules(one, LIGHTS, "on", minutes=30) == [Rule.DETECTOR_SILENT]


def test_since_when_somebody_is_aboard_is_told_to_owner_and_installer_only() -> None:
    one = room()
    one.world.somebody = Occupied(NOON - DAY - 2 * HOUR, "hatch")
    (to_owner,) = objections(one, GENERATOR, "start", minutes=60)
    assert to_owner.says == "somebody aboard since 10:00, 1 d ago"
    answer = one.ask(GENERATOR, "start", minutes=60, who=TOBIAS)
    assert isinstance(answer, NotDone)
    assert answer.objections[0].rule is Rule.OCCUPIED
    assert "10:00" not in answer.objections[0].says
    assert answer.objections[0].signal == ""


def test_a_run_must_end_within_the_permitted_hours() -> None:
    one = room(at("18:00:00"))
    assert rules(one, GENERATOR, "start", minutes=121) == [Rule.HOURS]
    assert isinstance(one.ask(GENERATOR, "start", minutes=120), CautionAndCode)


def test_hours_may_reach_over_midnight() -> None:
    one = room(at("23:00:00"))
    night = replace(GENERATOR.permitted, start=22 * 60, end=6 * 60) if GENERATOR.permitted else None
    one.equipment[GENERATOR.id] = replace(GENERATOR, permitted=night)
    assert isinstance(one.ask(GENERATOR, "start", minutes=60), CautionAndCode)
    one.world.now = at("12:00:00")
    one.freshen()
    assert rules(one, GENERATOR, "start", minutes=60) == [Rule.HOURS]


def test_a_run_is_limited_and_gets_the_default_when_no_time_is_given() -> None:
    one = room()
    assert rules(one, GENERATOR, "start", minutes=241) == [Rule.RUN_LIMIT]
    question = one.ask(GENERATOR, "start")
    assert isinstance(question, CautionAndCode)
    assert question.run == HOUR


def test_equipment_without_timed_runs_takes_no_time_for_on() -> None:
    one = room()
    one.report(refrigeration_running="off")
    one.wait(10 * MINUTE)
    assert rules(one, FRIDGE, "on", minutes=60) == [Rule.RUN_LIMIT]
    assert isinstance(one.ask(FRIDGE, "on"), CautionAndCode)


def test_a_limit_on_off_is_for_loads_only() -> None:
    one = running(room())
    assert rules(one, GENERATOR, "stop", minutes=60) == [Rule.LIMIT_ON_STOP]
    assert isinstance(one.ask(FRIDGE, "off", minutes=60), CautionAndCode)
    assert rules(one, GAS_VALVE, "close", minutes=60) == [Rule.LIMIT_ON_STOP]


def test_off_for_less_than_the_minimum_off_is_refused() -> None:
    assert rules(room(), FRIDGE, "off", minutes=4) == [Rule.MINIMUM_TIME]


def test_until_a_clock_time_means_the_next_one_to_come() -> None:
    one = room()
    question = one.ask(FRIDGE, "off", until=11 * 60)
    assert isinstance(question, CautionAndCode)
    assert question.until == NOON + 23 * HOUR
    assert question.run is None


def test_minimum_on_holds_before_off() -> None:
    one = room()
    one.report(refrigeration_running="off")
    one.wait(HOUR)
    one.report(refrigeration_running="on")
    one.wait(3 * MINUTE - SECOND)
    (objection,) = objections(one, FRIDGE, "off")
    assert (objection.rule, objection.cure) == (Rule.MINIMUM_TIME, "wait 1 s more")
    one.wait(SECOND)
    assert isinstance(one.ask(FRIDGE, "off"), CautionAndCode)


def test_a_minimum_time_counts_from_the_first_sight_when_no_change_was_seen() -> None:
    one = Room()
    one.all_well(refrigeration_running="off")
    assert rules(one, FRIDGE, "on") == [Rule.MINIMUM_TIME]
    one.wait(5 * MINUTE)
    assert isinstance(one.ask(FRIDGE, "on"), CautionAndCode)


def test_a_retained_state_starts_no_minimum_time() -> None:
    one = Room()
    one.all_well()
    del one.state.switched[FRIDGE.id]
    one.set("refrigeration-running", "off", retained=True)
    one.report()
    assert FRIDGE.id not in one.state.switched


def test_what_is_off_already_is_not_switched_off() -> None:
    one = room()
    one.report(refrigeration_running="off")
    assert rules(one, FRIDGE, "off") == [Rule.ALREADY]


def test_a_gas_valve_is_never_opened_from_afar() -> None:
    one = room()
    one.set("gas-valve-open", "off")
    assert rules(one, GAS_VALVE, "open") == [Rule.NOT_CARRIED_OUT]


def test_the_same_command_asked_by_another_is_pending() -> None:
    one = room()
    assert isinstance(one.ask(GENERATOR, "start", minutes=60, who=INES), CautionAndCode)
    answer = one.ask(GENERATOR, "start", minutes=60, who=TOBIAS)
    assert isinstance(answer, NotDone)
    assert [objection.rule for objection in answer.objections] == [Rule.PENDING]


def test_while_a_command_is_out_nothing_else_goes_to_that_equipment() -> None:
    one = room()
    question = one.ask(GENERATOR, "start", minutes=60)
    assert isinstance(question, CautionAndCode)
    one.go(question.words)
    answer = one.ask(GENERATOR, "stop", who=TOBIAS)
    assert isinstance(answer, NotDone)
    assert Rule.PENDING in [objection.rule for objection in answer.objections]


def test_a_value_outside_of_what_its_sensor_can_show_satisfies_no_interlock(monkeypatch: pytest.MonkeyPatch) -> None:
    key = f"{BOAT}/fuel-level"
    monkeypatch.setitem(SIGNALS, key, replace(SIGNALS[key], lowest=Decimal(0), highest=Decimal(100)))
    one = room()
    one.set("fuel-level", "655.35")  # what two bytes without a sensor read as, a hundredth each
    assert rules(one, GENERATOR, "start", minutes=60) == [Rule.OWN]
    one.set("fuel-level", "100")
    assert isinstance(one.ask(GENERATOR, "start", minutes=60), CautionAndCode)


def test_a_bilge_pump_runs_while_a_gas_or_fire_detector_is_silent() -> None:
    one = room()
    pump = one.equipment[LIGHTS.id] = replace(LIGHTS, sort=Sort.PUMP)
    for detector in ("gas-detector", "smoke-detector"):
        one.world.values.pop(f"{BOAT}/{detector}")
    assert isinstance(one.ask(pump, "on"), CautionAndCode), "handbook G3: stops and the bilge pump remain"
