"""No reminders of one alarm on a person's wish; and what waits for the end of a person's quiet hours."""

from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from gateway.alarms.settings import Point
from gateway.desk.hub import Desk
from gateway.people.quiet import QuietHours
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, OptFlagCame, Started
from gateway.vocabulary.moments import HOUR, MINUTE, Ms, from_rfc3339
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, NUMBER_OF, TOBIAS, WATER, Small, bundle_of, point

PUMP = point(
    "panel",
    when=IsContact(signal="panel", wanted=True),
    clears=IsContact(signal="panel", wanted=False),
    priority=Priority.ALARM,
)
SHORE = point(
    "shore",
    when=IsContact(signal="shore", wanted=False),
    clears=IsContact(signal="shore", wanted=True),
    priority=Priority.WARNING,
)
BOTH = CallOutList(key="list", steps=(Step(after=0, tell=(INES, TOBIAS)),), repeat=10 * MINUTE)
NIGHT = from_rfc3339("2026-03-02T03:00:00Z")
MORNING = from_rfc3339("2026-03-02T07:00:00Z")


def boat_with(*points: Point, at: Ms = NIGHT, quiet: tuple[str, ...] = (), zone: str = "Europe/London") -> Small:
    """quiet: ids of those with quiet hours from 22:00 to 07:00 in that zone."""
    bundle = bundle_of(*points, callouts=(BOTH,))
    hours = QuietHours(22 * 60, 7 * 60)
    people = {
        key: replace(one, quiet=hours, zone=ZoneInfo(zone)) if key in quiet else one
        for key, one in bundle.people.items()
    }
    boat = Small(Desk(replace(bundle, people=people)), now=at - 10, began=at)
    boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
    boat.take(Started(stopped_at=None))
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.now = at
    return boat


