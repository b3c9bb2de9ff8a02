"""Answers to status, alarms and phrases, word for word."""

from collections.abc import Callable
from dataclasses import replace

from gateway.telling.notices import AlarmsAnswer, PhrasesAnswer, Situation, StatusAnswer, StatusLine
from gateway.vocabulary.moments import MINUTE, Ms

GREY, INES, TOBIAS = "grey-wagtail", "id-ines", "id-tobias"

Said = Callable[..., str]
At = Callable[..., Ms]
Make = Callable[..., Situation]


def line(key: str, measured: str, age: Ms | None = None) -> StatusLine:
    return StatusLine(signal=f"{GREY}/{key}", measured=measured, age=age)


LINES = (
    line("house-volts", "12.6 V"),
    line("fuel", "64 %", 25 * MINUTE),
    line("shore", "off"),
    line("co-alarm", "off"),
    line("co-level", "0 ppm"),
    line("water", ""),
)


def test_status_tells_values_with_their_age_and_no_zero_that_sounds_like_an_all_clear(said: Said) -> None:
    assert said(StatusAnswer(person=TOBIAS, boat=GREY, situations=(), lines=LINES)) == (
        "GREY WAGTAIL 03:05: no alarm open. House volts 12.6 V, fuel 64 % (25 min old), shore off, "
        "CO alarm not signalling, CO level reads 0 ppm, water never heard"
    )


def test_status_tells_the_open_alarms_first_and_counts_the_values_left_out(said: Said, situation: Make) -> None:
    some = (situation("shore-lost", 15, "01:10"), situation("bilge-high", 14, "02:04"))
    assert said(StatusAnswer(person=TOBIAS, boat=GREY, situations=some, lines=LINES)) == (
        "WAGTAIL 03:05: open: 14 BILGE HIGH WATER, 15 shore power lost. House volts 12.6 V, "
        "fuel 64 % (25 min old), shore off, CO alarm not signalling and 2 more values"
    )


def test_status_of_a_silent_boat_calls_its_values_the_last_known(said: Said, situation: Make, at: At) -> None:
    silent = situation("silent", 17, "00:40")
    answer = StatusAnswer(person=TOBIAS, boat=GREY, situations=(silent,), lines=LINES, silent_since=at("00:40"))
    assert said(answer) == (
        "GREY WAGTAIL 03:05: NO DATA since 01:40 (85 min). Open: 17 no data. "
        "Last known: house volts 12.6 V, fuel 64 % (25 min old), shore off and 3 more values"
    )
    quiet = StatusAnswer(person=TOBIAS, boat=GREY, situations=(), lines=LINES[:1], silent_since=at("00:40"))
    assert said(quiet) == (
        "GREY WAGTAIL 03:05: NO DATA since 01:40 (85 min). No alarm was open. Last known: house volts 12.6 V"
    )


def test_a_detector_that_signals_is_said_loudly(said: Said) -> None:
    answer = StatusAnswer(person=TOBIAS, boat=GREY, situations=(), lines=(line("co-alarm", "on"),))
    assert said(answer) == "GREY WAGTAIL 03:05: no alarm open. CO alarm SIGNALLING"


def test_status_without_any_value_says_so(said: Said) -> None:
    answer = StatusAnswer(person=TOBIAS, boat=GREY, situations=(), lines=())
    assert said(answer) == "GREY WAGTAIL 03:05: no alarm open. No values to tell"


def test_status_with_a_flood_of_alarms_still_tells_numbers(said: Said, situation: Make) -> None:
    many = tuple(situation("house-low", 100 + place, "02:04") for place in range(40))
    text = said(StatusAnswer(person=TOBIAS, boat=GREY, situations=many, lines=LINES))
    assert text.startswith("WAGTAIL 03:05: open: 100")
    assert text.endswith(" more alarms")


