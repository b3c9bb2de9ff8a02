""" "have it" as an answer to a grouped text: takes what that text named, and never more."""

from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.stepping import stepped
from gateway.desk.situation import situation_of
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.telling.notices import AlarmTaken, GroupTaken
from gateway.vocabulary.moments import DAY
from gateway.vocabulary.priority import Priority

FREE = frozenset({AlarmState.UNACKNOWLEDGED, AlarmState.GONE_UNACKNOWLEDGED, AlarmState.LATCHED_UNACKNOWLEDGED})
"""States in which nobody has an alarm."""

ANSWERED_WITHIN = DAY
"""A grouped text older than this is not what a bare "have it" answers (our choice)."""


def group_meant(rec: Recorder, person: Person) -> tuple[Alarm, ...]:
    """What the person's last text about alarms named, as far as nobody has it; empty when that was no grouped text, or
    when something else, above all an emergency, could be meant as well."""
    last = rec.state.telling.named.get(person.id)
    if last is None or not last.named or rec.now - last.at > ANSWERED_WITHIN:
        return ()
    free = [a for a in rec.state.standing.by_point.values() if a.state in FREE and a.boat in person.boats]
    if any(alarm.number not in last.numbers and _known_to(rec, person, alarm) for alarm in free):
        return ()
    return tuple(alarm for alarm in free if alarm.number in last.named)


def _known_to(rec: Recorder, person: Person, alarm: Alarm) -> bool:
    """Whether "have it" may mean this one too: it was told to the person, or it is an emergency of a boat of theirs."""
    call = rec.state.telling.calls.get(alarm.point)
    told = call is not None and person.id in call.heard_of
    return told or rec.bundle.points[alarm.point].priority is Priority.EMERGENCY


def together_with(rec: Recorder, person: Person, number: int) -> tuple[int, ...]:
    """The alarms of the last grouped text to this person, when this one was among them; else this one alone."""
    last = rec.state.telling.named.get(person.id)
    return last.numbers if last is not None and number in last.numbers else (number,)


def take_group(rec: Recorder, person: Person, alarms: tuple[Alarm, ...]) -> None:
    """The person becomes the holder of each; the others hear so once, of those that they were told of."""
    others: dict[str, list[Alarm]] = {}
    for alarm in alarms:
        call = rec.state.telling.calls.get(alarm.point)
        point = rec.bundle.points[alarm.point]
        rec.note(point.boat, stepped(rec.state.standing, point, AlarmEvent.TAKE, rec.now, person=person.id))
        heard = () if call is None else call.told if alarm.taken_by == person.id else call.heard_of
        for other in heard:
            if other != person.id and other in rec.bundle.people:
                others.setdefault(other, []).append(alarm)
    last = rec.state.telling.named[person.id]
    known = rec.state.standing.by_point.values()
    left = sum(alarm.number in last.numbers and alarm.state in FREE for alarm in known)
    _tell(rec, person.id, person.id, list(alarms), left)
    for other, some in others.items():
        _tell(rec, other, person.id, some, 0)


def _tell(rec: Recorder, to: str, holder: str, alarms: list[Alarm], left: int) -> None:
    numbers = tuple(alarm.number for alarm in alarms)
    situations = tuple(situation_of(alarm) for alarm in alarms)
    if len(alarms) == 1 and not left:
        notice = AlarmTaken(person=to, boat=alarms[0].boat, situation=situations[0], holder=holder)
        rec.tell(notice, numbers=numbers)
        return
    boats = tuple(dict.fromkeys(alarm.boat for alarm in alarms))
    rec.tell(GroupTaken(person=to, holder=holder, situations=situations, left=left), numbers=numbers, boats=boats)
