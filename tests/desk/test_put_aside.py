"""Alarms put aside: by a person for a time, by another alarm, by the files; and what comes of it when that ends."""

from dataclasses import replace
from decimal import Decimal

import pytest

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Attendance, Concerns, OutOfService
from gateway.desk.moment import Moment
from gateway.vocabulary.moments import DAY, HOUR, MINUTE
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact, IsNumber, Than
from tests.desk.small_boat import (
    BOAT,
    INES,
    MARINA,
    RUTH,
    SHORE,
    TOBIAS,
    WATER,
    WATER_DELAY,
    Small,
    bundle_of,
    point,
    small,
)

S = AlarmState

LOW = point(
    "low",
    when=IsNumber(signal="volts", than=Than.BELOW, limit=Decimal("12.0"), unit="V"),
    clears=IsNumber(signal="volts", than=Than.ABOVE, limit=Decimal("12.2"), unit="V"),
    priority=Priority.WARNING,
)
LOST = point("lost", when=IsContact(signal="shore", wanted=False), clears=IsContact(signal="shore", wanted=True))
HIDDEN = replace(LOW, hidden_by=(LOST.id,))
FULL = replace(LOW, priority=Priority.CAUTION)


def low(boat: Small) -> Small:
    boat.reads("volts", "11.5")
    return boat


def well(boat: Small) -> Small:
    boat.reads("volts", "12.6")
    return boat


def kinds_to(boat: Small, person: str, since: int = 0) -> list[str]:
    return [kind for who, kind, _ in boat.told(since) if who == person]


def bodies(boat: Small, since: int = 0) -> list[str]:
    return [o.body for turn in boat.turns[since:] for o in turn.orders if isinstance(o, SendText)]


# ---------------------------------------------------------------- the shelf


def test_the_installer_shelves_an_alarm_and_nobody_is_told_of_it_until_its_time_is_over() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "shelve 1 for 2 h")
    assert boat.state_of("low") is S.SHELVED
    since = len(boat.turns)
    boat.wait(2 * HOUR - MINUTE)
    assert boat.told(since) == []
    boat.wait(MINUTE)
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    assert "alarm told" in kinds_to(boat, INES, since)


def test_what_has_gone_when_the_shelf_ends_is_closed_and_the_installer_hears_so() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "shelve 1 for 2 h")
    since = len(boat.turns)
    well(boat)
    boat.wait(2 * HOUR)
    assert boat.state_of("low") is S.NORMAL
    assert [kind for _, kind, _ in boat.told(since)] == ["brought back"]


@pytest.mark.parametrize("priority", [Priority.WARNING, Priority.CAUTION, Priority.ALARM])
def test_a_shelf_has_a_longest_time(priority: Priority) -> None:
    boat = low(small(replace(LOW, priority=priority)))
    longest = 2 if priority is Priority.ALARM else 8
    boat.texts(RUTH, f"shelve 1 for {longest} h 1 min")
    assert boat.state_of("low") is not S.SHELVED
    assert f"{longest} h at most" in boat.sent[-1].body or "120 min at most" in boat.sent[-1].body
    boat.texts(RUTH, f"shelve 1 for {longest} h")
    assert boat.state_of("low") is S.SHELVED


def test_a_refused_try_leaves_the_shelf_that_stands_as_it_is() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "shelve 1 for 2 h")
    boat.texts(RUTH, "shelve 1 for 9 h")
    boat.wait(2 * HOUR)
    assert boat.state_of("low") is S.UNACKNOWLEDGED


def test_an_emergency_is_never_shelved_and_the_try_is_kept() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    turn = boat.texts(RUTH, "shelve 1 for 5 min")
    assert boat.state_of("water") is S.UNACKNOWLEDGED
    (step,) = [w.entry.body for w in turn.entries if w.entry.kind == "alarm-step"]
    assert (step["event"], step["before"], step["after"]) == ("shelve", "unacknowledged", "unacknowledged")
    assert "can't be shelved" in boat.sent[-1].body


@pytest.mark.parametrize("person", [INES, TOBIAS, MARINA])
def test_only_who_minds_the_wiring_shelves(person: str) -> None:
    boat = low(small(LOW))
    boat.texts(person, "shelve 1 for 1 h")
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    assert "Ruth" in boat.sent[-1].body