def test_alarms_are_listed_worst_first_with_who_has_them(said: Said, situation: Make) -> None:
    some = (situation("shore-lost", 15, "01:10"), situation("bilge-high", 14, "02:04"))
    assert said(AlarmsAnswer(person=TOBIAS, boat=GREY, situations=some, holders=(None, TOBIAS))) == (
        "GREY WAGTAIL: open: 14 BILGE HIGH WATER since 03:04, you have it; "
        "15 shore power lost since 02:10, nobody has it"
    )
    more = (*some, situation("house-low", 16, "01:55"), situation("silent", 17, "00:40"))
    assert said(AlarmsAnswer(person=TOBIAS, boat=GREY, situations=more, holders=(None, INES, None, None))) == (
        "GREY WAGTAIL: open: 14 BILGE HIGH WATER, Ines has it; 17 no data, nobody has it; "
        "15 shore power lost, nobody has it; 16 house bank low, nobody has it"
    )


def test_no_open_alarm_is_not_called_an_all_clear(said: Said) -> None:
    assert said(AlarmsAnswer(person=TOBIAS, boat=GREY, situations=(), holders=())) == (
        "GREY WAGTAIL: no alarm is open. That is what its sensors report, no more. Reply STATUS for the latest values"
    )


def test_phrases_are_printed_in_capitals_and_none_begins_with_a_word_for_the_carrier(said: Said) -> None:
    phrases = ("status", "alarms", "have it 14", "visit over", "generator start for 2 h", "stop generator", "end")
    assert said(PhrasesAnswer(person=TOBIAS, boat=GREY, phrases=phrases)) == (
        "GREY WAGTAIL: you can text STATUS, ALARMS, HAVE IT 14, VISIT OVER, GENERATOR START FOR 2 H"
    )
    assert said(PhrasesAnswer(person=TOBIAS, boat="", phrases=phrases[:2])) == "You can text STATUS, ALARMS"
    long = tuple(f"refrigeration off until {hour}:00" for hour in range(10, 20))
    assert said(PhrasesAnswer(person=TOBIAS, boat=GREY, phrases=long)).endswith(" and 6 more")


def test_alarms_of_several_boats_name_each_boat_and_count_the_rest(said: Said, situation: Make) -> None:
    harrier = replace(situation("shore-lost", 15, "01:10"), point="salt-harrier/shore-lost")
    some = (harrier, situation("bilge-high", 14, "02:04"))
    boats = (GREY, "salt-harrier")
    assert said(AlarmsAnswer(person=TOBIAS, boat="", situations=some, holders=(None, TOBIAS), boats=boats)) == (
        "Open: GREY WAGTAIL 14 BILGE HIGH WATER since 03:04, you have it; "
        "SALT HARRIER 15 shore lost since 02:10, nobody has it"
    )
    many = tuple(situation("house-low", 100 + place, "02:04") for place in range(40))
    answer = AlarmsAnswer(person=TOBIAS, boat="", situations=many, holders=(None,) * 40, boats=boats)
    text = said(answer)
    assert text.startswith("Open: WAGTAIL 100 ")
    shown = text.count("house bank low")
    assert text.endswith(f" and {40 - shown} more")


def test_no_open_alarm_on_several_boats_says_how_many_were_looked_at(said: Said) -> None:
    answer = AlarmsAnswer(person=TOBIAS, boat="", situations=(), holders=(), boats=(GREY, "salt-harrier"))
    assert said(answer) == (
        "No alarm is open on your 2 boats. That is what their sensors report, no more. "
        "For the latest values text a boat's name and STATUS"
    )


def test_phrases_of_several_boats_say_which_need_a_name_in_front(said: Said) -> None:
    answer = PhrasesAnswer(
        person=TOBIAS,
        boat="",
        phrases=("alarms", "have it", "checked"),
        boats=(GREY, "salt-harrier"),
        named=("status", "visit", "visit over", "generator start", "generator stop", "deck lights on"),
    )
    assert said(answer) == (
        "You can text ALARMS, HAVE IT, CHECKED. With a boat's name in front: "
        "STATUS, VISIT, VISIT OVER, GENERATOR START, GENERATOR STOP, DECK LIGHTS ON"
    )
