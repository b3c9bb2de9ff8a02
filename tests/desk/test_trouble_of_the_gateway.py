"""Trouble that is not a boat's: links, blind time, clocks, a record that could not be kept."""

import pytest

from gateway.vocabulary.happenings import CarrierTimeSeen, LinkChanged, Started, StoreRecovered, WallClockStepped
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND
from tests.desk.small_boat import INES, RUTH, SHORE, TOBIAS, WATER, WATER_DELAY, Small, small

QUAY = "broker:quay"


def kinds(boat: Small, since: int) -> list[tuple[str, str]]:
    return [(who, what) for who, what, _ in boat.told(since)]


def test_a_link_that_is_down_for_10_min_is_told_to_the_installer_once() -> None:
    boat = small(WATER)
    before = len(boat.turns)
    boat.take(LinkChanged(link=QUAY, up=False))
    boat.wait(10 * MINUTE - 1)
    boat.take(LinkChanged(link=QUAY, up=False, detail="still"))
    assert kinds(boat, before) == []
    boat.wait(1)
    assert kinds(boat, before) == [(RUTH, "link trouble")]
    boat.wait(5 * HOUR)
    assert kinds(boat, before) == [(RUTH, "link trouble")]


def test_a_link_that_comes_back_in_time_is_told_to_nobody_and_counts_anew_the_next_time() -> None:
    boat = small(WATER)
    before = len(boat.turns)
    for _ in range(3):
        boat.take(LinkChanged(link=QUAY, up=False))
        boat.wait(9 * MINUTE)
        boat.take(LinkChanged(link=QUAY, up=True))
    assert kinds(boat, before) == []
    boat.take(LinkChanged(link=QUAY, up=False))
    boat.wait(10 * MINUTE)
    boat.take(LinkChanged(link=QUAY, up=True))
    boat.take(LinkChanged(link=QUAY, up=False))
    boat.wait(10 * MINUTE)
    assert kinds(boat, before) == [(RUTH, "link trouble")] * 2


def test_a_broker_that_lost_its_memory_is_told_at_once() -> None:
    boat = small(WATER)
    boat.take(LinkChanged(link=QUAY, up=False))
    before = len(boat.turns)
    boat.take(LinkChanged(link=QUAY, up=True, memory_kept=False))
    assert kinds(boat, before) == [(RUTH, "link trouble")]


def test_a_broker_met_for_the_first_time_has_no_memory_to_lose() -> None:
    boat = small(WATER, linked=False)
    boat.take(LinkChanged(link=QUAY, up=True, memory_kept=False))
    assert boat.sent == []


def test_a_client_id_used_twice_is_told_to_the_installer_at_once_and_then_once_a_day() -> None:
    boat = small(WATER)
    before = len(boat.turns)
    for _ in range(3):
        boat.take(LinkChanged(link=QUAY, up=False, rival=True))
        boat.take(LinkChanged(link=QUAY, up=True))
    assert kinds(boat, before) == [(RUTH, "client id twice")]
    boat.wait(DAY)
    boat.take(LinkChanged(link=QUAY, up=False, rival=True))
    assert kinds(boat, before) == [(RUTH, "client id twice")] * 2
    assert boat.rebuilt() == boat.bytes()


def test_a_link_that_is_not_there_after_a_start_is_told_after_10_min() -> None:
    boat = small(WATER)
    boat.take(Started(stopped_at=boat.desk.state.now))
    before = len(boat.turns)
    boat.wait(10 * MINUTE)
    assert kinds(boat, before) == [(RUTH, "link trouble")]


@pytest.mark.parametrize(("after", "told"), [(10 * MINUTE, []), (10 * MINUTE + 1, [INES, TOBIAS, RUTH])])
def test_blind_time_of_more_than_10_min_is_told(after: int, told: list[str]) -> None:
    boat = small(WATER)
    stopped = boat.desk.state.now
    before = len(boat.turns)
    boat.now = stopped + after
    turn = boat.take(Started(stopped_at=stopped))
    assert kinds(boat, before) == [(who, "blind time") for who in told]
    assert "service-started" in boat.kinds(turn), "short or long, it stands in the record"


def test_short_blind_time_with_an_alarm_found_standing_is_told_to_the_installer_and_those_who_know_of_it() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    before = len(boat.turns)
    boat.restarts(after=SECOND)
    assert kinds(boat, before) == [(RUTH, "blind time"), (INES, "blind time")]


def test_a_gateway_that_stops_every_minute_is_told_of_once_an_hour_and_how_often_it_stopped() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    before = len(boat.turns)
    for _ in range(59):
        boat.restarts(after=SECOND)
        boat.now += MINUTE - SECOND
    assert kinds(boat, before).count((RUTH, "blind time")) == 1
    assert boat.kinds().count("service-started") == 60, "each stands in the record"
    boat.now += 2 * MINUTE
    again = len(boat.turns)
    boat.restarts(after=SECOND)
    assert (RUTH, "blind time") in kinds(boat, again)
    assert ", stop 59 since 03:00, nothing was watched" in [text.body for text in boat.sent if text.person == RUTH][-1]
    assert boat.rebuilt() == boat.bytes()


def test_a_stop_is_told_again_at_once_when_it_was_long_or_another_alarm_stands_by_then() -> None:
    boat = small(WATER, SHORE)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    boat.restarts(after=SECOND)
    boat.reads("shore", "off")
    boat.keeps_reading("shore", "off", 6 * MINUTE)
    another = len(boat.turns)
    boat.restarts(after=SECOND)
    assert (RUTH, "blind time") in kinds(boat, another)
    long = len(boat.turns)
    boat.restarts(after=11 * MINUTE)
    assert (RUTH, "blind time") in kinds(boat, long)
    for_the_second_time = len(boat.turns)
    boat.restarts(after=SECOND)
    assert (RUTH, "blind time") not in kinds(boat, for_the_second_time)


def test_the_first_start_of_all_is_no_blind_time() -> None:
    assert small(WATER).sent == []


def test_a_clock_more_than_2_min_from_the_carriers_is_doubted_told_once_and_trusted_again() -> None:
    boat = small(WATER)
    boat.take(CarrierTimeSeen(ahead=2 * MINUTE))
    assert not boat.desk.state.clock_doubtful
    boat.take(CarrierTimeSeen(ahead=-2 * MINUTE - 1))
    boat.take(CarrierTimeSeen(ahead=-2 * MINUTE - 1))
    assert boat.desk.state.clock_doubtful
    assert kinds(boat, 0) == [(RUTH, "clock doubtful")]
    boat.take(WallClockStepped(by=-2 * MINUTE))
    boat.take(CarrierTimeSeen(ahead=-2 * MINUTE - 1))
    assert not boat.desk.state.clock_doubtful


def test_a_record_that_could_not_be_kept_is_told_to_the_installer_and_says_what_was_told_meanwhile() -> None:
    boat = small(WATER)
    turn = boat.take(StoreRecovered(since=boat.began, until=boat.now, told=("water to id-ines",)))
    assert kinds(boat, 0) == [(RUTH, "store was full")]
    assert turn.entries[0].entry.kind == "store-gap"
    assert turn.entries[0].entry.body["told"] == ["water to id-ines"]
