"""What a broker kept over an outage and hands over afterwards without a time of its own looks fresh and is not.

MQTT 3.1.1 and 5 give a message no time of sending, so nothing in it tells. What can be known is that the boat was
silent: whatever comes afterwards may be as old as that silence, until it comes in its own rhythm again.
"""

from dataclasses import replace

import pytest

from gateway.boat.latest import CLOCK_SET
from gateway.boat.settings import Senses
from gateway.conditions.verdicts import Verdict
from gateway.desk.moment import Moment
from gateway.desk.turn import Turn
from gateway.vocabulary.happenings import LinkChanged, ReadingsCame
from gateway.vocabulary.moments import MINUTE, SECOND
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import IsContact
from tests.desk.small_boat import (
    BOAT,
    SHORE,
    SIGNALS,
    SILENT,
    WATER,
    Small,
    signal,
    small,
)

SHORE_ON = IsContact(signal="shore", wanted=True)


def interlock(boat: Small) -> Verdict:
    """What an interlock that needs the shore supply is told."""
    return Moment(boat.desk.state, boat.desk.bundle, boat.desk.state.now).judge(BOAT, SHORE_ON).verdict


def flooded(boat: Small) -> Small:
    boat.reads("water", "on")
    boat.wait(15 * SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)
    return boat


def back_after_an_hour() -> Small:
    boat = small(WATER, SHORE, SILENT)
    boat.reads("shore", "on")
    boat.wait(60 * MINUTE)
    return boat


def lates(boat: Small, *pauses: int) -> list[bool]:
    """Whether each further report of the shore supply, so many ms after the one before, is late."""
    found = []
    for pause in pauses:
        boat.wait(pause)
        found.append(boat.reads("shore", "on").readings[0].late)
    return found


def test_what_comes_behind_a_silence_satisfies_no_interlock_until_it_has_come_twice_in_its_own_rhythm() -> None:
    boat = back_after_an_hour()
    assert boat.reads("shore", "on").readings[0].late
    assert lates(boat, MINUTE) == [True]
    assert interlock(boat) is Verdict.UNKNOWN
    assert lates(boat, MINUTE) == [False]
    assert interlock(boat) is Verdict.HOLDS
    assert lates(boat, SECOND, SECOND, 90 * SECOND) == [False, False, False]


def test_a_queue_that_lets_go_for_minutes_never_looks_fresh() -> None:
    boat = back_after_an_hour()
    boat.reads("shore", "on")
    assert all(lates(boat, *[SECOND] * 200))
    assert lates(boat, MINUTE, SECOND, MINUTE) == [True, True, True], "a stall in the middle of it is no rhythm"
    assert lates(boat, MINUTE) == [False]


def test_a_stall_that_is_longer_than_three_reports_begins_the_doubt_anew() -> None:
    boat = back_after_an_hour()
    boat.reads("shore", "on")
    assert lates(boat, 4 * MINUTE, MINUTE, MINUTE) == [True, True, False]


def test_a_node_that_sends_faster_than_was_said_is_believed_when_the_silence_has_passed_twice_more() -> None:
    boat = small(WATER, SHORE)
    boat.reads("shore", "on")
    boat.wait(4 * MINUTE)
    boat.reads("shore", "on")
    assert lates(boat, *[10 * SECOND] * 47) == [True] * 47
    assert lates(boat, 10 * SECOND) == [False]


def test_a_stall_makes_the_doubt_longer_by_what_gathered_in_it_and_what_it_did_not_let_go() -> None:
    boat = paced(small(WATER, SHORE), 10 * SECOND)
    boat.wait(10 * MINUTE)
    boat.reads("shore", "on")
    assert all(lates(boat, 40 * SECOND, *[5 * SECOND] * 255))
    assert lates(boat, 4 * SECOND, SECOND) == [True, False], "20 min after the silence, and three times 40 s"


def test_a_short_stall_does_not_end_the_doubt_of_what_has_yet_to_come_out_of_the_queue() -> None:
    boat = small(WATER, SHORE)
    boat.reads("water", "off")
    boat.reads("shore", "on")
    boat.wait(60 * MINUTE)
    assert lates(boat, 0, 40 * SECOND) == [True, True]
    assert boat.reads("water", "off").readings[0].late


