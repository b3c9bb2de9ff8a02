"""The alarms that stand, their numbers, and who is aboard: the room's part of the state."""

from dataclasses import dataclass, field, replace
from typing import TypeAlias

from gateway.alarms.aboard import AWAY, BY_TEXT, UNKNOWN_OCCUPANCY, Keeping, Occupied
from gateway.alarms.facts import (
    AlarmEscalated,
    AlarmGivenUp,
    AlarmStep,
    AttendanceAsked,
    AttendanceChanged,
    PersonSeen,
    PointAtFault,
    PointFaultTold,
    ServiceReminded,
    VisitEnded,
)
from gateway.alarms.habits import Habits
from gateway.alarms.holding import HandOverAsked, HolderChanged, HolderProgressed
from gateway.alarms.life import ASIDE, AlarmEvent, AlarmState
from gateway.alarms.limits import LONGEST_OUT, REMINDED_BEFORE
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.settings import Attendance
from gateway.vocabulary.moments import DAY, Ms

HIGHEST_NUMBER = 9999
"""Alarm numbers have at most four digits, so that they are quick to text (design 5)."""

NUMBER_RESTS = 30 * DAY
"""A number is not given again within this time of its alarm's closing (design 5)."""

StandingFact: TypeAlias = (
    AlarmStep
    | AlarmGivenUp
    | AlarmEscalated
    | ServiceReminded
    | PersonSeen
    | VisitEnded
    | AttendanceChanged
    | AttendanceAsked
    | PointAtFault
    | PointFaultTold
    | HolderProgressed
    | HolderChanged
    | HandOverAsked
)


