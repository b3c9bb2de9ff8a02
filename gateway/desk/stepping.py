"""The condition of a point holds or has gone: its alarm steps, and those who were told hear of it."""

from dataclasses import replace

from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.settings import Point
from gateway.alarms.stepping import stepped
from gateway.desk.rounds import tell_gone
from gateway.desk.turn import Recorder
from gateway.vocabulary.moments import Ms


def raise_point(rec: Recorder, point: Point, *, at: Ms, measured: str, late: bool = False, found: bool = False) -> None:
    """The condition of a point holds: the alarm steps. at: since when (instant). late: it came late. found: a state of
    unknown age, found on connecting."""
    fact = stepped(
        rec.state.standing, point, AlarmEvent.RAISE, rec.now, at=at, measured=measured, late=late, found=found
    )
    rec.note(point.boat, fact)


def clear_point(rec: Recorder, point: Point, *, at: int, measured: str) -> None:
    """The condition of a point has gone: the alarm steps, and those who were told hear of it."""
    fact = stepped(rec.state.standing, point, AlarmEvent.CLEAR, rec.now, at=at, measured=measured)
    told_before = rec.state.telling.calls.get(point.id)
    alarm = rec.state.standing.by_point[point.id]
    rec.note(point.boat, fact)
    tell_gone(rec, point, fact, told_before, replace(alarm, state=fact.after, gone=fact.at))
    untold = told_before is not None and (told_before.muted or told_before.anew)
    if untold and fact.after is AlarmState.GONE_UNACKNOWLEDGED:
        # Nobody was told, so nobody will take it: as an alarm without acknowledgement it goes straight to normal.
        rec.note(point.boat, stepped(rec.state.standing, point, AlarmEvent.TAKE, rec.now))
