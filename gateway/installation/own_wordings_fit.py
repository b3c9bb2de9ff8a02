"""Whether the installer's own wordings fit one text with the longest names of this installation."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from gateway.alarms.settings import Point
from gateway.boat.settings import Boat
from gateway.installation.findings import Findings
from gateway.installation.longest_cast import Cast, cast_of, length
from gateway.installation.longest_texts import samples
from gateway.installation.own_wordings import Wordings
from gateway.installation.standards import Whole
from gateway.people.settings import Person
from gateway.requests import answers
from gateway.telling import aside_notices, holder_notices, notices
from gateway.wording.alphabet import ONE_PART_SEPTETS
from gateway.wording.own_wording import OwnWordingTooLong
from gateway.wording.say import say
from gateway.wording.scene import Scene

NOTICE_OF: Mapping[str, type] = {
    "alarm told": notices.AlarmTold,
    "alarm taken": notices.AlarmTaken,
    "alarm yours": notices.AlarmTaken,
    "alarm gone": notices.AlarmGone,
    "alarm reset": notices.AlarmReset,
    "not taken": notices.NotTaken,
    "handed over": holder_notices.HandedOver,
    "put aside": aside_notices.AlarmAside,
    "proved": answers.Proved,
    "not proved": answers.NotProved,
    "not sent": answers.NotSent,
}
"""What is worded by each kind that an installer may word."""


def check_fit(wordings: Wordings, scene: Scene, whole: Whole, findings: Findings) -> None:
    """One mistake for each wording that is too long even at its shortest: with the worst of this installation."""
    strict = replace(scene, own_wordings=wordings, strict=True)
    casts = [cast_of(strict, *one) for one in _worst_of_each(strict)]
    for (language, kind), own in wordings.items():
        found = list(_too_long(kind, language, casts))
        worst = max(found, key=lambda one: length(one.shortest), default=None)
        if worst is not None:
            findings.mistake(
                whole,
                ("text", language, own.kind, "parts"),
                f"takes {length(worst.shortest)} of {ONE_PART_SEPTETS} septets even at its shortest: "
                f'"{worst.shortest}"',
                "say it in fewer words, or let a part go first by naming it in gives_way",
            )


def _too_long(kind: str, language: str, casts: Iterable[Cast]) -> Iterator[OwnWordingTooLong]:
    for cast in casts:
        reader = replace(cast.reader, language=language)
        scene = replace(cast.scene, people={**cast.scene.people, reader.id: reader})
        for notice in samples(NOTICE_OF[kind], replace(cast, scene=scene, reader=reader)):
            try:
                say(notice, scene)
            except OwnWordingTooLong as long:
                if long.wording.kind == kind:
                    yield long


def _worst_of_each(scene: Scene) -> Iterator[tuple[Boat, Point | None, Person]]:
    """Boats, alarm points and readers to be tried: of points that say the same only that of the boat with the longest
    name and berth, so that a thousand boats of one standard are as quick as one."""
    readers = {boat: _reader(scene, boat) for boat in scene.boats}
    worst: dict[object, tuple[Boat, Point | None]] = {}
    pairs: list[tuple[Boat, Point | None]] = [(scene.boats[each.boat], each) for each in scene.points.values()]
    for boat, point in pairs or [(each, None) for each in scene.boats.values()]:
        same = (
            None if point is None else (point.name, point.means, point.do, point.priority, point.concerns, point.offer)
        )
        before = worst.get(same)
        if before is None or _room(boat) > _room(before[0]):
            worst[same] = (boat, point)
    for boat, point in worst.values():
        reader = readers[boat.key]
        if reader is not None:
            yield boat, point, reader


def _room(boat: Boat) -> int:
    return length(boat.short_name or boat.name) + length(boat.berth)


def _reader(scene: Scene, boat: str) -> Person | None:
    """Somebody whose matter the boat is, whose clock shows another time if there is one: "boat time" takes room."""
    concerned = [each for each in scene.people.values() if boat in each.boats]
    zone = scene.boats[boat].zone
    return next((each for each in concerned if each.zone != zone), concerned[0] if concerned else None)