@pytest.mark.parametrize(
    ("usual", "pause", "rhythm"),
    [
        (None, 24 * SECOND, True),
        (None, 24 * SECOND - 1, False),
        (60 * SECOND, 48 * SECOND, True),
        (60 * SECOND, 48 * SECOND - 1, False),
        (10 * SECOND, 12 * SECOND, True),
        (10 * SECOND, 12 * SECOND - 1, False),
    ],
)
def test_its_own_rhythm_is_four_fifths_of_its_usual_pause_and_two_fifths_of_the_interval_at_the_least(
    usual: int | None, pause: int, rhythm: bool
) -> None:
    boat = small(WATER, SHORE)
    if usual is None:
        boat.reads("shore", "on")
    else:
        paced(boat, usual)
    boat.wait(60 * MINUTE)
    boat.reads("shore", "on")
    assert lates(boat, pause, pause) == [True, not rhythm]


def paced(boat: Small, usual: int) -> Small:
    """A boat whose shore supply was reported in this pause, twice."""
    boat.reads("shore", "on")
    assert lates(boat, usual) == [False]
    return boat


def test_a_signal_that_was_silent_by_itself_may_come_out_of_the_queue_of_its_own_node() -> None:
    boat = small(WATER, SHORE)
    boat.reads("shore", "on")
    boat.keeps_reading("water", "off", 10 * MINUTE)
    assert not boat.reads("water", "off").readings[0].late
    assert lates(boat, 0, MINUTE, MINUTE) == [True, True, False]


def test_a_late_message_with_a_time_of_its_own_ends_no_doubt_and_begins_one() -> None:
    boat = back_after_an_hour()
    boat.reads("shore", "on")
    boat.wait(MINUTE)
    assert boat.reads("shore", "on", own_time=boat.now - 50 * MINUTE).readings[0].late
    assert lates(boat, SECOND, MINUTE) == [True, True]
    assert interlock(boat) is Verdict.UNKNOWN

    boat = small(WATER, SHORE)
    boat.reads("shore", "on")
    boat.wait(MINUTE)
    assert boat.reads("shore", "on", own_time=boat.now - 2 * MINUTE).readings[0].late
    assert lates(boat, SECOND) == [True], "what follows it through the same queue is as old"
    assert not boat.reads("shore", "on", own_time=boat.now).readings[0].late
    assert lates(boat, SECOND) == [False]


def test_the_same_holds_over_a_lost_link_and_over_a_restart_of_the_gateway() -> None:
    boat = small(WATER, SHORE)
    boat.reads("shore", "on")
    boat.take(LinkChanged(link="broker:quay", up=False))
    boat.wait(10 * MINUTE)
    boat.take(LinkChanged(link="broker:quay", up=True, memory_kept=True))
    assert boat.reads("shore", "on").readings[0].late
    boat.restarts(5 * SECOND)
    assert lates(boat, SECOND) == [True], "a restart in the middle of it forgets nothing"
    assert lates(boat, MINUTE, MINUTE) == [True, False]
    boat.restarts(10 * MINUTE)
    assert boat.reads("shore", "on").readings[0].late
    assert boat.rebuilt() == boat.bytes()


def test_a_short_break_makes_nothing_late() -> None:
    boat = small(WATER, SHORE)
    boat.reads("shore", "on")
    boat.wait(90 * SECOND)
    assert not boat.reads("shore", "on").readings[0].late


def test_the_first_message_ever_and_what_carries_its_own_time_are_judged_as_always() -> None:
    assert not small(WATER, SHORE).reads("shore", "on").readings[0].late
    boat = back_after_an_hour()
    assert not boat.reads("shore", "on", own_time=boat.now).readings[0].late


def test_an_alarm_is_raised_by_it_all_the_same() -> None:
    boat = back_after_an_hour()
    boat.reads("water", "on")
    boat.wait(15 * SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)


def test_no_alarm_is_cleared_by_it() -> None:
    boat = flooded(small(WATER, SHORE))
    boat.wait(60 * MINUTE)
    boat.reads("water", "off")
    for _ in range(2):
        boat.wait(MINUTE)
        assert boat.desk.state.standing.is_active(WATER.id)
        boat.reads("water", "off")
    boat.wait(59 * SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)
    boat.wait(2 * SECOND)
    assert not boat.desk.state.standing.is_active(WATER.id)


