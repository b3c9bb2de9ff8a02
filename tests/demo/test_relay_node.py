"""What the reference relay node obeys, what it ignores, and how it ends a run by itself."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.demo.relay_node import COUNTS_A_START, END_MARGIN, IDS_KEPT, Ignored, Obeyed, Outcome, RelayNode, Why
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms, from_rfc3339, rfc3339

T0: Ms = from_rfc3339("2026-03-01T08:01:00Z")


def generator() -> RelayNode:
    """A generator's node that has said its state twice: counts 1 and 2."""
    node = RelayNode(actions=("start", "stop"), longest=240)
    node.state(running=False)
    node.state(running=False)
    return node


def command(**changed: object) -> bytes:
    whole: dict[str, object] = {
        "id": "c-1",
        "do": "start",
        "issued_at": rfc3339(T0),
        "valid_until": rfc3339(T0 + MINUTE),
        "run_minutes": 120,
        "seen": 2,
    }
    return json.dumps(whole | changed).encode()


def give(node: RelayNode, payload: bytes, now: Ms = T0) -> Outcome:
    return node.take(payload, retained=False, now=now)


def asks_to_run(node: RelayNode) -> bool:
    return node.asks_to_run


def why(outcome: Outcome) -> Why:
    assert isinstance(outcome, Ignored)
    return outcome.why


def test_a_whole_command_seen_against_the_latest_state_closes_the_relay() -> None:
    node = generator()
    assert give(node, command()) == Obeyed(id="c-1", action="start", ends_at=T0 + 2 * HOUR + END_MARGIN)
    assert asks_to_run(node)


def test_a_state_message_may_cross_a_command_so_the_last_but_one_count_is_good_too() -> None:
    assert isinstance(give(generator(), command(seen=1)), Obeyed)


@pytest.mark.parametrize("seen", [0, -1, 3, 10**9])
def test_a_command_whose_sender_had_not_seen_the_latest_state_is_ignored(seen: int) -> None:
    node = generator()
    assert why(give(node, command(seen=seen))) is Why.OUT_OF_SIGHT
    assert not asks_to_run(node)


def test_a_command_that_lay_in_a_queue_over_two_state_messages_is_ignored() -> None:
    node = generator()
    late = command(seen=node.count)
    node.state(running=False)
    node.state(running=False)
    assert why(give(node, late)) is Why.OUT_OF_SIGHT


def test_a_node_that_has_said_nothing_yet_obeys_nobody() -> None:
    node = RelayNode(actions=("start", "stop"))
    assert why(give(node, command(seen=0))) is Why.OUT_OF_SIGHT


def test_a_retained_command_is_ignored_however_good_it_is() -> None:
    node = generator()
    assert why(node.take(command(), retained=True, now=T0)) is Why.RETAINED
    assert not asks_to_run(node)


def test_the_same_id_is_looked_at_once() -> None:
    node = generator()
    give(node, command())
    give(node, command(id="c-2", do="stop", run_minutes=None))
    assert why(give(node, command())) is Why.REPEATED
    assert not asks_to_run(node)


def test_an_id_used_again_later_for_another_command_is_ignored_too() -> None:
    node = generator()
    give(node, command())
    for _ in range(3):
        node.state(running=True)
    assert why(give(node, command(do="stop", seen=node.count))) is Why.REPEATED


def test_a_command_repeated_when_its_id_is_long_forgotten_is_out_of_sight() -> None:
    node = generator()
    give(node, command())
    for number in range(2 * IDS_KEPT):
        give(node, command(id=f"later-{number}", seen=node.count))
        node.state(running=True)
    assert why(give(node, command())) is Why.OUT_OF_SIGHT


@pytest.mark.parametrize(
    "payload",
    [
        b"",
        b"start",
        b"[]",
        b"null",
        b"\xff\xfe",
        b'{"id": "c-1"',
        b"[" * 4000,
        command() + b" " * 5000,
        command(id=7),
        command(id=""),
        command(do=None),
        command(seen="2"),
        command(seen=True),
        command(seen=2.0),
        command(seen=10**30),
        command(run_minutes=0),
        command(run_minutes=-5),
        command(run_minutes=1.5),
        command(run_minutes="120"),
        command(run_minutes=True),
        command(issued_at="yesterday"),
        command(issued_at=None),
        command(valid_until="2026-03-01T08:02:00"),
    ],
)
def test_what_is_not_a_whole_command_is_ignored(payload: bytes) -> None:
    node = generator()
    assert why(give(node, payload)) is Why.UNREADABLE
    assert not asks_to_run(node)


@given(payload=st.binary(max_size=200))
def test_no_bytes_make_it_fail_or_switch(payload: bytes) -> None:
    node = generator()
    assert isinstance(give(node, payload), Ignored)
    assert not asks_to_run(node)


