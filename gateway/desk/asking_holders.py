"""Who has an alarm is asked whether that is still so; the call-out list begins anew when no answer comes in time."""

from gateway.alarms.life import AlarmEvent
from gateway.alarms.limits import answers_within
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Point
from gateway.alarms.stepping import stepped
from gateway.desk.situation import situation_of
from gateway.desk.turn import Recorder
from gateway.telling.aside_notices import HolderAsked
from gateway.telling.situation import Situation


def ask_again(rec: Recorder, holder: str, boat: str, some: list[tuple[Alarm, Point]]) -> None:
    """The holder is asked first; the call-out list begins anew when no answer comes in time."""
    worst = max((alarm.priority for alarm, _ in some), key=lambda priority: priority.gravity)
    until = rec.now + answers_within(worst)
    known = holder in rec.bundle.people
    situations: list[Situation] = []
    for _, point in some:
        fact = stepped(
            rec.state.standing, point, AlarmEvent.RE_ALARM, rec.now, person=holder, until=until if known else None
        )
        rec.note(boat, fact)
        situations.append(situation_of(rec.state.standing.by_point[point.id]))
    if known:
        rec.tell(
            HolderAsked(person=holder, boat=boat, situations=tuple(situations), until=until),
            priority=worst,
            numbers=tuple(alarm.number for alarm, _ in some),
            again=True,
        )
