"""The texts of an alarm's life, word for word, as GREY WAGTAIL's people read them at night."""

from collections.abc import Callable
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from gateway.alarms.life import AlarmState
from gateway.telling.notices import AlarmGone, AlarmReset, AlarmTaken, AlarmTold, Situation
from gateway.vocabulary.moments import Ms
from gateway.wording.say import say
from gateway.wording.scene import Scene

GREY, INES, TOBIAS, MARINA = "grey-wagtail", "id-ines", "id-tobias", "id-marina"
LATCHED = AlarmState.LATCHED_ACKNOWLEDGED

Said = Callable[..., str]
At = Callable[..., Ms]
Make = Callable[..., Situation]


def told(
    *situations: Situation, person: str = INES, others: tuple[str, ...] = (TOBIAS,), again: bool = False
) -> AlarmTold:
    return AlarmTold(person=person, boat=GREY, situations=situations, others=others, again=again)


def test_an_emergency_stands_in_capitals_and_says_who_was_told_and_what_to_reply(said: Said, situation: Make) -> None:
    assert said(told(situation("bilge-high", 14, "02:04", "on"))) == (
        "GREY WAGTAIL C14: BILGE HIGH WATER since 03:04. Boat may be flooding. "
        "Nobody has it yet; Tobias and you told. Reply HAVE IT 14"
    )


def test_a_repeat_says_that_it_is_still_so(said: Said, situation: Make) -> None:
    assert said(told(situation("bilge-high", 14, "02:04", "on"), others=(TOBIAS, MARINA), again=True)) == (
        "GREY WAGTAIL C14: still BILGE HIGH WATER since 03:04. Boat may be flooding. "
        "Nobody has it yet; Tobias, Marina office and you told. Reply HAVE IT 14"
    )


def test_the_value_and_how_often_it_came_are_told(said: Said, situation: Make) -> None:
    assert said(told(situation("bilge-high", 14, "02:04", "pump on 6 min", times=3))) == (
        "GREY WAGTAIL C14: BILGE HIGH WATER since 03:04, pump on 6 min, came 3 times. Boat may be flooding. "
        "Nobody has it yet; Tobias and you told. Reply HAVE IT 14"
    )


def test_a_number_is_told_with_its_limit(said: Said, situation: Make) -> None:
    assert said(told(situation("house-low", 16, "01:55", "11.9 V"), person=TOBIAS, others=())) == (
        "GREY WAGTAIL C14, warning: house bank low since 02:55, 11.9 V (below 12.0 V). "
        "Pumps and alarms run from this bank. Nobody has it yet. Reply HAVE IT 16"
    )


def test_a_silence_is_told_with_its_length(said: Said, situation: Make) -> None:
    assert said(told(situation("silent", 17, "00:40"), person=TOBIAS, others=(INES,))) == (
        "GREY WAGTAIL C14, warning: no data since 01:40 (85 min). Could be phone mast or power. "
        "Nobody has it yet; Ines and you told. Reply HAVE IT 17"
    )


def test_offers_are_printed_but_never_the_start_of_an_engine_nor_a_word_for_the_carrier(
    said: Said, situation: Make
) -> None:
    offers = ("have it 15", "generator start", "stop generator", "refrigeration off")
    assert said(told(situation("shore-lost", 15, "01:10", "off", offers=offers))) == (
        "GREY WAGTAIL C14: shore power lost since 02:10. House bank carries the boat now. Can wait until morning. "
        "Nobody has it. Reply HAVE IT 15 or REFRIGERATION OFF"
    )


def test_late_readings_say_when_it_happened_and_when_they_came(said: Said, situation: Make, at: At) -> None:
    assert said(told(situation("bilge-high", 14, "01:10", "on", received=at("02:05")))) == (
        "GREY WAGTAIL C14: BILGE HIGH WATER, happened 02:10, received 03:05. Boat may be flooding. "
        "Nobody has it yet; Tobias and you told. Reply HAVE IT 14"
    )


def test_a_state_found_on_connecting_has_no_time(said: Said, situation: Make) -> None:
    assert said(told(situation("bilge-high", 14, "02:05", "on", found=True))) == (
        "GREY WAGTAIL C14: BILGE HIGH WATER, state found on connecting, age unknown. Boat may be flooding. "
        "Nobody has it yet; Tobias and you told. Reply HAVE IT 14"
    )


