"""Alarms that stand, the numbers they are texted by, and who must be taken to be aboard."""

from dataclasses import replace

import pytest

from gateway.alarms.aboard import BY_TEXT, UNKNOWN_OCCUPANCY, Occupied
from gateway.alarms.facts import AlarmEscalated, AlarmGivenUp, AlarmStep, AttendanceChanged, PersonSeen, VisitEnded
from gateway.alarms.holding import HandOverAsked, HolderChanged, HolderProgressed, Whereabouts
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.alarms.settings import Attendance, Point
from gateway.alarms.standing import Standing
from gateway.alarms.stepping import stepped
from gateway.vocabulary.moments import DAY, MINUTE, Ms
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact

NOW = 1_772_334_240_000
WATER = Point(
    id="grey-wagtail/water",
    boat="grey-wagtail",
    key="water",
    name="Bilge high water",
    priority=Priority.EMERGENCY,
    when=IsContact(signal="water", wanted=True),
    clears=None,
    callout="list",
)
LATCHING = replace(WATER, latching=True)
E, S = AlarmEvent, AlarmState


def does(standing: Standing, event: AlarmEvent, now: Ms = NOW, point: Point = WATER) -> AlarmStep:
    fact = stepped(standing, point, event, now)
    standing.apply(fact, now)
    return fact


def other(number: int) -> Point:
    return replace(WATER, id=f"grey-wagtail/point-{number}", key=f"point-{number}")


def test_numbers_are_given_in_turn_beginning_with_1() -> None:
    standing = Standing()
    assert [does(standing, E.RAISE, point=other(n)).number for n in range(3)] == [1, 2, 3]


def test_a_closed_number_rests_for_30_days_even_when_the_turn_comes_to_it_again() -> None:
    standing = Standing(last_number=9998, closed={9999: NOW - 30 * DAY + 1, 1: NOW - 30 * DAY})
    assert standing.next_number(NOW) == 1
    assert standing.next_number(NOW + 1) == 9999


def test_after_9999_comes_1_and_a_number_that_stands_is_skipped() -> None:
    standing = Standing(last_number=9998)
    assert does(standing, E.RAISE, point=other(0)).number == 9999
    standing.last_number = 9998
    assert does(standing, E.RAISE, point=other(1)).number == 1


def test_when_every_number_stands_or_rests_that_is_said() -> None:
    standing = Standing(closed=dict.fromkeys(range(1, 10_000), NOW))
    with pytest.raises(OverflowError, match="all 9999"):
        standing.next_number(NOW + 30 * DAY - 1)
    assert standing.next_number(NOW + 30 * DAY) == 1


def test_numbers_that_have_rested_are_forgotten_with_the_next_new_one() -> None:
    standing = Standing(last_number=2, closed={1: NOW - 30 * DAY, 2: NOW - 30 * DAY + 1})
    assert does(standing, E.RAISE).number == 3
    assert standing.closed == {2: NOW - 30 * DAY + 1}


def test_an_alarm_keeps_its_number_until_it_is_closed_and_gets_a_new_one_afterwards() -> None:
    standing = Standing()
    assert [does(standing, event).number for event in (E.RAISE, E.CLEAR, E.RAISE, E.TAKE, E.CLEAR)] == [1] * 5
    assert does(standing, E.RAISE).number == 2
    assert standing.closed == {1: NOW}


def test_an_alarm_counts_how_often_it_was_raised_under_its_number() -> None:
    standing = Standing()
    for event in (E.RAISE, E.CLEAR, E.RAISE, E.CLEAR, E.RAISE):
        does(standing, event)
    assert standing.by_point[WATER.id].times == 3


def test_an_alarm_knows_when_it_was_raised_since_when_it_holds_and_when_it_went() -> None:
    standing = Standing()
    fact = stepped(standing, WATER, E.RAISE, NOW, at=NOW - MINUTE, measured="on", late=True, found=True)
    standing.apply(fact, NOW)
    alarm = standing.by_point[WATER.id]
    assert (alarm.raised, alarm.since, alarm.gone, alarm.measured) == (NOW, NOW - MINUTE, None, "on")
    assert (alarm.late, alarm.found, alarm.active) == (True, True, True)
    standing.apply(stepped(standing, WATER, E.CLEAR, NOW + 9, at=NOW + 5), NOW + 9)
    alarm = standing.by_point[WATER.id]
    assert (alarm.gone, alarm.active, alarm.state) == (NOW + 5, False, S.GONE_UNACKNOWLEDGED)
    assert not standing.is_active(WATER.id)


def test_a_refused_step_says_so_and_changes_nothing() -> None:
    standing = Standing()
    does(standing, E.RAISE, point=LATCHING)
    before = standing.by_point[WATER.id]
    fact = does(standing, E.RESET, point=LATCHING)
    assert (fact.before, fact.after) == (S.UNACKNOWLEDGED, S.UNACKNOWLEDGED)
    assert standing.by_point[WATER.id] == before


def test_while_it_is_put_aside_an_alarm_goes_on_knowing_whether_its_condition_holds() -> None:
    standing = Standing()
    does(standing, E.RAISE)
    does(standing, E.SHELVE)
    does(standing, E.CLEAR)
    assert (standing.by_point[WATER.id].state, standing.is_active(WATER.id)) == (S.SHELVED, False)
    does(standing, E.RAISE)
    assert (standing.by_point[WATER.id].state, standing.is_active(WATER.id)) == (S.SHELVED, True)
    assert does(standing, E.UNSHELVE).after is S.UNACKNOWLEDGED


