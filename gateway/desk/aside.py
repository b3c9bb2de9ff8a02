"""Persons who put alarms aside or bring them back: "shelve 14 for 2 h", "out of service 14 for 3 days"."""

from dataclasses import replace

from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.limits import LONGEST_OUT, LONGEST_SHELF, RETURNS_AT
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Point
from gateway.alarms.stepping import stepped
from gateway.desk.moment import Moment
from gateway.desk.serving import bring_back, shelve, take_out
from gateway.desk.situation import situation_of
from gateway.desk.taking import meant
from gateway.desk.turn import Recorder
from gateway.people.settings import Person, Role
from gateway.telling.aside_notices import AsideRefused, CannotAside
from gateway.telling.notices import AlarmAnswer
from gateway.vocabulary.moments import MINUTE, Ms
from grammar.meanings import PutBack, RemoveAlarm, ShelveAlarm, UnshelveAlarm

AsideRequest = ShelveAlarm | UnshelveAlarm | RemoveAlarm | PutBack

_EVENTS = {
    ShelveAlarm: AlarmEvent.SHELVE,
    UnshelveAlarm: AlarmEvent.UNSHELVE,
    RemoveAlarm: AlarmEvent.REMOVE,
    PutBack: AlarmEvent.RETURN,
}


def put_aside(rec: Recorder, person: Person, request: AsideRequest, boat: str | None) -> None:
    """What a person asks of one alarm. Only who minds the boat's wiring puts aside; bringing back, which gives a
    protection back, is open to everybody whose matter the boat is but the marina office."""
    found = meant(rec, person, request.alarm, boat, frozenset())
    if isinstance(found, AlarmAnswer):
        rec.tell(found)
        return
    point = rec.bundle.points[found.point]
    refused = _refused(rec, person, request, found, point)
    if refused is not None:
        fact = stepped(rec.state.standing, point, _EVENTS[type(request)], rec.now, person=person.id)
        rec.note(point.boat, replace(fact, after=fact.before, because=str(refused.cannot)))  # a refused try is kept
        rec.tell(refused)
        return
    match request:
        case ShelveAlarm(minutes=minutes):
            shelve(rec, point, person=person.id, until=rec.now + minutes * MINUTE)
        case RemoveAlarm(days=days):
            until = Moment(rec.state, rec.bundle, rec.now).day_at(point.boat, days, RETURNS_AT)
            take_out(rec, point, person=person.id, until=min(until, rec.now + LONGEST_OUT), because="")
        case _:
            bring_back(rec, point, person=person.id)


def _refused(rec: Recorder, person: Person, request: AsideRequest, alarm: Alarm, point: Point) -> AsideRefused | None:
    boat = point.boat
    lifts = isinstance(request, ShelveAlarm | RemoveAlarm)
    roles = (Role.OWNER, Role.CARETAKER, Role.INSTALLER)
    who = rec.bundle.minders(boat) if lifts else rec.bundle.concerned(boat, *roles)
    longest: Ms = LONGEST_SHELF.get(alarm.priority, 0)
    cannot = _why(person, request, alarm, who, longest)
    if cannot is None:
        return None
    return AsideRefused(
        person=person.id, boat=boat, situation=situation_of(alarm), cannot=cannot, who=who, longest=longest
    )


def _why(person: Person, request: AsideRequest, alarm: Alarm, who: tuple[str, ...], longest: Ms) -> CannotAside | None:
    if person.id not in who:
        return CannotAside.NOT_YOURS
    match request:
        case ShelveAlarm() if longest == 0:
            return CannotAside.EMERGENCY
        case ShelveAlarm(minutes=minutes) if minutes * MINUTE > longest:
            return CannotAside.TOO_LONG
        case ShelveAlarm() if alarm.state in (AlarmState.SUPPRESSED, AlarmState.OUT_OF_SERVICE):
            return CannotAside.ASIDE_ALREADY
        case RemoveAlarm() if alarm.state is AlarmState.OUT_OF_SERVICE:
            return CannotAside.ASIDE_ALREADY
        case UnshelveAlarm() if alarm.state is not AlarmState.SHELVED:
            return CannotAside.NOT_SHELVED
        case PutBack() if alarm.state is not AlarmState.OUT_OF_SERVICE:
            return CannotAside.NOT_OUT
    return None
