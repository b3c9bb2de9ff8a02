"""What follows from a step of an alarm, in the same moment and before anybody is told.

One alarm hides another while it stands, and what it hid is told when it goes; a point that was muted by the way the
boat is kept is told when that changes; a point that misbehaves is noticed; what the files take out of service goes out.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from gateway.alarms.facts import (
    AlarmEscalated,
    AlarmGivenUp,
    AlarmStep,
    AttendanceChanged,
    PersonSeen,
    PointAtFault,
    VisitEnded,
)
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.limits import WORKING_DAY_BEGINS, WORKING_DAY_ENDS
from gateway.alarms.nuisance import PointFault, chatters, often_fleeting
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Concerns, Point
from gateway.alarms.stepping import stepped
from gateway.desk.bundle import Bundle
from gateway.desk.facts import InstallationUsed
from gateway.desk.moment import Moment
from gateway.desk.other_emergency import end_silence
from gateway.desk.practice_ends import give_way
from gateway.desk.rounds import mute_reason
from gateway.desk.serving import bring_back, fallen_back, take_out
from gateway.desk.turn import Recorder
from gateway.telling.facts import CalledAfterAll
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority

_STANDS = frozenset({AlarmState.SHELVED, AlarmState.OUT_OF_SERVICE})
"""Put aside so, an alarm hides nothing: nobody is told of it, and nobody would be told of the other one."""


@dataclass(frozen=True, slots=True)
class Aftermath:
    """For one installation. hidden_of: ids of the points that a point hides while it stands. hidden: those points that
    some other may hide, by boat."""

    hidden_of: Mapping[str, tuple[str, ...]]
    hidden: Mapping[str, tuple[str, ...]]

    def follow(self, rec: Recorder, since: int = 0) -> None:
        """Draw the consequences of all facts of this turn from the one at place `since` on, and of what follows."""
        place = since
        while place < len(rec.facts):
            fact = rec.facts[place]
            place += 1
            self._one(rec, fact)

    def _one(self, rec: Recorder, fact: Fact) -> None:
        match fact:
            case AlarmStep():
                end_silence(rec, fact)
                self._settle(rec, (fact.point, *self.hidden_of.get(fact.point, ())))
                _misbehaves(rec, fact)
                _with_others(rec, fact)
                give_way(rec, fact.point)
            case AlarmEscalated() | CalledAfterAll():
                give_way(rec, fact.point)
            case AlarmGivenUp():
                self._settle(rec, self.hidden_of.get(fact.point, ()))
            case AttendanceChanged() | VisitEnded() | PersonSeen():
                self._settle(rec, self.hidden.get(fact.boat, ()))
                _call_after_all(rec, fact.boat, left=isinstance(fact, VisitEnded))
            case InstallationUsed():
                _serve_files(rec)
                self._settle(rec, [point for points in self.hidden.values() for point in points])
                for boat in rec.bundle.boats:
                    _call_after_all(rec, boat)
                self._unknown_hiders(rec)

    def _settle(self, rec: Recorder, points: Iterable[str]) -> None:
        for key in points:
            alarm, point = rec.state.standing.by_point.get(key), rec.bundle.points.get(key)
            if alarm is None or point is None:
                continue
            hider = hider_of(rec, point)
            if hider is not None and alarm.state is AlarmState.UNACKNOWLEDGED:
                because = f"hidden by {hider.name}"
                rec.note(point.boat, stepped(rec.state.standing, point, AlarmEvent.SUPPRESS, rec.now, because=because))
            elif hider is None and alarm.state is AlarmState.SUPPRESSED:
                back = fallen_back(alarm, rec.now)
                because = "what hid it no longer stands"
                rec.note(
                    point.boat,
                    stepped(rec.state.standing, point, AlarmEvent.UNSUPPRESS, rec.now, because=because, falls_to=back),
                )

    def _unknown_hiders(self, rec: Recorder) -> None:
        """A point that may no longer be hidden by anything in the new installation is told."""
        suppressed = [a.point for a in rec.state.standing.by_point.values() if a.state is AlarmState.SUPPRESSED]
        self._settle(rec, suppressed)


def aftermath_of(bundle: Bundle) -> Aftermath:
    """The index for these points."""
    hides: dict[str, list[str]] = {}
    hidden: dict[str, list[str]] = {}
    for point in bundle.points.values():
        for hider in point.hidden_by:
            hides.setdefault(hider, []).append(point.id)
        if point.hidden_by:
            hidden.setdefault(point.boat, []).append(point.id)
    return Aftermath(
        {key: tuple(some) for key, some in hides.items()}, {key: tuple(some) for key, some in hidden.items()}
    )


def hider_of(rec: Recorder, point: Point) -> Point | None:
    """The first of those that hide this point that stands now and is told itself, or is hidden by one that is."""
    return next((hider for hider in _hiders(rec, point) if _hides(rec, hider)), None)


def _hiders(rec: Recorder, point: Point) -> Iterator[Point]:
    return (rec.bundle.points[key] for key in point.hidden_by if key in rec.bundle.points)


def _hides(rec: Recorder, hider: Point) -> bool:
    alarm = rec.state.standing.by_point.get(hider.id)
    return alarm is not None and alarm.active and alarm.state not in _STANDS and mute_reason(rec, hider) is None


def _call_after_all(rec: Recorder, boat: str, *, left: bool = False) -> None:
    """Nobody was told of these while the boat was kept otherwise; what still stands is told now.

    left: a visit has ended. The hatch that stands open is the leaver's until the point's own delay has passed once more
    (handbook P22: entry delay 45 s), so it is told then, if it stands still."""
    for call in list(rec.state.telling.calls.values()):
        alarm = rec.state.standing.by_point.get(call.point)
        point = rec.bundle.points.get(call.point)
        if call.boat != boat or not call.muted or alarm is None or point is None or not alarm.active:
            continue
        if mute_reason(rec, point) is None:
            anew = left and point.concerns is Concerns.INTRUSION and bool(point.when.lasting)
            rec.note(
                boat,
                CalledAfterAll(
                    number=alarm.number,
                    point=point.id,
                    boat=boat,
                    priority=call.priority,
                    because="the visit is over" if left else f"the boat is kept {rec.state.standing.kept(boat)}",
                    anew_at=rec.now + point.when.lasting if anew else None,
                ),
            )


def _serve_files(rec: Recorder) -> None:
    """What the files say of points that are out of service: each written date takes a point out once."""
    standing = rec.state.standing
    for point in rec.bundle.points.values():
        alarm, wanted = standing.by_point.get(point.id), point.out_of_service
        out = alarm is not None and alarm.state is AlarmState.OUT_OF_SERVICE
        new = wanted is not None and wanted.until > rec.now and standing.declared.get(point.id) != wanted.until
        if wanted is not None and new and not out:
            because = f"{wanted.by}: {wanted.because}"
            take_out(rec, point, person=None, until=wanted.until, because=because)
        elif wanted is None and out and alarm is not None and alarm.by is None:
            bring_back(rec, point, person=None, because="the installation no longer says so")


def _with_others(rec: Recorder, fact: AlarmStep) -> None:
    """A boat that falls silent while something graver than a warning stands: nobody can see how that goes on, so the
    silence is an alarm at once (handbook 3, P26)."""
    point = rec.bundle.points.get(fact.point)
    if fact.event is not AlarmEvent.RAISE or fact.after is not AlarmState.UNACKNOWLEDGED:
        return
    alarm = rec.state.standing.by_point.get(fact.point)
    if point is None or alarm is None or alarm.worse or not point.alarm_with_others:
        return
    if any(_is_grave(rec, other) for other in rec.state.standing.by_point.values() if other.boat == fact.boat):
        escalated = AlarmEscalated(number=alarm.number, point=point.id, boat=point.boat, priority=Priority.ALARM)
        rec.note(point.boat, escalated)


def _is_grave(rec: Recorder, alarm: Alarm) -> bool:
    point = rec.bundle.points.get(alarm.point)
    graver = point is not None and point.priority.gravity > Priority.WARNING.gravity
    return alarm.active and (graver or alarm.worse) and alarm.state not in _STANDS


def _misbehaves(rec: Recorder, fact: AlarmStep) -> None:
    habit = rec.state.standing.habits.of(fact.point)
    if fact.event is AlarmEvent.RAISE and chatters(habit.raised):
        found_at_fault(rec, fact.point, PointFault.CHATTERING)
    elif fact.event is AlarmEvent.CLEAR and often_fleeting(habit.fleeting, rec.now):
        found_at_fault(rec, fact.point, PointFault.FLEETING)


def found_at_fault(rec: Recorder, point: str, fault: PointFault) -> None:
    """A point needs mending: who mends it is told, once, and not in the night."""
    known = rec.bundle.points.get(point)
    if known is None or not rec.state.standing.habits.is_new(point, fault, rec.now):
        return
    rec.note(known.boat, PointAtFault(point=point, boat=known.boat, fault=fault, tell_at=_by_day(rec, known.boat)))


def _by_day(rec: Recorder, boat: str) -> Ms:
    moment = Moment(rec.state, rec.bundle, rec.now)
    if WORKING_DAY_BEGINS <= moment.minute_of_day(boat, rec.now) < WORKING_DAY_ENDS:
        return rec.now
    return moment.next_clock_time(boat, WORKING_DAY_BEGINS)
