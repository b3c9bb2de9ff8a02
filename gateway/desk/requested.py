"""What follows from a text that is understood."""

from collections.abc import Callable, Mapping

from gateway.desk import switching
from gateway.desk.answering import alarms_answer, phrases_answer, phrases_of_all, status_answer, thing_answer
from gateway.desk.aside import put_aside
from gateway.desk.attending import attend
from gateway.desk.duty import duty_off, duty_said, who_is_on_duty
from gateway.desk.holding import hand_over, note, progress, take_over
from gateway.desk.not_understood import not_understood
from gateway.desk.practising import practice_over, practise
from gateway.desk.quieting import no_reminders
from gateway.desk.regular import boats_worst_first
from gateway.desk.taking import reset, take
from gateway.desk.turn import Recorder
from gateway.desk.visiting import own_visits, visit_begins, visit_over
from gateway.desk.which_boat import one_boat, piece_meant
from gateway.people.settings import Person
from gateway.requests.answers import CodeAnswer, CodeTrouble
from gateway.requests.codes import LATEST
from gateway.telling.notices import StatusOfAll
from gateway.vocabulary.happenings import TextCame
from gateway.vocabulary.moments import Ms
from grammar.meanings import (
    Ashore,
    Asking,
    AtBoat,
    Attend,
    Confirm,
    Duty,
    DutyOff,
    HandOver,
    Note,
    NotUnderstood,
    PhoneLost,
    Practice,
    PracticeOver,
    ProveNumber,
    PutBack,
    Question,
    QuietAlarm,
    RemoveAlarm,
    Request,
    ResetAlarm,
    ShelveAlarm,
    Switch,
    TakeAlarm,
    TakeOver,
    Understood,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
    Why,
    Withdraw,
)

WITH_WORDS: Mapping[type, Callable[[Recorder, Person, tuple[str, str], Ms | None], None]] = {
    Withdraw: switching.withdrawn,
    ProveNumber: switching.proves,
}
"""Who decides on a text that brings two words back."""


def understood(rec: Recorder, person: Person, meaning: Understood, text: TextCame) -> None:
    """Do what it asks for, or tell why not."""
    match meaning.request:
        case TakeAlarm() | ResetAlarm() as request:
            answer_alarm = take if isinstance(request, TakeAlarm) else reset
            answer_alarm(rec, person, request.alarm, meaning.boat)
        case AtBoat() | Ashore() | TakeOver() | HandOver() | Note() | QuietAlarm() as request:
            _of_holder(rec, person, request, meaning.boat)
        case Confirm() | Withdraw() | ProveNumber() | PhoneLost() as request:
            _of_authority(rec, person, request, text)
        case Duty() | DutyOff() | Practice() | PracticeOver() | Question(asking=Asking.DUTY) as request:
            _of_lists(rec, person, request, meaning.boat, text.age)
        case Switch() as switch:
            _switch(rec, person, switch, meaning.boat, text.age)
        case Question(asking=Asking.STATUS, equipment=str() as key) as question:
            piece = piece_meant(rec, person, meaning.boat, key, question)
            if piece is not None:
                rec.tell(thing_answer(rec, person, piece.boat, piece.called(person.language), piece))
        case ShelveAlarm() | UnshelveAlarm() | RemoveAlarm() | PutBack() as request:
            if not _too_old(rec, person, request, meaning.boat, text.age):
                put_aside(rec, person, request, meaning.boat)
        case Question(asking=asking, subject=None) if meaning.boat is None and len(person.boats) > 1:
            _about_all_boats(rec, person, asking)
        case VisitBegins() | VisitOver() | Question() | Attend() as request:
            first = own_visits(rec, person) if isinstance(request, VisitOver) else ()
            boat = one_boat(rec, person, meaning.boat, request, first)
            if boat is not None and not _too_old(rec, person, request, boat, text.age):
                _about_boat(rec, person, boat, request, text)


def _of_authority(
    rec: Recorder, person: Person, request: Confirm | Withdraw | ProveNumber | PhoneLost, text: TextCame
) -> None:
    if isinstance(request, PhoneLost):
        switching.phone_lost(rec, person, request.person)
    elif isinstance(request, Confirm):
        switching.confirmed(rec, person, request, text.age)
    else:
        WITH_WORDS[type(request)](rec, person, request.words, text.age)


