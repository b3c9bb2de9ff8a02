"""What the logbook keeps of alarms and of who is aboard."""

from dataclasses import dataclass
from typing import ClassVar

from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.nuisance import PointFault
from gateway.alarms.settings import Attendance
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmStep(Fact):
    """One event in the life of one alarm; a refused one has `before` equal to `after`.

    number: the alarm's number as it is texted. at: instant of the event by the boat's own time where it gives one
    (when a condition began to hold, for a raise). measured: the value it rests on, as said. person: random id, None
    when no person did it. late: received after the fact. found: from a retained message, on connecting.
    until: how long it is put aside (instant); of a re-alarm, from when the call-out list counts. because: why it was
    put aside, hidden or brought back.
    """

    kind: ClassVar[str] = "alarm-step"
    number: int
    point: str
    boat: str
    priority: Priority
    event: AlarmEvent
    before: AlarmState
    after: AlarmState
    at: Ms
    measured: str = ""
    person: str | None = None
    late: bool = False
    found: bool = False
    until: Ms | None = None
    because: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmGivenUp(Fact):
    """The alarm's point is no longer in the installation: the alarm is closed with that reason."""

    kind: ClassVar[str] = "alarm-given-up"
    number: int
    point: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonSeen(Fact):
    """A sign of somebody aboard. by: signal id, or ``text``. person: random id when a named person texted it."""

    kind: ClassVar[str] = "person-seen"
    boat: str
    by: str
    at: Ms
    person: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitEnded(Fact):
    """A named person, or the boat's own panel, says that nobody is aboard any more. by: ``text`` or a signal id."""

    kind: ClassVar[str] = "visit-ended"
    boat: str
    by: str
    at: Ms
    person: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendanceChanged(Fact):
    """How the boat is kept from now on. until: when that is asked again, or ends by itself (instant). because: why it
    changed when no person said so."""

    kind: ClassVar[str] = "attendance-changed"
    boat: str
    attendance: Attendance
    person: str | None = None
    until: Ms | None = None
    because: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendanceAsked(Fact):
    """Whether the boat is still kept so was asked; unanswered it ends at `until` (instant)."""

    kind: ClassVar[str] = "attendance-asked"
    boat: str
    attendance: Attendance
    until: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmEscalated(Fact):
    """A warning is told as an alarm from now on: nobody took it in time, or others stand beside it."""

    kind: ClassVar[str] = "alarm-escalated"
    number: int
    point: str
    boat: str
    priority: Priority


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceReminded(Fact):
    """Somebody was reminded that an alarm is out of service, before it returns."""

    kind: ClassVar[str] = "service-reminded"
    number: int
    point: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PointAtFault(Fact):
    """A point behaves as no alarm should; who mends it is told at `tell_at` (instant)."""

    kind: ClassVar[str] = "point-at-fault"
    point: str
    boat: str
    fault: PointFault
    tell_at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class PointFaultTold(Fact):
    """Who mends the point was told of it."""

    kind: ClassVar[str] = "point-fault-told"
    point: str
    fault: PointFault
