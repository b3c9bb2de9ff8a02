"""What a person may ask for."""

from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from gateway.people.quiet import NIGHT, QuietHours
from gateway.people.settings import Person, Right, Role
from gateway.vocabulary.priority import Priority

OWN = QuietHours(23 * 60, 6 * 60)


def person(*rights: Right, boats: tuple[str, ...] = ("grey-wagtail", "salt-harrier")) -> Person:
    return Person(
        id="p1",
        key="tobias",
        name="Tobias Penhale",
        number="+447700900456",
        role=Role.CARETAKER,
        zone=ZoneInfo("Europe/London"),
        boats=boats,
        rights=rights,
    )


@pytest.mark.parametrize(
    ("right", "boat", "equipment", "action", "allowed"),
    [
        (Right(boat="grey-wagtail", equipment="generator"), "grey-wagtail", "generator", "start", True),
        (Right(boat="grey-wagtail", equipment="generator"), "grey-wagtail", "heater", "on", False),
        (Right(boat="grey-wagtail", equipment="generator"), "salt-harrier", "generator", "start", False),
        (Right(boat="*", equipment="generator"), "salt-harrier", "generator", "start", True),
        (Right(boat="grey-wagtail", equipment="*"), "grey-wagtail", "heater", "on", True),
        (Right(boat="*", equipment="*", actions=("stop",)), "grey-wagtail", "generator", "stop", True),
        (Right(boat="*", equipment="*", actions=("stop",)), "grey-wagtail", "generator", "start", False),
    ],
)
def test_a_right_reaches_as_far_as_it_says(right: Right, boat: str, equipment: str, action: str, allowed: bool) -> None:
    assert person(right).may(boat, equipment, action) is allowed


def test_no_right_at_all_allows_nothing() -> None:
    assert not person().may("grey-wagtail", "generator", "stop")


def test_a_right_to_every_boat_does_not_reach_a_boat_that_is_no_matter_of_the_persons() -> None:
    assert not person(Right(boat="*", equipment="*"), boats=("grey-wagtail",)).may("little-stint", "lights", "on")


def test_rights_to_parts_of_the_pair_add_up() -> None:
    both = person(
        Right(boat="grey-wagtail", equipment="lights", actions=("on",)),
        Right(boat="grey-wagtail", equipment="lights", actions=("off",)),
    )
    assert both.may("grey-wagtail", "lights", "on")
    assert both.may("grey-wagtail", "lights", "off")


@pytest.mark.parametrize(
    ("begins", "ends", "inside", "outside"),
    [
        (480, 1200, (480, 1199), (479, 1200, 0)),
        (1200, 480, (1200, 1439, 0, 479), (480, 1199)),
        (1200, 0, (1200, 1439), (0, 1199)),
        (None, None, (0, 720, 1439), ()),
    ],
    ids=["by day", "over midnight", "until midnight", "always"],
)
def test_the_hours_of_a_right_begin_inside_and_end_outside(
    begins: int | None, ends: int | None, inside: tuple[int, ...], outside: tuple[int, ...]
) -> None:
    right = Right(boat="*", equipment="*", begins=begins, ends=ends)
    assert [right.holds_at(minute) for minute in inside] == [True] * len(inside)
    assert [right.holds_at(minute) for minute in outside] == [False] * len(outside)
    assert person(right).may("grey-wagtail", "generator", "start"), "whether at all is another question than when"


@pytest.mark.parametrize(
    ("own", "priority", "waits"),
    [
        (None, Priority.CAUTION, NIGHT),
        (None, Priority.WARNING, None),
        (OWN, Priority.CAUTION, OWN),
        (OWN, Priority.WARNING, OWN),
        (OWN, Priority.ALARM, None),
        (OWN, Priority.EMERGENCY, None),
    ],
)
def test_what_waits_for_the_end_of_quiet_hours(
    own: QuietHours | None, priority: Priority, waits: QuietHours | None
) -> None:
    assert replace(person(), quiet=own).quiet_of(priority) == waits
