"""Whoever is on duty is told; where the roster has nobody, all of it is."""

from dataclasses import replace

from gateway.desk.hub import Desk
from gateway.people.roster import Shift
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, Started
from gateway.vocabulary.moments import MINUTE, from_rfc3339
from tests.desk.small_boat import INES, TOBIAS, WATER, WATER_DELAY, Small, bundle_of

LIST = CallOutList(key="list", steps=(Step(after=0, tell=(INES, TOBIAS), by_duty=(INES, TOBIAS)),), repeat=10 * MINUTE)
DAYS = tuple(range(7))


def told(at: str, *roster: Shift, length: int = MINUTE) -> list[str]:
    began = from_rfc3339(at)
    boat = Small(Desk(replace(bundle_of(WATER, callouts=(LIST,)), roster=roster)), now=began - 10, began=began)
    boat.take(InstallationCame(fingerprint=boat.desk.bundle.fingerprint, people=tuple(boat.desk.bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = began
    boat.reads("water", "on")
    boat.wait(WATER_DELAY + length)
    return [person for person, about, _ in boat.told() if about == "alarm told"]


DAY = Shift(person=TOBIAS, days=DAYS, begins=0, ends=0)
EVENING = Shift(person=INES, days=DAYS, begins=20 * 60, ends=0)


def test_only_who_is_on_duty_is_told() -> None:
    assert told("2026-03-02T12:00:00Z", DAY, EVENING) == [TOBIAS]
    assert told("2026-03-02T21:00:00Z", DAY, EVENING) == [INES]


def test_hand_over_at_midnight_the_next_repeat_goes_to_the_new_one() -> None:
    assert told("2026-03-02T23:55:00Z", DAY, EVENING, length=11 * MINUTE) == [INES, TOBIAS]


def test_where_nobody_is_on_duty_all_of_the_roster_are_told() -> None:
    assert told("2026-03-02T12:00:00Z", EVENING) == [INES, TOBIAS]
