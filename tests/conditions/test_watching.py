"""Delays: what completes them, what breaks them, and what never does."""

from decimal import Decimal

from gateway.boat.latest import BoatsSeen, Latest
from gateway.boat.settings import Signal
from gateway.conditions.facts import ConditionBegan, ConditionEnded
from gateway.conditions.watching import (
    Held,
    Watch,
    follow,
    index_by_signal,
    ripe_at,
    silence_ripe_at,
    silent_since,
    watches_of,
)
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import IsNumber, NoNews, Than

T0 = 1_772_334_240_000
VOLTS = Signal(
    id="grey-wagtail/volts", boat="grey-wagtail", key="volts", topic="t", unit="V", report_interval=30 * SECOND
)
LOW = IsNumber(signal="volts", than=Than.BELOW, limit=Decimal("12.0"), lasting=10 * MINUTE)
GOOD = IsNumber(signal="volts", than=Than.ABOVE, limit=Decimal("12.2"), lasting=MINUTE)
RAISING, CLEARING = watches_of("grey-wagtail/low", "grey-wagtail", LOW, GOOD)


def value(text: str, at: Ms, *, arrived: Ms | None = None, late: bool = False, retained: bool = False) -> Latest:
    grade = Grade.NUMBER if text != "?" else Grade.UNREADABLE
    reading = Reading(signal=VOLTS.id, grade=grade, text=text, late=late, retained=retained)
    return Latest(reading, at, at if arrived is None else arrived)


def ripe(watch: Watch, latest: Latest | None, since: Ms = T0, started: Ms = 0) -> Ms | None:
    return ripe_at(watch, since, latest, VOLTS, started)


def test_a_point_is_watched_on_two_sides_and_without_a_clear_limit_the_second_is_the_opposite_of_the_first() -> None:
    assert (RAISING.id, CLEARING.id) == ("grey-wagtail/low when", "grey-wagtail/low clears")
    raising, clearing = watches_of("grey-wagtail/low", "grey-wagtail", LOW, None)
    assert (raising.lasting, clearing.lasting, clearing.opposite) == (10 * MINUTE, 0, True)


def test_a_delay_is_complete_when_it_has_lasted_exactly_so_long_while_the_signal_is_fresh() -> None:
    assert ripe(RAISING, value("11.9", T0 + 9 * MINUTE)) == T0 + 10 * MINUTE
    assert ripe(CLEARING, value("12.25", T0 + 59 * SECOND)) == T0 + MINUTE


def test_a_stale_signal_completes_no_delay() -> None:
    fresh_until = T0 + 10 * MINUTE - 90 * SECOND
    assert ripe(RAISING, value("11.9", fresh_until)) == T0 + 10 * MINUTE
    assert ripe(RAISING, value("11.9", fresh_until - 1)) is None


def test_a_value_measured_long_ago_completes_no_delay_by_the_mere_passing_of_time() -> None:
    assert ripe(RAISING, value("11.9", T0, arrived=T0 + 9 * MINUTE)) is None


def test_only_a_newest_value_that_agrees_completes_a_delay() -> None:
    assert ripe(RAISING, value("11.9", T0 + 11 * MINUTE)) is not None
    assert ripe(RAISING, value("12.6", T0 + 11 * MINUTE, retained=True)) is None
    assert ripe(RAISING, value("?", T0 + 11 * MINUTE)) is None
    assert ripe(RAISING, None) is None


def test_late_and_retained_values_never_complete_an_off_delay() -> None:
    assert ripe(CLEARING, value("12.25", T0 + 2 * MINUTE)) is not None
    assert ripe(CLEARING, value("12.25", T0 + 2 * MINUTE, late=True)) is None
    assert ripe(CLEARING, value("12.25", T0 + 2 * MINUTE, retained=True)) is None


def test_delays_run_along_the_signals_own_times() -> None:
    arrived = T0 + 60 * MINUTE  # a queue let go after an outage
    assert ripe(RAISING, value("11.9", T0 + 10 * MINUTE - 1, arrived=arrived, late=True)) is None
    assert ripe(RAISING, value("11.9", T0 + 10 * MINUTE, arrived=arrived, late=True)) == T0 + 10 * MINUTE


def test_what_was_heard_before_the_start_completes_nothing() -> None:
    before = value("11.9", T0 + 9 * MINUTE)
    assert ripe(RAISING, before, started=T0 + 9 * MINUTE) is not None
    assert ripe(RAISING, before, started=T0 + 9 * MINUTE + 1) is None


