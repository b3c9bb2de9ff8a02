"""How the simulated boat behaves."""

import json
from typing import Any

import pytest

from gateway.demo.boat import CONTACTS, DemoBoat, Message
from gateway.demo.relay_node import Ignored, Obeyed, Why
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms, from_rfc3339, rfc3339

T0: Ms = from_rfc3339("2026-03-01T02:00:00Z")
P = "grey-wagtail"
ALL_TOPICS = [
    "bilge/high",
    "bilge/pump",
    "ac/shore",
    "dc/house",
    "dc/start",
    "tank/fuel",
    "detector/co",
    "detector/fire",
    "detector/gas",
    "hatch/main",
    "panel/selector",
    "panel/in-use",
    "panel/lock-out",
    "panel/visit-over",
    "cold/fridge",
    "link/heartbeat",
    "node/generator/state",
    "node/refrigeration/state",
    "node/deck-lights/state",
    "node/cabin-lights/state",
]


def run(boat: DemoBoat, until: Ms) -> list[tuple[Ms, Message]]:
    """Let the boat live up to and including `until`, as a clock that jumps to what is due would."""
    said: list[tuple[Ms, Message]] = []
    while (now := max(boat.next_due(), T0)) <= until:
        said += [(now, message) for message in boat.due(now)]
    said += [(until, message) for message in boat.due(until)]
    return said


def started() -> DemoBoat:
    boat = DemoBoat()
    run(boat, T0)
    return boat


def is_running(boat: DemoBoat) -> bool:
    return boat.generator.is_running


def on_topic(said: list[tuple[Ms, Message]], topic: str) -> list[tuple[Ms, str]]:
    return [(at, payload) for at, (where, payload, _) in said if where == f"{P}/{topic}"]


def states(said: list[tuple[Ms, Message]], node: str = "generator") -> list[tuple[Ms, dict[str, Any]]]:
    return [(at, json.loads(payload)) for at, payload in on_topic(said, f"node/{node}/state")]


def command(boat: DemoBoat, do: str, now: Ms, *, node: str = "generator", id_: str = "", **changed: object) -> object:
    order: dict[str, object] = {
        "id": id_ or f"{node}-{do}-{now}",
        "do": do,
        "issued_at": rfc3339(now),
        "valid_until": rfc3339(now + MINUTE),
        "run_minutes": None,
        "seen": boat.nodes[node].count,
    }
    return boat.command(f"{P}/command/{node}", json.dumps(order | changed).encode(), False, now)


def test_on_its_first_word_it_says_everything_once() -> None:
    boat = DemoBoat()
    assert boat.next_due() == 0
    topics = [topic for topic, _, _ in boat.due(T0)]
    assert len(topics) == len(set(topics))
    assert set(topics) == {f"{P}/{tail}" for tail in ALL_TOPICS}


def test_numbers_come_every_30_s_and_contacts_every_60_s() -> None:
    said = run(DemoBoat(), T0 + 10 * MINUTE)
    numbers = [at for at, _ in on_topic(said, "dc/house")]
    contacts = [at for at, _ in on_topic(said, "bilge/high")]
    assert numbers == [T0 + n * 30 * SECOND for n in range(21)]
    assert contacts == [T0 + n * MINUTE for n in range(11)]


def test_a_contact_that_changes_is_said_at_once_and_not_a_second_time_at_the_same_moment() -> None:
    boat = started()
    boat.set("bilge-high", True, T0 + 7 * SECOND)
    assert boat.next_due() == T0 + 7 * SECOND
    assert boat.due(T0 + 7 * SECOND) == [(f"{P}/bilge/high", "on", True)]
    boat.set("bilge-high", True, T0 + 8 * SECOND)
    assert boat.due(T0 + 8 * SECOND) == []
    boat.set("bilge-high", False, T0 + MINUTE)
    assert [m for m in boat.due(T0 + MINUTE) if m[0] == f"{P}/bilge/high"] == [(f"{P}/bilge/high", "off", True)]


def test_states_of_contacts_are_retained_and_numbers_are_not() -> None:
    retained = {topic.removeprefix(f"{P}/") for topic, _, kept in DemoBoat().due(T0) if kept}
    assert retained == {*CONTACTS.values(), "panel/selector"}


@pytest.mark.parametrize(
    ("name", "value"),
    [("selector", "OFF"), ("bilge-high", 1), ("bilge-high", "on"), ("fuel-level", True), ("anchor", True)],
)
def test_what_is_not_aboard_cannot_be_set(name: str, value: bool | str | float) -> None:
    with pytest.raises(ValueError, match="There are"):
        started().set(name, value, T0)


