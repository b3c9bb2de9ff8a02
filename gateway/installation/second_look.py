"""What deserves a second look and costs more than reading the files: every first text, worded for everyone who gets it.

Pure; `check` asks for it, `run` does not.
"""

from collections.abc import Iterator, Mapping
from itertools import chain

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Point
from gateway.desk.bundle import Bundle
from gateway.installation.lengths import spelt
from gateway.installation.sharing import alone_with_it
from gateway.people.settings import Role
from gateway.telling.notices import AlarmTold
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import HOUR, MINUTE, Ms, as_utc, from_rfc3339
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import parts
from gateway.wording.fitting import tidy
from gateway.wording.say import say
from gateway.wording.scene import Scene
from grammar.meanings import (
    Condition,
    FixesAway,
    IsBand,
    IsCompared,
    IsContact,
    IsMoving,
    IsNumber,
    RanLonger,
    StartedOften,
    StartsGrow,
    leaves_of,
)

LONGEST_NUMBER = 9_999
"""Alarm numbers run from 1 to 9999 (design 5)."""

MOST_NAMED = 3
"""Boats named in one warning: our choice, a standard's slip would else name the whole fleet."""

LONGEST_WAIT: Ms = 5 * MINUTE
"""A contact's delay before an emergency is told that needs no second look. Our choice, twenty times the longest of an
emergency's contact in handbook 3 (15 s, P01)."""

SOME_NIGHT: Ms = from_rfc3339("2026-12-30T03:04:00Z")
"""Any moment does: the time since when is said in hours and minutes."""


def second_look(bundle: Bundle, places: Mapping[tuple[str, str], str], now: Ms | None = None) -> tuple[str, ...]:
    """Warnings, each with its place. places: file and line by kind and id. now: instant (ms UTC), None where no clock
    is at hand: then no return date is taken to have passed."""
    looks = (
        _boats(bundle),
        _limits(bundle),
        alone_with_it(bundle),
        _delays(bundle, places),
        _out_of_service(bundle, places, now),
        _switching(bundle, places),
        _texts(bundle, places),
    )
    return tuple(dict.fromkeys(chain.from_iterable(looks)))


def _boats(bundle: Bundle) -> Iterator[str]:
    for key in bundle.boats:
        file = f"boats/{key}/boat.toml"
        if not any(point.boat == key for point in bundle.points.values()):
            yield f"{file}: nobody is told anything of this boat: it has no alarm point"
        if not bundle.concerned(key, *Role):
            yield f"{file}: nobody to tell: the boat is on nobody's list in people.toml"
        elif not bundle.minders(key):
            yield f"{file}: nobody to tell of a signal that cannot be read: no installer, owner or caretaker has it"


def _limits(bundle: Bundle) -> Iterator[str]:
    pacing = bundle.pacing
    if pacing.all_boats_a_day < pacing.boat_a_day:
        said = f"one boat may send {pacing.boat_a_day} texts a day, all boats together only {pacing.all_boats_a_day}"
        yield f"gateway.toml: pacing: {said}: one boat can silence the warnings of the others"


def _delays(bundle: Bundle, places: Mapping[tuple[str, str], str]) -> Iterator[str]:
    """A slip of one letter ("15 h") keeps an emergency quiet for a night. Only contacts: a level of carbon monoxide may
    rightly have to last."""
    for point in bundle.points.values():
        when = point.when
        if point.priority is Priority.EMERGENCY and isinstance(when, IsContact) and when.lasting > LONGEST_WAIT:
            where = places.get(("alarm", point.id), point.id)
            yield f"{where}: alarm.{point.key}: an emergency that is told only after {spelt(when.lasting)}"


def _out_of_service(bundle: Bundle, places: Mapping[tuple[str, str], str], now: Ms | None) -> Iterator[str]:
    """Named in every check, so that none is forgotten (design rule 11)."""
    for point in bundle.points.values():
        out = point.out_of_service
        if out is not None:
            where = places.get(("alarm", point.id), point.id)
            until = as_utc(out.until).astimezone(bundle.boats[point.boat].zone)
            said = f"out of service until {until:%Y-%m-%d %H:%M} boat time ({out.by}: {out.because})"
            past = now is not None and out.until <= now
            so = (
                "that has passed, it is back in service: take the table out"
                if past
                else "nobody is told of it meanwhile"
            )
            yield f"{where}: alarm.{point.key}: {said}: {so}"


