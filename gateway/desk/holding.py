"""Who has an alarm: "at boat 14", "ashore 14", "take over 14", "hand over 14"; and remarks for the record."""

from dataclasses import replace

from gateway.alarms.facts import PersonSeen
from gateway.alarms.holding import HandOverAsked, HolderChanged, HolderProgressed, Whereabouts
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.limits import hand_over_within
from gateway.alarms.one_alarm import Alarm
from gateway.alarms.stepping import stepped
from gateway.desk.facts import NoteKept
from gateway.desk.lists import list_now
from gateway.desk.rounds import persons_of
from gateway.desk.situation import situation_of
from gateway.desk.taking import meant, take
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.telling.holder_notices import HandedOver, HandOverWanted, NoteAnswer, ProgressTold
from gateway.telling.notices import AlarmAnswer, AlarmTaken, Cannot
from gateway.vocabulary.entries import INSTALLATION
from grammar.meanings import Ashore, AtBoat, Note

HELD = frozenset({AlarmState.ACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED})
"""States in which somebody has an alarm."""

AT_BOAT_BY_TEXT = "text: at the boat"
"""In the place of a signal's id: the holder of an alarm texted that he is there. It is no announced visit, so it mutes
nothing, but nothing may be brought to life from afar either until a visit is ended by name (design rule 10)."""


def still_his(rec: Recorder, person: Person, boat: str) -> None:
    """A word that shows the person at work answers whether what he had of that boat is still his, even when the list
    has begun anew meanwhile: then those who heard of it hear that he has it."""
    for alarm in _worst_first(rec, [one for one in _mine(rec, person) if one.boat == boat]):
        if alarm.state is AlarmState.UNACKNOWLEDGED:
            point = rec.bundle.points[alarm.point]
            rec.note(boat, stepped(rec.state.standing, point, AlarmEvent.TAKE, rec.now, person=person.id))
            call = rec.state.telling.calls.get(alarm.point)
            for other in persons_of(rec, call.told if call is not None else (), but=person.id):
                rec.tell(
                    AlarmTaken(person=other, boat=boat, situation=situation_of(alarm), holder=person.id),
                    numbers=(alarm.number,),
                )


def _mine(rec: Recorder, person: Person) -> list[Alarm]:
    return [alarm for alarm in rec.state.standing.by_point.values() if _is_holder(alarm, person)]


def progress(rec: Recorder, person: Person, request: AtBoat | Ashore, boat: str | None) -> None:
    """The holder says where he is: kept, and told to the others once each time it is news. What he has of that boat
    counts together, whichever of it he named: he cannot be there for one of them only."""
    found = _held_by(rec, person, request.alarm, boat)
    if isinstance(found, AlarmAnswer):
        rec.tell(_there_all_the_same(rec, person, found, boat) if isinstance(request, AtBoat) else found)
        return
    where = Whereabouts.AT_BOAT if isinstance(request, AtBoat) else Whereabouts.ASHORE
    news = any(alarm.where is not where for alarm in found)
    others: dict[str, None] = {}
    for alarm in found:
        if alarm.state is AlarmState.UNACKNOWLEDGED:  # asked whether it is still his: this is a yes
            point = rec.bundle.points[alarm.point]
            rec.note(alarm.boat, stepped(rec.state.standing, point, AlarmEvent.TAKE, rec.now, person=person.id))
        fact = HolderProgressed(number=alarm.number, point=alarm.point, boat=alarm.boat, person=person.id, where=where)
        rec.note(alarm.boat, fact)
        call = rec.state.telling.calls.get(alarm.point)
        others |= dict.fromkeys(persons_of(rec, call.heard_of if call is not None else (), but=person.id))
    at = found[0].boat
    if where is Whereabouts.AT_BOAT:
        rec.note(at, PersonSeen(boat=at, by=AT_BOAT_BY_TEXT, at=rec.now, person=person.id))
    situations = tuple(situation_of(alarm) for alarm in found)
    for one in (person.id, *(others if news else ())):
        rec.tell(
            ProgressTold(person=one, boat=at, situations=situations, holder=person.id, where=where),
            numbers=tuple(alarm.number for alarm in found),
        )


def _there_all_the_same(rec: Recorder, person: Person, answer: AlarmAnswer, named: str | None) -> AlarmAnswer:
    """Who is at the boat without having an alarm of it (a helper, or whoever named the wrong one) is there no less:
    somebody counts as aboard from the first sign of a person on (design rule 10), where it is known of which boat."""
    at = named or answer.boat or (person.boats[0] if len(person.boats) == 1 else "")
    if at not in person.boats:
        return answer
    rec.note(at, PersonSeen(boat=at, by=AT_BOAT_BY_TEXT, at=rec.now, person=person.id))
    return replace(answer, boat=at, aboard=True)


