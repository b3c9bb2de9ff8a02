"""The life of an alarm against the table of the trade's handbook (2.6), typed here from it by hand.

The states and steps are those of ANSI/ISA-18.2-2016 (from memory of that document); "latched", "shelved", "suppressed"
and "out of service" were confirmed in OPC 10000-9. A dot is a step that is refused: the state stays.
"""

import itertools

import pytest

from gateway.alarms.life import ASIDE, LATCHING_STEPS, STEPS, AlarmEvent, AlarmState, step

SHORT = {
    "NORM": AlarmState.NORMAL,
    "UNACK": AlarmState.UNACKNOWLEDGED,
    "ACKED": AlarmState.ACKNOWLEDGED,
    "RTNUN": AlarmState.GONE_UNACKNOWLEDGED,
    "LUNAK": AlarmState.LATCHED_UNACKNOWLEDGED,
    "LACKD": AlarmState.LATCHED_ACKNOWLEDGED,
    "SHLVD": AlarmState.SHELVED,
    "DSUPR": AlarmState.SUPPRESSED,
    "OOSRV": AlarmState.OUT_OF_SERVICE,
}

PLAIN = """
STATE RAISE CLEAR LATCH   TAKE  RESET RE_ALARM
NORM  UNACK .     .       .     .     .
UNACK .     RTNUN LUNAK   ACKED .     .
ACKED .     NORM  LACKD   .     .     UNACK
RTNUN UNACK .     .       NORM  .     .
LUNAK UNACK .     .       LACKD .     .
LACKD UNACK .     .       .     NORM  .
SHLVD .     .     .       .     .     .
DSUPR .     .     .       .     .     .
OOSRV .     .     .       .     .     .
"""
"""LATCH stands for CLEAR of a latching point. In the last three rows the hidden flag follows RAISE and CLEAR."""

ASIDE_TABLE = """
STATE SHELVE UNSHELVE SUPPRESS UNSUPPRESS REMOVE RETURN
NORM  SHLVD  .        DSUPR    .          OOSRV  .
UNACK SHLVD  .        DSUPR    .          OOSRV  .
ACKED SHLVD  .        DSUPR    .          OOSRV  .
RTNUN SHLVD  .        DSUPR    .          OOSRV  .
LUNAK SHLVD  .        DSUPR    .          OOSRV  .
LACKD SHLVD  .        DSUPR    .          OOSRV  .
SHLVD SHLVD  back     DSUPR    .          OOSRV  .
DSUPR .      .        .        back       OOSRV  .
OOSRV .      .        .        .          .      back
"""
"""back: UNACK when the condition holds meanwhile, else LUNAK when a latch was pending, else NORM."""


def cells(table: str) -> dict[tuple[AlarmState, str], str]:
    head, *rows = (line.split() for line in table.strip().splitlines())
    return {(SHORT[row[0]], column): cell for row in rows for column, cell in zip(head[1:], row[1:], strict=True)}


HANDBOOK = {**cells(PLAIN), **cells(ASIDE_TABLE)}


def expected(state: AlarmState, event: AlarmEvent, latching: bool, active: bool, pending: bool) -> AlarmState | None:
    column = "LATCH" if event is AlarmEvent.CLEAR and latching else event.name
    cell = HANDBOOK[state, column]
    if cell == "back":
        return SHORT["UNACK"] if active else SHORT["LUNAK"] if pending else SHORT["NORM"]
    return SHORT.get(cell)


@pytest.mark.parametrize("latching", [False, True])
@pytest.mark.parametrize("state", AlarmState)
def test_every_state_and_event_leads_where_the_handbook_says(state: AlarmState, latching: bool) -> None:
    for event, active, pending in itertools.product(AlarmEvent, (False, True), (False, True)):
        found = step(state, event, latching=latching, active=active, latch_pending=pending)
        assert found is expected(state, event, latching, active, pending), (event, active, pending)


def test_the_handbook_table_typed_here_decides_every_pair() -> None:
    columns = {event.name for event in AlarmEvent} | {"LATCH"}
    assert set(HANDBOOK) == set(itertools.product(AlarmState, columns))


def test_no_event_shelves_suppresses_or_removes_an_alarm_but_those_of_that_name() -> None:
    for table in (STEPS, LATCHING_STEPS):
        into = {event for row in table.values() for event, after in row.items() if after in ASIDE}
        assert into == {AlarmEvent.SHELVE, AlarmEvent.SUPPRESS, AlarmEvent.REMOVE}
