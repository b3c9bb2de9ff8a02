"""Regular texts fall due: the round, the weekly word, the digest of cautions."""

from gateway.alarms.life import AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.desk.moment import Moment
from gateway.desk.situation import situation_of
from gateway.desk.strangers import strangers_of_the_night
from gateway.desk.turn import Recorder
from gateway.desk.welcoming import NO_CONSENT, due_welcomes, plan_welcomes
from gateway.people.regular import Regular, Wish
from gateway.people.settings import Person
from gateway.telling.facts import HeldBack
from gateway.telling.regular import DigestEmptied, DigestGathered, RegularPlanned
from gateway.telling.regular_notices import BoatInRound, DigestTold, RegularNotice, RoundTold, WeeklyTold
from gateway.telling.situation import Situation
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import HOUR, Ms
from gateway.vocabulary.priority import Priority

TOO_LATE: Ms = 2 * HOUR
"""A regular text that is due for longer (the gateway did not run) waits for its next time: our choice, so that a round
of the morning is not told at night."""


def plan(rec: Recorder) -> None:
    """Note when each regular text comes next, and the first one to whoever is new, by the files in use; what is planned
    already and still wished stays."""
    wished = {
        f"{wish.kind} {person.id}": (person, wish) for person in rec.bundle.people.values() for wish in person.wishes
    }
    for key in [key for key in rec.state.regular.due if key not in wished]:
        what, _, person_id = key.partition(" ")
        rec.note(INSTALLATION, RegularPlanned(person=person_id, what=Regular(what), at=None))
        if what == Regular.DIGEST and rec.state.regular.waiting.get(person_id):
            _told_or_held(rec, person_id, Regular.DIGEST)
    for key, (person, wish) in wished.items():
        at = wish.next_after(rec.now, person.zone, rec.state.clock_offset)
        known = rec.state.regular.due.get(key)
        if known is None or rec.now < known != at:  # one that is overdue is seen to by `due`
            rec.note(INSTALLATION, RegularPlanned(person=person.id, what=wish.kind, at=at))
    plan_welcomes(rec)


def next_due(rec: Recorder) -> Ms | None:
    """The next instant at which one is due; None when nobody wishes any."""
    kept = rec.state.regular
    strangers = (one.at for one in kept.strangers.values() if one.at is not None)
    return min((*kept.due.values(), *kept.welcomes.values(), *strangers), default=None)


def due(rec: Recorder) -> bool:
    """Tell what is due. True when there was any."""
    new = due_welcomes(rec) | strangers_of_the_night(rec)
    found = [(key, at) for key, at in rec.state.regular.due.items() if at <= rec.now]
    for key, at in found:
        what, _, person_id = key.partition(" ")
        person = rec.bundle.people.get(person_id)
        wish = _wish(person, Regular(what)) if person is not None else None
        after = wish.next_after(rec.now, person.zone, rec.state.clock_offset) if wish and person else None
        rec.note(INSTALLATION, RegularPlanned(person=person_id, what=Regular(what), at=after))
        if rec.now - at > TOO_LATE:
            because = "the gateway did not run at its time"
            rec.note(INSTALLATION, HeldBack(person=person_id, about=what, because=because))
        elif person is not None:
            _told_or_held(rec, person_id, Regular(what))
    return bool(found) or new


def _wish(person: Person, what: Regular) -> Wish | None:
    return next((wish for wish in person.wishes if wish.kind is what), None)


def _told_or_held(rec: Recorder, person_id: str, what: Regular) -> None:
    person = rec.bundle.people.get(person_id)
    if person is None:
        rec.note(INSTALLATION, DigestEmptied(person=person_id))
        return
    notice = _notice(rec, person, what)
    numbers = tuple(each.number for each in notice.situations) if isinstance(notice, DigestTold) else ()
    if notice is not None and not person.consent:
        rec.note(INSTALLATION, HeldBack(person=person_id, about=what, because=NO_CONSENT, numbers=numbers))
    elif notice is not None:
        priority = Priority.CAUTION if what is Regular.DIGEST else None
        rec.tell(notice, priority=priority, numbers=numbers, boats=_boats_of(notice))
    if what is Regular.DIGEST and rec.state.regular.waiting.get(person_id):
        rec.note(INSTALLATION, DigestEmptied(person=person_id))


def _boats_of(notice: RegularNotice) -> tuple[str, ...]:
    if isinstance(notice, DigestTold):
        return tuple(dict.fromkeys(each.point.partition("/")[0] for each in notice.situations))
    return ()


def _notice(rec: Recorder, person: Person, what: Regular) -> RegularNotice | None:
    """What is to be told; None for a digest without anything in it."""
    match what:
        case Regular.ROUND:
            return RoundTold(person=person.id, boats=boats_worst_first(rec, person))
        case Regular.WEEKLY:
            watched = sum(point.boat in person.boats for point in rec.bundle.points.values())
            practised = rec.state.practice.last_taken(person.boats)
            boats = boats_worst_first(rec, person)
            return WeeklyTold(person=person.id, boats=boats, watched=watched, practised=practised)
        case Regular.DIGEST:
            waiting = rec.state.regular.waiting.get(person.id, ())
            return (
                DigestTold(person=person.id, situations=tuple(_caution(rec, one) for one in waiting))
                if waiting
                else None
            )


def boats_worst_first(rec: Recorder, person: Person) -> tuple[BoatInRound, ...]:
    """Worst first: by the gravest of what is open, then the silent ones, then the rest in the order of the files."""
    moment = Moment(rec.state, rec.bundle, rec.now)
    of: dict[str, list[Alarm]] = {boat: [] for boat in person.boats if boat in rec.bundle.boats}
    for alarm in rec.state.standing.by_point.values():
        if alarm.boat in of and alarm.point in rec.bundle.points:
            of[alarm.boat].append(alarm)
    found = []
    for boat, alarms in of.items():
        alarms.sort(key=lambda alarm: (-alarm.priority.gravity, alarm.number))
        gravity = max((alarm.priority.gravity for alarm in alarms), default=-1)
        silent = moment.silent_since(boat)
        told = BoatInRound(
            boat=boat,
            situations=tuple(situation_of(alarm) for alarm in alarms),
            silent_since=silent,
            heard=_heard(rec, boat),
        )
        found.append((-gravity, silent is None, told))
    return tuple(told for *_, told in sorted(found, key=lambda row: row[:2]))


def _heard(rec: Recorder, boat: str) -> Ms | None:
    own = (latest for signal, latest in rec.state.seen.latest.items() if signal.partition("/")[0] == boat)
    return max((latest.measured for latest in own), default=None)


def _caution(rec: Recorder, one: DigestGathered) -> Situation:
    """As it is at the time of the digest."""
    alarm = rec.state.standing.by_point.get(one.point)
    if alarm is not None and alarm.number == one.number:
        return situation_of(alarm)
    return Situation(
        number=one.number,
        point=one.point,
        state=AlarmState.NORMAL,
        since=one.since,
        measured="",
        gone=one.gone if one.gone is not None else rec.now,
    )


def takes_digest(rec: Recorder, person: str, priority: Priority) -> bool:
    """Whether this person hears of an alarm of this priority in the digest only."""
    known = rec.bundle.people.get(person)
    return priority is Priority.CAUTION and known is not None and _wish(known, Regular.DIGEST) is not None


def gather(rec: Recorder, person: str, alarm: Alarm) -> None:
    """Keep a caution, or that it has gone, for the person's next digest."""
    fact = DigestGathered(person=person, number=alarm.number, point=alarm.point, since=alarm.since, gone=alarm.gone)
    rec.note(alarm.boat, fact)
