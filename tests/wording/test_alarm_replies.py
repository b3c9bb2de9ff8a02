"""Answers to texts about alarms and visits, word for word."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from gateway.telling.notices import AlarmAnswer, Cannot, NotRead, NotTaken, Situation, VisitAnswer, WhichBoat
from gateway.vocabulary.moments import Ms
from gateway.wording.fitting import capitals
from gateway.wording.not_read_texts import opposite
from gateway.wording.say import say
from gateway.wording.scene import Scene
from grammar.language import Language
from grammar.languages import LANGUAGES
from grammar.meanings import Why
from grammar.names import PAIRS

GREY, INES, TOBIAS = "grey-wagtail", "id-ines", "id-tobias"

Said = Callable[..., str]
At = Callable[..., Ms]
Make = Callable[..., Situation]


@pytest.mark.parametrize(
    ("who", "rest"),
    [
        (TOBIAS, "If not: Tobias is told next at 03:07"),
        (INES, "If not: you are told again at 03:07"),
        (None, "If not, ring somebody: nobody else is told"),
    ],
)
def test_ok_to_an_alarm_that_nobody_has_takes_nothing_and_says_who_is_next(
    said: Said, situation: Make, at: At, who: str | None, rest: str
) -> None:
    # CHK-50 of the handbook.
    next_at = at("02:07") if who else None
    notice = NotTaken(
        person=INES, boat=GREY, situation=situation("bilge-high", 14, "02:04"), next_person=who, next_at=next_at
    )
    assert said(notice) == (
        "NOT taken: alarm 14 GREY WAGTAIL, BILGE HIGH WATER, still has nobody. "
        f"If you are dealing with it reply HAVE IT 14. {rest}"
    )


@pytest.mark.parametrize(
    ("cannot", "numbers", "text"),
    [
        (Cannot.NO_SUCH, (99,), "there is no alarm 99. Nothing was changed. Reply ALARMS for the open ones"),
        (Cannot.CLOSED, (14,), "alarm 14 is closed already. Nothing was changed. Reply ALARMS for the open ones"),
        (Cannot.NONE_OPEN, (), "no alarm is open, so nothing was changed. Reply STATUS for the latest values"),
        (
            Cannot.STILL_ACTIVE,
            (14,),
            "alarm 14 has not gone yet. Nothing was changed. Reply CHECKED 14 once it has",
        ),
        (Cannot.TAKE_FIRST, (14,), "nobody has alarm 14 yet. Reply HAVE IT 14, after looking CHECKED 14"),
        (Cannot.NOT_LATCHED, (15,), "alarm 15 needs no CHECKED. Once taken and gone it closes by itself"),
    ],
)
def test_a_take_or_reset_that_did_nothing_says_why(
    said: Said, cannot: Cannot, numbers: tuple[int, ...], text: str
) -> None:
    assert said(AlarmAnswer(person=INES, boat=GREY, cannot=cannot, numbers=numbers)) == f"GREY WAGTAIL: {text}"


def test_every_reason_has_words_even_without_a_number(said: Said) -> None:
    texts = {said(AlarmAnswer(person=INES, boat=GREY, cannot=each)) for each in Cannot}
    assert len(texts) == len(Cannot)


def test_a_visit_begun_says_what_it_blocks_and_how_it_ends(said: Said, at: At) -> None:
    assert said(VisitAnswer(person=TOBIAS, boat=GREY, begun=True, since=at("02:05"))) == (
        "GREY WAGTAIL: visit noted from 03:05. Until it ends no text starts an engine or a heater. "
        "When you have left and nobody is aboard reply VISIT OVER"
    )


def test_a_visit_ended_says_what_rests_on_the_visitors_word(said: Said, at: At) -> None:
    assert said(VisitAnswer(person=TOBIAS, boat=GREY, begun=False, since=at("02:05")), "08:30") == (
        "GREY WAGTAIL: visit over at 09:30 (somebody aboard since 03:05). On your word the boat counts as empty. "
        "If anyone is still aboard reply VISIT now"
    )


def test_a_text_without_a_boat_is_asked_back_never_guessed(said: Said) -> None:
    boats = (GREY, "salt-harrier", "little-stint")
    assert said(WhichBoat(person=TOBIAS, boats=boats, example="grey wagtail status")) == (
        "Which boat? Nothing was done. Begin with its name, as in GREY WAGTAIL STATUS: "
        "GREY WAGTAIL, SALT HARRIER, LITTLE STINT"
    )
    twenty = tuple(f"little-stint-{place}" for place in range(20))
    assert said(WhichBoat(person=TOBIAS, boats=twenty, example="")).endswith(" more")


PAIR = ("generator start", "generator stop")


@pytest.mark.parametrize(
    ("why", "nearest", "text"),
    [
        (Why.EMPTY, (), "your text came empty. Nothing was done. Reply PHRASES for what can be texted"),
        (
            Why.TOO_LONG,
            (),
            "your text is too long for an order. Nothing was done. Reply PHRASES for what can be texted",
        ),
        (Why.MERE_ANSWER, (), "that takes no alarm. Nothing was done. To take one reply HAVE IT and its number"),
        (Why.REACTION, PAIR, "a reaction or a quoted text is no order. Nothing was done. Type the words yourself"),
        (
            Why.OPT_OUT,
            (),
            "that word alone can make the carrier block all alarms to you. Nothing was done. "
            "For a machine put its name first. Reply PHRASES",
        ),
        (
            Why.OPT_IN,
            (),
            "that word alone is for the carrier, not for the boat. Nothing was done. "
            "Reply PHRASES for what can be texted",
        ),
        (
            Why.LIMIT_ON_STOP,
            (),
            "no time can be set here, it would bring generator back later unasked. Nothing was done. "
            "Reply GENERATOR STOP",
        ),
        (
            Why.BAD_TIME,
            (),
            "that time can't be read. Nothing was done. Write FOR 2 H or UNTIL 18:00, at most 24 hours",
        ),
        (
            Why.WRONG_ACTION,
            PAIR,
            "generator does not know that word, only START and STOP. Nothing was done. "
            "Did you mean GENERATOR START or GENERATOR STOP?",
        ),
        (
            Why.NOT_A_PHRASE,
            PAIR,
            "not understood. Nothing was done. Did you mean GENERATOR START or GENERATOR STOP? "
            "Reply PHRASES for what can be texted",
        ),
    ],
)
def test_a_text_not_understood_does_nothing_and_is_helped(
    said: Said, why: Why, nearest: tuple[str, ...], text: str
) -> None:
    equipment = "generator" if why in (Why.LIMIT_ON_STOP, Why.WRONG_ACTION) else None
    notice = NotRead(person=TOBIAS, boat=GREY, why=why, nearest=nearest, equipment=equipment)
    assert said(notice) == f"GREY WAGTAIL: {text}"


def test_whoever_has_several_boats_is_offered_the_stop_with_the_boat_that_was_named(said: Said) -> None:
    stop = NotRead(person=TOBIAS, boat=GREY, why=Why.LIMIT_ON_STOP, nearest=(), equipment="generator", named=True)
    assert said(stop).endswith(" Reply GREY WAGTAIL GENERATOR STOP")


def test_without_a_boat_it_begins_with_the_reason(said: Said) -> None:
    assert said(NotRead(person=TOBIAS, boat="", why=Why.EMPTY, nearest=())) == (
        "Your text came empty. Nothing was done. Reply PHRASES for what can be texted"
    )


def test_of_two_opposite_phrases_never_one_alone_is_offered(scene: Scene) -> None:
    long = "FOREPEAK AND ANCHOR LOCKER WORKING LIGHTS"
    nearest = ("status", f"{long} on", f"{long} off")
    text = say(NotRead(person=TOBIAS, boat=GREY, why=Why.NOT_A_PHRASE, nearest=nearest), scene)
    assert "Did you mean STATUS" in text
    assert (f"{long} ON" in text) == (f"{long} OFF" in text)
    dear = replace(scene, boats={GREY: replace(scene.boats[GREY], name="W" * 40, short_name="W" * 40)})
    text = say(NotRead(person=TOBIAS, boat=GREY, why=Why.NOT_A_PHRASE, nearest=nearest), dear)
    assert (f"{long} ON" in text) == (f"{long} OFF" in text)


def test_no_phrase_is_offered_that_a_carrier_would_take(said: Said) -> None:
    text = said(NotRead(person=TOBIAS, boat=GREY, why=Why.NOT_A_PHRASE, nearest=("stop generator", "status")))
    assert "Did you mean STATUS?" in text
    assert "STOP GENERATOR" not in text


def test_the_opposite_of_a_phrase_turns_its_action_round() -> None:
    assert opposite("GENERATOR START FOR 2 H") == "GENERATOR STOP FOR 2 H"
    assert opposite("GAS VALVE CLOSE") == "GAS VALVE OPEN"
    assert opposite("STATUS") == "STATUS"


@pytest.mark.parametrize("language", LANGUAGES.values(), ids=LANGUAGES)
def test_opposites_are_known_as_each_language_prints_them(language: Language) -> None:
    for one, other in PAIRS:
        said, turned = capitals(f"x {language.says(one)}"), capitals(f"x {language.says(other)}")
        assert (opposite(said), opposite(turned)) == (turned, said)


def test_which_alarm_is_asked_with_the_boat_number_and_name_of_each(said: Said, situation: Make) -> None:
    some = (situation("bilge-high", 14, "02:04"), situation("shore-lost", 15, "01:10"))
    which = AlarmAnswer(person=TOBIAS, boat="", cannot=Cannot.WHICH, numbers=(14, 15), situations=some)
    assert said(which) == (
        "Which alarm? GREY WAGTAIL 14 BILGE HIGH WATER, GREY WAGTAIL 15 shore power lost. "
        "Nothing was changed. Reply HAVE IT or CHECKED with its number, as 14"
    )