def _switching(bundle: Bundle, places: Mapping[tuple[str, str], str]) -> Iterator[str]:
    for piece in bundle.equipment.values():
        for action in piece.actions:
            if not any(person.may(piece.boat, piece.key, action) for person in bundle.people.values()):
                where = places.get(("equipment", piece.id), piece.id)
                yield f"{where}: equipment.{piece.key}: nobody has the right to {piece.name} {action}"


def _texts(bundle: Bundle, places: Mapping[tuple[str, str], str]) -> Iterator[str]:
    scene = Scene(
        now=SOME_NIGHT + HOUR,
        boats=bundle.boats,
        points=bundle.points,
        people=bundle.people,
        equipment=bundle.equipment,
        signals=bundle.signals,
        own_wordings=bundle.own_wordings,
    )
    lost: dict[tuple[str, str], list[str]] = {}
    for point in bundle.points.values():
        everyone = bundle.callouts[point.callout].everyone
        where = f"{places.get(('alarm', point.id), point.id)}: alarm.{point.key}"
        texts = [first_text(point, person, everyone, scene) for person in everyone]
        for what in dict.fromkeys(what for text in texts for what in _given_up(point, text)):
            lost.setdefault((where, what), []).append(point.boat)
    for (where, what), boats in lost.items():
        more = f" and {len(boats) - MOST_NAMED} more" if len(boats) > MOST_NAMED else ""
        yield f"{where}: the first text of {', '.join(boats[:MOST_NAMED])}{more} {what}"


def first_text(point: Point, person: str, everyone: tuple[str, ...], scene: Scene) -> str:
    """The longest first text of a point to one person: four-digit number, a value, everyone told, every offer open."""
    when = point.when
    measured = longest_value(when, scene, point.boat)
    situation = Situation(
        number=LONGEST_NUMBER,
        point=point.id,
        state=AlarmState.UNACKNOWLEDGED,
        since=SOME_NIGHT,
        measured=measured,
        offers=point.offer,
    )
    others = tuple(each for each in everyone if each != person)
    return say(AlarmTold(person=person, boat=point.boat, situations=(situation,), others=others), scene)


def longest_value(when: Condition, scene: Scene, boat: str) -> str:
    """A value as long as it may be said."""
    leaf = leaves_of(when)[0]
    match leaf:
        case IsNumber(limit=figure, unit=unit) | IsBand(high=figure, unit=unit):
            return f"{figure:f} {unit}".rstrip()
        case IsMoving(faster_than=figure, unit=unit):
            return f"falling {figure:f} {unit}/h"
        case IsCompared(signal=key):
            unit = scene.signals[f"{boat}/{key}"].unit
            return f"12.34 {unit} against 12.34 {unit}"
        case RanLonger():
            return "on 10 h 10 min of 24 h"
        case StartedOften():
            return "1000 starts in 24 h"
        case StartsGrow(hours=hours):
            return f"{', '.join(['100'] * (hours + 1))} starts hour by hour"
        case FixesAway():
            return "1000 m off"
    return ""


def _given_up(point: Point, text: str) -> Iterator[str]:
    """What the text has lost on its way into one part. Only what costs a sleeper something is said: that it does not
    fit at all, and what to do in an emergency or alarm."""
    if parts(text) != 1 or f"HAVE IT {LONGEST_NUMBER}" not in text:
        yield "does not fit into one part even when shortened; shorten the names"
        return
    if point.priority not in (Priority.EMERGENCY, Priority.ALARM):
        return
    for key, said in (("means", point.means), ("do", point.do)):
        if tidy(said) and tidy(said).casefold() not in text.casefold():
            yield f"has no room for all of `{key}`; say it shorter, or leave out what the text says by itself"