def followed(
    watch: Watch, since: Ms | None, before: Latest | None, latest: Latest
) -> ConditionBegan | ConditionEnded | None:
    held = Held({watch.id: since} if since is not None else {})
    return follow(watch, held, before, latest, VOLTS, latest.arrived)


def test_a_condition_begins_at_the_time_of_the_value_and_says_what_was_measured() -> None:
    fact = followed(RAISING, None, None, value("11.9", T0, arrived=T0 + 4_000))
    assert fact == ConditionBegan(watch=RAISING.id, since=T0, measured="11.9 V")


def test_a_condition_that_holds_on_changes_nothing() -> None:
    assert followed(RAISING, T0, value("11.9", T0), value("11.8", T0 + MINUTE)) is None


def test_one_value_that_does_not_agree_breaks_a_delay() -> None:
    fact = followed(RAISING, T0, value("11.9", T0), value("12.05", T0 + MINUTE))
    assert fact == ConditionEnded(watch=RAISING.id, at=T0 + MINUTE, measured="12.05 V")


def test_an_unreadable_value_leaves_an_on_delay_and_breaks_an_off_delay() -> None:
    assert followed(RAISING, T0, value("11.9", T0), value("?", T0 + SECOND)) is None
    assert isinstance(followed(CLEARING, T0, value("12.25", T0), value("?", T0 + SECOND)), ConditionEnded)


def test_inside_the_deadband_an_off_delay_is_broken() -> None:
    assert isinstance(followed(CLEARING, T0, value("12.25", T0), value("12.15", T0 + SECOND)), ConditionEnded)


def test_an_off_delay_starts_again_behind_a_gap_in_which_the_signal_was_stale() -> None:
    gap = T0 + 90 * SECOND
    assert followed(CLEARING, T0, value("12.25", T0), value("12.25", gap)) is None
    again = followed(CLEARING, T0, value("12.25", T0), value("12.25", gap + 1))
    assert again == ConditionBegan(watch=CLEARING.id, since=gap + 1, measured="12.25 V")


def test_an_on_delay_goes_on_behind_a_gap_when_the_first_value_agrees() -> None:
    assert followed(RAISING, T0, value("11.9", T0), value("11.9", T0 + 60 * MINUTE)) is None
    assert ripe(RAISING, value("11.9", T0 + 60 * MINUTE)) == T0 + 10 * MINUTE


# ---------------------------------------------------------------- silence

BOAT_SILENT, _ = watches_of("grey-wagtail/silent", "grey-wagtail", NoNews(signal=None, lasting=10 * MINUTE), None)
ONE_SILENT, _ = watches_of("grey-wagtail/dumb", "grey-wagtail", NoNews(signal="volts", lasting=MINUTE), None)


def test_longer_than_falls_due_one_millisecond_after_the_length() -> None:
    assert silence_ripe_at(NoNews(signal=None, lasting=10 * MINUTE), T0) == T0 + 10 * MINUTE + 1


def test_silence_counts_from_the_last_arrival_the_start_or_the_links_coming_up_whichever_is_last() -> None:
    seen = BoatsSeen(heard={"grey-wagtail": T0}, arrived={VOLTS.id: T0 - 5})
    assert silent_since(BOAT_SILENT, seen, started=T0 - 9, link_up_since=T0 - 8) == T0
    assert silent_since(ONE_SILENT, seen, started=T0 - 9, link_up_since=T0 - 8) == T0 - 5
    assert silent_since(BOAT_SILENT, seen, started=T0 + 1, link_up_since=T0 - 8) == T0 + 1
    assert silent_since(BOAT_SILENT, seen, started=T0 + 1, link_up_since=T0 + 2) == T0 + 2


def test_while_the_link_is_down_nobody_is_called_silent() -> None:
    assert silent_since(BOAT_SILENT, BoatsSeen(heard={"grey-wagtail": T0}), started=0, link_up_since=None) is None


def test_a_boat_never_heard_is_silent_from_the_links_coming_up() -> None:
    assert silent_since(ONE_SILENT, BoatsSeen(), started=T0, link_up_since=T0 + 3) == T0 + 3


def test_a_value_wakes_the_watches_of_its_signal_and_none_that_watches_for_silence() -> None:
    index = index_by_signal([RAISING, CLEARING, BOAT_SILENT, ONE_SILENT])
    assert index == {VOLTS.id: (RAISING, CLEARING)}
