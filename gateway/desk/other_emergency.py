"""Another emergency on a boat ends the silence about what somebody has there (design rule 12)."""

from gateway.alarms.facts import AlarmStep
from gateway.alarms.life import ASIDE, AlarmEvent, AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Point
from gateway.desk.asking_holders import ask_again
from gateway.desk.turn import Recorder
from gateway.vocabulary.priority import Priority

GRAVE = frozenset({Priority.EMERGENCY, Priority.ALARM})
"""What is slighter than an alarm stays silent: nobody need hear of it beside an emergency (our choice)."""


def end_silence(rec: Recorder, fact: AlarmStep) -> None:
    """When this step is an emergency that rises: ask the holders of what stands on the same boat at once; the list
    begins anew when no answer comes in time."""
    rises = fact.event is AlarmEvent.RAISE and fact.before is not fact.after and fact.after not in ASIDE
    if not rises or fact.priority is not Priority.EMERGENCY:
        return
    asked: dict[str, list[tuple[Alarm, Point]]] = {}
    for alarm in list(rec.state.standing.by_point.values()):
        point = rec.bundle.points.get(alarm.point)
        held = alarm.state is AlarmState.ACKNOWLEDGED and alarm.taken_by is not None and alarm.active
        if point is not None and held and alarm.boat == fact.boat and alarm.priority in GRAVE:
            asked.setdefault(alarm.taken_by or "", []).append((alarm, point))
    for holder, some in asked.items():
        ask_again(rec, holder, fact.boat, some)
