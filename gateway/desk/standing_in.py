"""Who stands in for whom: takes the turns of a person who is away, and what a limit holds back from a person."""

from dataclasses import replace

from gateway.desk.bundle import Bundle
from gateway.desk.state import State
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority

MATTERS = frozenset({Priority.ALARM, Priority.WARNING})
"""What a stand-in takes when a limit holds it back. An emergency is never held back, and a caution waits well enough
(our choice)."""


def is_away(state: State, bundle: Bundle, person: str, now: Ms) -> bool:
    """Whether the person is away on this day of his or her own zone."""
    known = bundle.people.get(person)
    return known is not None and any(days.hold(now + state.clock_offset, known.zone) for days in known.away)


def stand_in_of(state: State, bundle: Bundle, person: str, boat: str, now: Ms) -> str | None:
    """The id of who stands in for a person on a boat, if he or she can be told: there, not away as well, with a phone
    that takes texts and the boat among theirs."""
    known = bundle.people.get(person)
    other = bundle.people.get(known.stand_in) if known is not None and known.stand_in is not None else None
    if other is None or boat not in other.boats or other.id in state.telling.opted_out:
        return None
    return None if is_away(state, bundle, other.id, now) else other.id


def with_stand_ins(
    state: State, bundle: Bundle, callout: CallOutList, boat: str, priority: Priority, now: Ms
) -> CallOutList:
    """The list with the turns of whoever is away given to the stand-ins. Of an emergency both are told (our choice: it
    may be the one who is away that knows what to do)."""
    taken = {
        person: other
        for person in callout.everyone
        if is_away(state, bundle, person, now) and (other := stand_in_of(state, bundle, person, boat, now)) is not None
    }
    if not taken:
        return callout
    return replace(callout, steps=tuple(_passed(step, taken, priority) for step in callout.steps))


def _passed(step: Step, taken: dict[str, str], priority: Priority) -> Step:
    told: dict[str, None] = {}
    for person in step.tell:
        if person not in taken or priority is Priority.EMERGENCY:
            told[person] = None
        if person in taken:
            told[taken[person]] = None
    return replace(step, tell=tuple(told))


def stands_in_for(state: State, bundle: Bundle, person: str, callout: CallOutList, boat: str, now: Ms) -> str | None:
    """The id of whoever is away on this list and whose turns this person takes; None for somebody on it by right."""
    if person in callout.everyone:
        return None
    away = (one for one in callout.everyone if is_away(state, bundle, one, now))
    return next((one for one in away if stand_in_of(state, bundle, one, boat, now) == person), None)
