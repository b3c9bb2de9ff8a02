"""What a person may text about a boat: one list, for the answer to `phrases` and for the printed page alike."""

from gateway.desk.attending import MAY_SAY
from gateway.desk.bundle import Bundle
from gateway.people.settings import Person
from gateway.requests.settings import Equipment
from grammar.meanings import Attend, PutBack, RemoveAlarm, ShelveAlarm, Switch, Understood, UnshelveAlarm

EVERYBODY = ("status", "alarms", "have it", "checked", "visit", "visit over", "at boat", "ashore")
"""Phrases of everybody who is told of a boat."""

KEPT = ("away", "aboard", "laid up", "in the yard")
"""Phrases that say how a boat is kept."""


DUTY = ("who is on duty", "duty me", "duty off")
"""Phrases about who is on duty, where a list tells whoever is."""


def duty_phrases(bundle: Bundle, person: Person, boat: str) -> tuple[str, ...]:
    """The phrases about duty of this person for this boat; whoever cannot have it may ask who has."""
    if boat not in bundle.duty_boats:
        return ()
    return DUTY if person.role in MAY_SAY else DUTY[:1]


def kept_phrases(person: Person) -> tuple[str, ...]:
    """The phrases by which this person says how a boat is kept; none for whoever does not keep boats."""
    return KEPT if person.role in MAY_SAY else ()


def may_put_aside(bundle: Bundle, person: Person, boat: str) -> bool:
    """Whether this person may shelve an alarm of the boat or take it out of service: whoever minds its wiring."""
    return person.id in bundle.minders(boat)


def switches(bundle: Bundle, person: Person, boat: str) -> tuple[tuple[Equipment, str], ...]:
    """Every action that this person has a right to, with its equipment, in the installer's order."""
    return tuple(
        (equipment, action)
        for equipment in bundle.equipment.values()
        if equipment.boat == boat
        for action in equipment.actions
        if person.may(boat, equipment.key, action)
    )


def commanders(bundle: Bundle, boat: str) -> tuple[Person, ...]:
    """Whose phones command something of the boat, so that a lost one matters: in the order of their keys."""
    people = sorted(bundle.people.values(), key=lambda person: person.key)
    return tuple(person for person in people if switches(bundle, person, boat))


def may_text(bundle: Bundle, person: Person, phrase: str) -> bool:
    """Whether the phrase, as this person would text it, asks for something that this person may ask for on any of the
    boats it can mean. What is offered to somebody must be of use to that one."""
    meaning = bundle.read_from(person, phrase)
    if not isinstance(meaning, Understood):
        return False
    boats = person.boats if meaning.boat is None else (meaning.boat,)
    match meaning.request:
        case Switch(equipment=key, action=action):
            return any(person.may(boat, key, action) and f"{boat}/{key}" in bundle.equipment for boat in boats)
        case ShelveAlarm() | UnshelveAlarm() | RemoveAlarm() | PutBack():
            return any(may_put_aside(bundle, person, boat) for boat in boats)
        case Attend():
            return person.role in MAY_SAY
        case _:
            return set(boats) <= set(person.boats)
