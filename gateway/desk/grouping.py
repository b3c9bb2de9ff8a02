"""What several boats have in common, and floods: many alarms become one text, never an emergency among them."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from gateway.alarms.life import AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Point
from gateway.desk.floods import floods_due, next_over
from gateway.desk.limits import has_room
from gateway.desk.reminding import quiet_until
from gateway.desk.situation import situation_of
from gateway.desk.turn import Recorder
from gateway.telling.call import ALARM_GONE, Call
from gateway.telling.facts import ClearGathered, ClearTold
from gateway.telling.gathering import GATHERED_FOR, MOST_AT_ONCE, Matter
from gateway.telling.notices import AlarmGone, FloodTold, SharedGone, SharedTold
from gateway.telling.rounds import Round
from gateway.telling.situation import Situation
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority
from gateway.wording.group_texts import named_by

_LATCHED = frozenset({AlarmState.LATCHED_UNACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED})


def due(rec: Recorder) -> bool:
    """Note floods that begin or end, and tell all-clears that have waited long enough. True when there were any."""
    return floods_due(rec) | _clears(rec)


def next_due(rec: Recorder) -> Ms | None:
    """The next instant at which a flood ends by itself or an all-clear has waited long enough; None for none."""
    clears = rec.state.telling.clears.values()
    return min((*next_over(rec), *(clear.until for clear in clears)), default=None)


# ---------------------------------------------------------------- many at once


def told_of(rec: Recorder, person: str, rounds: Sequence[Round]) -> bool:
    """Tell all of it in one text, when it is a flood or would be more than a few texts. False when it is neither."""
    telling = rec.state.telling
    calls = {one.call.point: one.call for one in rounds}
    matters = {rec.bundle.matters.get(point) for point in calls}
    if len(matters) == 1 and None not in matters:
        return False  # it is one situation, and is told as such
    if person in telling.floods:
        calls |= {call.point: call for call in telling.calls.values() if _stands_for(call, person)}
    elif len(_texts(rec, rounds)) <= MOST_AT_ONCE:
        return False
    if len(calls) == 1:
        return False
    alarms = [(rec.state.standing.by_point[point], call) for point, call in calls.items()]
    alarms.sort(key=lambda pair: (-pair[1].priority.gravity, pair[0].since, pair[0].number))
    notice = FloodTold(person=person, situations=tuple(situation_of(alarm) for alarm, _ in alarms))
    _tell_group(rec, notice, [call for _, call in alarms], all(person in one.call.told for one in rounds))
    return True


def _stands_for(call: Call, person: str) -> bool:
    waits = any(person == waiting for waiting, _ in call.waiting)
    open_still = not call.over and call.holder is None and not call.muted
    return open_still and call.priority is not Priority.EMERGENCY and (person in call.told or waits)


def _texts(rec: Recorder, rounds: Iterable[Round]) -> set[Matter | str]:
    return {rec.bundle.matters.get(one.call.point, one.call.boat) for one in rounds}


# ---------------------------------------------------------------- what boats share


def tell_shared(rec: Recorder, person: str, matter: Matter, rounds: Sequence[Round]) -> None:
    """One text about what several boats share."""
    ordered = sorted(rounds, key=lambda one: (-one.call.priority.gravity, one.call.number))
    calls = [one.call for one in ordered]
    again = all(person in call.told for call in calls)
    notice = SharedTold(
        person=person,
        kind=matter.kind,
        name=matter.name,
        situations=tuple(situation_of(rec.state.standing.by_point[call.point]) for call in calls),
        again=again,
    )
    _tell_group(rec, notice, calls, again)


def _tell_group(rec: Recorder, notice: SharedTold | FloodTold, calls: Sequence[Call], again: bool) -> None:
    rec.tell(
        notice,
        priority=calls[0].priority,
        numbers=tuple(call.number for call in calls),
        again=again,
        named=named_by(notice, rec.scene()),
        boats=tuple(dict.fromkeys(call.boat for call in calls)),
    )


def gather_clear(rec: Recorder, point: Point, call: Call, alarm: Alarm) -> None:
    """The condition of a shared point has gone: its all-clear waits a little for those of the other boats."""
    telling, matters = rec.state.telling, rec.bundle.matters
    waiting = [clear.until for key, clear in telling.clears.items() if matters.get(key) == matters[point.id]]
    rec.note(point.boat, clear_of(rec, call, alarm, min(waiting, default=rec.now + GATHERED_FOR)))


def clear_of(rec: Recorder, call: Call, alarm: Alarm, until: Ms) -> ClearGathered:
    """An all-clear to everybody who was told of the alarm, that waits until an instant."""
    return ClearGathered(
        number=alarm.number,
        point=alarm.point,
        since=alarm.since,
        gone=rec.now if alarm.gone is None else alarm.gone,
        until=until,
        told=call.heard_of,
        holder=call.holder,
        closed=alarm.state is AlarmState.NORMAL,
        times=alarm.times,
    )


def gather_quiet(rec: Recorder, clear: ClearGathered, person: str) -> None:
    """An all-clear waits for the end of a person's quiet hours; of several persons for the last of them, so that none
    of them is woken."""
    waiting = rec.state.telling.clears.get(clear.point)
    others = waiting.told if waiting is not None and waiting.number == clear.number else ()
    until = max(clear.until, waiting.until) if others and waiting is not None else clear.until
    told = tuple(dict.fromkeys((*others, person)))
    rec.note(clear.point.partition("/")[0], replace(clear, told=told, until=until))


def _clears(rec: Recorder) -> bool:
    clears = [clear for clear in rec.state.telling.clears.values() if clear.until <= rec.now]
    together: dict[tuple[str, Matter | None], list[ClearGathered]] = {}
    for clear in clears:
        for person in clear.told:
            together.setdefault((person, rec.bundle.matters.get(clear.point)), []).append(clear)
    if clears:
        rec.note(INSTALLATION, ClearTold(points=tuple(clear.point for clear in clears)))
    for (person, matter), some in together.items():
        known = [clear for clear in some if clear.point in rec.bundle.points]
        if known:
            _tell_clear(rec, person, matter, known)
    return bool(clears)


def _tell_clear(rec: Recorder, person: str, matter: Matter | None, clears: Sequence[ClearGathered]) -> None:
    points = rec.bundle.points
    priority = max((points[clear.point].priority for clear in clears), key=lambda one: one.gravity)
    numbers = tuple(clear.number for clear in clears)
    boats = tuple(dict.fromkeys(points[clear.point].boat for clear in clears))
    if (until := quiet_until(rec, person, priority)) is not None:
        for clear in clears:
            gather_quiet(rec, replace(clear, until=until), person)
        return
    if matter is None or len(clears) == 1:
        for clear in clears:
            boat, own = points[clear.point].boat, points[clear.point].priority
            if not has_room(rec, person, boat, own, True, about=ALARM_GONE, numbers=(clear.number,)):
                continue
            situation = _cleared(rec, clear)
            latched = situation.state in _LATCHED
            gone = AlarmGone(person=person, boat=boat, situation=situation, latched=latched, holder=clear.holder)
            rec.tell(gone, priority=own, numbers=(clear.number,), again=True)
        return
    if not has_room(rec, person, "", priority, True, about=ALARM_GONE, numbers=numbers, boats=boats):
        return
    notice = SharedGone(
        person=person,
        kind=matter.kind,
        name=matter.name,
        situations=tuple(_cleared(rec, clear) for clear in clears),
    )
    named = tuple(one.number for one in notice.situations if one.state is not AlarmState.NORMAL)
    rec.tell(notice, priority=priority, numbers=numbers, again=True, named=named, boats=boats)


def _cleared(rec: Recorder, clear: ClearGathered) -> Situation:
    """As it is told now: somebody may have taken it since it went."""
    alarm = rec.state.standing.by_point.get(clear.point)
    if alarm is not None and alarm.number == clear.number:
        return replace(situation_of(alarm), gone=clear.gone)
    return Situation(
        number=clear.number,
        point=clear.point,
        state=AlarmState.NORMAL,
        since=clear.since,
        measured="",
        gone=clear.gone,
        times=clear.times,
    )
