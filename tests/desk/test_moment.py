"""One moment of the installation: what an interlock may rely on, and what the boat's clock shows."""

from dataclasses import replace
from datetime import datetime, time
from zoneinfo import ZoneInfo

import pytest

from gateway.alarms.settings import Concerns
from gateway.conditions.judging import Verdict
from gateway.desk.moment import Moment
from gateway.people.settings import Right
from gateway.requests.authority import no_right
from gateway.requests.settings import Equipment, Sort
from gateway.vocabulary.happenings import LinkChanged, WallClockStepped
from gateway.vocabulary.moments import HOUR, MINUTE, from_rfc3339, rfc3339
from grammar.meanings import IsContact, NoNews
from tests.desk.small_boat import BOAT, INES, SILENT, WATER, WATER_DELAY, Small, point, small

FIRE = point("water", when=IsContact(signal="water", wanted=True), concerns=Concerns.FIRE, latching=True)


def moment(boat: Small) -> Moment:
    return Moment(boat.desk.state, boat.desk.bundle, boat.now)


def test_silence_proves_nothing_to_an_interlock() -> None:
    boat = small(WATER)
    assert moment(boat).judge(BOAT, NoNews(signal=None, lasting=1)).verdict is Verdict.UNKNOWN


def test_an_interlock_sees_a_fresh_contact_and_no_old_one() -> None:
    boat = small(WATER)
    boat.reads("shore", "on")
    wanted = IsContact(signal="shore", wanted=True)
    assert moment(boat).judge(BOAT, wanted).verdict is Verdict.HOLDS
    boat.wait(90_001)
    assert moment(boat).judge(BOAT, wanted).verdict is Verdict.UNKNOWN


def test_a_fire_alarm_counts_as_active_until_somebody_has_looked_and_reset_it() -> None:
    boat = small(FIRE)
    assert moment(boat).alarm_active(BOAT, Concerns.FIRE) is None
    boat.reads("water", "on")
    assert moment(boat).alarm_active(BOAT, Concerns.FIRE) == 1
    boat.reads("water", "off")
    assert moment(boat).alarm_active(BOAT, Concerns.FIRE) == 1, "latched: gone by itself is not looked at"
    boat.texts(INES, "have it")
    assert moment(boat).alarm_active(BOAT, Concerns.FIRE) == 1
    boat.texts(INES, "checked")
    assert moment(boat).alarm_active(BOAT, Concerns.FIRE) is None
    assert moment(boat).alarm_active("salt-harrier", Concerns.FIRE) is None


def test_a_boat_is_silent_from_its_last_news_once_its_silence_has_been_raised() -> None:
    boat = small(SILENT)
    boat.reads("shore", "on")
    last = boat.now
    assert moment(boat).silent_since(BOAT) is None
    boat.wait(10 * MINUTE + 1)
    assert moment(boat).silent_since(BOAT) == last


def test_an_alarm_of_a_value_says_nothing_about_silence() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    assert moment(boat).silent_since(BOAT) is None


def test_the_link_is_up_from_when_it_came_and_not_while_it_is_down() -> None:
    boat = small(WATER, linked=False)
    assert not moment(boat).link_up(BOAT)
    boat.take(LinkChanged(link="broker:quay", up=True))
    came = boat.now
    boat.wait(HOUR)
    boat.take(LinkChanged(link="broker:quay", up=True))
    assert moment(boat).link_up_since(BOAT) == came
    boat.take(LinkChanged(link="broker:quay", up=False))
    assert not moment(boat).link_up(BOAT)


@pytest.mark.parametrize(
    ("now", "clock", "expected"),
    [
        ("2026-03-01T03:00:00Z", 8 * 60, "2026-03-01T08:00:00Z"),
        ("2026-03-01T08:00:00Z", 8 * 60, "2026-03-02T08:00:00Z"),
        ("2026-07-01T03:00:00Z", 8 * 60, "2026-07-01T07:00:00Z"),
        # The night on which British clocks go forward, 2026-03-29: 01:00 to 02:00 local time does not exist.
        ("2026-03-29T00:00:00Z", 90, "2026-03-29T01:00:00Z"),
        # The night on which they go back, 2026-10-25: 01:30 comes twice.
        ("2026-10-25T00:00:00Z", 90, "2026-10-25T00:30:00Z"),
        ("2026-10-25T00:45:00Z", 90, "2026-10-25T01:30:00Z"),
    ],
)
def test_the_next_time_the_boats_clock_shows_a_minute(now: str, clock: int, expected: str) -> None:
    boat = small(WATER)
    assert boat.desk.bundle.boats[BOAT].zone == ZoneInfo("Europe/London")
    found = Moment(boat.desk.state, boat.desk.bundle, from_rfc3339(now)).next_clock_time(BOAT, clock)
    assert rfc3339(found) == expected


def test_clock_times_follow_the_wall_clock_and_lengths_do_not() -> None:
    boat = small(WATER)
    before = moment(boat).next_clock_time(BOAT, 8 * 60)
    boat.take(WallClockStepped(by=HOUR))
    assert moment(boat).next_clock_time(BOAT, 8 * 60) == before - HOUR
    assert moment(boat).minute_of_day(BOAT, boat.began) == 4 * 60


LONDON = ZoneInfo("Europe/London")
DAYTIME = Right(boat=BOAT, equipment="*", begins=8 * 60, ends=20 * 60)
LIGHTS = Equipment(
    id=f"{BOAT}/lights",
    boat=BOAT,
    key="lights",
    name="lights",
    spoken_names=(),
    sort=Sort.LIGHTS,
    pair=("on", "off"),
    topic="t",
    feedback=f"{BOAT}/shore",
    count=f"{BOAT}/volts",
)


@pytest.mark.parametrize("day", ["2026-03-28", "2026-03-29", "2026-10-24", "2026-10-25"])
def test_hours_of_a_right_go_by_the_boats_clock_at_every_quarter_of_an_hour_of_both_time_changes(day: str) -> None:
    """Against the zone's own data: clocks go forward on 2026-03-29 and back on 2026-10-25, at 01:00 UTC."""
    boat = small(WATER)
    midnight = from_rfc3339(f"{day}T00:00:00Z")
    person = replace(boat.desk.bundle.people[INES], rights=(DAYTIME,), zone=ZoneInfo("Asia/Tokyo"))
    found = {}
    for instant in range(midnight - 2 * HOUR, midnight + 26 * HOUR, 15 * MINUTE):
        here = Moment(boat.desk.state, boat.desk.bundle, instant)
        local = datetime.fromtimestamp(instant // 1000, LONDON)
        expected = time(8) <= local.time() < time(20)
        found[instant] = no_right(LIGHTS, "on", person, here) is None
        assert found[instant] is expected, local
        assert no_right(LIGHTS, "off", person, here) is None
    assert set(found.values()) == {True, False}