def test_a_latch_that_was_pending_when_an_alarm_was_put_aside_is_kept() -> None:
    standing = Standing()
    for event in (E.RAISE, E.CLEAR, E.TAKE, E.SUPPRESS):
        does(standing, event, point=LATCHING)
    assert does(standing, E.UNSUPPRESS, point=LATCHING).after is S.LATCHED_UNACKNOWLEDGED


def test_an_alarm_whose_point_is_gone_is_closed_and_its_number_rests() -> None:
    standing = Standing()
    does(standing, E.RAISE)
    standing.apply(AlarmGivenUp(number=1, point=WATER.id, because="gone"), NOW + 7)
    assert standing.by_point == {}
    assert standing.closed == {1: NOW + 7}


def test_a_word_of_the_holder_counts_for_what_he_has_and_what_still_holds() -> None:
    standing = Standing()
    for number, point, events in (
        (1, other(1), (E.RAISE, E.TAKE)),
        (2, replace(other(2), latching=True), (E.RAISE, E.TAKE, E.CLEAR)),
    ):
        for event in events:
            standing.apply(stepped(standing, point, event, NOW, person="tobias"), NOW)
        assert standing.alarm(number) is not None
    standing.heard_from("tobias", NOW + MINUTE)
    standing.heard_from("ines", NOW + 2 * MINUTE)
    assert [alarm.taken for alarm in standing.by_point.values()] == [NOW + MINUTE, NOW]


def test_where_the_holder_is_goes_with_the_holder() -> None:
    standing = Standing()
    does(standing, E.RAISE)
    standing.apply(stepped(standing, WATER, E.TAKE, NOW, person="tobias"), NOW)
    about = {"number": 1, "point": WATER.id, "boat": WATER.boat}
    standing.apply(HolderProgressed(**about, person="tobias", where=Whereabouts.AT_BOAT), NOW)
    standing.apply(HandOverAsked(**about, person="tobias", until=NOW + MINUTE), NOW)
    held = standing.by_point[WATER.id]
    assert (held.taken_by, held.where, held.offered_until) == ("tobias", Whereabouts.AT_BOAT, NOW + MINUTE)
    standing.apply(HolderChanged(**about, before="tobias", person="ines"), NOW + MINUTE)
    held = standing.by_point[WATER.id]
    assert (held.taken_by, held.where, held.offered_until) == ("ines", None, None)


def test_a_warning_that_has_become_an_alarm_stays_one_through_its_later_steps() -> None:
    standing, warning = Standing(), replace(WATER, priority=Priority.WARNING)
    does(standing, E.RAISE, point=warning)
    assert stepped(standing, warning, E.CLEAR, NOW).priority is Priority.WARNING
    worse = AlarmEscalated(number=1, point=WATER.id, boat=WATER.boat, priority=Priority.ALARM)
    standing.apply(worse, NOW)
    assert stepped(standing, warning, E.CLEAR, NOW).priority is Priority.ALARM


def test_an_alarm_is_found_by_its_number_only_while_it_stands() -> None:
    standing = Standing()
    does(standing, E.RAISE)
    assert standing.alarm(1) == standing.by_point[WATER.id]
    assert standing.alarm(2) is None


# ---------------------------------------------------------------- who is aboard


def seen(by: str, at: Ms, person: str | None = None) -> PersonSeen:
    return PersonSeen(boat="grey-wagtail", by=by, at=at, person=person)


def test_a_boat_of_which_nobody_has_said_anything_is_taken_as_occupied() -> None:
    assert Standing().occupancy("grey-wagtail") == UNKNOWN_OCCUPANCY


def test_a_boat_is_occupied_from_the_first_sign_and_later_signs_do_not_make_it_younger() -> None:
    standing = Standing()
    standing.apply(seen("grey-wagtail/hatch", NOW), NOW)
    standing.apply(seen("grey-wagtail/motion", NOW + 9), NOW + 9)
    assert standing.occupancy("grey-wagtail") == Occupied(NOW, "grey-wagtail/hatch")


def test_only_a_named_end_empties_a_boat_and_the_next_sign_fills_it_again() -> None:
    standing = Standing()
    standing.apply(seen("grey-wagtail/hatch", NOW), NOW)
    standing.apply(VisitEnded(boat="grey-wagtail", by=BY_TEXT, at=NOW + 1, person="p1"), NOW + 1)
    assert standing.occupancy("grey-wagtail") is None
    assert standing.occupancy("salt-harrier") == UNKNOWN_OCCUPANCY
    standing.apply(seen("grey-wagtail/hatch", NOW + 2), NOW + 2)
    assert standing.occupancy("grey-wagtail") == Occupied(NOW + 2, "grey-wagtail/hatch")


def test_a_visit_announced_by_text_explains_the_signs_and_keeps_the_time_of_the_first() -> None:
    standing = Standing()
    standing.apply(seen("grey-wagtail/hatch", NOW), NOW)
    standing.apply(seen(BY_TEXT, NOW + 5, "p1"), NOW + 5)
    assert standing.occupancy("grey-wagtail") == Occupied(NOW, BY_TEXT, "p1")
    standing.apply(seen("grey-wagtail/hatch", NOW + 6), NOW + 6)
    assert standing.occupancy("grey-wagtail") == Occupied(NOW, BY_TEXT, "p1")


def test_a_boat_is_kept_away_until_somebody_says_otherwise_because_that_leaves_every_alarm_on() -> None:
    standing = Standing()
    assert standing.kept("grey-wagtail") is Attendance.AWAY
    standing.apply(AttendanceChanged(boat="grey-wagtail", attendance=Attendance.ABOARD), NOW)
    assert standing.kept("grey-wagtail") is Attendance.ABOARD
