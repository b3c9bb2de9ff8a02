"""What falls due of alarms that stand: shelves and services that end, holders asked again, warnings that nobody took,
points to mend, and how boats are kept."""

from collections.abc import Iterator

from gateway.alarms.facts import AlarmEscalated, PointFaultTold, ServiceReminded
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.limits import REMINDED_BEFORE
from gateway.alarms.nuisance import PointFault, stale_from
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Point
from gateway.alarms.stepping import stepped
from gateway.desk.aftermath import found_at_fault
from gateway.desk.asking_holders import ask_again
from gateway.desk.attending import attendance_due
from gateway.desk.bundle import Bundle
from gateway.desk.serving import bring_back
from gateway.desk.situation import situation_of
from gateway.desk.state import State
from gateway.desk.turn import Recorder
from gateway.telling.aside_notices import PointToMend, ServiceReminder
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsBand, IsCompared, IsNumber, leaves_of

_ASIDE = frozenset({AlarmState.SHELVED, AlarmState.SUPPRESSED, AlarmState.OUT_OF_SERVICE})


def next_standing_due(state: State, bundle: Bundle) -> Ms | None:
    """The next instant at which something falls due here; None when nothing will."""
    dues = [due for alarm, point in _known(state, bundle) for due in _dues(state, alarm, point)]
    dues += [keeping.until for keeping in state.standing.attendance.values() if keeping.until is not None]
    dues += [known.tell_at for known in state.standing.habits.untold()]
    return min(dues, default=None)


def _known(state: State, bundle: Bundle) -> Iterator[tuple[Alarm, Point]]:
    for alarm in list(state.standing.by_point.values()):
        point = bundle.points.get(alarm.point)
        if point is not None:
            yield alarm, point


def _dues(state: State, alarm: Alarm, point: Point) -> Iterator[Ms]:
    found = (
        alarm.until,
        _remind_at(alarm),
        _ask_at(alarm, point),
        _unwanted_at(alarm),
        _worse_at(state, alarm, point),
        _stale_at(state, alarm),
    )
    return (due for due in found if due is not None)


def standing_due(rec: Recorder) -> bool:
    """Do what is due up to the moment of `rec`. True when there was any."""
    asked: dict[tuple[str, str], list[tuple[Alarm, Point]]] = {}
    found = False
    for alarm, point in _known(rec.state, rec.bundle):
        if _due(alarm.until, rec.now):
            bring_back(rec, point, person=None, because="its time is over")
        elif _due(_remind_at(alarm), rec.now):
            _remind(rec, alarm, point)
        elif _due(_ask_at(alarm, point), rec.now):
            asked.setdefault((alarm.taken_by or "", alarm.boat), []).append((alarm, point))
        elif _due(_unwanted_at(alarm), rec.now):
            because = "nobody took it over"
            rec.note(alarm.boat, stepped(rec.state.standing, point, AlarmEvent.RE_ALARM, rec.now, because=because))
        elif _due(_worse_at(rec.state, alarm, point), rec.now):
            rec.note(
                alarm.boat,
                AlarmEscalated(number=alarm.number, point=point.id, boat=alarm.boat, priority=Priority.ALARM),
            )
        elif _due(_stale_at(rec.state, alarm), rec.now):
            found_at_fault(rec, point.id, PointFault.STALE)
        else:
            continue
        found = True
    for (holder, boat), some in asked.items():
        ask_again(rec, holder, boat, some)
    return found | _faults_due(rec) | attendance_due(rec)


def _due(at: Ms | None, now: Ms) -> bool:
    return at is not None and at <= now


def _remind_at(alarm: Alarm) -> Ms | None:
    if alarm.state is not AlarmState.OUT_OF_SERVICE or alarm.reminded or alarm.out_until is None:
        return None
    return alarm.out_until - REMINDED_BEFORE


def _ask_at(alarm: Alarm, point: Point) -> Ms | None:
    if alarm.state is not AlarmState.ACKNOWLEDGED or not alarm.active or alarm.taken is None:
        return None
    return alarm.taken + point.ask_again if point.ask_again is not None else None


def _unwanted_at(alarm: Alarm) -> Ms | None:
    """When the list begins anew for what its holder has handed over and nobody took."""
    return alarm.offered_until if alarm.state is AlarmState.ACKNOWLEDGED else None


def _worse_at(state: State, alarm: Alarm, point: Point) -> Ms | None:
    if point.becomes_alarm is None or alarm.worse or alarm.state is not AlarmState.UNACKNOWLEDGED:
        return None
    call = state.telling.calls.get(alarm.point)
    return None if call is None or call.muted else alarm.raised + point.becomes_alarm


def _stale_at(state: State, alarm: Alarm) -> Ms | None:
    if not alarm.active or alarm.state in _ASIDE:
        return None
    at = stale_from(alarm.raised)
    return at if state.standing.habits.is_new(alarm.point, PointFault.STALE, at) else None


def _remind(rec: Recorder, alarm: Alarm, point: Point) -> None:
    rec.note(alarm.boat, ServiceReminded(number=alarm.number, point=point.id))
    by = () if alarm.by is None else (alarm.by,)
    for person in dict.fromkeys((*by, *rec.bundle.minders(alarm.boat))):
        rec.tell(ServiceReminder(person=person, boat=alarm.boat, situation=situation_of(alarm)))


def _faults_due(rec: Recorder) -> bool:
    due = [known for known in rec.state.standing.habits.untold() if known.tell_at <= rec.now]
    for known in due:
        rec.note(known.boat, PointFaultTold(point=known.point, fault=known.fault))
        point, alarm = rec.bundle.points.get(known.point), rec.state.standing.by_point.get(known.point)
        if point is None:
            continue
        limits = any(isinstance(leaf, IsNumber | IsBand | IsCompared) for leaf in leaves_of(point.when))
        for person in rec.bundle.minders(known.boat):
            rec.tell(
                PointToMend(
                    person=person,
                    boat=known.boat,
                    point=point.id,
                    fault=known.fault,
                    has_limit=limits,
                    number=alarm.number if alarm is not None else None,
                )
            )
    return bool(due)
