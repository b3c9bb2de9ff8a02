"""What everything is called in a text: boats, people, alarm points, equipment, signals."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping

from gateway.alarms.settings import Point
from gateway.people.settings import Person, Role
from gateway.requests.settings import Equipment
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import plain
from gateway.wording.fitting import Piece, Worth, capitals, clipped, fixed, tidy
from gateway.wording.scene import Scene

CARRIER_WORDS = frozenset(
    {"stop", "stopall", "unsubscribe", "cancel", "end", "quit", "revoke", "optout"}  # out
    | {"start", "yes", "unstop"}  # in again
    | {"help", "info"}
    | {"remove", "td"}  # other providers' lists
    | {"arret", "arrete", "arrett"}  # the French forms of "stop" that one of the carrier's products takes
)
"""Words that carriers take as opt-out, opt-in or help (the carrier's published lists, stored 2026; US 47 CFR
64.1200(a)(10)). No text of ours and no phrase that we print begins with one."""

ABBREVIATIONS = frozenset({"co", "ac", "dc", "lpg"})
"""Of a key's words, those that a person says letter by letter."""

SHORT_BOAT, SHORT_POINT, SHORT_THING, SHORT_PERSON = 12, 16, 14, 16
"""Septets that a name keeps when all else has been given up: our choice, so that a person still knows which one."""


def begins_with_carrier_word(text: str) -> bool:
    """Whether a carrier might take the text, or its beginning, for a wish to be left alone or to be let in again."""
    words = re.findall(r"\w+", plain(text).casefold())[:2]
    return "".join(words) in CARRIER_WORDS or (words[:1] != [] and words[0] in CARRIER_WORDS)


def named(text: str) -> str:
    """The name in the 7-bit alphabet; "" when no letter or digit is left of it (a name in another script)."""
    plainly = tidy(text)
    return plainly if any(char.isalnum() for char in plainly) else ""


def boat_name(scene: Scene, key: str) -> str:
    """The boat's full name, "gateway" for the gateway itself."""
    known = scene.boats.get(key)
    return named(known.name if known else "") or capitals(key.replace("-", " ")) or "Gateway"


def boat(scene: Scene, key: str, *, berth: bool = False) -> Piece:
    """The boat at the head of a text: with its berth, by name, by short name, cut. Never lost."""
    known = scene.boats.get(key)
    full = boat_name(scene, key)
    short = capitals(named(known.short_name if known else "")) or full
    forms, worths = [full, short, clipped(short, SHORT_BOAT)], [Worth.FULL_NAME, Worth.NAME]
    if known and berth and tidy(known.berth):
        forms, worths = [f"{full} {tidy(known.berth)}", *forms], [Worth.NICETY, *worths]
    return Piece(tuple(_harmless(form) for form in forms), tuple(worths))


def boat_short(scene: Scene, key: str) -> Piece:
    """The boat in a list of boats: by name, by short name, cut; in capitals, as at the head of a text."""
    return boat(scene, key)


def _harmless(form: str) -> str:
    return f"Boat {form}" if begins_with_carrier_word(form) else form


def first_name(scene: Scene, person: str) -> str:
    """How another person is called: the first name, with an initial where two share it; an office by its whole name."""
    known = scene.people.get(person)
    if known is None or not tidy(known.name):
        return "somebody"
    words = tidy(known.name).split()
    if known.role is Role.OFFICE:
        return clipped(" ".join(words), SHORT_PERSON + 4)
    counts = first_names(scene.people.values()) if scene.first_names is None else scene.first_names
    initial = f" {words[-1][0]}" if counts.get(words[0], 0) > 1 and len(words) > 1 else ""
    return clipped(words[0], SHORT_PERSON) + initial


def first_names(people: Iterable[Person]) -> Mapping[str, int]:
    """How many of these persons have a first name, by that name. Counted once for an installation: a thousand persons
    gone through for each name in each text would be felt in a flood."""
    return Counter(_first(person) for person in people)


def _first(person: Person) -> str:
    return (tidy(person.name).split() or [""])[0]


def point_name(scene: Scene, point: str) -> str:
    """An alarm point as it is said: in capitals for an emergency, else small in the middle of a sentence."""
    known = scene.points.get(point)
    called = named(known.name if known else "") or spoken(point)
    if known and known.priority is Priority.EMERGENCY:
        return capitals(called)
    return small(called)


def point_of(scene: Scene, point: str) -> Point | None:
    """The point's settings, None when a newer installation has left it out."""
    return scene.points.get(point)


def what(scene: Scene, point: str, around: str = "{}") -> Piece:
    """An alarm point's name as a piece that may be cut and is never lost. around: the words about it."""
    full = point_name(scene, point)
    short = clipped(full, SHORT_POINT)
    if short == full:
        return fixed(around.replace("{}", full))
    return Piece((around.replace("{}", full), around.replace("{}", short)), (Worth.NAME,))


def equipment_of(scene: Scene, boat: str, equipment: str | None) -> Equipment | None:
    """A piece of equipment by its id or by its key aboard this boat; None when it is unknown or none is meant."""
    if equipment is None:
        return None
    return scene.equipment.get(equipment) or scene.equipment.get(f"{boat}/{equipment}")


def thing_name(scene: Scene, equipment: str) -> str:
    """A piece of equipment as it is said in a sentence: "generator"."""
    known = scene.equipment.get(equipment)
    called = named(known.called(scene.language) if known else "")
    if called and known and scene.language in known.names_in:
        return called  # written by the installer for this language, whose nouns may begin with a capital
    return small(called or spoken(equipment))


def thing(scene: Scene, equipment: str, around: str = "{}") -> Piece:
    """A piece of equipment's name as a piece that may be cut and is never lost."""
    full = thing_name(scene, equipment)
    short = clipped(full, SHORT_THING)
    forms = tuple(dict.fromkeys(around.replace("{}", form) for form in (full, short)))
    return Piece(forms, (Worth.NAME,) * (len(forms) - 1))


def phrase_name(scene: Scene, equipment: str) -> str | None:
    """The equipment's name as a person may text it, in capitals; None when it is unknown or no phrase may begin so."""
    known = scene.equipment.get(equipment)
    if known is None:
        return None
    spoken_as = capitals(known.names_in.get(scene.language, (*known.spoken_names, known.name))[0])
    return None if not spoken_as or begins_with_carrier_word(spoken_as) else spoken_as


def spoken(ident: str) -> str:
    """An id as words: "grey-wagtail/house-volts" is "house volts"."""
    words = tidy(ident.rpartition("/")[2].replace("-", " ").replace("_", " ")).split()
    return " ".join(word.upper() if word in ABBREVIATIONS else word for word in words) or "unnamed"


def small(text: str) -> str:
    """The text with a small first letter, unless it begins with an abbreviation ("CO alarm", "P 1")."""
    if len(text) > 1 and text[0].isupper() and not text[1].islower():
        return text
    first = plain(text[:1].lower())
    return text if first == "?" else first + text[1:]
