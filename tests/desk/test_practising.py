"""A practice alarm: the call-out of one point as it would go now, that nobody can take for a true one."""

from dataclasses import replace

import pytest

from gateway.alarms.settings import Attendance
from gateway.desk.bundle import Bundle
from gateway.people.quiet import QuietHours
from gateway.people.regular import Regular, Wish
from gateway.people.roster import Shift
from gateway.telling.practice import MOST_A_DAY
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import DeliveryReported, ReadingsCame, SendAnswered
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND
from gateway.vocabulary.orders import PublishCommand, SendText
from gateway.vocabulary.priority import Priority
from tests.desk.small_boat import (
    BEGAN,
    BOAT,
    INES,
    MARINA,
    RUTH,
    SHORE,
    TOBIAS,
    WATER,
    Small,
    bundle_of,
    reading,
    small,
    with_salt_harrier,
)

ASKED = "practice shore"


def agreeing(bundle: Bundle, *but: str) -> Bundle:
    """Everybody has agreed to be texted, but for these."""
    people = {
        key: replace(one, consent="" if key in but else "2026-03-01, in writing") for key, one in bundle.people.items()
    }
    return replace(bundle, people=people)


def boat_of(bundle: Bundle) -> Small:
    boat = small(SHORE, WATER)
    boat.uses(replace(bundle, fingerprint="b" * 64))
    boat.now = BEGAN
    return boat


def with_both(*but: str) -> Small:
    return boat_of(agreeing(bundle_of(SHORE, WATER), *but))