def test_an_old_text_shelves_nothing() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "shelve 1 for 1 h", age=6 * MINUTE)
    assert boat.state_of("low") is S.UNACKNOWLEDGED


def test_the_owner_may_end_a_shelf_and_what_stands_is_told_again() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "shelve 1 for 2 h")
    since = len(boat.turns)
    boat.texts(INES, "unshelve 1")
    boat.wait(0)
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    assert "alarm told" in kinds_to(boat, INES, since)


def test_nobody_takes_what_is_shelved() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "shelve 1 for 2 h")
    boat.texts(TOBIAS, "have it 1")
    assert boat.state_of("low") is S.SHELVED
    assert "shelved already" in boat.sent[-1].body


# ---------------------------------------------------------------- hidden by design


def test_what_another_alarm_hides_is_recorded_and_told_to_nobody_while_that_one_stands() -> None:
    boat = small(LOST, HIDDEN)
    boat.reads("shore", "off")
    since = len(boat.turns)
    low(boat)
    boat.wait(6 * HOUR)
    assert boat.state_of("low") is S.SUPPRESSED
    assert not [text for text in bodies(boat, since) if "low" in text.lower()]
    assert [w.entry.body["event"] for w in boat.entries if w.entry.body.get("point") == LOW.id][:2] == [
        "raise",
        "suppress",
    ]


def test_what_was_hidden_and_still_holds_is_told_at_once_when_the_other_goes() -> None:
    boat = low(small(LOST, HIDDEN))
    since = len(boat.turns)
    boat.reads("shore", "off")
    assert boat.state_of("low") is S.SUPPRESSED
    boat.reads("shore", "on")
    boat.wait(0)
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    assert [text for text in bodies(boat, since) if "low" in text.lower()]


def test_both_in_one_moment_are_one_text() -> None:
    boat = small(LOST, HIDDEN)
    low(boat)
    told = len(boat.sent)
    boat.reads("shore", "off")
    assert len(boat.sent) - told == 1


def test_what_was_hidden_and_has_gone_is_closed_without_a_text() -> None:
    boat = small(LOST, HIDDEN)
    boat.reads("shore", "off")
    low(boat)
    well(boat)
    since = len(boat.turns)
    boat.texts(TOBIAS, "have it")
    boat.reads("shore", "on")
    boat.wait(HOUR)
    assert boat.state_of("low") is S.NORMAL
    assert not [text for text in bodies(boat, since) if "low" in text.lower()]


def test_an_alarm_that_is_shelved_hides_nothing_because_nobody_is_told_of_it() -> None:
    boat = small(LOST, HIDDEN)
    boat.reads("shore", "off")
    low(boat)
    boat.texts(RUTH, "shelve 1 for 1 h")
    boat.wait(0)
    assert boat.state_of("low") is S.UNACKNOWLEDGED


def test_a_new_installation_in_which_nothing_hides_it_brings_a_hidden_alarm_out() -> None:
    boat = small(LOST, HIDDEN)
    boat.reads("shore", "off")
    low(boat)
    boat.uses(bundle_of(LOST, LOW))
    assert boat.state_of("low") is S.UNACKNOWLEDGED


# ---------------------------------------------------------------- out of service


def test_a_point_out_of_service_returns_on_its_day_is_reminded_of_the_day_before_and_told() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "out of service 1 for 3 days")
    assert boat.state_of("low") is S.OUT_OF_SERVICE
    assert {who for who, kind, _ in boat.told() if kind == "put aside"} == {INES, TOBIAS, RUTH}
    since = len(boat.turns)
    until = boat.desk.state.standing.by_point[LOW.id].out_until
    assert until is not None
    boat.wait(until - boat.now - DAY)
    assert kinds_to(boat, RUTH, since) == ["service reminder"]
    boat.wait(DAY)
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    assert "alarm told" in kinds_to(boat, INES, since)
    assert "brought back" in kinds_to(boat, RUTH, since)


