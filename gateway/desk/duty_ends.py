"""Duties come to the end that was said, and questions to the end of the time there was to answer them."""

from gateway.alarms.life import ASIDE
from gateway.desk.duty import Boats, end_of, head, note, those, unchanged
from gateway.desk.lists import rostered
from gateway.desk.turn import Recorder
from gateway.telling.duty import DutyAskEnded, DutyEnded
from gateway.telling.duty_notices import CannotDuty, DutyOver
from gateway.vocabulary.moments import HOUR, Ms
from grammar.meanings import Duty

TOLD_WITHIN: Ms = 12 * HOUR
"""An end that lies back longer (the gateway did not run) is recorded and told to nobody: our choice, a night and some
more, so that nobody hears in the afternoon of a change that both have long seen."""

NOT_ANSWERED = "not answered in time"


def next_due(rec: Recorder) -> Ms | None:
    """The next instant at which the time to answer is over, or a duty comes to the end that was said."""
    ends = [one.until for one in rec.state.duty.said.values() if one.until is not None]
    return min((*ends, *(one.lapses for one in rec.state.duty.asked.values())), default=None)


def due(rec: Recorder) -> bool:
    """Duties end, and questions that nobody answered in time. True when there was any."""
    ended = _ended(rec)
    return _unanswered(rec) or ended


def _ended(rec: Recorder) -> bool:
    """What was said lasts no longer and the roster holds again: who had it and who follows hear so, unless it is the
    same person."""
    over: dict[tuple[str, Ms, str | None], list[str]] = {}
    for boat, one in rec.state.duty.said.items():
        if one.until is not None and one.until <= rec.now:
            following = rostered(rec.state, rec.bundle, boat, rec.now) if boat in rec.bundle.boats else None
            over.setdefault((one.person, one.until, following), []).append(boat)
    for (who, at, following), boats in over.items():
        some = tuple(boats)
        note(rec, some, DutyEnded(person=who, boats=some, following=following))
        if who != following and rec.now - at <= TOLD_WITHIN:
            _tell_over(rec, who, following, at, tuple(boat for boat in some if boat in rec.bundle.boats))
    return bool(over)


def _tell_over(rec: Recorder, who: str, following: str | None, at: Ms, boats: Boats) -> None:
    if not boats:
        return
    alarms = (alarm for alarm in rec.state.standing.by_point.values() if alarm.boat in boats)
    numbers = tuple(sorted(alarm.number for alarm in alarms if alarm.state not in ASIDE))
    until = end_of(rec, boats[0], Duty())
    for reader in those((who, following)):
        own = reader == following
        rec.tell(
            DutyOver(
                person=reader,
                boat=head(boats),
                boats=boats,
                who=who,
                following=following,
                at=at,
                until=until if own else None,
                open=numbers if own else (),
            )
        )


def _unanswered(rec: Recorder) -> bool:
    """Nobody answered in time: who asked hears that nothing has changed. True when there was any."""
    over: dict[tuple[str, str], list[str]] = {}
    for boat, one in rec.state.duty.asked.items():
        if one.lapses <= rec.now:
            over.setdefault((one.person, one.by), []).append(boat)
    for (who, by), boats in over.items():
        some = tuple(boats)
        note(rec, some, DutyAskEnded(person=who, boats=some, because=NOT_ANSWERED))
        unchanged(rec, rec.bundle.people.get(by), some, CannotDuty.NOT_ANSWERED, (who,))
    return bool(over)