def _of_lists(
    rec: Recorder,
    person: Person,
    request: Duty | DutyOff | Practice | PracticeOver | Question,
    boat: str | None,
    age: int | None,
) -> None:
    if isinstance(request, Practice | PracticeOver):
        _of_practice(rec, person, request, boat, age)
    else:
        _of_duty(rec, person, request, boat)


def _of_duty(rec: Recorder, person: Person, request: Duty | DutyOff | Question, boat: str | None) -> None:
    """Without a boat's name it is of all boats of the person that have a list for whoever is on duty."""
    if boat is not None and boat not in person.boats:
        not_understood(rec, person, NotUnderstood(why=Why.NOT_A_PHRASE))
        return
    boats = person.boats if boat is None else (boat,)
    match request:
        case Duty():
            duty_said(rec, person, request, boats)
        case DutyOff():
            duty_off(rec, person, boats)
        case Question():
            who_is_on_duty(rec, person, boats)


def _of_holder(
    rec: Recorder, person: Person, request: AtBoat | Ashore | TakeOver | HandOver | Note | QuietAlarm, boat: str | None
) -> None:
    match request:
        case AtBoat() | Ashore():
            progress(rec, person, request, boat)
        case TakeOver(alarm=number):
            take_over(rec, person, number, boat)
        case QuietAlarm():
            no_reminders(rec, person, request, boat)
        case HandOver(alarm=number):
            hand_over(rec, person, number, boat)
        case Note(alarm=None):
            one = one_boat(rec, person, boat, request)
            if one is not None:
                note(rec, person, request, one)
        case Note():
            note(rec, person, request, boat)


def _of_practice(
    rec: Recorder, person: Person, request: Practice | PracticeOver, named: str | None, age: int | None
) -> None:
    """Ending one needs no boat's name where only one goes on."""
    if isinstance(request, PracticeOver):
        on = [boat for boat in person.boats if rec.state.practice.of_boat(boat) is not None]
        boat = on[0] if named is None and len(on) == 1 else one_boat(rec, person, named, request, tuple(on))
        if boat is not None:
            practice_over(rec, person, boat)
        return
    boat = one_boat(rec, person, named, request)
    if boat is not None and not _too_old(rec, person, request, boat, age):
        practise(rec, person, request.words, boat)


def _about_all_boats(rec: Recorder, person: Person, asking: Asking) -> None:
    """One text for all boats of the person. The values of a boat are told of one boat at a time."""
    if asking is Asking.ALARMS:
        answer = alarms_answer(rec, person.id, "", boats=person.boats)
        told_of = dict.fromkeys(each.point.partition("/")[0] for each in answer.situations)
        rec.tell(answer, boats=tuple(told_of))
    elif asking is Asking.STATUS:
        rec.tell(StatusOfAll(person=person.id, boats=boats_worst_first(rec, person)))
    else:
        rec.tell(phrases_of_all(rec, person))


def _too_old(rec: Recorder, person: Person, request: Request, boat: str | None, age: int | None) -> bool:
    """Whatever lifts a protection, or wakes people, must be as fresh as a command; what gives one back may be late."""
    leaves = isinstance(request, Attend) and request.kept != "away"
    lifts = leaves or isinstance(request, ShelveAlarm | RemoveAlarm | Practice)
    if not lifts or (age is not None and age <= LATEST):
        return False
    rec.tell(CodeAnswer(person=person.id, trouble=CodeTrouble.TOO_OLD, boat=boat or "", age=age))
    return True


def _about_boat(
    rec: Recorder, person: Person, boat: str, request: VisitBegins | VisitOver | Question | Attend, text: TextCame
) -> None:
    match request:
        case Attend():
            attend(rec, person, request, boat)
        case VisitBegins():
            visit_begins(rec, person, boat)
        case VisitOver():
            visit_over(rec, person, boat, text)
        case Question(asking=Asking.STATUS, subject=str() as subject):
            rec.tell(thing_answer(rec, person, boat, subject, None))
        case Question(asking=Asking.STATUS):
            rec.tell(status_answer(rec, person.id, boat))
        case Question(asking=Asking.ALARMS):
            rec.tell(alarms_answer(rec, person.id, boat))
        case Question():
            rec.tell(phrases_answer(rec, person, boat))


def _switch(rec: Recorder, person: Person, switch: Switch, named: str | None, age: int | None) -> None:
    piece = piece_meant(rec, person, named, switch.equipment, switch)
    if piece is not None:
        switching.asked(rec, person, piece, switch, age)
