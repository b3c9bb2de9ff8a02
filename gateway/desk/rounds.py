"""Rounds of the call-out lists become texts, within each person's limits."""

from collections.abc import Iterable, Mapping

from gateway.alarms.facts import AlarmStep
from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Concerns, Point
from gateway.alarms.standing import BY_TEXT, Alarm
from gateway.desk.bundle import Bundle
from gateway.desk.offering import offers_for
from gateway.desk.turn import Recorder
from gateway.telling.call import ALARM_TOLD, Call
from gateway.telling.calls import Round, rounds_due
from gateway.telling.facts import HeldBack, NotCalled
from gateway.telling.notices import AlarmGone, AlarmTold
from gateway.telling.pacing import alarm_free_from
from gateway.telling.settings import CallOutList
from gateway.telling.situation import Situation
from gateway.vocabulary.priority import Priority


def callouts_of(bundle: Bundle) -> Mapping[str, CallOutList]:
    """Each point's call-out list."""
    return {point.id: bundle.callouts[point.callout] for point in bundle.points.values()}


def situation_of(alarm: Alarm, *, offers: tuple[str, ...] = (), number: int | None = None) -> Situation:
    """An alarm as it is told."""
    return Situation(
        number=alarm.number if number is None else number,
        point=alarm.point,
        state=alarm.state,
        since=alarm.since,
        measured=alarm.measured,
        gone=alarm.gone,
        times=alarm.times,
        received=alarm.raised if alarm.late else None,
        found=alarm.found,
        until=alarm.until,
        worse=alarm.worse,
        offers=offers,
    )


def call_out(rec: Recorder) -> bool:
    """Carry out all rounds that are due now. True when there were any.

    What one person is to hear of one boat at one moment is one text (design rule 12).
    """
    found = list(rounds_due(rec.state.telling, callouts_of(rec.bundle), rec.now))
    gathered: dict[tuple[str, str], list[Round]] = {}
    for one in found:
        if _muted(rec, one.call):
            continue
        rec.note(one.call.boat, one.fact)
        for person in one.persons:
            gathered.setdefault((person, one.call.boat), []).append(one)
    for (person, boat), rounds in gathered.items():
        _tell_one(rec, person, boat, rounds)
    return bool(found)


def _muted(rec: Recorder, call: Call) -> bool:
    """A point that is told only in certain ways of keeping the boat, or an intruder while a visit was announced;
    emergencies are never muted."""
    because = mute_reason(rec, rec.bundle.points[call.point])
    if because is None:
        return False
    rec.note(call.boat, NotCalled(number=call.number, point=call.point, because=because))
    return True


def mute_reason(rec: Recorder, point: Point) -> str | None:
    """Why nobody is told of this point now, None when it is told. An emergency always is, and so is a warning that has
    become an alarm."""
    alarm = rec.state.standing.by_point.get(point.id)
    if alarm is not None and alarm.worse:
        return None
    kept = rec.state.standing.kept(point.boat)
    if point.priority is Priority.EMERGENCY:
        return None
    if point.attendance and kept not in point.attendance:
        return f"the boat is kept {kept}"
    occupied = rec.state.standing.occupancy(point.boat)
    if point.concerns is Concerns.INTRUSION and occupied is not None and occupied.by == BY_TEXT:
        return "a named person is aboard"
    return None


def _tell_one(rec: Recorder, person: str, boat: str, rounds: list[Round]) -> None:
    telling = rec.state.telling
    sent = telling.sent_to(person)
    going: list[Round] = []
    for one in rounds:
        again = person in one.call.told
        if again and telling.is_under_way(person, one.call.number, rec.now):
            because = "its last text has not gone yet"
            rec.note(boat, HeldBack(person=person, about=ALARM_TOLD, because=because, numbers=(one.call.number,)))
            continue
        free = alarm_free_from(sent, one.call.priority, again, rec.bundle.pacing, rec.now)
        if free <= rec.now:
            going.append(one)
        else:
            rec.note(
                boat,
                HeldBack(
                    person=person,
                    about=ALARM_TOLD,
                    because=f"limit on {one.call.priority} texts",
                    numbers=(one.call.number,),
                    until=free,
                ),
            )
    if not going:
        return
    going.sort(key=lambda one: (-one.call.priority.gravity, one.call.number))
    again = all(person in one.call.told for one in going)
    others = dict.fromkeys(p for one in going for p in (*one.call.told, *one.persons) if p != person)
    situations = tuple(
        situation_of(
            rec.state.standing.by_point[one.call.point],
            offers=offers_for(rec, person, rec.bundle.points[one.call.point]),
        )
        for one in going
    )
    rec.tell(
        AlarmTold(person=person, boat=boat, situations=situations, others=tuple(others), again=again),
        priority=going[0].call.priority,
        numbers=tuple(one.call.number for one in going),
        again=again,
    )


def _situation(rec: Recorder, person: str, call: Call) -> Situation:
    offers = offers_for(rec, person, rec.bundle.points[call.point])
    return situation_of(rec.state.standing.by_point[call.point], offers=offers)


def tell_gone(rec: Recorder, point: Point, fact: AlarmStep, call: Call | None, alarm: Alarm) -> None:
    """Those who were told of an alarm hear once that its condition has gone; within their limits, except for
    emergencies."""
    if call is None or fact.before is fact.after:
        return
    latched = fact.after in (AlarmState.LATCHED_UNACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED)
    situation = situation_of(alarm)
    for person in call.told:
        free = alarm_free_from(rec.state.telling.sent_to(person), call.priority, True, rec.bundle.pacing, rec.now)
        if free > rec.now:
            because = f"limit on {call.priority} texts"
            rec.note(
                point.boat,
                HeldBack(person=person, about="alarm gone", because=because, numbers=(fact.number,), until=free),
            )
            continue
        rec.tell(
            AlarmGone(person=person, boat=point.boat, situation=situation, latched=latched, holder=call.holder),
            priority=call.priority,
            numbers=(fact.number,),
            again=True,
        )


def persons_of(rec: Recorder, ids: Iterable[str], *, but: str) -> tuple[str, ...]:
    """Those of the ids that are still in the installation, without one."""
    return tuple(person for person in ids if person in rec.bundle.people and person != but)
