"""Readings come in: what raises an alarm, what clears it, and what does neither."""

from dataclasses import replace

import pytest

from gateway.alarms.aboard import Occupied
from gateway.alarms.life import AlarmState
from gateway.logbook.kept_readings import line, roll
from gateway.vocabulary.happenings import LinkChanged, ReadingsCame
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact, NoNews
from tests.desk.small_boat import (
    BOAT,
    INES,
    RUTH,
    SHORE,
    SILENT,
    TOBIAS,
    WATER,
    WATER_DELAY,
    WATER_GONE,
    Small,
    point,
    reading,
    small,
)

S = AlarmState
AT_ONCE = point("water", when=IsContact(signal="water", wanted=True), priority=Priority.EMERGENCY)


def flooded(boat: Small) -> Small:
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    assert boat.state_of("water") is S.UNACKNOWLEDGED
    return boat


def test_an_alarm_is_raised_by_time_alone_when_its_delay_has_passed_and_says_since_when() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY - 1)
    assert boat.state_of("water") is S.NORMAL
    boat.wait(1)
    alarm = boat.desk.state.standing.by_point[WATER.id]
    assert (alarm.since, alarm.raised) == (boat.began, boat.began + WATER_DELAY)


def test_values_of_different_signals_in_one_moment_are_all_set_before_anything_is_judged() -> None:
    boat = small(WATER, SHORE)
    turn = boat.take(ReadingsCame(readings=(reading("water", "on"), reading("shore", "off"))))
    assert boat.kinds(turn) == ["condition-began", "condition-began"]


def test_a_second_value_of_one_signal_closes_the_moment_and_the_first_is_judged_before_it() -> None:
    boat = small(AT_ONCE)
    turn = boat.take(ReadingsCame(readings=(reading("water", "on"), reading("water", "off"))))
    events = [w.entry.body["event"] for w in turn.entries if w.entry.kind == "alarm-step"]
    assert events == ["raise", "clear"]
    assert boat.state_of("water") is S.GONE_UNACKNOWLEDGED


def test_two_equal_messages_in_a_row_change_nothing_twice() -> None:
    boat = flooded(small(WATER))
    told = len(boat.sent)
    turn = boat.take(ReadingsCame(readings=(reading("water", "on"), reading("water", "on"))))
    assert boat.kinds(turn) == []
    assert len(turn.readings) == 2
    assert len(boat.sent) == told


@pytest.mark.parametrize("key", ["volts", "nobody-knows-it"])
def test_a_reading_that_no_point_watches_is_kept_or_dropped_and_decides_nothing(key: str) -> None:
    boat = small(WATER)
    one = replace(reading("volts", "12.4"), signal=f"{BOAT}/{key}")
    assert boat.take(ReadingsCame(readings=(one,))).readings == ((one,) if key == "volts" else ())


# ---------------------------------------------------------------- retained, late, ahead


def test_a_retained_value_raises_at_once_what_is_not_active_and_the_alarm_says_that_it_was_found_so() -> None:
    boat = small(WATER)
    boat.reads("water", "on", retained=True)
    assert boat.desk.state.standing.by_point[WATER.id].found


def test_a_retained_value_never_clears_an_active_alarm() -> None:
    boat = flooded(small(WATER))
    boat.reads("water", "off", retained=True)
    boat.wait(HOUR)
    assert boat.desk.state.standing.is_active(WATER.id)


def test_a_retained_value_that_disagrees_does_not_complete_a_delay_that_began_before_it() -> None:
    boat = small(SHORE)
    boat.reads("shore", "off")
    boat.wait(4 * MINUTE)
    boat.take(LinkChanged(link="broker:quay", up=False))
    boat.wait(4 * MINUTE)
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.reads("shore", "on", retained=True)
    boat.wait(MINUTE)
    assert boat.state_of("shore") is S.NORMAL


def test_a_retained_value_in_an_off_delay_starts_it_again() -> None:
    boat = flooded(small(WATER))
    boat.reads("water", "off")
    boat.wait(WATER_GONE - 5 * SECOND)
    boat.reads("water", "off", retained=True)
    boat.reads("water", "off")
    boat.wait(WATER_GONE - SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)
    boat.wait(SECOND)
    assert not boat.desk.state.standing.is_active(WATER.id)


