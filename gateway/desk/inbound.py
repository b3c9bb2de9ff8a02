"""A text came in: who sent it, what it means, and how it is kept."""

from gateway.desk import switching
from gateway.desk.facts import TextReceived
from gateway.desk.not_understood import not_understood
from gateway.desk.requested import understood
from gateway.desk.strangers import strangers
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import TextCame
from grammar.meanings import (
    Ashore,
    AtBoat,
    Attend,
    Confirm,
    Duty,
    DutyOff,
    HandOver,
    Meaning,
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
    ResetAlarm,
    ShelveAlarm,
    Switch,
    TakeAlarm,
    TakeOver,
    Understood,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
    Withdraw,
)


def text_came(rec: Recorder, text: TextCame) -> None:
    """Take in one text. It is kept whatever it says; a stranger gets no answer and no hint."""
    person = rec.bundle.person_by_number.get(text.number)
    body = text.body.encode(errors="replace").decode()  # half a surrogate pair is no text, and cannot be kept
    meaning = rec.bundle.read_from(person, body)
    boat = _chain(rec, person, meaning)
    if person is not None:
        switching.heard_again(rec, person)
    fact = TextReceived(
        message=text.message,
        person=person.id if person is not None else None,
        read_as=_read_as(meaning),
        boat=boat,
        age=text.age,
    )
    rec.note(boat or INSTALLATION, fact, [{"number": text.number, "body": body}])
    if person is None:
        strangers(rec, text.number, meaning)
    elif isinstance(meaning, NotUnderstood):
        not_understood(rec, person, meaning)
    else:
        understood(rec, person, meaning, text)


def _chain(rec: Recorder, person: Person | None, meaning: Meaning) -> str:
    """The boat that the text is a matter of, as far as it says so itself; "" for the installation."""
    if person is None:
        return ""
    if isinstance(meaning, Understood) and meaning.boat in rec.bundle.boats and meaning.boat in person.boats:
        return meaning.boat or ""
    return person.boats[0] if len(person.boats) == 1 else ""


def _read_as(meaning: Meaning) -> str:
    if isinstance(meaning, NotUnderstood):
        return str(meaning.why)
    return {
        Question: "question",
        TakeAlarm: "takes an alarm",
        ResetAlarm: "resets an alarm",
        VisitBegins: "visit begins",
        VisitOver: "visit over",
        Switch: "asks for a switch",
        Confirm: "confirms",
        Withdraw: "withdraws",
        ProveNumber: "proves a number",
        PhoneLost: "reports a phone lost",
        ShelveAlarm: "shelves an alarm",
        UnshelveAlarm: "unshelves an alarm",
        RemoveAlarm: "takes an alarm out of service",
        PutBack: "puts an alarm back into service",
        Attend: "says how the boat is kept",
        AtBoat: "is at the boat",
        Ashore: "is ashore again",
        TakeOver: "takes an alarm over",
        HandOver: "hands an alarm over",
        Duty: "says who is to be on duty",
        DutyOff: "wants to be off duty",
        QuietAlarm: "wants no reminders of an alarm",
        Note: "a remark",
        Practice: "sets off a practice alarm",
        PracticeOver: "ends a practice alarm",
    }[type(meaning.request)]