def test_a_started_generator_runs_at_231_v_59_s_after_the_command() -> None:
    boat = started()
    assert isinstance(command(boat, "start", T0 + SECOND, run_minutes=120), Obeyed)
    said = states(run(boat, T0 + 5 * MINUTE))
    first = next((at, state) for at, state in said if state["running"])
    assert first[0] == T0 + 60 * SECOND
    assert first[1]["volts"] == 231


def test_while_it_cranks_there_is_no_voltage_and_while_it_runs_up_there_is_some() -> None:
    boat = started()
    command(boat, "start", T0 + 13 * SECOND)
    boat.due(T0 + 30 * SECOND)
    cranking = boat.due(T0 + 60 * SECOND)
    assert (f"{P}/dc/start", '{"voltage":10.9}', False) in cranking
    assert states([(T0, m) for m in cranking])[0][1]["volts"] == 0
    boat = started()
    command(boat, "start", T0 + 6 * SECOND)
    boat.due(T0 + 30 * SECOND)
    assert states([(T0, m) for m in boat.due(T0 + 60 * SECOND)])[0][1] == {
        "running": False,
        "count": 3,
        "volts": 115,
    }


def test_a_stop_is_reported_when_the_voltage_is_gone() -> None:
    boat = started()
    command(boat, "start", T0)
    run(boat, T0 + 10 * MINUTE)
    command(boat, "stop", T0 + 10 * MINUTE + SECOND)
    said = states(run(boat, T0 + 11 * MINUTE))
    assert said[0] == (T0 + 10 * MINUTE + 4 * SECOND, {"running": False, "count": said[0][1]["count"], "volts": 0})


def test_a_run_whose_stop_never_comes_is_ended_at_the_boat() -> None:
    boat = started()
    command(boat, "start", T0, run_minutes=30)
    ends = [at for at, state in states(run(boat, T0 + HOUR)) if not state["running"] and at > T0 + MINUTE]
    assert ends[0] == T0 + 35 * MINUTE + 3 * SECOND


def test_in_local_it_does_not_crank_and_turning_back_to_remote_starts_nothing() -> None:
    boat = started()
    boat.set("selector", "LOCAL", T0 + SECOND)
    command(boat, "start", T0 + 2 * SECOND, run_minutes=30)
    boat.set("selector", "REMOTE", T0 + 3 * SECOND)
    assert not any(state["running"] or state["volts"] for _, state in states(run(boat, T0 + HOUR)))


@pytest.mark.parametrize(
    ("name", "value"), [("selector", "LOCAL"), ("lock-out", True), ("co", True), ("fuel-level", 0)]
)
def test_the_wired_chain_stops_a_running_set_for_good(name: str, value: bool | str | float) -> None:
    boat = started()
    command(boat, "start", T0)
    run(boat, T0 + MINUTE)
    assert is_running(boat)
    boat.set(name, value, T0 + 2 * MINUTE)
    run(boat, T0 + 3 * MINUTE)
    assert not is_running(boat)
    boat.set("selector", "REMOTE", T0 + 4 * MINUTE)
    boat.set("lock-out", False, T0 + 4 * MINUTE)
    boat.set("co", False, T0 + 4 * MINUTE)
    boat.set("fuel-level", 50, T0 + 4 * MINUTE)
    run(boat, T0 + 5 * MINUTE)
    assert not is_running(boat)


@pytest.mark.parametrize("name", ["gas", "fire"])
def test_a_running_set_is_left_to_its_own_stop_when_gas_or_fire_is_found(name: str) -> None:
    boat = started()
    command(boat, "start", T0)
    run(boat, T0 + MINUTE)
    boat.set(name, True, T0 + 2 * MINUTE)
    run(boat, T0 + 3 * MINUTE)
    assert is_running(boat)


def test_the_house_bank_falls_without_shore_and_generator_and_rises_with_either() -> None:
    def volts(said: list[tuple[Ms, Message]]) -> list[float]:
        return [json.loads(payload)["voltage"] for _, payload in on_topic(said, "dc/house")]

    boat = started()
    boat.set("shore", False, T0)
    falling = volts(run(boat, T0 + 5 * HOUR))
    assert falling == sorted(falling, reverse=True)
    assert falling[-1] < falling[60] < falling[0]
    command(boat, "start", T0 + 5 * HOUR, run_minutes=120)
    rising = volts(run(boat, T0 + 6 * HOUR))[2:]
    assert rising == sorted(rising)
    assert rising[-1] > rising[0]


