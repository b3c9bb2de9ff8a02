"""What the logbook keeps of alarms and of who is aboard."""

from dataclasses import dataclass
from typing import ClassVar

from gateway.alarms.life import AlarmEvent, AlarmState
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
    """How the boat is kept from now on."""

    kind: ClassVar[str] = "attendance-changed"
    boat: str
    attendance: Attendance
    person: str | None = None