def test_a_latched_alarm_that_nobody_took_is_told_on_after_it_has_gone(said: Said, situation: Make, at: At) -> None:
    gone = situation("bilge-high", 14, "02:04", "on", gone=at("02:41"), state=AlarmState.LATCHED_UNACKNOWLEDGED)
    assert said(told(gone, again=True), "02:50") == (
        "GREY WAGTAIL C14: BILGE HIGH WATER from 03:04, gone since 03:41. Boat may be flooding. "
        "Nobody has it yet. Reply HAVE IT 14, after looking CHECKED 14"
    )


@pytest.mark.parametrize(
    ("point", "text"),
    [
        (
            "co",
            "GREY WAGTAIL C14: CO ALARM since 03:04. CO KILLS. Do not go below. "
            "Nobody has it yet; Tobias and you told. Reply HAVE IT 20",
        ),
        (
            "fire",
            "GREY WAGTAIL C14: FIRE ALARM since 03:04. Boat may be on fire. Fire service: 112. "
            "Nobody has it yet; Tobias and you told. Reply HAVE IT 20",
        ),
        (
            "gas",
            "GREY WAGTAIL C14: GAS ALARM since 03:04. Gas may explode. No switches, no flame, no phone aboard. "
            "Nobody has it yet; Tobias and you told. Reply HAVE IT 20",
        ),
    ],
)
def test_fire_gas_and_co_carry_their_caution_at_once(said: Said, situation: Make, point: str, text: str) -> None:
    assert said(told(situation(point, 20, "02:04", "on"))) == text


def test_the_caution_of_a_fire_stays_when_the_installer_wrote_something_else(scene: Scene, situation: Make) -> None:
    point = replace(scene.points[f"{GREY}/fire"], means="Smoke in the engine space " * 6)
    text = say(told(situation("fire", 20, "02:04")), replace(scene, points={point.id: point}))
    assert "Fire service: 112" in text


def test_several_alarms_come_in_one_text_the_worst_first_with_their_numbers(said: Said, situation: Make) -> None:
    water, shore, low = (
        situation("bilge-high", 14, "02:04"),
        situation("shore-lost", 15, "01:10"),
        situation("house-low", 16, "01:55", "11.9 V"),
    )
    assert said(told(shore, low, water)) == (
        "WAGTAIL: 3 alarms: 14 BILGE HIGH WATER since 03:04, 15 shore power lost, 16 house bank low. "
        "Boat may be flooding. Nobody has them yet. Reply HAVE IT for all 3"
    )
    assert said(told(shore, low)) == (
        "GREY WAGTAIL C14: 2 warnings: 15 shore power lost since 02:10, 16 house bank low. "
        "House bank carries the boat now. Nobody has them yet. Reply HAVE IT for all 2"
    )


def test_many_alarms_are_each_named_as_far_as_they_fit_never_by_a_bare_number_and_the_rest_counted(
    said: Said, situation: Make
) -> None:
    points = ("shore-lost", "house-low", "silent", "co", "gas", "fire", "bilge-high")
    some = [situation(point, 20 + place, "02:04") for place, point in enumerate(points)]
    assert said(told(*some)) == (
        "GREY WAGTAIL: 7 alarms: 23 CO ALARM, 24 GAS ALARM and 5 more: ALARMS. "
        "Do not go below. No switches, no flame. Fire service: 112. Reply HAVE IT for the 2 named"
    )
    many = [replace(some[0], number=1000 + place) for place in range(60)]
    assert " more: ALARMS" in said(told(*many))


def test_among_several_alarms_each_hazard_keeps_its_caution(said: Said, situation: Make) -> None:
    text = said(told(*(situation(point, 20, "02:04") for point in ("bilge-high", "co", "gas", "fire"))))
    assert ". Do not go below" in text
    assert ". No switches, no flame" in text
    assert ". Fire service: 112" in text


def test_the_taker_of_a_flooding_boat_is_told_what_to_mind_before_boarding(said: Said, situation: Make) -> None:
    taken = AlarmTaken(person=TOBIAS, boat=GREY, situation=situation("bilge-high", 14, "02:04"), holder=TOBIAS)
    assert said(taken) == (
        "GREY WAGTAIL: alarm 14 is yours. Before you board: shore lead off at post C14. "
        "Low in water, gas smell or sparks: stay ashore and call 112. Reply AT BOAT 14"
    )


