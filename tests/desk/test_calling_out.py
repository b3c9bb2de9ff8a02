"""Rounds become texts: one situation is one text, within each person's limits, and never too few."""

from dataclasses import replace
from decimal import Decimal

from gateway.alarms.facts import AttendanceChanged
from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Attendance, Concerns, Point
from gateway.desk.applying import apply_fact
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import DeliveryReported, ReadingsCame, SendAnswered
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact, IsNumber, Than
from tests.desk.small_boat import BOAT, INES, LIST, MARINA, TOBIAS, WATER, WATER_DELAY, Small, point, reading, small

S = AlarmState
ONCE = CallOutList(key="list", steps=(Step(after=0, tell=(INES,)),), repeat=None)
SHORE_AT_ONCE = point("shore", when=IsContact(signal="shore", wanted=False), priority=Priority.WARNING)
ALARM_AT_ONCE = point("shore", when=IsContact(signal="shore", wanted=False), priority=Priority.ALARM)
INTRUSION = point("hatch", when=IsContact(signal="hatch", wanted=True), concerns=Concerns.INTRUSION)


def flooded(boat: Small) -> Small:
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    return boat


def minutes(boat: Small, kind: str = "alarm told") -> list[tuple[str, int]]:
    raised = boat.began + WATER_DELAY
    return [(who, (at + boat.began - raised) // MINUTE) for who, what, at in boat.told() if what == kind]


def test_an_emergency_goes_down_the_list_and_then_round_and_round_until_somebody_has_it() -> None:
    boat = flooded(small(WATER))
    boat.wait(30 * MINUTE)
    everyone = [INES, TOBIAS, MARINA]
    assert minutes(boat) == [
        (INES, 0),
        (TOBIAS, 5),
        (MARINA, 8),
        *((who, 18) for who in everyone),
        *((who, 28) for who in everyone),
    ]
    boat.texts(TOBIAS, "have it")
    told = len(boat.sent)
    boat.wait(DAY)
    assert len(boat.sent) == told


def test_two_alarms_of_one_moment_are_one_text_to_each_person_with_the_worst_first() -> None:
    low = point("volts", when=IsNumber(signal="volts", than=Than.BELOW, limit=Decimal(12), unit="V"))
    boat = small(low, SHORE_AT_ONCE)
    turn = boat.take(ReadingsCame(readings=(reading("shore", "off"), reading("volts", "11.5"))))
    (text,) = turn.orders
    assert text.priority is Priority.ALARM
    (queued,) = [w.entry.body for w in turn.entries if w.entry.kind == "text-queued"]
    shore, volts = (boat.desk.state.standing.by_point[f"{BOAT}/{key}"].number for key in ("shore", "volts"))
    assert queued["numbers"] == [volts, shore]


def test_an_emergency_has_a_text_of_its_own_whatever_else_is_told_at_that_moment() -> None:
    boat = small(replace(WATER, when=IsContact(signal="water", wanted=True)), SHORE_AT_ONCE)
    turn = boat.take(ReadingsCame(readings=(reading("shore", "off"), reading("water", "on"))))
    assert [text.priority for text in turn.orders] == [Priority.EMERGENCY, Priority.WARNING]
    shore, water = (boat.desk.state.standing.by_point[f"{BOAT}/{key}"].number for key in ("shore", "water"))
    assert [w.entry.body["numbers"] for w in turn.entries if w.entry.kind == "text-queued"] == [[water], [shore]]


def test_steps_that_fell_due_while_the_gateway_was_away_are_told_once() -> None:
    boat = flooded(small(WATER))
    before = len(boat.turns)
    boat.restarts(after=3 * HOUR)
    assert sorted(who for who, what, _ in boat.told(before) if what == "alarm told") == [MARINA, TOBIAS]


def test_a_restart_does_not_tell_again_what_was_told() -> None:
    boat = flooded(small(WATER))
    before = len(boat.turns)
    boat.restarts(after=MINUTE)
    assert [what for _, what, _ in boat.told(before) if what == "alarm told"] == []


def test_a_refused_text_brings_the_next_person_in_at_once() -> None:
    boat = flooded(small(WATER))
    before = len(boat.turns)
    boat.refuses(boat.sent[0])
    assert (TOBIAS, "alarm told") in [(who, what) for who, what, _ in boat.told(before)]


def test_a_carrier_that_refuses_everything_makes_no_endless_round() -> None:
    boat = flooded(small(WATER))
    answered = 0
    while answered < len(boat.sent) and len(boat.sent) < 100:
        boat.refuses(boat.sent[answered])
        answered += 1
    assert len(boat.sent) < 20
    boat.wait(HOUR)
    assert len([t for t in minutes(boat) if t[1] >= 10]) <= 3 * 6


# ---------------------------------------------------------------- limits


def goes_and_comes(boat: Small, times: int, apart: int = MINUTE) -> None:
    for _ in range(times):
        boat.reads("shore", "off")
        boat.wait(apart // 2)
        boat.reads("shore", "on")
        boat.wait(apart // 2)


def test_no_more_than_3_texts_of_warnings_go_to_one_person_in_an_hour() -> None:
    boat = small(SHORE_AT_ONCE)
    goes_and_comes(boat, 40)
    times = [at for who, _, at in boat.told() if who == INES]
    assert max(sum(t <= at < t + HOUR for at in times) for t in times) == 3


def test_a_warning_that_a_limit_held_back_is_told_when_there_is_room_if_it_still_stands() -> None:
    other = point("water", when=IsContact(signal="water", wanted=True), priority=Priority.WARNING)
    boat = small(SHORE_AT_ONCE, other, callouts=(ONCE,))
    goes_and_comes(boat, 2)  # two told, one gone: the limit of the hour is used up
    assert len(boat.sent) == 3
    boat.reads("water", "on")
    assert len(boat.sent) == 3
    boat.wait(HOUR - 3 * MINUTE)
    assert len(boat.sent) == 3
    boat.wait(3 * MINUTE)
    assert boat.told()[-1][:2] == (INES, "alarm told")
    number = boat.desk.state.standing.by_point[other.id].number
    last = [w.entry.body for w in boat.entries if w.entry.kind == "text-queued"][-1]
    assert last["numbers"] == [number]
    boat.wait(DAY)
    assert len(boat.sent) == 4


def test_a_warning_that_a_limit_held_back_is_not_told_when_it_has_gone_meanwhile() -> None:
    other = point("water", when=IsContact(signal="water", wanted=True), priority=Priority.WARNING)
    boat = small(SHORE_AT_ONCE, other, callouts=(ONCE,))
    goes_and_comes(boat, 2)
    boat.reads("water", "on")
    boat.wait(MINUTE)
    boat.reads("water", "off")
    boat.wait(DAY)
    assert len(boat.sent) == 3


def test_what_a_limit_holds_back_is_kept_with_the_instant_from_which_there_is_room() -> None:
    boat = small(SHORE_AT_ONCE)
    goes_and_comes(boat, 4)
    held = boat.held
    first = boat.told()[0][2]
    assert held[0]["until"] == boat.began + first + HOUR


def test_the_first_text_of_an_alarm_is_never_held_back_and_its_repeats_are_at_most_6_an_hour() -> None:
    quick = CallOutList(key="list", steps=LIST.steps[:1], repeat=MINUTE)
    boat = small(ALARM_AT_ONCE, callouts=(quick,))
    boat.reads("shore", "off")
    boat.wait(HOUR - SECOND)
    assert len(boat.sent) == 1 + 6


def test_the_first_text_to_a_person_is_a_first_text_whatever_step_of_the_list_it_comes_by() -> None:
    quick = CallOutList(key="quick", steps=(Step(after=0, tell=(TOBIAS,)),), repeat=MINUTE)
    busy = point("water", when=IsContact(signal="water", wanted=True), callout="quick")
    boat = small(ALARM_AT_ONCE, busy, callouts=(LIST, quick))
    boat.reads("water", "on")
    boat.wait(20 * MINUTE)  # the limit on repeats to Tobias is used up
    before = len(boat.turns)
    boat.reads("shore", "off")
    boat.wait(5 * MINUTE)
    assert [(who, what) for who, what, _ in boat.told(before)] == [(INES, "alarm told"), (TOBIAS, "alarm told")]


def test_an_emergency_is_repeated_without_any_limit() -> None:
    quick = CallOutList(key="list", steps=LIST.steps[:1], repeat=MINUTE)
    boat = flooded(small(WATER, callouts=(quick,)))
    boat.wait(HOUR)
    assert len(boat.sent) == 61


def test_an_emergency_that_comes_and_goes_is_told_at_most_once_in_10_min_and_says_how_often() -> None:
    chattering = replace(WATER, when=IsContact(signal="water", wanted=True), clears=None, latching=False)
    boat = small(chattering, callouts=(ONCE,))
    for _ in range(20):
        boat.reads("water", "on")
        boat.wait(30 * SECOND)
        boat.reads("water", "off")
        boat.wait(30 * SECOND)
    told = [at for _, what, at in boat.told() if what == "alarm told"]
    assert told == [0, 10 * MINUTE]
    assert boat.desk.state.standing.by_point[WATER.id].times == 20


# ---------------------------------------------------------------- muted


def test_a_point_that_is_not_told_as_the_boat_is_kept_is_recorded_and_told_to_nobody() -> None:
    boat = small(replace(ALARM_AT_ONCE, attendance=(Attendance.AWAY,)))
    apply_fact(boat.desk.state, AttendanceChanged(boat=BOAT, attendance=Attendance.ABOARD), boat.now, ())
    turn = boat.reads("shore", "off")
    assert "not-called" in boat.kinds(turn)
    assert boat.sent == []
    boat.reads("shore", "on")
    assert boat.state_of("shore") is S.NORMAL


def test_how_the_boat_is_kept_never_mutes_an_emergency() -> None:
    always = replace(WATER, attendance=(Attendance.AWAY,))
    boat = small(always)
    apply_fact(boat.desk.state, AttendanceChanged(boat=BOAT, attendance=Attendance.ABOARD), boat.now, ())
    assert len(flooded(boat).sent) == 1


def test_an_intruder_is_told_of_unless_a_named_person_announced_a_visit() -> None:
    boat = small(INTRUSION)
    boat.reads("hatch", "on")
    assert [who for who, _, _ in boat.told()] == [INES]

    visited = small(INTRUSION)
    visited.texts(TOBIAS, "visit")
    answered = len(visited.sent)
    visited.reads("hatch", "on")
    visited.wait(HOUR)
    assert len(visited.sent) == answered


ENTRY = point("hatch", when=IsContact(signal="hatch", wanted=True, lasting=45 * SECOND), concerns=Concerns.INTRUSION)


def left_behind(boat: Small) -> int:
    """A visit during which the hatch was open for long, and its end: which turn ended it."""
    boat.texts(TOBIAS, "visit")
    boat.keeps_reading("hatch", "on", 10 * MINUTE)
    boat.texts(TOBIAS, "visit over")
    return len(boat.turns)


def test_a_hatch_that_still_stands_open_when_a_visit_ends_is_told_after_its_own_delay_once_more() -> None:
    boat = small(ENTRY)
    ended = left_behind(boat)
    boat.wait(45 * SECOND - 1)
    assert boat.told(ended) == []
    boat.wait(1)
    assert [(who, what) for who, what, _ in boat.told(ended)] == [(INES, "alarm told")]
    boat.wait(5 * MINUTE)
    assert [who for who, _, _ in boat.told(ended)] == [INES, TOBIAS], "the list counts from there"
    assert boat.rebuilt() == boat.bytes()


def test_a_hatch_that_the_leaver_closes_in_time_is_told_to_nobody_and_rests() -> None:
    boat = small(ENTRY)
    ended = left_behind(boat)
    boat.wait(30 * SECOND)
    boat.reads("hatch", "off")
    boat.wait(HOUR)
    assert boat.told(ended) == []
    assert boat.state_of("hatch") is AlarmState.NORMAL
    assert boat.rebuilt() == boat.bytes()


def test_a_visit_announced_again_within_that_delay_mutes_it_again() -> None:
    boat = small(ENTRY)
    left_behind(boat)
    boat.wait(30 * SECOND)
    boat.texts(TOBIAS, "visit")
    again = len(boat.turns)
    boat.wait(HOUR)
    assert boat.told(again) == []


def test_an_intruder_behind_a_visit_that_was_told_keeps_its_all_clear() -> None:
    boat = small(ENTRY)
    left_behind(boat)
    boat.wait(MINUTE)
    before = len(boat.turns)
    boat.reads("hatch", "off")
    assert [(who, what) for who, what, _ in boat.told(before)] == [(INES, "alarm gone")]
    assert boat.state_of("hatch") is AlarmState.GONE_UNACKNOWLEDGED


def test_somebody_aboard_mutes_nothing_else() -> None:
    boat = small(ALARM_AT_ONCE, WATER)
    boat.texts(TOBIAS, "visit")
    answered = len(boat.sent)
    boat.reads("shore", "off")
    flooded(boat)
    assert len(boat.sent) == answered + 2


# ---------------------------------------------------------------- gone


def gone(point: Point) -> list[tuple[str, str]]:
    boat = small(point)
    boat.keeps_reading("shore", "off", 6 * MINUTE + 30 * SECOND)
    before = len(boat.turns)
    boat.reads("shore", "on")
    return [(who, what) for who, what, _ in boat.told(before)]


def test_those_who_were_told_hear_once_that_it_has_gone() -> None:
    assert gone(ALARM_AT_ONCE) == [(INES, "alarm gone"), (TOBIAS, "alarm gone")]


def test_the_carriers_word_on_a_text_changes_nothing_that_is_told() -> None:
    boat = flooded(small(WATER))
    first = boat.sent[0].id
    boat.take(SendAnswered(order=first, accepted=True, message="SM1"))
    boat.take(DeliveryReported(order=first, status="delivered"))
    boat.wait(8 * MINUTE)
    assert minutes(boat) == [(INES, 0), (TOBIAS, 5), (MARINA, 8)]