@pytest.mark.parametrize(("hours", "reminded"), [(24, False), (25, True)])
def test_nobody_is_reminded_the_day_before_of_what_is_out_for_a_day_at_most(hours: int, reminded: bool) -> None:
    boat = low(small(LOW))
    out = OutOfService(until=boat.now + hours * HOUR, by="Ruth Okell", because="float being replaced")
    boat.uses(bundle_of(replace(LOW, out_of_service=out)))
    assert boat.state_of("low") is S.OUT_OF_SERVICE
    boat.wait(hours * HOUR - MINUTE)
    assert ("service-reminded" in boat.kinds()) is reminded


def test_an_emergency_may_be_out_of_service_and_its_condition_is_known_all_the_while() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    boat.texts(RUTH, "out of service 1 for 1 day")
    assert boat.state_of("water") is S.OUT_OF_SERVICE
    assert boat.desk.state.standing.is_active(WATER.id)
    boat.texts(INES, "in service 1")
    boat.wait(0)
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_the_files_take_a_point_out_once_and_for_14_days_at_most() -> None:
    boat = small(LOW)
    out = OutOfService(until=boat.now + 60 * DAY, by="Ruth Okell", because="float being replaced")
    boat.uses(bundle_of(replace(LOW, out_of_service=out)))
    assert boat.state_of("low") is S.OUT_OF_SERVICE
    assert "float being replaced" in boat.sent[-1].body
    boat.wait(14 * DAY)
    assert boat.state_of("low") is S.NORMAL
    boat.uses(boat.desk.bundle)
    assert boat.state_of("low") is S.NORMAL


def test_files_that_no_longer_say_so_bring_a_point_back() -> None:
    boat = small(LOW)
    out = OutOfService(until=boat.now + DAY, by="Ruth Okell", because="float being replaced")
    boat.uses(bundle_of(replace(LOW, out_of_service=out)))
    low(boat)
    boat.uses(bundle_of(LOW))
    assert boat.state_of("low") is S.UNACKNOWLEDGED


def test_a_shelf_that_still_has_time_holds_again_when_a_point_returns_to_service() -> None:
    boat = low(small(LOW))
    boat.texts(RUTH, "shelve 1 for 8 h")
    boat.texts(RUTH, "out of service 1 for 1 day")
    boat.texts(RUTH, "in service 1")
    assert boat.state_of("low") is S.SHELVED


def test_putting_a_latched_fire_alarm_aside_lifts_no_interlock() -> None:
    fire = replace(WATER, concerns=Concerns.FIRE)
    boat = small(fire)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    boat.keeps_reading("water", "off", 3 * MINUTE)
    assert boat.state_of("water") is S.LATCHED_UNACKNOWLEDGED
    boat.texts(RUTH, "out of service 1 for 1 day")
    assert boat.state_of("water") is S.OUT_OF_SERVICE
    assert Moment(boat.desk.state, boat.desk.bundle, boat.now).alarm_active(BOAT, Concerns.FIRE) == 1


# ---------------------------------------------------------------- cautions, worse, asked again


def test_a_caution_closes_by_itself_when_its_condition_goes() -> None:
    boat = low(small(FULL))
    well(boat)
    assert boat.state_of("low") is S.NORMAL


def test_a_latching_caution_waits_for_somebody_who_looks() -> None:
    boat = low(small(replace(FULL, latching=True)))
    well(boat)
    assert boat.state_of("low") is S.LATCHED_UNACKNOWLEDGED


def test_a_warning_that_nobody_takes_becomes_an_alarm_once() -> None:
    boat = low(small(replace(LOW, becomes_alarm=HOUR)))
    boat.wait(HOUR)
    assert boat.kinds().count("alarm-escalated") == 1
    assert boat.desk.state.telling.calls[LOW.id].priority is Priority.ALARM
    assert "ALARM now" in boat.sent[-1].body
    boat.wait(5 * HOUR)
    assert boat.kinds().count("alarm-escalated") == 1


def test_what_comes_off_the_shelf_has_its_whole_hour_again_before_it_becomes_an_alarm() -> None:
    boat = low(small(replace(LOW, becomes_alarm=HOUR)))
    boat.texts(RUTH, "shelve 1 for 2 h")
    boat.wait(2 * HOUR)
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    boat.wait(HOUR - MINUTE)
    assert "alarm-escalated" not in boat.kinds()
    boat.wait(MINUTE)
    assert boat.kinds().count("alarm-escalated") == 1