def test_a_late_value_raises_a_latched_or_emergency_point_without_delay_and_says_that_it_came_late() -> None:
    boat = small(WATER)
    boat.reads("water", "off", own_time=boat.began)
    boat.reads("water", "on", own_time=boat.began - MINUTE)
    alarm = boat.desk.state.standing.by_point[WATER.id]
    assert (alarm.late, alarm.since, alarm.raised) == (True, boat.began - MINUTE, boat.now)


def test_a_late_value_raises_no_other_point() -> None:
    boat = small(replace(WATER, priority=Priority.ALARM, latching=False))
    boat.reads("water", "off", own_time=boat.began)
    boat.reads("water", "on", own_time=boat.began - MINUTE)
    boat.wait(HOUR)
    assert boat.state_of("water") is S.NORMAL


def test_a_late_value_never_clears() -> None:
    boat = small(AT_ONCE)
    boat.reads("water", "on", own_time=boat.began)
    boat.reads("water", "off", own_time=boat.began - 1)
    assert boat.desk.state.standing.is_active(AT_ONCE.id)
    boat.wait(5 * MINUTE)
    boat.reads("water", "off", own_time=boat.began + MINUTE)  # newer than the newest, but minutes old
    assert boat.desk.state.standing.is_active(AT_ONCE.id)


def test_a_queue_let_go_after_an_outage_is_judged_along_its_own_times() -> None:
    boat = small(SHORE)
    boat.wait(HOUR)
    times = [boat.began + n * 30 * SECOND for n in range(12)]
    boat.take(ReadingsCame(readings=tuple(reading("shore", "off", own_time=at) for at in times)))
    alarm = boat.desk.state.standing.by_point[SHORE.id]
    assert (alarm.since, alarm.late) == (boat.began, True)


def test_an_own_time_more_than_60_s_ahead_counts_as_now_and_the_kept_reading_says_so() -> None:
    boat = small(AT_ONCE)
    (kept,) = boat.reads("water", "on", own_time=boat.now + HOUR).readings
    assert (kept.own_time, kept.ahead) == (None, True)
    assert boat.desk.state.standing.by_point[AT_ONCE.id].since == boat.now


# ---------------------------------------------------------------- delays across other things


def test_a_text_to_an_alarm_breaks_no_off_delay() -> None:
    boat = flooded(small(WATER))
    boat.reads("water", "off")
    boat.wait(30 * SECOND)
    boat.texts(INES, "have it")
    boat.wait(30 * SECOND)
    assert boat.state_of("water") is S.LATCHED_ACKNOWLEDGED


def test_a_refused_reset_breaks_no_on_delay_of_an_alarm_that_stands() -> None:
    boat = flooded(small(WATER))
    boat.keeps_reading("water", "off", 2 * MINUTE)
    boat.reads("water", "on")
    began = boat.now
    boat.wait(10 * SECOND)
    boat.texts(INES, "checked")
    boat.wait(WATER_DELAY - 10 * SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)
    assert boat.desk.state.standing.by_point[WATER.id].since == began


def test_a_stale_signal_completes_no_delay_and_an_agreeing_value_afterwards_does() -> None:
    boat = small(SHORE)
    boat.reads("shore", "off")
    boat.wait(HOUR)
    assert boat.state_of("shore") is S.NORMAL
    boat.reads("shore", "off")
    assert boat.state_of("shore") is S.UNACKNOWLEDGED
    assert boat.desk.state.standing.by_point[SHORE.id].since == boat.began


def test_a_desk_that_is_woken_too_late_still_judges_a_delay_by_the_moment_at_which_it_was_complete() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.now += HOUR  # nobody woke it
    boat.take(LinkChanged(link="carrier:main", up=True))
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_after_a_restart_an_on_delay_goes_on_only_when_the_first_value_agrees() -> None:
    for first, raised in (("off", True), ("on", False)):
        boat = small(SHORE)
        boat.reads("shore", "off")
        boat.wait(MINUTE)
        boat.restarts(after=10 * MINUTE)
        boat.wait(MINUTE)
        assert boat.state_of("shore") is S.NORMAL, "nothing has been heard since the start"
        boat.reads("shore", first)
        assert (boat.state_of("shore") is S.UNACKNOWLEDGED) is raised


def test_a_delay_that_was_complete_in_the_blind_time_is_not_taken_for_granted_at_the_start() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY - 1)
    boat.restarts(after=MINUTE)
    assert boat.state_of("water") is S.NORMAL