def _held_by(rec: Recorder, person: Person, number: int | None, boat: str | None) -> list[Alarm] | AlarmAnswer:
    """What the person has of the boat that is meant, worst first; the answer that says why there is nothing."""
    boats = person.boats if boat is None else (boat,) if boat in person.boats else ()
    mine = [alarm for alarm in _mine(rec, person) if alarm.boat in boats]
    if number is None:
        where = {alarm.boat for alarm in mine}
        if len(where) == 1:
            return _worst_first(rec, mine)
        some = tuple(situation_of(alarm) for alarm in _worst_first(rec, mine))
        numbers = tuple(each.number for each in some)
        cannot = Cannot.WHICH if mine else Cannot.HELD_BY_NOBODY
        only = boats[0] if len(boats) == 1 else ""
        return AlarmAnswer(person=person.id, boat=only, cannot=cannot, numbers=numbers, situations=some)
    found = meant(rec, person, number, boat, HELD)
    if isinstance(found, AlarmAnswer):
        return found
    if not _is_holder(found, person):
        return _not_held(found, person)
    return _worst_first(rec, [alarm for alarm in mine if alarm.boat == found.boat])


def _worst_first(rec: Recorder, alarms: list[Alarm]) -> list[Alarm]:
    points = rec.bundle.points
    return sorted(alarms, key=lambda alarm: (-points[alarm.point].priority.gravity, alarm.number))


def _is_holder(alarm: Alarm, person: Person) -> bool:
    """Whether the person has it, or had it when last asked whether that is still so."""
    return alarm.taken_by == person.id and alarm.state in (*HELD, AlarmState.UNACKNOWLEDGED)


def _not_held(alarm: Alarm, person: Person) -> AlarmAnswer:
    """Why what only its holder may say does nothing for this person."""
    holder = alarm.taken_by if alarm.state in HELD else None
    cannot = Cannot.HELD_BY_OTHER if holder is not None else Cannot.HELD_BY_NOBODY
    return AlarmAnswer(person=person.id, boat=alarm.boat, cannot=cannot, numbers=(alarm.number,), holder=holder)


def take_over(rec: Recorder, person: Person, number: int, boat: str | None) -> None:
    """The person has it from now on, whoever had it; both and the others hear so once. What nobody has is taken."""
    found = meant(rec, person, number, boat, HELD)
    if isinstance(found, AlarmAnswer):
        rec.tell(found)
        return
    before = found.taken_by
    if found.state not in HELD or before is None or before == person.id:
        take(rec, person, number, boat)
        return
    fact = HolderChanged(number=number, point=found.point, boat=found.boat, before=before, person=person.id)
    rec.note(found.boat, fact)
    situation = situation_of(found)
    rec.tell(
        AlarmTaken(person=person.id, boat=found.boat, situation=situation, holder=person.id), numbers=(found.number,)
    )
    call = rec.state.telling.calls.get(found.point)
    told = call.heard_of if call is not None else ()
    for other in persons_of(rec, dict.fromkeys((before, *told)), but=person.id):
        rec.tell(
            HandedOver(person=other, boat=found.boat, situation=situation, holder=person.id, before=before),
            numbers=(found.number,),
        )


def hand_over(rec: Recorder, person: Person, number: int, boat: str | None) -> None:
    """The holder asks everybody on the list to take it, and keeps it until somebody does. When nobody does in time, the
    list begins anew (`standing_due`)."""
    found = meant(rec, person, number, boat, HELD)
    if isinstance(found, AlarmAnswer):
        rec.tell(found)
        return
    if not _is_holder(found, person):
        rec.tell(_not_held(found, person))
        return
    point = rec.bundle.points[found.point]
    until = found.offered_until if found.offered_until is not None else rec.now + hand_over_within(found.priority)
    others = persons_of(rec, list_now(rec.state, rec.bundle, point.id, rec.now).everyone, but=person.id)
    asked_before = found.offered_until is not None
    if not asked_before:
        rec.note(
            point.boat,
            HandOverAsked(number=found.number, point=point.id, boat=point.boat, person=person.id, until=until),
        )
    for one in (person.id, *(() if asked_before else others)):
        rec.tell(
            HandOverWanted(
                person=one,
                boat=point.boat,
                situation=situation_of(found),
                holder=person.id,
                until=until,
                asked=others,
            ),
            priority=None if one == person.id else found.priority,
            numbers=(found.number,),
            again=True,
        )


def note(rec: Recorder, person: Person, request: Note, boat: str | None) -> None:
    """Keep a remark. boat: None when its alarm says whose it is; a number of an alarm that is closed will do, for most
    remarks are made afterwards."""
    if boat is None or request.alarm is not None:
        found = meant(rec, person, request.alarm, boat, HELD)
        if isinstance(found, AlarmAnswer) and found.cannot is not Cannot.CLOSED:
            rec.tell(found)
            return
        boat = found.boat  # "": which boat a closed alarm was of is not known any more, and the person has several
    fact = NoteKept(boat=boat, person=person.id, number=request.alarm)
    rec.note(boat or INSTALLATION, fact, [{"words": request.words}])
    rec.tell(NoteAnswer(person=person.id, boat=boat, number=request.alarm))