def test_a_warning_that_somebody_has_becomes_no_alarm() -> None:
    boat = low(small(replace(LOW, becomes_alarm=HOUR)))
    boat.texts(TOBIAS, "have it")
    boat.wait(3 * HOUR)
    assert "alarm-escalated" not in boat.kinds()


def test_a_warning_that_has_become_an_alarm_goes_on_being_told_however_the_boat_is_kept_then() -> None:
    boat = low(small(replace(LOW, becomes_alarm=HOUR, attendance=(Attendance.AWAY,))))
    boat.wait(HOUR)
    boat.texts(INES, "aboard")
    since = len(boat.turns)
    boat.wait(6 * MINUTE)
    assert kinds_to(boat, TOBIAS, since) == ["alarm told"]


def told_and_worse() -> Small:
    """A warning of which Tobias was told at 5 min has become an alarm at 60 min, and Ines alone was told of that."""
    boat = low(small(replace(LOW, becomes_alarm=HOUR)))
    boat.wait(HOUR)
    assert boat.desk.state.telling.calls[LOW.id].told == (INES,)
    return boat


def test_whoever_was_told_of_the_warning_hears_who_has_the_alarm_that_it_became() -> None:
    boat = told_and_worse()
    since = len(boat.turns)
    boat.texts(INES, "have it")
    assert kinds_to(boat, TOBIAS, since) == ["alarm taken"]


def test_whoever_was_told_of_the_warning_hears_that_what_it_became_has_gone() -> None:
    boat = told_and_worse()
    since = len(boat.turns)
    boat.keeps_reading("volts", "12.6", 2 * MINUTE)  # the first one behind the silence may be an old one
    assert kinds_to(boat, TOBIAS, since) == ["alarm gone"]
    assert boat.rebuilt() == boat.bytes()


def test_whoever_heard_that_somebody_has_it_hears_its_end_though_the_list_has_begun_anew() -> None:
    boat = low(small(replace(LOW, priority=Priority.ALARM, ask_again=30 * MINUTE)))
    boat.wait(6 * MINUTE)
    boat.texts(INES, "have it")
    boat.wait(30 * MINUTE)  # Ines is asked, and nobody else is told yet
    since = len(boat.turns)
    boat.keeps_reading("volts", "12.6", 2 * MINUTE)  # the first one behind the silence may be an old one
    assert kinds_to(boat, TOBIAS, since) == ["alarm gone"]


def test_the_holder_of_what_still_stands_is_asked_first_and_the_list_told_when_no_answer_comes() -> None:
    boat = low(small(replace(LOW, priority=Priority.ALARM, ask_again=30 * MINUTE)))
    boat.texts(TOBIAS, "have it")
    since = len(boat.turns)
    boat.wait(30 * MINUTE)
    assert [(who, kind) for who, kind, _ in boat.told(since)] == [(TOBIAS, "holder asked")]
    assert boat.state_of("low") is S.UNACKNOWLEDGED
    boat.wait(5 * MINUTE + 1)
    assert kinds_to(boat, INES, since) == ["alarm told"]


def test_a_holder_who_answers_keeps_it_and_nobody_else_is_woken() -> None:
    boat = low(small(replace(LOW, priority=Priority.ALARM, ask_again=30 * MINUTE)))
    boat.texts(TOBIAS, "have it")
    boat.wait(31 * MINUTE)
    since = len(boat.turns)
    boat.texts(TOBIAS, "have it 1")
    boat.wait(20 * MINUTE)
    assert kinds_to(boat, INES, since) == []
    assert boat.state_of("low") is S.ACKNOWLEDGED


def test_any_text_of_the_holder_shows_that_he_is_awake() -> None:
    boat = low(small(replace(LOW, priority=Priority.ALARM, ask_again=30 * MINUTE)))
    boat.texts(TOBIAS, "have it")
    boat.wait(20 * MINUTE)
    boat.texts(TOBIAS, "status")
    boat.wait(20 * MINUTE)
    assert "holder asked" not in kinds_to(boat, TOBIAS)