def told(boat: Small, person: str, about: str = "alarm told") -> list[int]:
    """The minutes at which a person was told so."""
    return [at // MINUTE for who, kind, at in boat.told() if (who, kind) == (person, about)]


def answer(boat: Small, person: str, body: str) -> str:
    before = len(boat.sent)
    boat.texts(person, body)
    return next(text.body for text in boat.sent[before:] if text.person == person)


# ---------------------------------------------------------------- quiet 14 for 2 h


def test_no_reminders_to_who_wants_none_until_then_and_the_others_get_theirs() -> None:
    boat = boat_with(PUMP)
    boat.reads("panel", "on")
    boat.wait(MINUTE)
    said = answer(boat, INES, "quiet 1 for 30 min")
    assert said.startswith("GREY WAGTAIL: alarm 1, panel: no reminders to you until 03:31. Tobias still gets them")
    boat.wait(45 * MINUTE)
    assert told(boat, INES) == [0, 40]
    assert told(boat, TOBIAS) == [0, 10, 20, 30, 40]
    held = boat.held
    assert {(one["person"], one["because"]) for one in held} == {(INES, "the person wants no reminders of it")}
    assert boat.rebuilt() == boat.bytes()


def test_an_emergency_is_never_quiet() -> None:
    boat = boat_with(WATER)
    boat.keeps_reading("water", "on", MINUTE)
    assert "alarm 1 is an emergency, reminders go on till somebody has it" in answer(boat, INES, "quiet 1 for 1 h")
    boat.wait(11 * MINUTE)
    assert told(boat, INES) == [0, 10]


def test_the_last_person_is_reminded_whatever_is_wished() -> None:
    boat = boat_with(PUMP)
    boat.reads("panel", "on")
    answer(boat, INES, "quiet 1 for 1 h")
    assert "nobody else is reminded of alarm 1" in answer(boat, TOBIAS, "quiet 1 for 1 h")
    boat.take(OptFlagCame(number=NUMBER_OF[TOBIAS], out=True))
    boat.wait(11 * MINUTE)
    assert told(boat, INES)[:2] == [0, 10], "she has become the last one"


def test_it_lasts_no_longer_than_a_shelf_and_only_of_what_one_is_reminded() -> None:
    boat = boat_with(PUMP)
    boat.reads("panel", "on")
    assert "alarm 1 can be quiet for 2 h at most" in answer(boat, INES, "quiet 1 for 3 h")
    boat.texts(TOBIAS, "have it 1")
    assert "you get no reminders of alarm 1 as it is" in answer(boat, INES, "quiet 1 for 1 h")
    assert "quiet-asked" not in boat.kinds()


def test_a_warning_that_has_become_an_alarm_is_told_again_to_who_wanted_no_reminders() -> None:
    boat = boat_with(replace(SHORE, becomes_alarm=HOUR))
    boat.reads("shore", "off")
    answer(boat, INES, "quiet 1 for 8 h")
    boat.wait(HOUR + MINUTE)
    assert told(boat, INES) == [0, 60]


# ---------------------------------------------------------------- quiet hours


def test_a_warning_waits_for_the_end_of_the_persons_quiet_hours_and_others_hear_at_once() -> None:
    boat = boat_with(SHORE, quiet=(INES,))
    boat.reads("shore", "off")
    boat.wait(5 * HOUR)
    assert told(boat, INES)[0] == (MORNING - NIGHT) // MINUTE
    assert told(boat, TOBIAS)[0] == 0
    held = [one for one in boat.held if one["person"] == INES]
    assert held[0]["because"] == "quiet hours"
    assert held[0]["until"] == MORNING
    assert boat.rebuilt() == boat.bytes()


@pytest.mark.parametrize("priority", [Priority.ALARM, Priority.EMERGENCY])
def test_alarms_and_emergencies_never_wait(priority: Priority) -> None:
    boat = boat_with(replace(PUMP, priority=priority), quiet=(INES, TOBIAS))
    boat.reads("panel", "on")
    boat.wait(11 * MINUTE)
    assert told(boat, INES) == [0, 10]


def test_they_are_the_persons_own_and_not_the_boats() -> None:
    boat = boat_with(SHORE, quiet=(INES,), zone="America/New_York")  # 03:00 aboard is 22:00 there
    boat.reads("shore", "off")
    boat.wait(10 * HOUR)
    assert told(boat, INES)[0] == 9 * 60
    early = boat_with(SHORE, at=NIGHT - MINUTE, quiet=(INES,), zone="America/New_York")
    early.reads("shore", "off")
    assert told(early, INES) == [0]


def test_what_waits_is_said_in_the_next_text() -> None:
    boat = boat_with(SHORE, PUMP, quiet=(INES,))
    boat.reads("shore", "off")
    boat.wait(MINUTE)
    boat.reads("panel", "on")
    [body] = [text.body for text in boat.sent if text.person == INES]
    assert "Held back from you: 1. Reply ALARMS" in body
    assert boat.rebuilt() == boat.bytes()


def test_a_warning_that_has_become_an_alarm_waits_no_longer() -> None:
    boat = boat_with(replace(SHORE, becomes_alarm=HOUR), quiet=(INES, TOBIAS))
    boat.reads("shore", "off")
    boat.wait(HOUR + MINUTE)
    assert told(boat, INES) == [60]


def test_an_all_clear_waits_as_well_and_is_not_lost() -> None:
    evening = from_rfc3339("2026-03-02T21:50:00Z")
    boat = boat_with(SHORE, at=evening, quiet=(INES,))
    boat.keeps_reading("shore", "off", 12 * MINUTE)
    boat.reads("shore", "on")
    boat.wait(HOUR)
    assert told(boat, TOBIAS, "alarm gone") == [12]
    assert told(boat, INES, "alarm gone") == []
    boat.wait(10 * HOUR)
    assert told(boat, INES, "alarm gone") == [9 * 60 + 10], "at 07:00"
    assert boat.rebuilt() == boat.bytes()


def test_what_came_and_went_while_somebody_slept_wakes_nobody() -> None:
    boat = boat_with(SHORE, quiet=(INES,))
    boat.keeps_reading("shore", "off", 10 * MINUTE)
    boat.reads("shore", "on")
    boat.wait(5 * HOUR)
    assert told(boat, INES) == []
    assert told(boat, INES, "alarm gone") == []


def test_a_caution_waits_for_the_morning_also_where_no_quiet_hours_are_written_down() -> None:
    """Handbook 2.3: never between 22:00 and 07:00 local."""
    boat = boat_with(replace(SHORE, priority=Priority.CAUTION))
    boat.reads("shore", "off")
    boat.wait(4 * HOUR - 1)
    assert boat.sent == []
    assert {one["because"] for one in boat.held} == {"quiet hours"}
    boat.wait(1)
    assert sorted(text.person for text in boat.sent) == [INES, TOBIAS]


def test_a_warning_waits_for_nobody_whose_quiet_hours_are_not_written_down() -> None:
    boat = boat_with(SHORE)
    boat.reads("shore", "off")
    assert sorted(text.person for text in boat.sent) == [INES, TOBIAS]


def test_a_repeat_that_falls_into_quiet_hours_is_told_at_their_end() -> None:
    evening = from_rfc3339("2026-03-01T21:50:00Z")
    boat = boat_with(SHORE, at=evening, quiet=(INES,))
    twice = CallOutList(key="list", steps=(Step(after=0, tell=(INES,)), Step(after=HOUR, tell=(INES,))), repeat=None)
    boat.desk.use(replace(boat.desk.bundle, callouts={"list": twice}))
    boat.reads("shore", "off")
    boat.wait(12 * HOUR)
    assert told(boat, INES) == [0, 9 * 60 + 10]


def test_own_quiet_hours_hold_for_cautions_as_well() -> None:
    boat = boat_with(replace(SHORE, priority=Priority.CAUTION), at=MORNING, quiet=(INES,), zone="America/New_York")
    boat.reads("shore", "off")
    assert [text.person for text in boat.sent] == [TOBIAS], "it is 02:00 where Ines is"