def practised(boat: Small, about: str = "practice told") -> list[tuple[str, int]]:
    """Who was told for practice, and when (minutes since 03:00)."""
    return [(who, at // MINUTE) for who, kind, at in boat.told() if kind == about]


def bodies(boat: Small, person: str) -> list[str]:
    return [text.body for text in boat.sent if text.person == person]


def test_each_step_of_the_list_is_told_at_its_time_and_every_text_begins_with_practice() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.wait(HOUR)
    assert practised(boat) == [(INES, 0), (TOBIAS, 5), (MARINA, 8)]
    assert {text.body.split(".")[0] for text in boat.sent} == {"PRACTICE"}
    assert "GREY WAGTAIL" in bodies(boat, TOBIAS)[0]
    assert "shore" in bodies(boat, TOBIAS)[0]
    assert "Do not set out" in bodies(boat, TOBIAS)[0]


def test_the_carrier_tries_no_longer_than_a_practice_lasts() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    assert {text.valid_for for text in boat.sent if "Do not set out" in text.body} == {10 * MINUTE}


def test_nobody_having_it_ends_it_ten_minutes_after_the_last_step_and_all_hear_so_once() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.wait(2 * HOUR)
    assert sorted(practised(boat, "practice over")) == sorted([(INES, 18), (TOBIAS, 18), (MARINA, 18), (RUTH, 18)])
    assert "nobody replied HAVE IT. 3 texts to 3 people, 0 arrived so far" in bodies(boat, RUTH)[-1]
    assert boat.desk.state.practice.on == {}


def test_having_it_ends_it_and_nobody_else_is_called() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.wait(2 * MINUTE)
    boat.texts(INES, "have it")
    boat.wait(HOUR)
    assert practised(boat) == [(INES, 0)]
    assert "Ines had it after 2 min" in bodies(boat, RUTH)[-1]
    assert "you had it" in bodies(boat, INES)[-1]


def test_it_raises_takes_and_switches_nothing_and_has_no_number() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.wait(6 * MINUTE)
    boat.texts(TOBIAS, "have it")
    assert boat.desk.state.standing.by_point == {}
    assert boat.desk.state.telling.calls == {}
    assert not any(isinstance(order, PublishCommand) for turn in boat.turns for order in turn.orders)
    kinds = set(boat.kinds())
    assert kinds >= {"practice-began", "practice-called", "practice-ended"}
    assert kinds.isdisjoint({"alarm-step", "round-called"})
    told = [w.entry.body for w in boat.entries if w.entry.kind == "text-queued"]
    assert {(one["priority"], tuple(one["numbers"])) for one in told} == {(None, ())}  # so it counts towards no limit


def test_an_emergency_is_called_by_voice_as_well_and_the_first_words_say_that_it_is_practice() -> None:
    boat = with_both()
    boat.texts(RUTH, "practice water")
    boat.wait(6 * MINUTE)
    assert [(who, at // MINUTE) for who, at, _ in boat.rung] == [(TOBIAS, 5)]
    words = boat.rung[0][2]
    assert words.startswith("Practice.")
    assert words.endswith("This was only practice.")


def test_whoever_set_it_off_hears_how_many_texts_arrived() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    order = next(text.id for text in boat.sent if text.person == INES)
    boat.take(SendAnswered(order=order, accepted=True, message="SM1"))
    boat.take(DeliveryReported(order=order, status="delivered"))
    boat.texts(RUTH, "practice over")
    assert "you ended it" in bodies(boat, RUTH)[-1]
    assert "1 text to 1 person, 1 arrived so far" in bodies(boat, RUTH)[-1]
    assert "arrived" not in bodies(boat, INES)[-1]


def test_texts_of_an_earlier_practice_are_not_counted() -> None:
    boat = with_both()
    for _ in range(2):
        boat.texts(RUTH, ASKED)
        order = [text.id for text in boat.sent if text.person == INES][-1]
        boat.take(SendAnswered(order=order, accepted=True, message=f"SM{order}"))
        boat.take(DeliveryReported(order=order, status="delivered"))
        boat.texts(RUTH, "practice over")
        assert "1 text to 1 person, 1 arrived so far" in bodies(boat, RUTH)[-1]
        boat.wait(MINUTE)


def test_the_list_is_followed_as_it_stands_at_each_step() -> None:
    steps = (Step(after=0, tell=(INES,)), Step(after=5 * MINUTE, tell=(MARINA, TOBIAS), by_duty=(MARINA, TOBIAS)))
    roster = (Shift(person=MARINA, days=tuple(range(7))), Shift(person=TOBIAS, days=(6,), begins=3 * 60 + 3, ends=600))
    bundle = bundle_of(SHORE, WATER, callouts=(CallOutList(key="list", steps=steps, repeat=None),), roster=roster)
    boat = boat_of(agreeing(bundle))
    boat.texts(RUTH, ASKED)
    boat.wait(6 * MINUTE)
    assert practised(boat) == [(INES, 0), (TOBIAS, 5)]


@pytest.mark.parametrize(("key", "text"), [("water", "on"), ("shore", "off")])
def test_a_true_alarm_of_the_boat_ends_it_and_goes_on_as_if_there_had_been_none(key: str, text: str) -> None:
    alone, beside = with_both(), with_both()
    beside.texts(RUTH, ASKED)
    for boat in (alone, beside):
        boat.now = BEGAN + MINUTE
        boat.keeps_reading(key, text, 7 * MINUTE)
        boat.wait(HOUR)
    assert [one for one in beside.told() if one[1] == "alarm told"] == [o for o in alone.told() if o[1] == "alarm told"]
    assert alone.rung == beside.rung
    ended = [w.entry.body for w in beside.entries if w.entry.kind == "practice-ended"]
    assert [one["because"] for one in ended] == ["a true alarm came"]
    assert any("a true alarm has come. What comes now is true" in body for body in bodies(beside, INES))
    assert not any(text.body.startswith("PRACTICE") and "HAVE IT 1" in text.body for text in beside.sent)


def test_while_an_alarm_of_the_boat_waits_for_somebody_none_is_set_off() -> None:
    boat = with_both()
    boat.keeps_reading("water", "on", MINUTE)
    boat.texts(RUTH, ASKED)
    assert "PRACTICE. GREY WAGTAIL: alarm 1 waits for somebody. Nobody was told of anything" in bodies(boat, RUTH)[-1]
    assert practised(boat) == []
    boat.texts(TOBIAS, "have it 1")
    boat.texts(RUTH, ASKED)
    assert practised(boat)[0][0] == INES


def test_have_it_never_guesses_between_a_practice_and_a_true_warning_of_another_boat() -> None:
    whole = with_salt_harrier(agreeing(bundle_of(SHORE, WATER)), TOBIAS, INES)
    other = replace(SHORE, id="salt-harrier/shore", boat="salt-harrier")
    whole = replace(whole, points={**whole.points, other.id: other})
    boat = boat_of(whole)
    signal = replace(whole.signals[f"{BOAT}/shore"], id="salt-harrier/shore", boat="salt-harrier", topic="h/shore")
    boat.uses(replace(whole, fingerprint="c" * 64, signals={**whole.signals, signal.id: signal}))
    for _ in range(12):
        boat.take(ReadingsCame(readings=(replace(reading("shore", "off"), signal=signal.id),)))
        boat.wait(30 * SECOND)
    boat.texts(RUTH, ASKED)
    boat.texts(INES, "have it")
    assert "HAVE IT" in bodies(boat, INES)[-1]
    assert boat.desk.state.practice.on != {}
    assert boat.desk.state.telling.calls["salt-harrier/shore"].holder is None
    boat.texts(INES, "grey wagtail have it")
    assert boat.desk.state.practice.on == {}
    assert boat.desk.state.telling.calls["salt-harrier/shore"].holder is None


def with_a_second_boat(*people: str) -> Small:
    """As before, and SALT HARRIER, whose water Tobias alone is told of; these know both boats."""
    whole = with_salt_harrier(agreeing(bundle_of(SHORE, WATER)), *people)
    other = replace(WATER, id="salt-harrier/water", boat="salt-harrier", callout="other")
    signal = replace(whole.signals[f"{BOAT}/water"], id=other.id, boat=other.boat, topic="salt-harrier/water")
    callouts = {
        **whole.callouts,
        "other": CallOutList(key="other", steps=(Step(after=0, tell=(TOBIAS,)),), repeat=None),
    }
    points, signals = {**whole.points, other.id: other}, {**whole.signals, signal.id: signal}
    return boat_of(replace(whole, points=points, signals=signals, callouts=callouts))


def leaks_elsewhere(boat: Small) -> None:
    for _ in range(4):
        boat.take(ReadingsCame(readings=(replace(reading("water", "on"), signal="salt-harrier/water"),)))
        boat.wait(10 * SECOND)
    assert boat.desk.state.telling.calls["salt-harrier/water"].told == (TOBIAS,)


def test_an_emergency_of_another_boat_ends_it_for_whose_turn_has_not_come_yet() -> None:
    """ "Do not set out" five minutes after a true emergency would keep him at home."""
    boat = with_a_second_boat(TOBIAS)
    boat.texts(RUTH, ASKED)
    leaks_elsewhere(boat)
    assert boat.desk.state.practice.on == {}
    boat.wait(HOUR)
    assert practised(boat) == [(INES, 0)]


def test_while_somebody_of_its_list_has_an_emergency_of_another_boat_before_him_none_is_set_off() -> None:
    boat = with_a_second_boat(TOBIAS)
    leaks_elsewhere(boat)
    boat.texts(RUTH, ASKED)
    assert "alarm 1 waits for somebody" in bodies(boat, RUTH)[-1]
    assert practised(boat) == []


def test_whoever_comes_into_the_list_with_an_emergency_before_him_is_not_told_to_stay() -> None:
    boat = with_a_second_boat(TOBIAS)
    steps = (Step(after=0, tell=(INES,)), Step(after=5 * MINUTE, tell=(MARINA,)))
    whole = boat.desk.bundle
    callouts = {**whole.callouts, "list": CallOutList(key="list", steps=steps, repeat=None)}
    boat.uses(replace(whole, fingerprint="e" * 64, callouts=callouts))
    boat.texts(RUTH, ASKED)
    leaks_elsewhere(boat)
    assert boat.desk.state.practice.on != {}, "nobody of its list is told of the other one"
    boat.uses(whole)
    boat.wait(HOUR)
    assert practised(boat) == [(INES, 0)]


def test_a_caution_of_the_boat_stands_in_the_way_of_none() -> None:
    caution = replace(WATER, priority=Priority.CAUTION)
    boat = boat_of(agreeing(bundle_of(SHORE, caution)))
    boat.keeps_reading("water", "on", MINUTE)
    assert f"{BOAT}/water" in boat.desk.state.telling.calls
    boat.texts(RUTH, ASKED)
    assert practised(boat)[-1][0] == INES


def test_a_warning_of_another_boat_ends_it_when_it_becomes_an_alarm() -> None:
    boat = with_a_second_boat(TOBIAS)
    whole, key = boat.desk.bundle, "salt-harrier/water"
    slow = replace(whole.points[key], priority=Priority.WARNING, becomes_alarm=7 * MINUTE)
    boat.uses(replace(whole, fingerprint="e" * 64, points={**whole.points, key: slow}))
    leaks_elsewhere(boat)
    boat.texts(RUTH, ASKED)
    boat.wait(6 * MINUTE)
    assert [who for who, _ in practised(boat)] == [INES, TOBIAS], "a mere warning elsewhere stands in the way of none"
    boat.wait(2 * MINUTE)
    assert "alarm-escalated" in boat.kinds()
    assert boat.desk.state.practice.on == {}


def test_an_alarm_that_nobody_is_told_of_ends_none_until_it_is_called_after_all() -> None:
    boat = boat_of(agreeing(bundle_of(replace(SHORE, attendance=(Attendance.LAID_UP,)), WATER)))
    boat.texts(RUTH, "practice water")
    boat.keeps_reading("shore", "off", 7 * MINUTE)
    assert boat.desk.state.standing.by_point[f"{BOAT}/shore"].number == 1
    assert boat.desk.state.practice.on != {}
    boat.texts(INES, "laid up")
    boat.wait(SECOND)
    assert "alarm told" in {kind for _, kind, _ in boat.told()}
    assert boat.desk.state.practice.on == {}


def test_a_point_whose_own_alarm_somebody_has_is_not_practised() -> None:
    boat = with_both()
    boat.keeps_reading("shore", "off", 6 * MINUTE)
    boat.texts(TOBIAS, "have it 1")
    boat.texts(RUTH, ASKED)
    assert practised(boat) == []
    boat.texts(RUTH, "practice water")
    assert practised(boat)[0][0] == INES


def test_who_has_cautions_in_a_digest_is_not_told_of_a_caution_for_practice() -> None:
    bundle = agreeing(bundle_of(replace(SHORE, priority=Priority.CAUTION)))
    wishes = (Wish(kind=Regular.DIGEST, minute=8 * 60),)
    people = {**bundle.people, INES: replace(bundle.people[INES], wishes=wishes)}
    boat = boat_of(replace(bundle, people=people))
    boat.wait(6 * HOUR)  # cautions go by day
    boat.texts(RUTH, ASKED)
    boat.wait(6 * MINUTE)
    assert practised(boat) == [(TOBIAS, 6 * 60 + 5)]
    held = [w.entry.body for w in boat.entries if w.entry.kind == "held-back"]
    assert [(one["person"], one["because"]) for one in held if one["about"] == "practice told"] == [
        (INES, "cautions wait for the person's digest")
    ]


def test_who_minds_the_wiring_and_the_owner_may_and_nobody_else() -> None:
    boat = with_both()
    for person in (TOBIAS, MARINA):
        boat.texts(person, ASKED)
        assert "a practice alarm is for Ruth or Ines to set off" in bodies(boat, person)[-1]
    assert practised(boat) == []
    boat.texts(INES, ASKED)
    assert practised(boat) == [(INES, 0)]


def test_who_may_set_none_off_ends_none_and_whose_turn_has_not_come_has_none() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.texts(TOBIAS, "practice over")
    assert "a practice alarm is for Ruth or Ines to set off" in bodies(boat, TOBIAS)[-1]
    boat.texts(TOBIAS, "have it")
    assert boat.desk.state.practice.on != {}
    boat.wait(6 * MINUTE)
    assert practised(boat) == [(INES, 0), (TOBIAS, 5)]


def test_a_name_that_no_point_has_sets_nothing_off() -> None:
    boat = with_both()
    boat.texts(RUTH, "practice shore not now please")
    assert 'no alarm point is called "shore not now please"' in bodies(boat, RUTH)[-1]
    assert boat.desk.state.practice.on == {}


def test_of_two_boats_with_a_point_of_that_name_the_named_one_is_practised() -> None:
    boat = with_a_second_boat(TOBIAS, INES)
    whole = boat.desk.bundle
    other_first = {key: whole.points[key] for key in sorted(whole.points, reverse=True)}
    boat.uses(replace(whole, fingerprint="e" * 64, points=other_first))
    boat.texts(INES, "grey wagtail practice water")
    assert set(boat.desk.state.practice.on) == {f"{BOAT}/water"}


def test_a_second_one_waits_for_the_end_of_the_first() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.texts(RUTH, "practice water")
    assert "shore is practised already" in bodies(boat, RUTH)[-1]
    boat.texts(RUTH, "practice over")
    boat.texts(RUTH, "practice water")
    assert practised(boat)[-1] == (INES, 0)


def test_after_a_dozen_within_a_day_nobody_is_woken_by_another() -> None:
    boat = with_both()
    for _ in range(MOST_A_DAY):
        boat.texts(RUTH, ASKED)
        boat.texts(RUTH, "practice over")
        boat.wait(MINUTE)
    before = len(practised(boat))
    boat.texts(RUTH, ASKED)
    assert (
        "there were 12 practice alarms within a day, the most there may be. Nobody was told" in bodies(boat, RUTH)[-1]
    )
    assert len(practised(boat)) == before
    boat.wait(DAY)
    boat.texts(RUTH, ASKED)
    assert len(practised(boat)) > before, "the day after there may be one again"


def test_without_consent_in_quiet_hours_and_with_a_phone_opted_out_nothing_goes_and_the_reason_is_kept() -> None:
    bundle = agreeing(bundle_of(SHORE, WATER), TOBIAS)
    asleep = replace(bundle.people[INES], quiet=QuietHours(22 * 60, 7 * 60))
    boat = boat_of(replace(bundle, people={**bundle.people, INES: asleep}))
    boat.texts(MARINA, "stop")
    boat.texts(RUTH, ASKED)
    boat.wait(10 * MINUTE)
    assert practised(boat) == []
    held = [w.entry.body for w in boat.entries if w.entry.kind == "held-back"]
    reasons = {(one["person"], one["because"]) for one in held if one["about"] == "practice told"}
    assert reasons == {
        (INES, "quiet hours"),
        (TOBIAS, "no consent to be texted is written down"),
        (MARINA, "the phone has opted out"),
    }


def test_an_old_text_wakes_nobody() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED, age=HOUR)
    assert practised(boat) == []


def test_it_goes_on_over_a_restart_and_is_over_where_the_gateway_did_not_run_at_its_end() -> None:
    short = with_both()
    short.texts(RUTH, ASKED)
    short.wait(MINUTE)
    short.restarts(after=5 * MINUTE)
    assert practised(short) == [(INES, 0), (TOBIAS, 6)]
    long = with_both()
    long.texts(RUTH, ASKED)
    long.restarts(after=3 * HOUR)
    assert practised(long) == [(INES, 0)]
    assert long.desk.state.practice.on == {}


def test_a_point_that_goes_from_the_installation_ends_it() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.uses(replace(agreeing(bundle_of(WATER)), fingerprint="d" * 64))
    assert boat.desk.state.practice.on == {}
    assert "the installation was changed" in bodies(boat, INES)[-1]


def test_what_nobody_would_be_told_of_as_the_boat_is_kept_is_not_practised() -> None:
    point = replace(SHORE, attendance=(Attendance.LAID_UP,))
    boat = boat_of(agreeing(bundle_of(point, WATER)))
    boat.texts(RUTH, ASKED)
    assert "nobody would be told of it now, the boat is kept away" in bodies(boat, RUTH)[-1]


def test_the_record_folds_to_the_same_state_in_the_middle_of_it() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    boat.wait(6 * MINUTE)
    assert boat.desk.state.practice.on[f"{BOAT}/shore"].told == (INES, TOBIAS)
    assert boat.rebuilt() == boat.bytes()


def test_our_own_text_sent_back_sets_nothing_off() -> None:
    boat = with_both()
    boat.texts(RUTH, ASKED)
    ours: list[SendText] = list(boat.sent)
    boat.texts(RUTH, "practice over")
    for text in ours:
        boat.texts(RUTH, text.body)
    assert boat.desk.state.practice.on == {}
    assert len(practised(boat)) == 1