@dataclass(slots=True)
class Standing:
    """by_point: alarms that are not at rest. closed: numbers that rest, with the instant of closing.

    declared: by point, the return date in the files that was carried out last, so that one written date takes a point
    out of service once. habits: how the points behave.

    occupied: by boat; None after a visit was ended; a boat that is missing here is taken as occupied (handbook G2).
    """

    by_point: dict[str, Alarm] = field(default_factory=dict)
    last_number: int = 0
    closed: dict[int, Ms] = field(default_factory=dict)
    occupied: dict[str, Occupied | None] = field(default_factory=dict)
    attendance: dict[str, Keeping] = field(default_factory=dict)
    declared: dict[str, Ms] = field(default_factory=dict)
    habits: Habits = field(default_factory=Habits)

    def alarm(self, number: int) -> Alarm | None:
        """The alarm with this number, None when there is none that stands."""
        return next((alarm for alarm in self.by_point.values() if alarm.number == number), None)

    def is_active(self, point: str) -> bool:
        """Whether the point's condition holds, as far as the alarm knows."""
        alarm = self.by_point.get(point)
        return alarm is not None and alarm.active

    def occupancy(self, boat: str) -> Occupied | None:
        """Who must be taken to be aboard; None only after a visit was ended by name. Silence never empties a boat."""
        return self.occupied.get(boat, UNKNOWN_OCCUPANCY)

    def visit_of(self, person: str, boat: str) -> Occupied | None:
        """The visit to a boat that a person announced last and nobody has ended."""
        found = self.occupied.get(boat)
        return found if found is not None and found.by == BY_TEXT and found.person == person else None

    def kept(self, boat: str) -> Attendance:
        """How the boat is kept; away until somebody says otherwise, because that leaves every alarm on."""
        return self.keeping(boat).attendance

    def keeping(self, boat: str) -> Keeping:
        """How the boat is kept, by whose word, and until when."""
        return self.attendance.get(boat, AWAY)

    def clock_moved(self, by: Ms) -> None:
        """The wall clock was put forward (ms): dates come so much sooner; a shelf is a length of time and stays."""
        for point, alarm in self.by_point.items():
            if alarm.out_until is not None:
                self.by_point[point] = replace(alarm, out_until=alarm.out_until - by)
        for boat, keeping in self.attendance.items():
            if keeping.until is not None:
                self.attendance[boat] = replace(keeping, until=keeping.until - by)

    def next_number(self, now: Ms) -> int:
        """The next number in turn, skipping those that stand or rest. Raises OverflowError when all 9999 are taken."""
        taken = {alarm.number for alarm in self.by_point.values()}
        for ahead in range(1, HIGHEST_NUMBER + 1):
            number = (self.last_number + ahead - 1) % HIGHEST_NUMBER + 1
            rests = self.closed.get(number)
            if number not in taken and (rests is None or now - rests >= NUMBER_RESTS):
                return number
        raise OverflowError("all 9999 alarm numbers stand or rest")

    def apply(self, fact: StandingFact, now: Ms) -> None:
        """Fold one fact in. now: the entry's instant."""
        match fact:
            case AlarmStep():
                self.habits.step(fact, self.by_point.get(fact.point), now)
                self._step(fact, now)
            case AlarmGivenUp():
                self.by_point.pop(fact.point, None)
                self.declared.pop(fact.point, None)
                self.habits.forget(fact.point)
                self.closed[fact.number] = now
            case AlarmEscalated():
                known = self.by_point[fact.point]
                self.by_point[fact.point] = replace(known, priority=fact.priority, worse=True)
            case ServiceReminded():
                self.by_point[fact.point] = replace(self.by_point[fact.point], reminded=True)
            case PointAtFault() | PointFaultTold():
                self.habits.fault(fact, now)
            case PersonSeen() | VisitEnded() | AttendanceChanged() | AttendanceAsked():
                self._boat(fact)
            case HolderProgressed() | HolderChanged() | HandOverAsked():
                self._holder(fact, now)

    def _holder(self, fact: HolderProgressed | HolderChanged | HandOverAsked, now: Ms) -> None:
        known = self.by_point[fact.point]
        match fact:
            case HolderProgressed():
                known = replace(known, where=fact.where, taken=now)
            case HolderChanged():
                known = replace(known, taken_by=fact.person, taken=now, where=None, offered_until=None)
            case HandOverAsked():
                known = replace(known, offered_until=fact.until)
        self.by_point[fact.point] = known

    def _boat(self, fact: PersonSeen | VisitEnded | AttendanceChanged | AttendanceAsked) -> None:
        match fact:
            case PersonSeen():
                known = self.occupied.get(fact.boat)
                if known is None or known.since is None:
                    self.occupied[fact.boat] = Occupied(fact.at, fact.by, fact.person)
                elif fact.by == BY_TEXT:  # a visit announced by name explains the signs before and after it
                    self.occupied[fact.boat] = Occupied(known.since, fact.by, fact.person)
            case VisitEnded():
                self.occupied[fact.boat] = None
            case AttendanceChanged():
                self.attendance[fact.boat] = Keeping(fact.attendance, fact.until, fact.person)
            case AttendanceAsked():
                known_keeping = self.keeping(fact.boat)
                self.attendance[fact.boat] = replace(known_keeping, until=fact.until, asked=True)

    def heard_from(self, person: str, now: Ms) -> None:
        """Any text of the holder shows that he is awake: what he has is asked again only so long after it."""
        for point, alarm in self.by_point.items():
            if alarm.taken_by == person and alarm.state is AlarmState.ACKNOWLEDGED:
                self.by_point[point] = replace(alarm, taken=now)

    def _step(self, fact: AlarmStep, now: Ms) -> None:
        known = self.by_point.get(fact.point)
        if fact.event is AlarmEvent.RAISE:
            self._raise(fact, known, now)
            return
        if known is None:
            if fact.after not in ASIDE:
                return
            known = self._new(fact, now, active=False)
        if fact.event is AlarmEvent.CLEAR:
            known = replace(known, active=False, gone=fact.at)
        if fact.after in ASIDE and fact.before not in ASIDE:
            latched = (AlarmState.LATCHED_ACKNOWLEDGED, AlarmState.LATCHED_UNACKNOWLEDGED)
            known = replace(known, latch_pending=fact.before in latched)
        known = self._said(known, fact, now)
        if fact.after is AlarmState.NORMAL:
            self.by_point.pop(fact.point, None)
            self.closed[fact.number] = now
        else:
            self.by_point[fact.point] = replace(known, state=fact.after)

    def _said(self, known: Alarm, fact: AlarmStep, now: Ms) -> Alarm:
        """What an event changes beside the state: who has it, until when it is put aside, by whom and why."""
        done = fact.before is not fact.after
        match fact.event:
            case AlarmEvent.TAKE if done or fact.person == known.taken_by:
                return replace(known, taken=now, taken_by=fact.person, where=None, offered_until=None)
            case AlarmEvent.RE_ALARM if done:
                return replace(known, offered_until=None)
            case AlarmEvent.SHELVE if fact.until is not None:  # a refused try says none, and leaves a shelf as it is
                return replace(known, shelved_until=fact.until, by=fact.person, because=fact.because)
            case AlarmEvent.SUPPRESS if done:
                return replace(known, because=fact.because)
            case AlarmEvent.REMOVE if done:
                if fact.person is None and fact.until is not None:
                    self.declared[fact.point] = fact.until
                until = min(fact.until, now + LONGEST_OUT) if fact.until is not None else now + LONGEST_OUT
                short = until - now <= REMINDED_BEFORE
                return replace(known, out_until=until, by=fact.person, because=fact.because, reminded=short)
            case AlarmEvent.UNSHELVE if done:
                return replace(known, shelved_until=None, raised=now)
            case AlarmEvent.UNSUPPRESS | AlarmEvent.RETURN if done:
                return replace(known, out_until=None, raised=now)
        return known

    def _new(self, fact: AlarmStep, now: Ms, *, active: bool) -> Alarm:
        """An alarm that was at rest: its number is given now."""
        self.last_number = fact.number
        for number in [n for n, at in self.closed.items() if now - at >= NUMBER_RESTS]:
            del self.closed[number]
        return Alarm(
            number=fact.number,
            point=fact.point,
            boat=fact.boat,
            state=fact.after,
            active=active,
            raised=now,
            since=fact.at,
            times=0,
            priority=fact.priority,
        )

    def _raise(self, fact: AlarmStep, known: Alarm | None, now: Ms) -> None:
        before = known if known is not None else self._new(fact, now, active=True)
        self.by_point[fact.point] = replace(
            before,
            state=fact.after,
            active=True,
            raised=now,
            since=fact.at,
            gone=None,
            times=before.times + 1,
            measured=fact.measured,
            late=fact.late,
            found=fact.found,
            priority=fact.priority,
            taken=None,
            taken_by=None,
            where=None,
            offered_until=None,
        )