def test_after_a_restart_an_off_delay_starts_again() -> None:
    boat = flooded(small(WATER))
    boat.reads("water", "off")
    boat.wait(WATER_GONE - 10 * SECOND)
    boat.restarts(after=5 * SECOND)
    boat.reads("water", "off")
    boat.wait(WATER_GONE - SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)
    boat.wait(SECOND)
    assert boat.state_of("water") is S.LATCHED_UNACKNOWLEDGED


# ---------------------------------------------------------------- silence


def test_a_boat_is_silent_when_nothing_has_come_for_longer_than_allowed_and_not_before() -> None:
    boat = small(SILENT)
    boat.reads("volts", "12.4")
    boat.wait(10 * MINUTE)
    assert boat.state_of("silent") is S.NORMAL
    boat.wait(1)
    assert boat.state_of("silent") is S.UNACKNOWLEDGED
    assert boat.desk.state.standing.by_point[SILENT.id].since == boat.began


def test_the_time_of_a_silence_counts_from_a_start_and_is_told_from_the_last_news_before_it() -> None:
    boat = small(SILENT)
    boat.reads("volts", "12.6")
    heard = boat.now
    boat.wait(8 * MINUTE)
    boat.restarts(after=5 * MINUTE)
    started = boat.desk.state.started
    boat.wait(10 * MINUTE)
    assert boat.state_of("silent") is S.NORMAL, "she has a full time to report after a start"
    boat.wait(2)
    assert boat.desk.state.now > started + 10 * MINUTE
    assert boat.desk.state.standing.by_point[SILENT.id].since == heard
    assert boat.rebuilt() == boat.bytes()


def test_silence_is_judged_by_arrival_so_late_news_is_news_and_retained_news_is_none() -> None:
    boat = small(SILENT)
    boat.reads("volts", "12.4", own_time=boat.began)
    boat.wait(9 * MINUTE)
    boat.reads("volts", "12.3", own_time=boat.began - HOUR)
    boat.wait(9 * MINUTE)
    boat.reads("volts", "12.3", retained=True)
    assert boat.state_of("silent") is S.NORMAL
    boat.wait(MINUTE + 1)
    assert boat.state_of("silent") is S.UNACKNOWLEDGED


def test_late_news_of_a_signal_ends_its_silence_once_and_for_the_full_length() -> None:
    dumb = point("dumb", when=NoNews(signal="volts", lasting=MINUTE))
    boat = small(dumb)
    boat.reads("volts", "12.4", own_time=boat.began)
    boat.wait(MINUTE + 1)
    assert boat.desk.state.standing.is_active(dumb.id)
    boat.reads("volts", "12.3", own_time=boat.began - 1)
    boat.wait(MINUTE)
    assert not boat.desk.state.standing.is_active(dumb.id)
    boat.wait(1)
    assert boat.desk.state.standing.is_active(dumb.id)


def test_while_our_own_link_is_down_the_boat_is_not_called_silent_and_gets_a_full_length_afterwards() -> None:
    boat = small(SILENT)
    boat.reads("volts", "12.4")
    boat.take(LinkChanged(link="broker:quay", up=False))
    boat.wait(HOUR)
    assert boat.state_of("silent") is S.NORMAL
    boat.take(LinkChanged(link="broker:quay", up=True))
    boat.wait(10 * MINUTE)
    assert boat.state_of("silent") is S.NORMAL
    boat.wait(1)
    assert boat.state_of("silent") is S.UNACKNOWLEDGED


def test_any_news_ends_a_boats_silence_and_those_who_were_told_hear_of_it() -> None:
    boat = small(SILENT)
    boat.wait(11 * MINUTE)
    before = len(boat.turns)
    boat.reads("volts", "?")
    assert boat.state_of("silent") is S.GONE_UNACKNOWLEDGED
    assert [(who, what) for who, what, _ in boat.told(before)] == [(INES, "alarm gone")]


def test_a_retained_value_ends_no_silence_that_has_been_told() -> None:
    boat = small(SILENT)
    boat.wait(11 * MINUTE)
    turn = boat.reads("volts", "12.4", retained=True)
    assert "alarm-step" not in boat.kinds(turn)
    assert boat.desk.state.standing.is_active(SILENT.id)


# ---------------------------------------------------------------- unreadable


def test_a_row_of_unreadable_payloads_leaves_two_entries_however_long_it_is() -> None:
    boat = small(WATER)
    for _ in range(30):
        boat.reads("volts", "?")
    assert boat.kinds().count("signal-unreadable") == 2


