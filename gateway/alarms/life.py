"""The life of one alarm, as a table: every state, every event, decided.

The states and what leads from one to the next are those of the trade's alarm standard (handbook 2.6: ANSI/ISA-18.2-2016
state figure from memory of that document; latched, shelved, suppressed and out of service confirmed in OPC 10000-9).
A step that is not in the table changes nothing; that somebody tried is kept in the logbook all the same.
"""

from collections.abc import Mapping
from enum import StrEnum


class AlarmState(StrEnum):
    """Where an alarm stands."""

    NORMAL = "normal"
    UNACKNOWLEDGED = "unacknowledged"
    ACKNOWLEDGED = "acknowledged"
    GONE_UNACKNOWLEDGED = "gone unacknowledged"  # back to normal by itself, and nobody has seen it
    LATCHED_UNACKNOWLEDGED = "latched unacknowledged"  # the condition has gone, the alarm stands
    LATCHED_ACKNOWLEDGED = "latched acknowledged"  # as above, and a person has it: may be reset
    SHELVED = "shelved"  # by a person, for a time
    SUPPRESSED = "suppressed"  # by a written rule
    OUT_OF_SERVICE = "out of service"  # for maintenance


class AlarmEvent(StrEnum):
    """What can happen to an alarm."""

    RAISE = "raise"  # the condition holds, its delay has passed
    CLEAR = "clear"  # it is gone, beyond deadband and delay
    TAKE = "take"  # a person acknowledged it ("have it")
    RESET = "reset"  # a person has looked ("checked")
    RE_ALARM = "re-alarm"  # acknowledged, still there after a time
    SHELVE = "shelve"
    UNSHELVE = "unshelve"
    SUPPRESS = "suppress"
    UNSUPPRESS = "unsuppress"
    REMOVE = "remove from service"
    RETURN = "return to service"


S, E = AlarmState, AlarmEvent

_PUT_ASIDE: Mapping[AlarmEvent, AlarmState] = {
    E.SHELVE: S.SHELVED,
    E.SUPPRESS: S.SUPPRESSED,
    E.REMOVE: S.OUT_OF_SERVICE,
}

_LIVE: Mapping[AlarmState, Mapping[AlarmEvent, AlarmState]] = {
    S.NORMAL: {E.RAISE: S.UNACKNOWLEDGED},
    S.UNACKNOWLEDGED: {E.CLEAR: S.GONE_UNACKNOWLEDGED, E.TAKE: S.ACKNOWLEDGED},
    S.ACKNOWLEDGED: {E.CLEAR: S.NORMAL, E.RE_ALARM: S.UNACKNOWLEDGED},
    S.GONE_UNACKNOWLEDGED: {E.RAISE: S.UNACKNOWLEDGED, E.TAKE: S.NORMAL},
    S.LATCHED_UNACKNOWLEDGED: {E.RAISE: S.UNACKNOWLEDGED, E.TAKE: S.LATCHED_ACKNOWLEDGED},  # no reset before a take
    S.LATCHED_ACKNOWLEDGED: {E.RAISE: S.UNACKNOWLEDGED, E.RESET: S.NORMAL},
}

_ASIDE: Mapping[AlarmState, Mapping[AlarmEvent, AlarmState]] = {
    # Leaving one of these goes to `resumed()`, because it depends on whether the condition holds meanwhile.
    S.SHELVED: {E.SHELVE: S.SHELVED, E.SUPPRESS: S.SUPPRESSED, E.REMOVE: S.OUT_OF_SERVICE, E.UNSHELVE: S.NORMAL},
    S.SUPPRESSED: {E.REMOVE: S.OUT_OF_SERVICE, E.UNSUPPRESS: S.NORMAL},
    S.OUT_OF_SERVICE: {E.RETURN: S.NORMAL},
}

STEPS: Mapping[AlarmState, Mapping[AlarmEvent, AlarmState]] = {
    **{state: {**row, **_PUT_ASIDE} for state, row in _LIVE.items()},
    **_ASIDE,
}
"""(state, event) -> next state, for a point that does not latch. What is not here is refused."""

LATCHING_STEPS: Mapping[AlarmState, Mapping[AlarmEvent, AlarmState]] = {
    **STEPS,
    S.UNACKNOWLEDGED: {**STEPS[S.UNACKNOWLEDGED], E.CLEAR: S.LATCHED_UNACKNOWLEDGED},
    S.ACKNOWLEDGED: {**STEPS[S.ACKNOWLEDGED], E.CLEAR: S.LATCHED_ACKNOWLEDGED},
}
"""The same for a latching point: when the condition goes, the alarm stands until a person has looked."""

SELF_TAKEN_STEPS: Mapping[AlarmState, Mapping[AlarmEvent, AlarmState]] = {
    **STEPS,
    S.UNACKNOWLEDGED: {**STEPS[S.UNACKNOWLEDGED], E.CLEAR: S.NORMAL},
}
"""The same for a caution that does not latch: it needs nobody's word and closes when its condition goes (handbook 2.6,
from memory of ANSI/ISA-18.2, alarms without acknowledgement)."""

ASIDE = frozenset(_ASIDE)
"""States in which an alarm is not told: put aside by a person, a rule, or maintenance."""

_LEAVES_ASIDE = frozenset({E.UNSHELVE, E.UNSUPPRESS, E.RETURN})


def step(
    state: AlarmState,
    event: AlarmEvent,
    *,
    latching: bool,
    active: bool,
    latch_pending: bool = False,
    needs_no_take: bool = False,
    falls_to: AlarmState | None = None,
) -> AlarmState | None:
    """The next state, or None when the step is refused and nothing changes.

    active: whether the condition holds (the hidden flag of a shelved, suppressed or removed point; for the others it
    follows from the state). latch_pending: a latch stood when the point was put aside, and is kept. needs_no_take: a
    caution, which closes by itself; a latching point never does. falls_to: the weaker way of being put aside that still
    holds when a stronger one is left (handbook 2.6: out of service beats suppressed beats shelved).
    """
    found = table_of(latching=latching, needs_no_take=needs_no_take)[state].get(event)
    if found is None or event not in _LEAVES_ASIDE:
        return found
    if falls_to is not None:
        return falls_to
    if active:
        return S.UNACKNOWLEDGED
    return S.LATCHED_UNACKNOWLEDGED if latch_pending else S.NORMAL


def table_of(*, latching: bool, needs_no_take: bool = False) -> Mapping[AlarmState, Mapping[AlarmEvent, AlarmState]]:
    """The table that such a point lives by."""
    if latching:
        return LATCHING_STEPS
    return SELF_TAKEN_STEPS if needs_no_take else STEPS
