"""The alarms that stand, their numbers, and who is aboard: the room's part of the state."""

from dataclasses import dataclass, field, replace

from gateway.alarms.facts import AlarmGivenUp, AlarmStep, AttendanceChanged, PersonSeen, VisitEnded
from gateway.alarms.life import ASIDE, AlarmEvent, AlarmState, step
from gateway.alarms.settings import Attendance, Point
from gateway.vocabulary.moments import DAY, Ms

HIGHEST_NUMBER = 9999
"""Alarm numbers have at most four digits, so that they are quick to text (design 5)."""

NUMBER_RESTS = 30 * DAY
"""A number is not given again within this time of its alarm's closing (design 5)."""


BY_TEXT = "text"
"""In the place of a signal's id: a named person said so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alarm:
    """One alarm that is not at rest.

    raised: instant of being raised the last time; since: since when the condition held then. gone: instant at which
    the condition went, None while it holds. times: how often it was raised under this number. measured: as said.
    """

    number: int
    point: str
    boat: str
    state: AlarmState
    active: bool
    raised: Ms
    since: Ms
    gone: Ms | None = None
    times: int = 1
    measured: str = ""
    late: bool = False
    found: bool = False
    latch_pending: bool = False


@dataclass(frozen=True, slots=True)
class Occupied:
    """Somebody is aboard, or must be taken to be. since: instant of the first sign, None when nobody has ever said."""

    since: Ms | None
    by: str


UNKNOWN_OCCUPANCY = Occupied(None, "nobody has said yet that the boat is empty")


@dataclass(slots=True)
class Standing:
    """by_point: alarms that are not at rest. closed: numbers that rest, with the instant of closing.

    occupied: by boat; None after a visit was ended; a boat that is missing here is taken as occupied (handbook G2).
    """

    by_point: dict[str, Alarm] = field(default_factory=dict)
    last_number: int = 0
    closed: dict[int, Ms] = field(default_factory=dict)
    occupied: dict[str, Occupied | None] = field(default_factory=dict)
    attendance: dict[str, Attendance] = field(default_factory=dict)

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

    def kept(self, boat: str) -> Attendance:
        """How the boat is kept; away until somebody says otherwise, because that leaves every alarm on."""
        return self.attendance.get(boat, Attendance.AWAY)

    def next_number(self, now: Ms) -> int:
        """The next number in turn, skipping those that stand or rest. Raises OverflowError when all 9999 are taken."""
        taken = {alarm.number for alarm in self.by_point.values()}
        for ahead in range(1, HIGHEST_NUMBER + 1):
            number = (self.last_number + ahead - 1) % HIGHEST_NUMBER + 1
            rests = self.closed.get(number)
            if number not in taken and (rests is None or now - rests >= NUMBER_RESTS):
                return number
        raise OverflowError("all 9999 alarm numbers stand or rest")

    def apply(self, fact: AlarmStep | AlarmGivenUp | PersonSeen | VisitEnded | AttendanceChanged, now: Ms) -> None:
        """Fold one fact in. now: the entry's instant."""
        match fact:
            case AlarmStep():
                self._step(fact, now)
            case AlarmGivenUp():
                self.by_point.pop(fact.point, None)
                self.closed[fact.number] = now
            case PersonSeen():
                known = self.occupied.get(fact.boat)
                if known is None or known.since is None:
                    self.occupied[fact.boat] = Occupied(fact.at, fact.by)
                elif fact.by == BY_TEXT:  # a visit announced by name explains the signs before and after it
                    self.occupied[fact.boat] = Occupied(known.since, fact.by)
            case VisitEnded():
                self.occupied[fact.boat] = None
            case AttendanceChanged():
                self.attendance[fact.boat] = fact.attendance

    def _step(self, fact: AlarmStep, now: Ms) -> None:
        known = self.by_point.get(fact.point)
        if fact.event is AlarmEvent.RAISE:
            self._raise(fact, known, now)
            return
        if known is None:
            return
        if fact.event is AlarmEvent.CLEAR:
            known = replace(known, active=False, gone=fact.at)
        if fact.after in ASIDE and fact.before not in ASIDE:
            latched = (AlarmState.LATCHED_ACKNOWLEDGED, AlarmState.LATCHED_UNACKNOWLEDGED)
            known = replace(known, latch_pending=fact.before in latched)
        if fact.after is AlarmState.NORMAL:
            del self.by_point[fact.point]
            self.closed[fact.number] = now
        else:
            self.by_point[fact.point] = replace(known, state=fact.after)

    def _raise(self, fact: AlarmStep, known: Alarm | None, now: Ms) -> None:
        if known is None:
            self.last_number = fact.number
            for number in [n for n, at in self.closed.items() if now - at >= NUMBER_RESTS]:
                del self.closed[number]
        self.by_point[fact.point] = Alarm(
            number=fact.number,
            point=fact.point,
            boat=fact.boat,
            state=fact.after,
            active=True,
            raised=now,
            since=fact.at,
            times=1 if known is None else known.times + 1,
            measured=fact.measured,
            late=fact.late,
            found=fact.found,
            latch_pending=known.latch_pending if known is not None else False,
        )


def stepped(
    standing: Standing,
    point: Point,
    event: AlarmEvent,
    now: Ms,
    *,
    at: Ms | None = None,
    measured: str = "",
    person: str | None = None,
    late: bool = False,
    found: bool = False,
) -> AlarmStep:
    """The fact that this event makes for this point; refused steps come out with `before` equal to `after`.

    at: instant of the event, `now` when not given.
    """
    known = standing.by_point.get(point.id)
    before = known.state if known is not None else AlarmState.NORMAL
    after = step(
        before,
        event,
        latching=point.latching,
        active=known is not None and known.active,
        latch_pending=known is not None and known.latch_pending,
    )
    return AlarmStep(
        number=known.number if known is not None else standing.next_number(now),
        point=point.id,
        boat=point.boat,
        priority=point.priority,
        event=event,
        before=before,
        after=before if after is None else after,
        at=now if at is None else at,
        measured=measured,
        person=person,
        late=late,
        found=found,
    )
