"""The newest value of a signal, its marks, and how fresh it is."""

from dataclasses import replace

from gateway.boat.directory import directory_of
from gateway.boat.latest import BoatsSeen, Latest, is_stale, marked
from gateway.boat.settings import Signal
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.readings import Grade, Reading

NOW = 1_772_334_240_000
VOLTS = Signal(
    id="grey-wagtail/house-volts", boat="grey-wagtail", key="house-volts", topic="t", report_interval=30 * SECOND
)
STALE = 90 * SECOND  # three report intervals


def volts(text: str = "12.4", **more: object) -> Reading:
    return Reading(signal=VOLTS.id, grade=Grade.NUMBER, text=text, **more)  # type: ignore[arg-type]


def latest(measured: Ms, arrived: Ms | None = None, **more: object) -> Latest:
    return Latest(volts(**more), measured, measured if arrived is None else arrived)  # type: ignore[arg-type]


def test_a_reading_without_a_time_of_its_own_is_left_as_it_is() -> None:
    assert marked(volts(), VOLTS, latest(NOW), NOW) == volts()


def test_a_reading_older_than_its_signals_newest_is_late() -> None:
    assert marked(volts(own_time=NOW - 1), VOLTS, latest(NOW), NOW).late
    assert not marked(volts(own_time=NOW), VOLTS, latest(NOW), NOW).late


def test_a_reading_older_than_three_report_intervals_is_late_even_when_it_is_the_first() -> None:
    assert marked(volts(own_time=NOW - STALE - 1), VOLTS, None, NOW).late
    assert not marked(volts(own_time=NOW - STALE), VOLTS, None, NOW).late


def test_an_own_time_more_than_60_s_ahead_is_dropped_and_the_reading_says_so() -> None:
    far = marked(volts(own_time=NOW + MINUTE + 1), VOLTS, None, NOW)
    assert (far.own_time, far.ahead, far.late) == (None, True, False)
    near = marked(volts(own_time=NOW + MINUTE), VOLTS, None, NOW)
    assert (near.own_time, near.ahead, near.late) == (NOW + MINUTE, False, False)


def test_the_newest_by_the_boats_own_time_stays_whatever_arrives_after_it() -> None:
    seen = BoatsSeen()
    assert seen.absorb(volts("12.4", own_time=NOW), NOW, "grey-wagtail")
    assert not seen.absorb(volts("11.0", own_time=NOW - 1, late=True), NOW + 5, "grey-wagtail")
    assert seen.latest[VOLTS.id].reading.text == "12.4"
    assert seen.absorb(volts("12.5", own_time=NOW), NOW + 6, "grey-wagtail")
    assert seen.latest[VOLTS.id] == Latest(volts("12.5", own_time=NOW), NOW, NOW + 6)


def test_a_late_reading_is_a_sign_of_life_and_a_retained_one_is_none() -> None:
    seen = BoatsSeen()
    seen.absorb(volts(own_time=NOW), NOW, "grey-wagtail")
    seen.absorb(volts(own_time=NOW - 1, late=True), NOW + 5, "grey-wagtail")
    seen.absorb(volts(retained=True), NOW + 9, "grey-wagtail")
    assert seen.heard == {"grey-wagtail": NOW + 5}
    assert seen.arrived == {VOLTS.id: NOW + 5}


def test_what_was_never_heard_may_lie_in_the_queue_of_a_boat_that_was_silent_and_is_heard_again() -> None:
    """Twice her silence, for a queue that lets go half as fast again as it filled (ours); a short pause is none."""
    pump = replace(VOLTS, id="grey-wagtail/pump", key="pump")
    seen, back = BoatsSeen(), NOW + HOUR
    seen.absorb(volts(), NOW, "grey-wagtail")
    assert not seen.may_be_queued(pump, NOW + 5 * SECOND)
    seen.absorb(volts(late=True), back, "grey-wagtail")
    assert seen.may_be_queued(pump, back + 5 * SECOND)
    for minute in range(1, 121):
        seen.absorb(volts(), back + minute * MINUTE - 30 * SECOND, "grey-wagtail")
        seen.absorb(volts(), back + minute * MINUTE, "grey-wagtail")
    assert seen.may_be_queued(pump, back + 2 * HOUR)
    assert not seen.may_be_queued(pump, back + 2 * HOUR + 1)


def test_unreadable_payloads_are_counted_in_a_row() -> None:
    seen = BoatsSeen()
    bad = Reading(signal=VOLTS.id, grade=Grade.UNREADABLE, text="?")
    for at in range(3):
        seen.absorb(bad, NOW + at, "grey-wagtail")
    assert seen.unreadable == {VOLTS.id: 3}
    seen.absorb(volts(), NOW + 9, "grey-wagtail")
    assert seen.unreadable == {}


def test_only_a_live_readable_value_in_its_time_is_sure() -> None:
    assert latest(NOW).sure
    assert not latest(NOW, late=True).sure
    assert not latest(NOW, retained=True).sure
    assert not Latest(Reading(signal=VOLTS.id, grade=Grade.UNREADABLE, text="?"), NOW, NOW).sure


def test_a_signal_is_stale_after_three_report_intervals_and_not_before() -> None:
    assert is_stale(None, VOLTS, NOW)
    assert not is_stale(latest(NOW - STALE), VOLTS, NOW)
    assert is_stale(latest(NOW - STALE - 1), VOLTS, NOW)


def test_what_arrives_now_but_was_measured_long_ago_is_stale() -> None:
    assert is_stale(latest(NOW - HOUR, arrived=NOW), VOLTS, NOW)


def test_one_topic_may_carry_several_signals_and_is_subscribed_to_once() -> None:
    other = Signal(id="grey-wagtail/start-volts", boat="grey-wagtail", key="start-volts", topic="t")
    third = Signal(id="grey-wagtail/shore", boat="grey-wagtail", key="shore", topic="a")
    found = directory_of([VOLTS, other, third])
    assert found.topics == ("a", "t")
    assert found.by_topic["t"] == (VOLTS, other)
    assert "b" not in found.by_topic
