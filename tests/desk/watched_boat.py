"""The small boat with signals of every kind, for conditions that look at several of them or back in time."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from gateway.alarms.settings import Point
from gateway.boat.settings import Carries, Signal
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import Condition
from grammar.sentences import read_clearing, read_condition
from tests.desk.small_boat import BEGAN, BOAT, Small, bundle_of, point, signal

BERTH = (Decimal("50.0000"), Decimal("-5.0000"))

SIGNALS = {
    one.id: one
    for one in (
        signal("pump"),
        signal("shore"),
        signal("hatch"),
        signal("volts", Carries.NUMBER, unit="V"),
        signal("start-volts", Carries.NUMBER, unit="V"),
        signal("fuel", Carries.NUMBER, unit="%", step=Decimal(1)),
        signal("cabin", Carries.NUMBER, unit="C", lowest=Decimal(-30), highest=Decimal(70)),
        signal("position", Carries.POSITION, set_position=BERTH),
        signal("heartbeat", Carries.NUMBER),
        signal("selector", Carries.WORD),
    )
}

GRADES = {
    Carries.NUMBER: Grade.NUMBER,
    Carries.CONTACT: Grade.CONTACT,
    Carries.WORD: Grade.WORD,
    Carries.POSITION: Grade.POSITION,
}


def said(key: str, when: str, clears: str | None = None, **more: object) -> Point:
    """A point by its sentences."""
    condition: Condition = read_condition(when)
    return replace(point(key, condition, **more), clears=read_clearing(clears) if clears else None)


def whole(points: Iterable[Point], signals: dict[str, Signal] | None = None) -> Bundle:
    """The small boat's bundle with all these signals."""
    return replace(bundle_of(*points), signals=SIGNALS if signals is None else signals)


def watched(*points: Point) -> Small:
    """A desk that has just started for the first time, its link up."""
    boat = Small(Desk(whole(points)), now=BEGAN - 10)
    boat.take(InstallationCame(fingerprint=boat.desk.bundle.fingerprint, people=tuple(boat.desk.bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = BEGAN
    return boat


def value(key: str, text: str, *, own_time: Ms | None = None, retained: bool = False) -> Reading:
    """A reading as it leaves decoding; "?" is an unreadable one."""
    one = SIGNALS[f"{BOAT}/{key}"]
    grade = Grade.UNREADABLE if text == "?" else GRADES[one.carries]
    return Reading(signal=one.id, grade=grade, text=text, own_time=own_time, retained=retained)


def comes(boat: Small, *readings: Reading) -> None:
    """These arrive together."""
    boat.take(ReadingsCame(readings=readings))


def keeps(boat: Small, length: Ms, *every: Ms, **values: str) -> None:
    """These values every 30 s (or every so often) for so long, the first at once. Keys with _ for -."""
    step = every[0] if every else 30 * SECOND
    for _ in range(0, length, step):
        comes(boat, *(value(key.replace("_", "-"), text) for key, text in values.items()))
        boat.wait(step)


def raised(boat: Small) -> list[tuple[str, Ms]]:
    """Which points were raised when, ms since the begin."""
    return _steps(boat, "raise")


def cleared(boat: Small) -> list[tuple[str, Ms]]:
    """Which points were cleared when, ms since the begin."""
    return _steps(boat, "clear")


def _steps(boat: Small, event: str) -> list[tuple[str, Ms]]:
    return [
        (str(w.entry.body["point"]).partition("/")[2], w.entry.now - boat.began)
        for w in boat.entries
        if w.entry.kind == "alarm-step" and w.entry.body["event"] == event
    ]


HALF = 30 * SECOND
__all__ = [
    "BERTH",
    "HALF",
    "MINUTE",
    "SIGNALS",
    "cleared",
    "comes",
    "keeps",
    "raised",
    "said",
    "value",
    "watched",
    "whole",
]
