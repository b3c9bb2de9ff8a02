"""What one text asks for, in a sentence for the person who tries it."""

from collections.abc import Mapping

from gateway.desk.bundle import Bundle
from gateway.rehearsal.understanding import Understanding
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
    UnshelveAlarm,
    VisitBegins,
    Withdraw,
)

OF_AUTHORITY: Mapping[type, str] = {
    Confirm: "confirms with two words what was asked for",
    Withdraw: "withdraws with two words what was asked for",
    ProveNumber: "proves with two words whose number it is",
    PhoneLost: "reports a phone lost, so that it commands nothing any more",
}
"""What a text about who may command asks for."""


def sentence(request: Request, found: Understanding, bundle: Bundle) -> str:
    """One sentence without a full stop. request: what the words say; found: how it is taken for this person."""
    boat = f" on {bundle.boats[found.boat].name}" if found.boat is not None else ""
    aboard = boat.replace(" on ", " aboard ", 1) or " aboard"
    match request:
        case Question(asking=Asking.STATUS):
            return f"asks how things stand{boat}"
        case Question(asking=Asking.ALARMS):
            return f"asks which alarms are open{boat}"
        case Question(asking=Asking.DUTY) | Duty() | DutyOff():
            return f"{_duty(request)}{boat}"
        case Question():
            return f"asks what may be texted{boat}"
        case TakeAlarm(alarm=alarm):
            return f"takes {_alarm(alarm)}{boat}"
        case ResetAlarm(alarm=alarm):
            return f"says that somebody has looked, and resets {_alarm(alarm)}{boat}"
        case Switch() as switch:
            return f"asks for: {_name(found, bundle)} {switch.action}{_how_long(found)}{boat}"
        case Confirm() | Withdraw() | ProveNumber() | PhoneLost():
            return OF_AUTHORITY[type(request)]
        case VisitBegins():
            return f"says that somebody is{aboard}"
        case ShelveAlarm() | UnshelveAlarm() | RemoveAlarm() | PutBack() | Attend() | QuietAlarm():
            return f"{_aside(request)}{boat}"
        case AtBoat() | Ashore() | TakeOver() | HandOver() | Note() | Practice() | PracticeOver():
            return f"{_held(request)}{boat}"
        case _:
            return f"says that nobody is{aboard} any more"


def _alarm(number: int | None) -> str:
    return "the alarm that is open" if number is None else f"alarm {number}"


def _name(found: Understanding, bundle: Bundle) -> str:
    """The thing's name; of one that several boats have, of the first."""
    named = (piece.name for piece in bundle.equipment.values() if piece.key == found.equipment)
    own = bundle.equipment.get(f"{found.boat}/{found.equipment}")
    return own.name if own is not None else next(named, found.equipment or "")


def _how_long(found: Understanding) -> str:
    if found.until is not None:
        return f" until {found.until}"
    return f" for {found.minutes} min" if found.minutes is not None else ""


def _duty(request: Question | Duty | DutyOff) -> str:
    match request:
        case Duty(person=key):
            return f"says that {'the sender' if key is None else key} is to be on duty"
        case DutyOff():
            return "says that the sender wants to be off duty"
        case Question():
            return "asks who is on duty"


def _held(request: AtBoat | Ashore | TakeOver | HandOver | Note | Practice | PracticeOver) -> str:
    match request:
        case AtBoat(alarm=alarm):
            return f"says that the person is at the boat, for {_alarm(alarm) if alarm else 'what he or she has'}"
        case Ashore(alarm=alarm):
            return f"says that the person is ashore again, for {_alarm(alarm) if alarm else 'what he or she has'}"
        case TakeOver(alarm=alarm):
            return f"takes {_alarm(alarm)} over from whoever has it"
        case HandOver(alarm=alarm):
            return f"asks the others to take {_alarm(alarm)}"
        case Note(alarm=alarm):
            about = f"about {_alarm(alarm)} " if alarm else ""
            return f"leaves a remark {about}for the record, and nothing else"
        case Practice(words=words):
            return f'sets off a practice alarm of "{words}", if a point is called so'
        case PracticeOver():
            return "ends the practice alarm that goes on"


def _aside(request: ShelveAlarm | UnshelveAlarm | RemoveAlarm | PutBack | Attend | QuietAlarm) -> str:
    match request:
        case ShelveAlarm(alarm=alarm, minutes=minutes):
            return f"shelves {_alarm(alarm)} for {minutes} min"
        case QuietAlarm(alarm=alarm, minutes=minutes):
            return f"wants no reminders of {_alarm(alarm)} for {minutes} min"
        case UnshelveAlarm(alarm=alarm):
            return f"takes {_alarm(alarm)} off the shelf"
        case RemoveAlarm(alarm=alarm, days=days):
            return f"takes {_alarm(alarm)} out of service for {days} {'day' if days == 1 else 'days'}"
        case PutBack(alarm=alarm):
            return f"puts {_alarm(alarm)} back into service"
        case Attend(kept=kept, days=days):
            return f"says how the boat is kept ({kept}{'' if days is None else f', {days} days'})"