def test_the_fifth_unreadable_payload_in_a_row_is_told_once_to_who_minds_the_wiring() -> None:
    boat = small(WATER)
    for _ in range(4):
        boat.reads("volts", "?")
    assert boat.sent == []
    for _ in range(20):
        boat.reads("volts", "?")
    assert [(who, what) for who, what, _ in boat.told()] == [(RUTH, "signal bad")]


def test_a_readable_payload_ends_the_row_and_is_kept_as_a_fact() -> None:
    boat = small(WATER)
    for _ in range(4):
        boat.reads("volts", "?")
    assert "signal-readable" in boat.kinds(boat.reads("volts", "12.4"))
    for _ in range(4):
        boat.reads("volts", "?")
    assert boat.sent == []


def test_an_unreadable_value_is_never_taken_for_normal() -> None:
    boat = small(AT_ONCE)
    boat.reads("water", "on")
    boat.reads("water", "?")
    assert boat.desk.state.standing.is_active(AT_ONCE.id)


# ---------------------------------------------------------------- the hours of the record


def test_the_first_reading_of_a_new_hour_closes_the_one_before_with_the_hash_over_its_lines() -> None:
    boat = small(WATER)
    turns = [boat.reads("volts", text) for text in ("12.4", "12.5", "?")]
    lines = [line(turn.happening, turn.now, one) for turn in turns for one in turn.readings]
    boat.wait(2 * HOUR)
    closed = [w.entry.body for w in boat.reads("volts", "12.6").entries if w.entry.kind == "hour-kept"]
    digest = ""
    for one in lines:
        digest = roll(digest, one)
    assert closed == [{"boat": BOAT, "hour": boat.began, "count": 3, "digest": digest}]
    assert "hour-kept" not in boat.kinds(boat.reads("volts", "12.7"))


# ---------------------------------------------------------------- who is aboard


def empty(boat: Small) -> Small:
    boat.texts(TOBIAS, "visit over")
    assert boat.desk.state.standing.occupancy(BOAT) is None
    return boat


def test_a_sign_of_a_person_fills_an_empty_boat_and_silence_never_empties_it() -> None:
    boat = empty(small(SILENT))
    boat.reads("hatch", "on")
    since = boat.now
    boat.reads("hatch", "off")
    boat.wait(48 * HOUR)
    assert boat.desk.state.standing.occupancy(BOAT) == Occupied(since, f"{BOAT}/hatch")


@pytest.mark.parametrize("how", ["late", "retained", "overtaken"])
def test_an_old_sign_of_a_person_counts_too(how: str) -> None:
    boat = empty(small(SILENT))
    if how == "overtaken":
        boat.reads("hatch", "off", own_time=boat.now)
    own_time = None if how == "retained" else boat.now - 10 * MINUTE
    boat.reads("hatch", "on", own_time=own_time, retained=how == "retained")
    assert boat.desk.state.standing.occupancy(BOAT) is not None


def test_a_press_of_the_panel_that_was_seen_to_happen_ends_a_visit() -> None:
    boat = small(SILENT)
    boat.reads("panel", "off")
    boat.reads("panel", "on")
    assert boat.desk.state.standing.occupancy(BOAT) is None


@pytest.mark.parametrize("before", [None, "on", "?", "stale"])
def test_a_panel_that_is_found_pressed_ends_no_visit(before: str | None) -> None:
    boat = small(SILENT)
    if before == "stale":
        boat.reads("panel", "off")
        boat.wait(2 * MINUTE)
    elif before is not None:
        boat.reads("panel", before)
    boat.reads("panel", "on")
    assert boat.desk.state.standing.occupancy(BOAT) is not None


def test_a_retained_or_late_press_of_the_panel_ends_no_visit() -> None:
    boat = small(SILENT)
    boat.reads("panel", "off")
    boat.reads("panel", "on", retained=True)
    assert boat.desk.state.standing.occupancy(BOAT) is not None
    boat.reads("panel", "off")
    boat.wait(HOUR)
    boat.reads("panel", "on", own_time=boat.now - 30 * MINUTE)
    assert boat.desk.state.standing.occupancy(BOAT) is not None


def test_a_button_that_is_held_down_ends_a_visit_once_and_not_the_next_one() -> None:
    boat = small(SILENT)
    boat.reads("panel", "off")
    boat.reads("panel", "on")
    boat.reads("hatch", "on")
    boat.reads("panel", "on")
    assert boat.desk.state.standing.occupancy(BOAT) is not None