def test_on_a_mooring_no_shore_lead_is_spoken_of(scene: Scene, situation: Make) -> None:
    afloat = replace(scene, boats={GREY: replace(scene.boats[GREY], berth="")})
    taken = AlarmTaken(person=TOBIAS, boat=GREY, situation=situation("bilge-high", 14, "02:04"), holder=TOBIAS)
    assert say(taken, afloat) == (
        "GREY WAGTAIL: alarm 14 is yours: BILGE HIGH WATER since 03:04. "
        "Low in water, gas smell or sparks: stay ashore and call 112. Reply AT BOAT 14, then ASHORE 14"
    )


@pytest.mark.parametrize(
    ("point", "caution"),
    [
        ("co", "CO KILLS: do not go below. Anyone aboard, ill or dizzy: call 112"),
        ("fire", "Do not board. Stay ashore, upwind, and call 112. Warn boats alongside"),
        ("gas", "Do not board: no switches, no flame, no phone there. From a distance call 112"),
    ],
)
def test_the_taker_of_a_fire_gas_or_co_alarm_is_not_sent_aboard(
    said: Said, situation: Make, point: str, caution: str
) -> None:
    taken = AlarmTaken(person=TOBIAS, boat=GREY, situation=situation(point, 14, "02:04"), holder=TOBIAS)
    text = said(taken)
    assert text.endswith(f". {caution}")
    assert "VISIT" not in text
    assert "AT BOAT" not in text


def test_the_number_to_call_is_the_boats_own(scene: Scene, situation: Make) -> None:
    boat = replace(scene.boats[GREY], emergency_number="999")
    taken = AlarmTaken(person=TOBIAS, boat=GREY, situation=situation("fire", 14, "02:04"), holder=TOBIAS)
    assert "call 999" in say(taken, replace(scene, boats={GREY: boat}))


def test_the_taker_of_a_warning_gets_what_to_do_and_how_to_tell_of_the_way_there(said: Said, situation: Make) -> None:
    taken = AlarmTaken(person=TOBIAS, boat=GREY, situation=situation("shore-lost", 15, "01:10"), holder=TOBIAS)
    assert said(taken) == (
        "GREY WAGTAIL: alarm 15 is yours: shore power lost since 02:10. Can wait until morning. "
        "Reply AT BOAT 15, then ASHORE 15"
    )


def test_whoever_takes_a_latched_alarm_that_has_gone_is_told_how_it_ends(said: Said, situation: Make, at: At) -> None:
    gone = situation("bilge-high", 14, "02:04", gone=at("02:41"), state=LATCHED)
    assert said(AlarmTaken(person=TOBIAS, boat=GREY, situation=gone, holder=TOBIAS), "02:50") == (
        "GREY WAGTAIL: alarm 14 is yours. Shore lead off first. Low in water, gas smell or sparks: stay ashore and "
        "call 112. Once somebody has looked reply CHECKED 14"
    )


def test_the_others_hear_once_who_has_it(said: Said, situation: Make) -> None:
    taken = AlarmTaken(person=INES, boat=GREY, situation=situation("bilge-high", 14, "02:04"), holder=TOBIAS)
    assert said(taken) == (
        "GREY WAGTAIL: Tobias has alarm 14, BILGE HIGH WATER since 03:04. No more reminders of it to you for now"
    )


@pytest.mark.parametrize(
    ("holder", "rest"),
    [
        (TOBIAS, " (began 03:04). Alarm 14 stands until somebody has looked: then reply CHECKED 14"),
        (INES, " (began 03:04). Alarm 14 stands until somebody has looked. Ines has it"),
        (
            None,
            ". Alarm 14 stands until somebody has looked. Nobody has it: reply HAVE IT 14, after looking CHECKED 14",
        ),
    ],
)
def test_a_latched_alarm_that_has_gone_stands(
    said: Said, situation: Make, at: At, holder: str | None, rest: str
) -> None:
    gone = situation("bilge-high", 14, "02:04", gone=at("02:41"), state=LATCHED)
    text = said(AlarmGone(person=TOBIAS, boat=GREY, situation=gone, latched=True, holder=holder), "02:42")
    assert text == f"GREY WAGTAIL: BILGE HIGH WATER gone since 03:41{rest}"


