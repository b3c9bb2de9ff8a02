"""Persons and alarms: "have it", "checked", and what is answered to a mere "ok"."""

from gateway.alarms.life import ASIDE, AlarmEvent, AlarmState
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.stepping import stepped
from gateway.desk.lists import list_now
from gateway.desk.practising import take_practice
from gateway.desk.rounds import persons_of
from gateway.desk.situation import situation_of
from gateway.desk.taking_groups import FREE, group_meant, take_group, together_with
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.telling.aside_notices import AsideRefused, CannotAside
from gateway.telling.call import Call
from gateway.telling.notices import AlarmAnswer, AlarmReset, AlarmTaken, Cannot, NotTaken
from gateway.telling.rounds import told_next


def take(rec: Recorder, person: Person, number: int | None, boat: str | None) -> None:
    """ "have it": the person becomes the holder, the others hear so once. Without a number, as an answer to a grouped
    text, it takes what that named."""
    if number is None and take_practice(rec, person, boat):
        return
    group = group_meant(rec, person) if number is None and boat is None else ()
    if group:
        take_group(rec, person, group)
        return
    found = meant(rec, person, number, boat, FREE)
    if isinstance(found, AlarmAnswer):
        rec.tell(found)
        return
    point = rec.bundle.points[found.point]
    call = rec.state.telling.calls.get(point.id)
    if _is_aside(rec, person, found, AlarmEvent.TAKE):
        return
    fact = stepped(rec.state.standing, point, AlarmEvent.TAKE, rec.now, person=person.id)
    rec.note(point.boat, fact)
    situation = situation_of(found)
    holder = person.id if fact.before is not fact.after else (call.holder if call is not None else None) or person.id
    if holder == person.id:
        rec.tell(
            AlarmTaken(person=person.id, boat=point.boat, situation=situation, holder=holder), numbers=(found.number,)
        )
    else:  # of two who want it at once the first one has it
        answer = AlarmAnswer(
            person=person.id, boat=point.boat, cannot=Cannot.HELD_BY_OTHER, numbers=(found.number,), holder=holder
        )
        rec.tell(answer, numbers=(found.number,))
    if fact.before is fact.after or call is None:
        return
    still_his = found.taken_by == person.id  # asked whether it is: those who know so need not hear it again
    for other in persons_of(rec, call.told if still_his else call.heard_of, but=person.id):
        rec.tell(
            AlarmTaken(person=other, boat=point.boat, situation=situation, holder=person.id), numbers=(found.number,)
        )


def reset(rec: Recorder, person: Person, number: int | None, boat: str | None) -> None:
    """ "checked": a latched alarm that is clear and that somebody has goes back to normal."""
    wanted = frozenset({AlarmState.LATCHED_ACKNOWLEDGED, AlarmState.LATCHED_UNACKNOWLEDGED})
    found = meant(rec, person, number, boat, wanted)
    if isinstance(found, AlarmAnswer):
        rec.tell(found)
        return
    point = rec.bundle.points[found.point]
    call = rec.state.telling.calls.get(point.id)
    if _is_aside(rec, person, found, AlarmEvent.RESET):
        return
    fact = stepped(rec.state.standing, point, AlarmEvent.RESET, rec.now, person=person.id)
    rec.note(point.boat, fact)  # a refused try is kept as well
    if fact.before is fact.after:
        rec.tell(
            AlarmAnswer(
                person=person.id, boat=point.boat, cannot=_why_no_reset(found, point.latching), numbers=(found.number,)
            )
        )
        return
    told = call.heard_of if call is not None else ()
    for one in dict.fromkeys((person.id, *persons_of(rec, told, but=person.id))):
        rec.tell(
            AlarmReset(person=one, boat=point.boat, situation=situation_of(found), by=person.id),
            numbers=(found.number,),
        )


def _is_aside(rec: Recorder, person: Person, alarm: Alarm, event: AlarmEvent) -> bool:
    """Nobody takes or resets what is put aside: the try is kept, and answered."""
    if alarm.state not in ASIDE:
        return False
    point = rec.bundle.points[alarm.point]
    rec.note(point.boat, stepped(rec.state.standing, point, event, rec.now, person=person.id))
    rec.tell(
        AsideRefused(person=person.id, boat=point.boat, situation=situation_of(alarm), cannot=CannotAside.ASIDE_ALREADY)
    )
    return True


