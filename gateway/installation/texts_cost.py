"""How long each kind of text gets with this installation's longest names, in how many parts, and what that costs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from gateway.alarms.settings import Point
from gateway.boat.settings import Boat
from gateway.desk.bundle import Bundle
from gateway.installation.longest_cast import Cast, cast_of, length, scene_of
from gateway.installation.longest_texts import samples
from gateway.installation.prices import Price
from gateway.people.settings import Person
from gateway.wording.alphabet import parts
from gateway.wording.say import WORDINGS, say
from gateway.wording.scene import Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class TextLength:
    """The longest text of one kind that was found. septets: of the 7-bit alphabet. parts: messages it is charged as."""

    kind: str
    septets: int
    parts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What texts by one carrier cost by the installer's contract. carrier: its name. currency: as the installer writes
    it. part: one part. longest: one text of the kind with the most parts. boat_day, all_day: as many of those as the
    limits let out in a day, by one boat and by all boats of this carrier."""

    carrier: str
    currency: str
    part: Decimal
    longest: Decimal
    boat_day: Decimal
    all_day: Decimal


def text_lengths(bundle: Bundle) -> tuple[TextLength, ...]:
    """Every kind of text that this installation can send, in the order in which the gateway lists them."""
    casts = tuple(_casts(scene_of(bundle)))
    found = []
    for kind, (called, _) in WORDINGS.items():
        texts = [say(notice, cast.scene) for cast in casts for notice in samples(kind, cast)]
        if texts:
            longest = max(texts, key=lambda text: (parts(text), length(text)))
            found.append(TextLength(kind=called, septets=length(longest), parts=parts(longest)))
    return tuple(found)


def _casts(scene: Scene) -> Iterator[Cast]:
    """For each language that somebody has: the boat with the longest name, and that of the alarm with the longest."""
    for language in sorted({person.language for person in scene.people.values()}):
        readers = {
            key: person
            for person in scene.people.values()
            if person.language == language
            for key in person.boats
            if key in scene.boats
        }
        yield from (cast_of(scene, boat, point, reader) for boat, point, reader in _longest(scene, readers))


def _longest(scene: Scene, readers: Mapping[str, Person]) -> Iterator[tuple[Boat, Point | None, Person]]:
    if not readers:
        return
    points = [point for point in scene.points.values() if point.boat in readers]
    boat = max((scene.boats[key] for key in readers), key=lambda one: length(one.name) + length(one.berth))
    of_boat = [point for point in points if point.boat == boat.key]
    yield boat, max(of_boat, key=_words, default=None), readers[boat.key]
    if points:
        named = max(points, key=_words)
        yield scene.boats[named.boat], named, readers[named.boat]


def _words(point: Point) -> int:
    return length(point.name) + length(point.means) + length(point.do)


def costs(bundle: Bundle, lengths: tuple[TextLength, ...], prices: Mapping[str, Price]) -> tuple[Cost, ...]:
    """For each carrier with a price. Emergencies and first texts of alarms go beyond the limits, and so beyond this."""
    most = max((one.parts for one in lengths), default=1)
    found = []
    for carrier, price in sorted(prices.items()):
        boats = sum(boat.carrier == carrier for boat in bundle.boats.values())
        if boats == 0:
            continue
        longest = price.amount * most
        all_boats = min(bundle.pacing.all_boats_a_day, bundle.pacing.boat_a_day * boats)
        found.append(
            Cost(
                carrier=carrier,
                currency=price.currency,
                part=price.amount,
                longest=longest,
                boat_day=longest * min(bundle.pacing.boat_a_day, bundle.pacing.all_boats_a_day),
                all_day=longest * all_boats,
            )
        )
    return tuple(found)