# ---------------------------------------------------------------- how the boat is kept


AT_NIGHT = replace(LOW, attendance=(Attendance.AWAY, Attendance.LAID_UP))


def test_in_the_yard_mutes_what_the_files_say_and_tells_it_when_the_boat_is_back() -> None:
    boat = small(AT_NIGHT)
    boat.texts(INES, "in the yard for 3 days")
    since = len(boat.turns)
    low(boat)
    boat.wait(2 * HOUR)
    assert "alarm told" not in [kind for _, kind, _ in boat.told(since)]
    boat.texts(INES, "away")
    boat.wait(0)
    assert "alarm told" in [kind for _, kind, _ in boat.told(since)]


def test_an_emergency_is_told_in_the_yard() -> None:
    boat = small(WATER)
    boat.texts(INES, "in the yard")
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    assert "alarm told" in kinds_to(boat, INES)


def test_on_the_day_that_was_said_it_is_asked_and_unanswered_it_ends() -> None:
    boat = small(AT_NIGHT)
    boat.texts(TOBIAS, "in the yard for 2 days")
    until = boat.desk.state.standing.keeping(BOAT).until
    assert until is not None
    boat.wait(until - boat.now)
    assert "attendance asked" in kinds_to(boat, TOBIAS)
    assert boat.desk.state.standing.kept(BOAT) is Attendance.IN_THE_YARD
    boat.wait(DAY)
    assert boat.desk.state.standing.kept(BOAT) is Attendance.AWAY


def test_an_answer_keeps_it_in_the_yard() -> None:
    boat = small(AT_NIGHT)
    boat.texts(TOBIAS, "in the yard for 2 days")
    boat.wait(3 * DAY - HOUR)
    boat.texts(TOBIAS, "in the yard for 5 days")
    boat.wait(2 * DAY)
    assert boat.desk.state.standing.kept(BOAT) is Attendance.IN_THE_YARD


def test_aboard_lapses_after_24_h_but_somebody_still_counts_as_aboard() -> None:
    boat = small(AT_NIGHT)
    boat.texts(INES, "aboard")
    boat.wait(DAY)
    assert boat.desk.state.standing.kept(BOAT) is Attendance.AWAY
    assert boat.desk.state.standing.occupancy(BOAT) is not None
    assert "VISIT OVER" in boat.sent[-1].body


def test_only_owner_and_installer_hear_that_somebody_is_aboard() -> None:
    boat = small(AT_NIGHT)
    boat.texts(INES, "aboard")
    assert {who for who, kind, _ in boat.told() if kind == "attendance"} == {INES, RUTH}


def test_the_marina_office_cannot_say_how_a_boat_is_kept() -> None:
    boat = small(AT_NIGHT)
    boat.texts(MARINA, "in the yard")
    assert boat.desk.state.standing.kept(BOAT) is Attendance.AWAY


# ---------------------------------------------------------------- it is all recorded


def test_a_forward_step_of_the_clock_brings_dates_nearer_and_shelves_not() -> None:
    boat = low(small(LOW, SHORE))
    boat.texts(RUTH, "shelve 1 for 2 h")
    before = boat.desk.state.standing.by_point[LOW.id].shelved_until
    boat.texts(RUTH, "in the yard for 3 days")
    until = boat.desk.state.standing.keeping(BOAT).until
    boat.desk.state.standing.clock_moved(HOUR)
    assert boat.desk.state.standing.by_point[LOW.id].shelved_until == before
    assert boat.desk.state.standing.keeping(BOAT).until == (until or 0) - HOUR


@pytest.mark.long
def test_the_fold_knows_of_everything_that_is_put_aside() -> None:
    boat = low(small(LOST, HIDDEN, replace(WATER, ask_again=10 * MINUTE)))
    boat.reads("shore", "off")
    boat.reads("water", "on")
    boat.wait(HOUR)
    boat.texts(RUTH, "shelve 2 for 1 h")
    boat.texts(RUTH, "out of service 3 for 2 days")
    boat.texts(INES, "in the yard")
    boat.restarts(5 * MINUTE)
    boat.wait(3 * DAY)
    assert boat.rebuilt() == boat.bytes()