@pytest.mark.parametrize("own_time", [0, 1_000_000, CLOCK_SET - 1])
def test_a_node_whose_clock_was_never_set_raises_alarms_and_satisfies_no_interlock(own_time: int) -> None:
    boat = small(WATER, SHORE)
    boat.reads("shore", "on", own_time=own_time)
    assert interlock(boat) is Verdict.UNKNOWN
    boat.reads("water", "on", own_time=own_time)
    boat.wait(15 * SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)


def timeless(boat: Small, key: str, text: str) -> Turn:
    """A contact arrives whose time cannot be read."""
    came = Reading(signal=f"{BOAT}/{key}", grade=Grade.CONTACT, text=text, timeless=True)
    return boat.take(ReadingsCame(readings=(came,)))


def test_a_value_whose_time_cannot_be_read_raises_alarms_and_satisfies_no_interlock() -> None:
    boat = small(WATER, SHORE)
    assert timeless(boat, "shore", "on").readings[0].late
    assert interlock(boat) is Verdict.UNKNOWN
    timeless(boat, "water", "on")
    boat.wait(15 * SECOND)
    assert boat.desk.state.standing.is_active(WATER.id)
    timeless(boat, "water", "off")
    boat.wait(MINUTE)
    assert boat.desk.state.standing.is_active(WATER.id), "it clears nothing"


def told_of_times(boat: Small, *keys: str, own_time: int | None = None) -> list[tuple[str, ...]]:
    """Of which signals' times somebody is told when these come together."""
    readings = tuple(
        Reading(signal=f"{BOAT}/{key}", grade=Grade.CONTACT, text="on", own_time=own_time, timeless=own_time is None)
        for key in keys
    )
    told = [order.body for order in boat.take(ReadingsCame(readings=readings)).orders if isinstance(order, SendText)]
    return sorted({tuple(body.split("(")[1].split(")")[0].split(" and ")) for body in told if "usable time" in body})


@pytest.mark.parametrize("own_time", [None, 0], ids=["no time that can be read", "a clock never set"])
def test_times_that_cannot_be_used_five_times_running_are_told_once_for_the_whole_boat(own_time: int | None) -> None:
    boat = small(WATER, SHORE)
    for _ in range(4):
        assert told_of_times(boat, "shore", "water", own_time=own_time) == []
    assert told_of_times(boat, "shore", "water", own_time=own_time) == [("shore", "1 more")]
    for _ in range(9):
        assert told_of_times(boat, "shore", "water", own_time=own_time) == []
    for _ in range(9):
        assert told_of_times(boat, "hatch", own_time=own_time) == [], "the same clock"
    assert "signal-timed" in boat.kinds(boat.reads("shore", "on", own_time=boat.now))
    assert boat.rebuilt() == boat.bytes()


# ---------------------------------------------------------------- presence


PRESENCE = signal("presence", senses=Senses.LINK)


def with_presence() -> Small:
    """A boat whose node says whether it is there, and whose broker says so by its last will."""
    boat = small(SILENT, SHORE)
    boat.uses(replace(boat.desk.bundle, signals={**SIGNALS, PRESENCE.id: PRESENCE}))
    return boat


def says(boat: Small, text: str, *, retained: bool = False) -> None:
    boat.take(
        ReadingsCame(
            readings=(Reading(signal=PRESENCE.id, grade=Grade.CONTACT, text=text, retained=retained),),
        )
    )


def silent(boat: Small) -> bool:
    return boat.desk.state.standing.is_active(SILENT.id)


def test_a_last_will_is_no_sign_of_life() -> None:
    boat = with_presence()
    boat.reads("shore", "on")
    boat.wait(9 * MINUTE)
    says(boat, "off")
    boat.wait(MINUTE + SECOND)
    assert silent(boat)
    says(boat, "off")
    assert silent(boat)
    assert boat.rebuilt() == boat.bytes()


def test_the_word_that_it_is_there_is_one_and_the_same_found_retained_is_none() -> None:
    boat = with_presence()
    boat.reads("shore", "on")
    boat.wait(11 * MINUTE)
    says(boat, "on", retained=True)
    assert silent(boat)
    says(boat, "on")
    assert not silent(boat)
