"""GREY WAGTAIL and her people, as the words see them."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Boat, Carries, Senses, Signal
from gateway.people.settings import Person, Role
from gateway.requests.answers import Answer
from gateway.requests.settings import Equipment, Sort
from gateway.telling.notices import Notice, Situation
from gateway.vocabulary.moments import HOUR, Ms, from_rfc3339
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import parts, septets
from gateway.wording.say import say
from gateway.wording.scene import Scene
from grammar.meanings import IsContact, IsNumber, NoNews, Than

LONDON = ZoneInfo("Europe/London")
GREY, HARRIER, STINT = "grey-wagtail", "salt-harrier", "little-stint"


def _boat(key: str, short: str, berth: str) -> Boat:
    name = key.replace("-", " ").upper()
    return Boat(
        key=key, name=name, short_name=short, zone=LONDON, broker="shore", carrier="texts", berth=berth
    )  # emergency number: the default, 112


def _person(key: str, name: str, role: Role, number: str, zone: ZoneInfo = LONDON) -> Person:
    return Person(id=f"id-{key}", key=key, name=name, number=number, role=role, zone=zone, boats=(GREY, HARRIER, STINT))


def _signal(key: str, unit: str = "", senses: Senses | None = None) -> Signal:
    carries = Carries.NUMBER if unit else Carries.CONTACT
    return Signal(
        id=f"{GREY}/{key}", boat=GREY, key=key, topic=f"{GREY}/{key}", unit=unit, carries=carries, senses=senses
    )


POINTS = (
    Point(
        id=f"{GREY}/bilge-high",
        boat=GREY,
        key="bilge-high",
        name="Bilge high water",
        priority=Priority.EMERGENCY,
        when=IsContact(signal="bilge-high", wanted=True, lasting=15_000),
        clears=None,
        callout="water",
        latching=True,
        concerns=Concerns.FLOODING,
        means="Boat may be flooding",
    ),
    Point(
        id=f"{GREY}/shore-lost",
        boat=GREY,
        key="shore-lost",
        name="Shore power lost",
        priority=Priority.WARNING,
        when=IsContact(signal="shore", wanted=False, lasting=300_000),
        clears=None,
        callout="power",
        means="House bank carries the boat now",
        do="Can wait until morning",
    ),
    Point(
        id=f"{GREY}/house-low",
        boat=GREY,
        key="house-low",
        name="House bank low",
        priority=Priority.WARNING,
        when=IsNumber(signal="house-volts", than=Than.BELOW, limit=Decimal("12.0"), unit="V", lasting=600_000),
        clears=None,
        callout="power",
        means="Pumps and alarms run from this bank",
    ),
    Point(
        id=f"{GREY}/silent",
        boat=GREY,
        key="silent",
        name="No data",
        priority=Priority.WARNING,
        when=NoNews(signal=None, lasting=600_000),
        clears=None,
        callout="power",
        means="Could be phone mast or power",
    ),
    Point(
        id=f"{GREY}/co",
        boat=GREY,
        key="co",
        name="CO alarm",
        priority=Priority.EMERGENCY,
        when=IsContact(signal="co-alarm", wanted=True),
        clears=None,
        callout="water",
        latching=True,
        concerns=Concerns.CO,
    ),
    Point(
        id=f"{GREY}/fire",
        boat=GREY,
        key="fire",
        name="Fire alarm",
        priority=Priority.EMERGENCY,
        when=IsContact(signal="fire", wanted=True),
        clears=None,
        callout="water",
        latching=True,
        concerns=Concerns.FIRE,
    ),
    Point(
        id=f"{GREY}/gas",
        boat=GREY,
        key="gas",
        name="Gas alarm",
        priority=Priority.EMERGENCY,
        when=IsContact(signal="gas", wanted=True),
        clears=None,
        callout="water",
        latching=True,
        concerns=Concerns.GAS,
    ),
)

EQUIPMENT = (
    Equipment(
        id=f"{GREY}/generator",
        boat=GREY,
        key="generator",
        name="Generator",
        spoken_names=("generator", "genset"),
        sort=Sort.ENGINE,
        pair=("start", "stop"),
        topic="generator",
        feedback=f"{GREY}/generator-running",
        count=f"{GREY}/generator-count",
        caution=("CO KILLS. Only if you KNOW nobody is aboard, alongside or swimming. No sensor can show that."),
        stop_caution="Stops after cool-down, about 5 min.",
        run_limit=4 * HOUR,
        default_run=2 * HOUR,
    ),
    Equipment(
        id=f"{GREY}/refrigeration",
        boat=GREY,
        key="refrigeration",
        name="Refrigeration",
        spoken_names=("refrigeration", "fridge"),
        sort=Sort.REFRIGERATION,
        pair=("on", "off"),
        topic="refrigeration",
        feedback=f"{GREY}/refrigeration-on",
        count=f"{GREY}/refrigeration-count",
        stop_caution="Off: an unopened fridge holds about 4 h.",
    ),
)


@pytest.fixture
def scene() -> Scene:
    """1 July 2026, 03:05 boat time (London, summer time)."""
    boats = (_boat(GREY, "WAGTAIL", "C14"), _boat(HARRIER, "HARRIER", "B2"), _boat(STINT, "STINT", ""))
    people = (
        _person("ines", "Ines Marlow", Role.OWNER, "+447700900101"),
        _person("tobias", "Tobias Penhale", Role.CARETAKER, "+447700900102"),
        _person("ruth", "Ruth Okell", Role.INSTALLER, "+447700900103"),
        _person("marina", "Marina office", Role.OFFICE, "+441632960104"),
    )
    signals = (
        _signal("house-volts", "V"),
        _signal("fuel", "%"),
        _signal("shore"),
        _signal("co-alarm", senses=Senses.CO),
        _signal("co-level", "ppm", senses=Senses.CO),
    )
    return Scene(
        now=from_rfc3339("2026-07-01T02:05:00Z"),
        boats={each.key: each for each in boats},
        points={each.id: each for each in POINTS},
        people={each.id: each for each in people},
        equipment={each.id: each for each in EQUIPMENT},
        signals={each.id: each for each in signals},
    )


def instant(clock: str, day: str = "2026-07-01") -> Ms:
    """A UTC time of day as an instant."""
    return from_rfc3339(f"{day}T{clock}:00Z")


@pytest.fixture
def at() -> Callable[..., Ms]:
    """at("02:05"): an instant of 1 July 2026, UTC; boat time is an hour more."""
    return instant


@pytest.fixture
def situation() -> Callable[..., Situation]:
    """situation("bilge-high", 14, "02:04"): an alarm of GREY WAGTAIL, not taken, since then (UTC)."""

    def one(point: str, number: int, since: str, measured: str = "", **more: Any) -> Situation:
        plain = Situation(
            number=number,
            point=f"{GREY}/{point}",
            state=AlarmState.UNACKNOWLEDGED,
            since=instant(since),
            measured=measured,
        )
        return replace(plain, **more)

    return one


@pytest.fixture
def said(scene: Scene) -> Callable[..., str]:
    """said(notice, "02:05"): the text at that time (UTC); makes sure that it is one part."""

    def text(notice: Notice | Answer, now: str = "02:05") -> str:
        words = say(notice, replace(scene, now=instant(now)))
        assert septets(words) is not None
        assert parts(words) == 1
        return words

    return text