@pytest.mark.parametrize("key", ["id", "do", "issued_at", "valid_until", "seen"])
def test_a_command_that_lacks_a_part_is_ignored(key: str) -> None:
    whole = json.loads(command())
    del whole[key]
    assert why(give(generator(), json.dumps(whole).encode())) is Why.UNREADABLE


def test_an_action_of_another_equipment_is_ignored() -> None:
    assert why(give(generator(), command(do="on"))) is Why.UNKNOWN_ACTION


def test_a_run_of_exactly_its_limit_is_obeyed_and_a_minute_more_is_not() -> None:
    assert isinstance(give(generator(), command(run_minutes=240)), Obeyed)
    assert why(give(generator(), command(run_minutes=241))) is Why.TOO_LONG


def test_without_a_length_its_own_limit_holds() -> None:
    assert give(generator(), command(run_minutes=None)) == Obeyed(
        id="c-1", action="start", ends_at=T0 + 4 * HOUR + END_MARGIN
    )


def test_a_wrong_clock_does_no_harm_because_none_is_needed() -> None:
    assert isinstance(give(generator(), command(), now=T0 + 400 * HOUR), Obeyed)


def test_a_node_that_knows_the_time_refuses_a_late_command_as_well() -> None:
    def node() -> RelayNode:
        sure = RelayNode(actions=("start", "stop"), knows_the_time=True)
        sure.state(running=False)
        return sure

    assert isinstance(give(node(), command(seen=1), now=T0 + MINUTE), Obeyed)
    assert why(give(node(), command(seen=1), now=T0 + MINUTE + 1)) is Why.LATE


def test_a_timed_run_ends_by_itself_five_minutes_after_the_gateways_own_stop_was_due() -> None:
    node = generator()
    give(node, command())
    assert not node.time_came(T0 + 2 * HOUR + 5 * MINUTE - 1)
    assert asks_to_run(node)
    assert node.time_came(T0 + 2 * HOUR + 5 * MINUTE)
    assert not asks_to_run(node)
    assert not node.time_came(T0 + 9 * HOUR)


def test_a_stop_ends_the_timer_too() -> None:
    node = generator()
    give(node, command())
    assert give(node, command(id="c-2", do="stop", run_minutes=None)) == Obeyed(id="c-2", action="stop", ends_at=None)
    assert node.ends_at is None


def test_a_new_start_sets_the_timer_anew() -> None:
    node = generator()
    give(node, command())
    give(node, command(id="c-2", run_minutes=30), now=T0 + HOUR)
    assert node.ends_at == T0 + HOUR + 30 * MINUTE + END_MARGIN


def test_over_a_break_contact_the_equipment_runs_at_rest_and_a_timed_off_ends_by_itself() -> None:
    node = RelayNode(actions=("on", "off"), runs_at_rest=True)
    node.state(running=True)
    assert asks_to_run(node)
    give(node, command(do="off", seen=1, run_minutes=60))
    assert not asks_to_run(node)
    assert node.time_came(T0 + HOUR + END_MARGIN)
    assert asks_to_run(node)


def test_at_a_restart_it_opens_its_relay_forgets_its_timer_and_puts_older_commands_out_of_sight() -> None:
    node = generator()
    give(node, command())
    node.restart()
    assert not asks_to_run(node)
    assert node.ends_at is None
    node.state(running=False)
    assert node.count == COUNTS_A_START + 1
    for seen in (1, 2, 3, COUNTS_A_START):
        assert why(give(node, command(id=f"old-{seen}", seen=seen), now=T0 + SECOND)) is Why.OUT_OF_SIGHT


def test_a_state_message_counts_and_says_what_was_measured() -> None:
    node = RelayNode(actions=("start", "stop"))
    assert json.loads(node.state(running=False, volts=0)) == {"running": False, "count": 1, "volts": 0}
    assert json.loads(node.state(running=True, volts=231)) == {"running": True, "count": 2, "volts": 231}


@given(
    steps=st.lists(
        st.one_of(st.just("state"), st.tuples(st.integers(0, 3), st.integers(0, 5), st.booleans())), max_size=30
    )
)
def test_whatever_comes_in_any_order_no_id_acts_twice_and_none_out_of_sight(
    steps: list[str | tuple[int, int, bool]],
) -> None:
    node, acted = RelayNode(actions=("start", "stop"), longest=240), set[str]()
    for step in steps:
        if isinstance(step, str):
            node.state(running=False)
            continue
        back, id_, start = step
        seen = node.count - back
        outcome = give(node, command(id=f"c-{id_}", seen=seen, do="start" if start else "stop"))
        if isinstance(outcome, Obeyed):
            assert outcome.id not in acted
            assert back <= 1
            assert seen >= 1
            acted.add(outcome.id)
