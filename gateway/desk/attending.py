"""How a boat is kept: away, aboard, laid up, in the yard. Who says so, what is not told meanwhile, and how it ends."""

from gateway.alarms.aboard import BY_TEXT
from gateway.alarms.facts import AttendanceAsked, AttendanceChanged, PersonSeen
from gateway.alarms.limits import ABOARD_LASTS, RETURNS_AT, YARD_ANSWER_WITHIN, YARD_LASTS_DAYS
from gateway.alarms.settings import Attendance
from gateway.desk.moment import Moment
from gateway.desk.turn import Recorder
from gateway.people.settings import Person, Role
from gateway.telling.aside_notices import AttendanceAsk, AttendanceRefused, AttendanceTold
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority
from grammar.meanings import Attend

MAY_SAY = (Role.OWNER, Role.CARETAKER, Role.INSTALLER)
"""Who says how a boat is kept. The marina office does not: it neither keeps the boat nor knows who is aboard."""

HEAR = (Role.OWNER, Role.INSTALLER)
"""Whether somebody is aboard is told to owner and installer only (design rule 16)."""


def attend(rec: Recorder, person: Person, request: Attend, boat: str) -> None:
    """A person says how the boat is kept from now on."""
    if person.role not in MAY_SAY:
        rec.tell(AttendanceRefused(person=person.id, boat=boat, who=rec.bundle.concerned(boat, *MAY_SAY)))
        return
    attendance = Attendance(request.kept)
    if attendance is Attendance.ABOARD:
        rec.note(boat, PersonSeen(boat=boat, by=BY_TEXT, at=rec.now, person=person.id))
    _change(rec, boat, attendance, by=person.id, until=_until(rec, boat, attendance, request.days))


def _until(rec: Recorder, boat: str, attendance: Attendance, days: int | None) -> Ms | None:
    if attendance is Attendance.ABOARD:
        return rec.now + ABOARD_LASTS
    if attendance is Attendance.IN_THE_YARD:
        return Moment(rec.state, rec.bundle, rec.now).day_at(boat, days or YARD_LASTS_DAYS, RETURNS_AT)
    return None


def _change(rec: Recorder, boat: str, attendance: Attendance, *, by: str | None, until: Ms | None = None) -> None:
    standing = rec.state.standing
    before = standing.keeping(boat)
    because = "" if by is not None else f"nobody said it is still {before.attendance}"
    rec.note(boat, AttendanceChanged(boat=boat, attendance=attendance, person=by, until=until, because=because))
    occupied = attendance is not Attendance.ABOARD and standing.occupancy(boat) is not None
    hear = [one for one in (by, before.by if by is None else None) if one is not None]
    for person in dict.fromkeys((*hear, *rec.bundle.concerned(boat, *HEAR))):
        if person in rec.bundle.people:
            rec.tell(
                AttendanceTold(
                    person=person,
                    boat=boat,
                    attendance=attendance,
                    by=by,
                    before=before.attendance,
                    until=until,
                    quiet=quiet_points(rec, boat, attendance),
                    occupied=occupied,
                )
            )


def quiet_points(rec: Recorder, boat: str, attendance: Attendance) -> int:
    """How many of the boat's points nobody is told of while it is kept so."""
    return sum(
        point.boat == boat
        and point.priority is not Priority.EMERGENCY
        and bool(point.attendance)
        and attendance not in point.attendance
        for point in rec.bundle.points.values()
    )


def attendance_due(rec: Recorder) -> bool:
    """ "aboard" lapses; whether a boat is still in the yard is asked on the day that was said, and ends unanswered."""
    due = [boat for boat, keeping in rec.state.standing.attendance.items() if _is_due(keeping.until, rec.now)]
    for boat in due:
        keeping = rec.state.standing.keeping(boat)
        if boat not in rec.bundle.boats:
            rec.note(boat, AttendanceChanged(boat=boat, attendance=Attendance.AWAY, because="the boat has gone"))
        elif keeping.attendance is Attendance.IN_THE_YARD and not keeping.asked:
            _ask(rec, boat, keeping.by)
        else:
            _change(rec, boat, Attendance.AWAY, by=None)
    return bool(due)


def _is_due(until: Ms | None, now: Ms) -> bool:
    return until is not None and until <= now


def _ask(rec: Recorder, boat: str, said: str | None) -> None:
    attendance, until = rec.state.standing.kept(boat), rec.now + YARD_ANSWER_WITHIN
    rec.note(boat, AttendanceAsked(boat=boat, attendance=attendance, until=until))
    by = () if said is None else (said,)
    for person in dict.fromkeys((*by, *rec.bundle.concerned(boat, *HEAR))):
        if person in rec.bundle.people:
            rec.tell(AttendanceAsk(person=person, boat=boat, attendance=attendance, until=until))
