"""Rounds of call-out lists: when each falls due, whom it names, and who is told next."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from gateway.telling.call import Call
from gateway.telling.calls import Telling
from gateway.telling.facts import RoundCalled
from gateway.telling.gathering import JOINS_WITHIN, Due, Gathered, Matter, gathered
from gateway.telling.settings import CallOutList
from gateway.vocabulary.moments import Ms


def due_at(call: Call, callout: CallOutList) -> Ms | None:
    """When something falls due for this call (instant): its next round, or room for a first text that was held back;
    None when nobody is to be called any more."""
    if call.over or call.holder is not None:
        return None
    dues = [until for _, until in call.waiting]
    following = _round_at(call, callout)
    return min(dues if following is None else [*dues, following], default=None)


def _round_at(call: Call, callout: CallOutList) -> Ms | None:
    if call.next_step < len(callout.steps):
        step = call.began + callout.steps[call.next_step].after
        return min(step, call.last_round) if call.hastened and call.last_round is not None else step
    if call.last_round is None:
        return None
    if callout.repeat is None:  # what was raised again must be told again, list without repeat or not
        return call.last_round + JOINS_WITHIN if call.rejoined else None
    return call.last_round + callout.repeat


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """Persons to be texted now of one alarm, and those to be called. fact: what to record of it."""

    call: Call
    persons: tuple[str, ...]
    fact: RoundCalled
    rung: tuple[str, ...] = ()


def rounds_due(
    telling: Telling, lists: Mapping[str, CallOutList], now: Ms, matters: Mapping[str, Matter] | None = None
) -> Iterator[Round]:
    """The rounds that are due, worst alarms first. lists: the call-out list of each point; a point without one has
    gone from the installation. matters: what points share with other boats', which are called together.

    After an outage several steps may be due at once: they are one round, told once.
    """
    dues = _dues(telling, lists, matters or {})
    for call in sorted(telling.calls.values(), key=lambda c: (-c.priority.gravity, c.number)):
        due = dues.get(call.point)
        if due is not None and due.at <= now:
            found = _round(call, lists[call.point], max(now, due.until), now)
            if found is not None:
                yield found


def _dues(telling: Telling, lists: Mapping[str, CallOutList], matters: Mapping[str, Matter]) -> Mapping[str, Gathered]:
    dues = []
    told: dict[Matter, Ms] = {}
    for call in telling.calls.values():
        callout = lists.get(call.point)
        at = due_at(call, callout) if callout is not None else None
        if at is not None:
            dues.append(Due(call.point, call.priority, call.last_round, at))
        matter = matters.get(call.point)
        if matter is not None and call.last_round is not None:
            told[matter] = max(told.get(matter, call.last_round), call.last_round)
    return gathered(dues, matters, told)


def _round(call: Call, callout: CallOutList, until: Ms, now: Ms) -> Round | None:
    """The round of one call. until: how far its list is followed now. None where it was only to go along with others'
    and all that it waits for is room that is not there yet: a round of nobody would put off its next one."""
    following = _round_at(call, callout)
    if following is None or following > until:
        only = tuple(person for person, free in call.waiting if free <= now)
        if not only:
            return None
        fact = RoundCalled(
            number=call.number,
            point=call.point,
            step=call.next_step - 1,
            next_step=call.next_step,
            again=False,
            only=only,
        )
        return Round(call=call, persons=only, fact=fact)
    if call.next_step < len(callout.steps):
        return _steps_round(call, callout, until)
    fact = RoundCalled(
        number=call.number, point=call.point, step=len(callout.steps) - 1, next_step=call.next_step, again=True
    )
    rung = (p for step in callout.steps if step.rings(call.priority) for p in step.tell)
    texted = (p for step in callout.steps if step.text for p in step.tell)
    return Round(call=call, persons=tuple(dict.fromkeys(texted)), fact=fact, rung=tuple(dict.fromkeys(rung)))


def _steps_round(call: Call, callout: CallOutList, now: Ms) -> Round:
    passed = sum(call.began + step.after <= now for step in callout.steps)
    if call.hastened:  # a text was refused: one step ahead of its time, not the whole list at once
        ahead = (place for place in range(call.next_step, len(callout.steps)) if callout.steps[place].tell)
        passed = max(passed, next(ahead, call.next_step) + 1)
    steps = callout.steps[call.next_step : passed]
    told = (p for step in steps if step.text for p in step.tell)
    rung = (p for step in steps if step.rings(call.priority) for p in step.tell)
    along = [person for person, until in call.waiting if until <= now or not call.hastened]
    persons = dict.fromkeys((*told, *along))
    fact = RoundCalled(
        number=call.number, point=call.point, step=passed - 1, next_step=passed, again=call.next_step > 0
    )
    return Round(call=call, persons=tuple(persons), fact=fact, rung=tuple(dict.fromkeys(rung)))


def next_due(
    telling: Telling, lists: Mapping[str, CallOutList], matters: Mapping[str, Matter] | None = None
) -> Ms | None:
    """The next instant at which a round falls due, None when none will."""
    return min((due.at for due in _dues(telling, lists, matters or {}).values()), default=None)


def told_next(
    call: Call, callout: CallOutList, person: str, unreachable: Collection[str] = ()
) -> tuple[str | None, Ms | None]:
    """Who besides this person is told next, and when (instant); both None when nobody else is on the list. unreachable:
    ids of those whose phone has opted out."""
    if due_at(call, callout) is None:
        return None, None
    for place in range(call.next_step, len(callout.steps)):
        others = [p for p in callout.steps[place].tell if p != person and p not in unreachable]
        if others:
            return others[0], call.began + callout.steps[place].after
    others = [p for p in callout.everyone if p != person and p not in unreachable]
    at = _round_at(replace(call, next_step=len(callout.steps), last_round=_last_step(call, callout)), callout)
    return (others[0], at) if others and at is not None else (None, None)


def _last_step(call: Call, callout: CallOutList) -> Ms | None:
    """When the list has been gone through: repeats count from there."""
    return call.began + callout.steps[-1].after if call.next_step < len(callout.steps) else call.last_round
