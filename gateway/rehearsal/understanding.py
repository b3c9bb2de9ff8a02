"""How one text of one person is understood, as one flat record for people and programs.

The words alone do not decide it: a stranger's text is never acted on, and a boat or a thing that is no matter of the
person's is treated by the desk as if it did not exist (design rule 13).
"""

from collections.abc import Mapping
from dataclasses import dataclass

from gateway.desk.bundle import Bundle
from gateway.people.settings import Person
from grammar.meanings import (
    Ashore,
    Asking,
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
    Request,
    ResetAlarm,
    ShelveAlarm,
    Switch,
    TakeAlarm,
    TakeOver,
    UnshelveAlarm,
    VisitBegins,
    VisitOver,
    Withdraw,
)

QUESTIONS: Mapping[Asking, str] = {
    Asking.STATUS: "status",
    Asking.ALARMS: "alarms",
    Asking.PHRASES: "phrases",
    Asking.DUTY: "who is on duty",
}
"""The kind of each question; a question about a new matter needs its line here (a test counts them)."""

KINDS: Mapping[type[Request], str] = {
    TakeAlarm: "acknowledge",
    ResetAlarm: "reset",
    Switch: "switch",
    Confirm: "confirm",
    Withdraw: "withdraw",
    ProveNumber: "prove",
    PhoneLost: "phone lost",
    VisitBegins: "visit",
    VisitOver: "visit",
    ShelveAlarm: "shelve",
    UnshelveAlarm: "unshelve",
    RemoveAlarm: "out of service",
    PutBack: "in service",
    Attend: "attendance",
    AtBoat: "at boat",
    Ashore: "ashore",
    TakeOver: "take over",
    HandOver: "hand over",
    Duty: "duty",
    DutyOff: "duty off",
    QuietAlarm: "quiet",
    Note: "note",
    Practice: "practice",
    PracticeOver: "practice over",
}
"""The kind of every other request (a test counts them)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Understanding:
    """What one text of one person asks for; all None but `understood` when nothing is understood.

    kind: one of `QUESTIONS` and `KINDS`. equipment: neutral key. action: of the equipment's own pair. minutes: how
    long, 1 to 1440. until: ``HH:MM``, boat time. boat: key of the boat that is named, else of the only one that can be
    meant; None when it takes the person's word which one. alarm: its number.
    """

    understood: bool
    kind: str | None = None
    equipment: str | None = None
    action: str | None = None
    minutes: int | None = None
    until: str | None = None
    boat: str | None = None
    alarm: int | None = None


NOTHING = Understanding(understood=False)


def understanding(meaning: Meaning, person: Person | None, bundle: Bundle) -> Understanding:
    """How the desk takes what was read. person: None for a stranger."""
    if person is None or isinstance(meaning, NotUnderstood):
        return NOTHING
    boats = person.boats if meaning.boat is None else tuple(boat for boat in person.boats if boat == meaning.boat)
    match meaning.request:
        case Switch() as switch:
            having = [boat for boat in boats if f"{boat}/{switch.equipment}" in bundle.equipment]
            return _switch(switch, having, sure=meaning.boat is not None or len(person.boats) == 1)
        case _ if not boats:
            return NOTHING
        case ShelveAlarm(alarm=alarm, minutes=minutes) | QuietAlarm(alarm=alarm, minutes=minutes):
            return Understanding(
                understood=True, kind=kind_of(meaning.request), boat=_only(boats), alarm=alarm, minutes=minutes
            )
        case (
            TakeAlarm(alarm=alarm)
            | ResetAlarm(alarm=alarm)
            | UnshelveAlarm(alarm=alarm)
            | RemoveAlarm(alarm=alarm)
            | PutBack(alarm=alarm)
            | AtBoat(alarm=alarm)
            | Ashore(alarm=alarm)
            | TakeOver(alarm=alarm)
            | HandOver(alarm=alarm)
            | Note(alarm=alarm)
        ):
            return Understanding(understood=True, kind=kind_of(meaning.request), boat=_only(boats), alarm=alarm)
        case _:
            return Understanding(understood=True, kind=kind_of(meaning.request), boat=_only(boats))


def kind_of(request: Request) -> str:
    """The kind of a request, one word."""
    return QUESTIONS[request.asking] if isinstance(request, Question) else KINDS[type(request)]


def _switch(switch: Switch, boats: list[str], *, sure: bool) -> Understanding:
    """boats: those of the person's that are meant and have the thing. sure: the boat was named or is the only one."""
    if not boats:
        return NOTHING
    return Understanding(
        understood=True,
        kind=kind_of(switch),
        equipment=switch.equipment,
        action=switch.action,
        minutes=switch.minutes,
        until=None if switch.until is None else f"{switch.until // 60:02}:{switch.until % 60:02}",
        boat=_only(boats) if sure else None,
    )


def _only(boats: tuple[str, ...] | list[str]) -> str | None:
    return boats[0] if len(boats) == 1 else None
