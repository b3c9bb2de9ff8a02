"""What a broker kept over an outage and hands over afterwards without a time of its own looks fresh and is not.

MQTT 3.1.1 and 5 give a message no time of sending, so nothing in it tells. What can be known is that the boat was
silent: whatever comes in the first moments afterwards may be as old as that silence.
"""

from dataclasses import replace

import pytest

from gateway.boat.latest import CLOCK_SET, QUEUE_LETS_GO
from gateway.boat.settings import Senses
from gateway.conditions.verdicts import Verdict
from gateway.desk.moment import Moment
from gateway.vocabulary.happenings import LinkChanged, ReadingsCame
from gateway.vocabulary.moments import MINUTE, SECOND
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


def test_what_comes_at_once_behind_a_silence_satisfies_no_interlock_and_the_next_report_does() -> None:
    boat = back_after_an_hour()
    assert boat.reads("shore", "on").readings[0].late
    assert interlock(boat) is Verdict.UNKNOWN
    boat.wait(QUEUE_LETS_GO + 1)
    assert not boat.reads("shore", "on").readings[0].late
    assert interlock(boat) is Verdict.HOLDS


def test_the_same_holds_over_a_lost_link_and_over_a_restart_of_the_gateway() -> None:
    boat = small(WATER, SHORE)
    boat.reads("shore", "on")
    boat.take(LinkChanged(link="broker:quay", up=False))
    boat.wait(10 * MINUTE)
    boat.take(LinkChanged(link="broker:quay", up=True, memory_kept=True))
    assert boat.reads("shore", "on").readings[0].late
    boat.wait(QUEUE_LETS_GO + 1)
    boat.reads("shore", "on")
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
