"""The texts of a request before anything is switched, word for word."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from gateway.requests.answers import CautionAndCode, CodeAnswer, CodeTrouble, Dropped, NotDone, Objection, Rule
from gateway.vocabulary.moments import HOUR, MINUTE, Ms
from gateway.wording.say import say
from gateway.wording.scene import Scene

GREY, TOBIAS = "grey-wagtail", "id-tobias"
GENERATOR, REFRIGERATION = f"{GREY}/generator", f"{GREY}/refrigeration"

Said = Callable[..., str]
At = Callable[..., Ms]

HOURS = Objection(
    rule=Rule.HOURS, says="the marina permits generators 08:00 to 20:00, it is 07:55", cure="Ask again from 08:00"
)
OCCUPIED = Objection(rule=Rule.OCCUPIED, says="hatch opened 22:58, somebody may be aboard")
FUEL = Objection(rule=Rule.OWN, says="fuel under 20%", measured="12 %")


def asked(expires: Ms, equipment: str = GENERATOR, action: str = "start", run: Ms | None = 2 * HOUR) -> CautionAndCode:
    return CautionAndCode(
        person=TOBIAS,
        boat=GREY,
        equipment=equipment,
        action=action,
        words=("teapot", "marble"),
        expires=expires,
        run=run,
    )


def test_an_engine_start_is_asked_back_with_its_caution_and_two_words(said: Said, at: At) -> None:
    assert said(asked(at("07:11")), "07:01") == (
        "WAGTAIL: start generator for 2 h? CO KILLS. Only if you KNOW nobody is aboard, alongside or swimming. "
        "No sensor can show that. Reply GO TEAPOT MARBLE by 08:11"
    )


def test_a_stop_has_a_caution_of_its_own(said: Said, at: At) -> None:
    assert said(asked(at("07:11"), action="stop", run=None), "07:01") == (
        "GREY WAGTAIL: stop generator? Stops after cool-down, about 5 min. "
        "Reply GO TEAPOT MARBLE by 08:11 or DROP TEAPOT MARBLE"
    )


def test_an_end_by_the_clock_is_repeated(said: Said, at: At) -> None:
    code = replace(asked(at("07:11"), REFRIGERATION, "off", None), until=at("17:00"))
    assert said(code, "07:01") == (
        "GREY WAGTAIL: switch refrigeration off until 18:00? Off: an unopened fridge holds about 4 h. "
        "Reply GO TEAPOT MARBLE by 08:11 or DROP TEAPOT MARBLE"
    )


def test_an_engine_start_says_that_co_kills_even_where_the_installer_forgot(scene: Scene, at: At) -> None:
    for caution in ("", "Mind the neighbours.", "Near the exhaust CO KILLS."):
        bare = replace(scene.equipment[GENERATOR], caution=caution)
        text = say(asked(at("07:11")), replace(scene, now=at("07:01"), equipment={GENERATOR: bare}))
        assert "? CO KILLS. " in text


def test_the_caution_is_shortened_only_after_everything_else(scene: Scene, at: At) -> None:
    boat = replace(scene.boats[GREY], name="GREY WAGTAIL OF TARN CREEK", short_name="GREY WAGTAIL OF TARN CREEK")
    thing = replace(scene.equipment[GENERATOR], name="Generator in the lazarette")
    crowded = replace(scene, now=at("07:01"), boats={GREY: boat}, equipment={GENERATOR: thing})
    assert say(asked(at("07:11")), crowded) == (
        "GREY WAGTAIL OF TARN CREEK: start generator in. for 2 h? CO KILLS. "
        "Only if you KNOW nobody is aboard, alongside or swimming. Reply GO TEAPOT MARBLE by 08:11"
    )


def test_a_refusal_says_which_rule_its_value_and_what_would_change_it(said: Said) -> None:
    # CHK-48 of the handbook: asked 07:55 with permitted hours 08:00-20:00.
    refused = NotDone(
        person=TOBIAS, boat=GREY, equipment=GENERATOR, action="start", objections=(HOURS,), confirming=False
    )
    assert said(refused) == (
        "GREY WAGTAIL: generator NOT started. The marina permits generators 08:00 to 20:00, it is 07:55. "
        "Ask again from 08:00. Nothing was switched"
    )


def test_what_a_text_cannot_change_is_said_and_a_used_code_too(said: Said) -> None:
    refused = NotDone(
        person=TOBIAS, boat=GREY, equipment=GENERATOR, action="start", objections=(OCCUPIED,), confirming=True
    )
    assert said(refused) == (
        "GREY WAGTAIL: generator NOT started. Hatch opened 22:58, somebody may be aboard. A text can't change this. "
        "The code is used up. Nothing was switched"
    )


def test_a_refusal_that_voided_an_older_code_says_whose_words_no_longer_count(said: Said) -> None:
    refused = NotDone(
        person=TOBIAS,
        boat=GREY,
        equipment=GENERATOR,
        action="start",
        objections=(HOURS,),
        confirming=False,
        voided=REFRIGERATION,
    )
    assert said(refused).endswith("it is 07:55. Earlier words for refrigeration are void. Nothing was switched")


def test_further_reasons_are_told_or_at_least_counted(said: Said) -> None:
    def refused(*objections: Objection) -> NotDone:
        return NotDone(
            person=TOBIAS, boat=GREY, equipment=GENERATOR, action="start", objections=objections, confirming=False
        )

    assert said(refused(FUEL, OCCUPIED)) == (
        "GREY WAGTAIL: generator NOT started. Fuel under 20% (12 %). A text can't change this. "
        "Also: hatch opened 22:58, somebody may be aboard. Nothing was switched"
    )
    assert said(refused(HOURS, OCCUPIED, FUEL)) == (
        "GREY WAGTAIL: generator NOT started. The marina permits generators 08:00 to 20:00, it is 07:55. "
        "Ask again from 08:00. And 2 other reasons. Nothing was switched"
    )
    assert said(refused()) == "GREY WAGTAIL: generator NOT started. Nothing was switched"


def test_a_withdrawn_request_leaves_nothing_open(said: Said) -> None:
    assert said(Dropped(person=TOBIAS, boat=GREY, equipment=GENERATOR, action="start")) == (
        "GREY WAGTAIL: request to start generator withdrawn. Its words are void. Nothing was switched"
    )


@pytest.mark.parametrize(
    ("trouble", "text"),
    [
        (
            CodeTrouble.WRONG,
            "those are not the words for generator, 2 tries left. Nothing was switched. "
            "Copy both words from the last text",
        ),
        (
            CodeTrouble.VOID,
            "wrong too often: the words for generator are void. Nothing was switched. Ask again if it is still wanted",
        ),
        (
            CodeTrouble.EXPIRED,
            "too late: the words for generator have run out. Nothing was switched. Ask again if it is still wanted",
        ),
        (
            CodeTrouble.REPLACED,
            "those words for generator are void: you asked for something else after them. Nothing was switched. "
            "Ask again if it is still wanted",
        ),
        (
            CodeTrouble.USED,
            "those words for generator were used already, they work once. Nothing was switched. "
            "Ask again if it is still wanted",
        ),
        (
            CodeTrouble.LOCKED,
            "wrong too often: commands from your phone are locked until 03:35. Nothing was switched. "
            "Alarms still reach you",
        ),
        (
            CodeTrouble.TOO_OLD,
            "your text came 7 min late. Nothing was switched. Send it again by 03:35",
        ),
    ],
)
def test_words_that_did_nothing_say_why(said: Said, at: At, trouble: CodeTrouble, text: str) -> None:
    answer = CodeAnswer(
        person=TOBIAS,
        trouble=trouble,
        boat=GREY,
        equipment=GENERATOR,
        until=at("02:35"),
        age=7 * MINUTE,
        tries_left=2,
    )
    assert said(answer) == f"GREY WAGTAIL: {text}"


def test_a_confirmation_of_nothing_says_how_to_ask(said: Said) -> None:
    assert said(CodeAnswer(person=TOBIAS, trouble=CodeTrouble.NOTHING_OPEN)) == (
        "Nothing is waiting for a GO or DROP from you. Nothing was switched. "
        "Ask first, then reply with the words you are sent"
    )


def test_every_trouble_with_a_code_has_words_even_when_little_is_known(said: Said) -> None:
    texts = {said(CodeAnswer(person=TOBIAS, trouble=each)) for each in CodeTrouble}
    assert len(texts) == len(CodeTrouble)
    assert all("Nothing was switched" in text for text in texts)
