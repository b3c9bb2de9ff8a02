"""A call-out list that differs by the hour and by how the boat is kept."""

from dataclasses import replace

import pytest

from gateway.alarms.settings import Attendance
from gateway.desk.hub import Desk
from gateway.people.hours import WeekHours
from gateway.telling.settings import CallOutList, Step, When
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, Started
from gateway.vocabulary.moments import MINUTE, Ms, from_rfc3339
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, MARINA, NUMBER_OF, RUTH, TOBIAS, Small, bundle_of, point

PUMP = point("panel", when=IsContact(signal="panel", wanted=True), priority=Priority.ALARM)
NIGHT = When(hours=WeekHours(begins=22 * 60, ends=7 * 60))
DAY = When(hours=WeekHours(begins=7 * 60, ends=22 * 60))
ABOARD = When(attendance=(Attendance.ABOARD,))
AWAY = When(attendance=(Attendance.AWAY, Attendance.LAID_UP, Attendance.IN_THE_YARD))


def told(callout: CallOutList, at: str, kept: str = "", length: Ms = MINUTE) -> list[tuple[str, int]]:
    """Who is told of the pump, in which minute. kept: what Ines texts before."""
    began = from_rfc3339(at)
    boat = Small(Desk(bundle_of(PUMP, callouts=(callout,))), now=began - 10, began=began)
    boat.take(InstallationCame(fingerprint=boat.desk.bundle.fingerprint, people=tuple(boat.desk.bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = began
    if kept:
        boat.texts(INES, kept)
        assert "attendance-changed" in boat.kinds()
    boat.reads("panel", "on")
    boat.wait(length)
    assert boat.rebuilt() == boat.bytes()
    return [(person, when // MINUTE) for person, about, when in boat.told() if about == "alarm told"]


BY_HOUR = CallOutList(
    key="list",
    steps=(Step(after=0, tell=(TOBIAS,), when=DAY), Step(after=0, tell=(INES,), when=NIGHT)),
    repeat=10 * MINUTE,
)


@pytest.mark.parametrize(
    ("at", "who"),
    [
        ("2026-03-08T02:30:00Z", INES),
        ("2026-03-08T06:58:00Z", INES),
        ("2026-03-08T07:00:00Z", TOBIAS),
        ("2026-03-08T21:58:00Z", TOBIAS),
        ("2026-03-08T22:00:00Z", INES),
        ("2026-07-05T06:00:00Z", TOBIAS),  # 07:00 by the summer's clock aboard
    ],
)
def test_who_is_told_is_whose_hour_it_is_by_the_boats_clock(at: str, who: str) -> None:
    assert told(BY_HOUR, at) == [(who, 0)]


def test_a_repeat_goes_to_whose_hour_has_come() -> None:
    assert told(BY_HOUR, "2026-03-08T06:55:00Z", length=21 * MINUTE) == [(INES, 0), (TOBIAS, 10), (TOBIAS, 20)]


BY_KEEPING = CallOutList(
    key="list",
    steps=(
        Step(after=0, tell=(INES,), when=ABOARD),
        Step(after=0, tell=(TOBIAS,), when=AWAY),
        Step(after=5 * MINUTE, tell=(RUTH,), when=AWAY),
    ),
    repeat=None,
)


@pytest.mark.parametrize(
    ("kept", "who"),
    [
        ("", [(TOBIAS, 0), (RUTH, 5)]),
        ("aboard", [(INES, 0)]),
        ("laid up", [(TOBIAS, 0), (RUTH, 5)]),
        ("in the yard", [(TOBIAS, 0), (RUTH, 5)]),
    ],
)
def test_who_is_told_is_by_how_the_boat_is_kept(kept: str, who: list[tuple[str, int]]) -> None:
    assert told(BY_KEEPING, "2026-03-08T12:00:00Z", kept, length=10 * MINUTE) == who


def test_where_nobody_is_on_it_at_that_hour_everybody_of_the_list_is_told() -> None:
    day = replace(BY_HOUR, steps=BY_HOUR.steps[:1])
    both = CallOutList(key="list", steps=(*day.steps, Step(after=MINUTE, tell=(MARINA,), when=DAY)), repeat=None)
    assert told(both, "2026-03-08T02:30:00Z", length=2 * MINUTE) == [(TOBIAS, 0), (MARINA, 1)]


def test_a_refused_text_hastens_the_next_round_that_tells_somebody_now() -> None:
    began = from_rfc3339("2026-03-08T02:30:00Z")
    plan = CallOutList(
        key="list",
        steps=(
            Step(after=0, tell=(INES,)),
            Step(after=10 * MINUTE, tell=(TOBIAS,), when=DAY),
            Step(after=20 * MINUTE, tell=(RUTH,), when=NIGHT),
        ),
        repeat=None,
    )
    boat = Small(Desk(bundle_of(PUMP, callouts=(plan,))), now=began - 10, began=began)
    boat.take(InstallationCame(fingerprint=boat.desk.bundle.fingerprint, people=tuple(boat.desk.bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = began
    boat.reads("panel", "on")
    boat.refuses(boat.sent[-1])
    boat.wait(MINUTE)
    assert [text.person for text in boat.sent if text.number == NUMBER_OF[RUTH] and "panel" in text.body] == [RUTH]