@pytest.mark.parametrize(
    ("point", "words"),
    [
        ("co", "No proof that the air is clean"),
        ("gas", "No proof that the air is clean"),
        ("fire", "No proof that a fire is out"),
    ],
)
def test_a_quiet_detector_is_no_all_clear(said: Said, situation: Make, at: At, point: str, words: str) -> None:
    gone = situation(point, 14, "02:04", gone=at("02:41"), state=LATCHED)
    assert words in said(AlarmGone(person=TOBIAS, boat=GREY, situation=gone, latched=True, holder=TOBIAS), "02:42")


def test_an_alarm_that_does_not_latch_is_closed_when_it_has_gone(said: Said, situation: Make, at: At) -> None:
    gone = situation("shore-lost", 15, "01:10", gone=at("08:12"), state=AlarmState.NORMAL)
    assert said(AlarmGone(person=INES, boat=GREY, situation=gone, latched=False, holder=TOBIAS), "08:13") == (
        "GREY WAGTAIL: shore power lost: now OK since 09:12 (began 02:10). Alarm 15 is closed"
    )
    unseen = replace(gone, state=AlarmState.GONE_UNACKNOWLEDGED)
    assert said(AlarmGone(person=INES, boat=GREY, situation=unseen, latched=False, holder=None), "08:13") == (
        "GREY WAGTAIL: shore power lost: now OK since 09:12 (began 02:10). "
        "Nobody had alarm 15: reply HAVE IT 15 to close it"
    )


def test_a_reset_says_who_has_looked_and_reminds_the_visitor_to_end_the_visit(
    said: Said, situation: Make, at: At
) -> None:
    gone = situation("bilge-high", 14, "02:04", gone=at("02:41"), state=AlarmState.NORMAL)
    assert said(AlarmReset(person=TOBIAS, boat=GREY, situation=gone, by=TOBIAS), "08:20") == (
        "GREY WAGTAIL: alarm 14, BILGE HIGH WATER, closed, checked by you at 09:20. It is watched as before. "
        "When you have left reply VISIT OVER"
    )
    assert said(AlarmReset(person=INES, boat=GREY, situation=gone, by=TOBIAS), "08:20") == (
        "GREY WAGTAIL: alarm 14, BILGE HIGH WATER, closed, checked by Tobias at 09:20. It is watched as before"
    )


def test_a_reader_in_another_zone_is_told_that_it_is_boat_time(scene: Scene, situation: Make) -> None:
    ines = replace(scene.people[INES], zone=ZoneInfo("America/New_York"))
    abroad = replace(scene, people={**scene.people, INES: ines})
    assert say(told(situation("bilge-high", 14, "02:04")), abroad) == (
        "GREY WAGTAIL C14: BILGE HIGH WATER since 03:04 boat time. Boat may be flooding. "
        "Nobody has it yet; Tobias and you told. Reply HAVE IT 14"
    )
    two = told(situation("bilge-high", 14, "02:04"), situation("shore-lost", 15, "01:10"))
    assert "2 alarms (boat time): 14 BILGE HIGH WATER since 03:04" in say(two, abroad)


def test_since_names_the_day_and_in_the_repeated_hour_which_one(scene: Scene, situation: Make, at: At) -> None:
    night = replace(scene, now=at("06:00", "2026-10-25"))
    since = replace(situation("bilge-high", 14, "02:04"), since=at("00:30", "2026-10-25"))
    assert "since 01:30 BST." in say(told(since), night)
    spring = replace(scene, now=at("06:00", "2026-03-29"))
    since = replace(since, since=at("01:00", "2026-03-29"))
    assert "since 02:00." in say(told(since), spring)
    since = replace(since, since=at("22:30", "2026-03-28"))
    assert "since Sat 22:30." in say(told(since), spring)


def test_what_a_newer_installation_left_out_is_worded_from_its_key(scene: Scene, situation: Make) -> None:
    bare = replace(scene, boats={}, points={}, people={})
    assert say(told(situation("bilge-high", 14, "02:04")), bare) == (
        "GREY WAGTAIL: bilge high since 02:04. Nobody has it yet; somebody and you told. Reply HAVE IT 14"
    )
