"""What the words are chosen by: the moment, and the settings of everything that has a name."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from gateway.alarms.settings import Point
from gateway.boat.settings import Boat, Signal
from gateway.people.settings import Person
from gateway.requests.settings import Equipment
from gateway.vocabulary.moments import Ms
from gateway.wording.own_wording import OwnWording


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """now: instant, ms UTC. boats by key; points, equipment and signals by id (``boat/key``); people by random id.

    language: of the person who is written to.
    offset: what is added to an instant for the time that the wall clock shows; it was moved by so much since the start.
    own_wordings: the installer's, by language and kind of text. strict: one that does not fit is told (raised as
    OwnWordingTooLong) instead of being gone round, as it must be while an installation is read.
    first_names: how many of the people have a first name, by that name; None: to be counted for each text.
    What is missing here (left out by a newer installation) is worded from its key, because a text must go all the same.
    """

    now: Ms
    boats: Mapping[str, Boat]
    points: Mapping[str, Point]
    people: Mapping[str, Person]
    equipment: Mapping[str, Equipment]
    signals: Mapping[str, Signal]
    offset: Ms = 0
    language: str = "en"
    own_wordings: Mapping[tuple[str, str], OwnWording] = field(default_factory=dict)
    strict: bool = False
    first_names: Mapping[str, int] | None = None
