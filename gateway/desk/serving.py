"""Points out of service and alarms on the shelf: how they go there and how they come back, whoever says so."""

from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Point
from gateway.alarms.stepping import stepped
from gateway.desk.rounds import callouts_of
from gateway.desk.situation import situation_of
from gateway.desk.turn import Recorder
from gateway.people.settings import Role
from gateway.telling.aside_notices import AlarmAside, AlarmBack
from gateway.vocabulary.moments import Ms


def fallen_back(alarm: Alarm, now: Ms) -> AlarmState | None:
    """The weaker way of being put aside that still holds when a stronger one is left: a shelf that still has time."""
    return AlarmState.SHELVED if alarm.shelved_until is not None and alarm.shelved_until > now else None


def shelve(rec: Recorder, point: Point, *, person: str, until: Ms) -> None:
    """A person puts an alarm on the shelf; those who were told of it hear so."""
    call = rec.state.telling.calls.get(point.id)
    told = call.heard_of if call is not None else ()
    rec.note(point.boat, stepped(rec.state.standing, point, AlarmEvent.SHELVE, rec.now, person=person, until=until))
    _say_aside(rec, point, (person, *told), by=person, because="")


def take_out(rec: Recorder, point: Point, *, person: str | None, until: Ms, because: str) -> None:
    """A point goes out of service; all to whom the boat matters hear so, because a protection is lifted."""
    rec.note(
        point.boat,
        stepped(rec.state.standing, point, AlarmEvent.REMOVE, rec.now, person=person, until=until, because=because),
    )
    by = () if person is None else (person,)
    _say_aside(rec, point, (*by, *_all_of(rec, point)), by=person, because=because)


def _say_aside(rec: Recorder, point: Point, persons: tuple[str, ...], *, by: str | None, because: str) -> None:
    alarm = rec.state.standing.by_point[point.id]
    for one in dict.fromkeys(persons):
        if one in rec.bundle.people:
            rec.tell(
                AlarmAside(person=one, boat=point.boat, situation=situation_of(alarm), by=by, because=because),
                numbers=(alarm.number,),
            )


def bring_back(rec: Recorder, point: Point, *, person: str | None, because: str = "") -> None:
    """An alarm leaves the shelf, or a point returns to service. What stands is told by its call-out list at once;
    everybody else who heard of its being put aside hears of its return."""
    alarm = rec.state.standing.by_point[point.id]
    out = alarm.state is AlarmState.OUT_OF_SERVICE
    event = AlarmEvent.RETURN if out else AlarmEvent.UNSHELVE
    back = fallen_back(alarm, rec.now) if out else None
    fact = stepped(rec.state.standing, point, event, rec.now, person=person, because=because, falls_to=back)
    rec.note(point.boat, fact)
    if fact.after is AlarmState.SHELVED:
        return
    called = fact.after is not AlarmState.NORMAL
    concerned = _all_of(rec, point) if out else ()
    by = tuple(one for one in (person, alarm.by) if one is not None)
    on_list = callouts_of(rec.bundle)[point.id].everyone if called else ()
    for one in dict.fromkeys((*by, *concerned)):
        if one in rec.bundle.people and (one == person or one not in on_list):
            situation = situation_of(alarm)
            rec.tell(
                AlarmBack(
                    person=one, boat=point.boat, situation=situation, left=alarm.state, by=person, stands=alarm.active
                ),
            )


def _all_of(rec: Recorder, point: Point) -> tuple[str, ...]:
    return rec.bundle.concerned(point.boat, Role.OWNER, Role.CARETAKER, Role.INSTALLER)