def _why_no_reset(alarm: Alarm, latching: bool) -> Cannot:
    if alarm.active:
        return Cannot.STILL_ACTIVE
    return Cannot.TAKE_FIRST if latching else Cannot.NOT_LATCHED


def meant(
    rec: Recorder, person: Person, number: int | None, boat: str | None, wanted: frozenset[AlarmState]
) -> Alarm | AlarmAnswer:
    """The alarm that is meant: by its number, else the only one in a wanted state, else the only one open."""
    boats = person.boats if boat is None else (boat,) if boat in person.boats else ()
    standing = rec.state.standing
    where = boats[0] if len(boats) == 1 else ""
    if number is not None:
        alarm = standing.alarm(number)
        if alarm is not None and alarm.boat in boats:
            return alarm
        cannot = Cannot.CLOSED if number in standing.closed else Cannot.NO_SUCH
        return AlarmAnswer(person=person.id, boat=where, cannot=cannot, numbers=(number,))
    mine = [alarm for alarm in standing.by_point.values() if alarm.boat in boats]
    if len({alarm.boat for alarm in mine}) > 1:  # which boat is never guessed, whoever has the others
        return _which(rec, person, where, mine)
    for some in ([alarm for alarm in mine if alarm.state in wanted], mine):
        if len(some) == 1:
            return some[0]
        if some:
            return _which(rec, person, where, some)
    return AlarmAnswer(person=person.id, boat=where, cannot=Cannot.NONE_OPEN)


def _which(rec: Recorder, person: Person, boat: str, alarms: list[Alarm]) -> AlarmAnswer:
    """What there is to choose from, worst first."""
    points = rec.bundle.points
    ordered = sorted(alarms, key=lambda alarm: (-points[alarm.point].priority.gravity, alarm.number))
    return AlarmAnswer(
        person=person.id,
        boat=boat,
        cannot=Cannot.WHICH,
        numbers=tuple(alarm.number for alarm in ordered),
        situations=tuple(situation_of(alarm) for alarm in ordered),
    )


def not_taken(rec: Recorder, person: Person, number: int | None = None, boat: str | None = None) -> None:
    """A mere "ok", a thumbs-up or a reaction: takes nothing. Said once per alarm and person while nobody holds it. Of
    several it is about the gravest, unless the text names one ("4 ok"), or the boat."""
    call = _answered(rec, person, number, boat)
    if call is None:
        return
    callout = list_now(rec.state, rec.bundle, call.point, rec.now)
    who, at = told_next(call, callout, person.id, rec.state.telling.opted_out)
    rec.tell(
        NotTaken(
            person=person.id,
            boat=call.boat,
            situation=situation_of(rec.state.standing.by_point[call.point]),
            next_person=who,
            next_at=at,
        ),
        numbers=(call.number,) if number == call.number else together_with(rec, person, call.number),
    )


def _answered(rec: Recorder, person: Person, number: int | None, boat: str | None) -> Call | None:
    """What a mere answer is about: the alarm that it names, or nothing where somebody has that one, or was answered of
    it already; a number of none that stands is a slip, and stands for no number."""
    boats = person.boats if boat is None else (boat,)
    mine = [call for call in rec.state.telling.calls.values() if call.boat in person.boats and call.boat in boats]
    alarm = rec.state.standing.alarm(number) if number is not None else None
    if number in rec.state.standing.closed or (alarm is not None and alarm.boat in person.boats):
        return next((c for c in mine if c.number == number and _is_free(c) and person.id not in c.answered_ok), None)
    waiting = [call for call in mine if _waits_for(call, person.id)]
    return max(waiting, key=lambda c: (c.priority.gravity, c.number), default=None)


def _is_free(call: Call) -> bool:
    return call.holder is None and not call.over


def _waits_for(call: Call, person: str) -> bool:
    return _is_free(call) and person in call.heard_of and person not in call.answered_ok