def test_running_the_generator_takes_three_litres_an_hour_from_the_tank() -> None:
    boat = started()
    command(boat, "start", T0, run_minutes=120)
    levels = [float(payload) for _, payload in on_topic(run(boat, T0 + 2 * HOUR), "tank/fuel")]
    assert levels[-1] == pytest.approx(62.0 - 2.0, abs=0.05)


def test_the_fridge_warms_while_it_is_off_and_its_node_says_so_at_once() -> None:
    boat = started()
    command(boat, "off", T0 + SECOND, node="refrigeration")
    said = run(boat, T0 + HOUR)
    assert states(said, "refrigeration")[0] == (T0 + SECOND, {"running": False, "count": 2})
    assert float(on_topic(said, "cold/fridge")[-1][1]) == pytest.approx(5.0, abs=0.05)


@pytest.mark.parametrize("node", ["deck-lights", "cabin-lights"])
def test_lights_go_on_and_off(node: str) -> None:
    boat = started()
    command(boat, "on", T0 + SECOND, node=node, run_minutes=30)
    command(boat, "off", T0 + 9 * SECOND, node=node)
    assert [(at, s["running"]) for at, s in states(run(boat, T0 + 20 * SECOND), node)] == [
        (T0 + 9 * SECOND, True),
        (T0 + 9 * SECOND, False),
    ]


def test_a_command_that_comes_twice_acts_once() -> None:
    boat = started()
    command(boat, "start", T0, id_="c-1", seen=1)
    command(boat, "stop", T0 + SECOND, seen=1)
    again = command(boat, "start", T0 + 2 * SECOND, id_="c-1", seen=1)
    assert isinstance(again, Ignored)
    assert again.why is Why.REPEATED


@pytest.mark.parametrize(
    "topic", ["generator", f"{P}/command/anchor", f"{P}/node/generator/state", "x/command/generator"]
)
def test_other_topics_reach_no_node(topic: str) -> None:
    assert started().command(topic, b"{}", False, T0) is None


def test_a_silent_boat_says_nothing_hears_nothing_and_lives_on() -> None:
    boat = started()
    before = boat.nodes["generator"].count
    boat.go_silent(T0 + SECOND)
    assert run(boat, T0 + MINUTE) == []
    boat.set("bilge-high", True, T0 + MINUTE)
    assert run(boat, T0 + 2 * MINUTE) == []
    assert command(boat, "start", T0 + 2 * MINUTE) is None
    assert run(boat, T0 + 10 * MINUTE) == []
    assert boat.nodes["generator"].count == before + 20


def test_what_was_asked_before_a_silence_is_out_of_sight_after_it() -> None:
    boat = started()
    seen = boat.nodes["generator"].count
    boat.go_silent(T0)
    run(boat, T0 + 10 * MINUTE)
    boat.come_back(T0 + 10 * MINUTE)
    outcome = command(boat, "start", T0 + 10 * MINUTE, seen=seen)
    assert isinstance(outcome, Ignored)
    assert outcome.why is Why.OUT_OF_SIGHT


def test_a_boat_that_comes_back_says_everything_as_it_is_now_once() -> None:
    boat = started()
    boat.go_silent(T0)
    boat.set("bilge-high", True, T0 + MINUTE)
    boat.come_back(T0 + 90 * SECOND)
    said = boat.due(T0 + 90 * SECOND)
    assert len(said) == len({topic for topic, _, _ in said}) == 20
    assert (f"{P}/bilge/high", "on", True) in said


def test_when_the_nodes_restart_their_relays_are_open_and_the_generator_stops() -> None:
    boat = started()
    command(boat, "start", T0)
    command(boat, "on", T0, node="deck-lights")
    command(boat, "off", T0, node="refrigeration")
    run(boat, T0 + MINUTE)
    boat.restart_nodes(T0 + MINUTE)
    said = run(boat, T0 + 2 * MINUTE)
    assert not states(said)[-1][1]["running"]
    assert not states(said, "deck-lights")[-1][1]["running"]
    assert states(said, "refrigeration")[-1][1]["running"]


def test_two_boats_that_live_through_the_same_say_the_same() -> None:
    def night() -> list[tuple[Ms, Message]]:
        boat = started()
        said = run(boat, T0 + HOUR)
        boat.set("shore", False, T0 + HOUR)
        command(boat, "start", T0 + HOUR, run_minutes=60)
        return said + run(boat, T0 + 4 * HOUR)

    assert night() == night()


def test_a_clock_that_comes_late_misses_nothing_of_what_happened_meanwhile() -> None:
    boat = started()
    command(boat, "start", T0, run_minutes=10)
    said = states([(T0 + HOUR, message) for message in boat.due(T0 + HOUR)])
    assert [state["running"] for _, state in said] == [True, False]
