"""Who is reminded of an alarm, who wants no reminders of it, and what waits for the end of somebody's quiet hours."""

from gateway.desk.lists import list_now
from gateway.desk.turn import Recorder
from gateway.telling.call import Call
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority

ASKED_FOR_QUIET = "the person wants no reminders of it"
"""Why a reminder is not sent."""


def reminded(rec: Recorder, call: Call, *, but: str) -> tuple[str, ...]:
    """Ids of those besides one person who are reminded of an alarm: on its list now, and reached by text."""
    everyone = list_now(rec.state, rec.bundle, call.point, rec.now).everyone
    cut_off = rec.state.telling.opted_out
    return tuple(
        one
        for one in everyone
        if one != but and one in rec.bundle.people and one not in cut_off and not call.is_quiet(one, rec.now)
    )


def wants_none(rec: Recorder, call: Call, person: str) -> bool:
    """Whether this person is not to be reminded now. Whoever has become the last one is, wish or not."""
    return person in call.heard_of and call.is_quiet(person, rec.now) and bool(reminded(rec, call, but=person))


def quiet_until(rec: Recorder, person: str, priority: Priority) -> Ms | None:
    """The instant at which the person's quiet hours end, where what has this priority waits for it; None else."""
    known = rec.bundle.people.get(person)
    hours = known.quiet_of(priority) if known is not None else None
    return hours.until(rec.now, known.zone, rec.state.clock_offset) if known is not None and hours is not None else None
