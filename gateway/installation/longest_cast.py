"""Whom and what a text is about that shall come out as long as it can: the longest names around one alarm point."""

from dataclasses import dataclass

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Point
from gateway.boat.settings import Boat
from gateway.desk.bundle import Bundle
from gateway.installation.second_look import LONGEST_NUMBER, SOME_NIGHT, longest_value
from gateway.people.settings import Person
from gateway.requests.settings import Equipment
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import DAY, HOUR
from gateway.wording.alphabet import plain, septets
from gateway.wording.scene import Scene

NOW = SOME_NIGHT + DAY + HOUR
"""The moment of the texts: what began the night before is told with its day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cast:
    """Who and what a text is about. reader: who gets it. others: the longest names beside. point, thing: of the boat;
    None when it has none. boats: keys of all boats of the reader."""

    scene: Scene
    boat: Boat
    reader: Person
    others: tuple[Person, ...]
    point: Point | None
    thing: Equipment | None
    boats: tuple[str, ...]


def scene_of(bundle: Bundle) -> Scene:
    """What the words are chosen by, at that moment."""
    return Scene(
        now=NOW,
        boats=bundle.boats,
        points=bundle.points,
        people=bundle.people,
        equipment=bundle.equipment,
        signals=bundle.signals,
        own_wordings=bundle.own_wordings,
    )


def length(text: str) -> int:
    """Septets of a name as it is sent."""
    return septets(plain(text)) or 0


def cast_of(scene: Scene, boat: Boat, point: Point | None, reader: Person) -> Cast:
    """The longest names of a boat around one alarm point."""
    things = [each for each in scene.equipment.values() if each.boat == boat.key]
    others = [each for each in scene.people.values() if boat.key in each.boats and each.id != reader.id]
    others.sort(key=lambda each: -length(each.name.split()[0] if each.name.split() else ""))
    return Cast(
        scene=scene,
        boat=boat,
        reader=reader,
        others=tuple(others[:3]) or (reader,),
        point=point,
        thing=max(things, key=lambda each: length(each.name), default=None),
        boats=tuple(reader.boats) or (boat.key,),
    )


def situation_of(cast: Cast, point: Point) -> Situation:
    """The alarm of that point, since the night before."""
    return Situation(
        number=LONGEST_NUMBER,
        point=point.id,
        state=AlarmState.UNACKNOWLEDGED,
        since=SOME_NIGHT,
        measured=longest_value(point.when, cast.scene, cast.boat.key),
        offers=point.offer,
        times=12,
    )
