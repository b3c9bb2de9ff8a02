"""Check values of alarms: CHK-04 to CHK-08 and CHK-50 of the handbook, through the whole desk.

Each names its source. The desk is the real one; the small installation is written here, because the figures are the
handbook's and not those of the starter.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from gateway.alarms.life import AlarmEvent, AlarmState, step
from gateway.vocabulary.happenings import TextCame
from gateway.vocabulary.moments import MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsNumber, Than
from tests.desk.small_boat import INES, NUMBER_OF, Small, point, small

E, S = AlarmEvent, AlarmState

LOW = point(
    "low",
    when=IsNumber(signal="volts", than=Than.BELOW, limit=Decimal("12.0"), unit="V", lasting=600 * SECOND),
    clears=IsNumber(signal="volts", than=Than.ABOVE, limit=Decimal("12.2"), unit="V", lasting=60 * SECOND),
)
"""CHK-04: low-volt point, limit 12.0, deadband 0.2, on 600 s, off 60 s (computed for the handbook from the meaning of
on-delay, off-delay and deadband in OPC 10000-9, B.1.5)."""


def sampled(boat: Small, text: str, seconds: int) -> list[tuple[int, AlarmState]]:
    """One sample a second of this value; the states seen, each with the second (from the start) at which it began."""
    seen: list[tuple[int, AlarmState]] = []
    for _ in range(seconds):
        boat.wait(SECOND - 1)
        boat.now += 1  # what comes at the very instant at which a delay is complete comes first
        boat.reads("volts", text)
        now = boat.state_of("low")
        if not seen or seen[-1][1] is not now:
            seen.append(((boat.now - boat.began) // SECOND, now))
    return seen


def test_chk_04_599_s_below_the_limit_and_then_12_05_v_is_never_raised() -> None:
    boat = small(LOW)
    boat.reads("volts", "11.9")
    assert sampled(boat, "11.9", 599) == [(1, S.NORMAL)]
    assert sampled(boat, "12.05", 1200) == [(600, S.NORMAL)]


def test_chk_04_600_s_below_the_limit_is_raised_at_600_s() -> None:
    boat = small(LOW)
    boat.reads("volts", "11.9")
    assert sampled(boat, "11.9", 601) == [(1, S.NORMAL), (600, S.UNACKNOWLEDGED)]


def test_chk_04_12_15_v_lies_inside_the_deadband_and_never_clears_and_12_25_v_clears_60_s_later() -> None:
    boat = small(LOW)
    boat.reads("volts", "11.9")
    sampled(boat, "11.9", 600)
    assert sampled(boat, "12.15", 3600) == [(601, S.UNACKNOWLEDGED)]
    # The first sample of 12.25 V is that of second 4201; the off-delay counts from it.
    assert sampled(boat, "12.25", 70) == [(4201, S.UNACKNOWLEDGED), (4261, S.GONE_UNACKNOWLEDGED)]


def walk(events: list[AlarmEvent], *, latching: bool) -> list[AlarmState]:
    """The states along these events; RAISE and CLEAR move the hidden flag, too."""
    state, active, found = S.NORMAL, False, []
    for event in events:
        active = {E.RAISE: True, E.CLEAR: False}.get(event, active)
        state = step(state, event, latching=latching, active=active) or state
        found.append(state)
    return found


# CHK-05 to CHK-08: computed for the handbook from the state figure of ANSI/ISA-18.2-2016 (from memory) and OPC 10000-9.


def test_chk_05_a_latching_point() -> None:
    assert walk([E.RAISE, E.CLEAR, E.TAKE, E.RESET], latching=True) == [
        S.UNACKNOWLEDGED,
        S.LATCHED_UNACKNOWLEDGED,
        S.LATCHED_ACKNOWLEDGED,
        S.NORMAL,
    ]


@pytest.mark.parametrize(
    ("events", "states"),
    [
        ([E.RAISE, E.TAKE, E.CLEAR], [S.UNACKNOWLEDGED, S.ACKNOWLEDGED, S.NORMAL]),
        ([E.RAISE, E.CLEAR, E.TAKE], [S.UNACKNOWLEDGED, S.GONE_UNACKNOWLEDGED, S.NORMAL]),
        (
            [E.RAISE, E.CLEAR, E.RAISE, E.TAKE, E.CLEAR],
            [S.UNACKNOWLEDGED, S.GONE_UNACKNOWLEDGED, S.UNACKNOWLEDGED, S.ACKNOWLEDGED, S.NORMAL],
        ),
    ],
)
def test_chk_06_a_point_that_does_not_latch(events: list[AlarmEvent], states: list[AlarmState]) -> None:
    assert walk(events, latching=False) == states


@pytest.mark.parametrize(
    ("events", "states"),
    [
        ([E.RAISE, E.SHELVE, E.CLEAR, E.UNSHELVE], [S.UNACKNOWLEDGED, S.SHELVED, S.SHELVED, S.NORMAL]),
        ([E.RAISE, E.TAKE, E.SHELVE, E.UNSHELVE], [S.UNACKNOWLEDGED, S.ACKNOWLEDGED, S.SHELVED, S.UNACKNOWLEDGED]),
    ],
)
def test_chk_07_a_shelved_point_comes_back_as_its_condition_stands(
    events: list[AlarmEvent], states: list[AlarmState]
) -> None:
    assert walk(events, latching=False) == states


def test_chk_08_a_reset_of_a_latched_alarm_that_nobody_took_stays_and_is_logged_as_refused() -> None:
    boat = small(replace(LOW, latching=True))
    boat.reads("volts", "11.9")
    sampled(boat, "11.9", 600)
    sampled(boat, "12.3", 61)
    assert boat.state_of("low") is S.LATCHED_UNACKNOWLEDGED
    turn = boat.texts(INES, "checked 1")
    assert boat.state_of("low") is S.LATCHED_UNACKNOWLEDGED
    (refused,) = [w.entry.body for w in turn.entries if w.entry.kind == "alarm-step"]
    assert (refused["event"], refused["before"], refused["after"]) == (
        "reset",
        "latched unacknowledged",
        "latched unacknowledged",
    )


@pytest.mark.parametrize("said", ["ok", "OK.", "got it", "\U0001f44d"])
def test_chk_50_a_mere_ok_to_an_emergency_takes_nothing_and_is_told_who_is_next_and_when(said: str) -> None:
    """CHK-50, a rule proposed by the handbook: not taken; the answer says that nobody has it, who is next, and when."""
    boat = small(replace(LOW, priority=Priority.EMERGENCY))
    boat.reads("volts", "11.9")
    sampled(boat, "11.9", 601)
    turn = boat.take(TextCame(message="SM1", number=NUMBER_OF[INES], body=said, age=0))
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    (answer,) = turn.orders
    body = answer.body.lower()
    assert "not taken" in body
    assert "nobody" in body
    assert "tobias" in body  # the list's next step
    assert "03:15" in body  # raised 03:10:00, the next step 5 min later
    assert boat.now < boat.began + 600 * SECOND + 5 * MINUTE
