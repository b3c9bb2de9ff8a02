"""How a text of a person is understood: the words, and whose they are."""

from dataclasses import asdict, fields
from typing import get_args

import pytest

from gateway.desk.bundle import Bundle
from gateway.people.settings import Person
from gateway.rehearsal.sentence import sentence
from gateway.rehearsal.texting import answered, unknowing
from gateway.rehearsal.understanding import KINDS, NOTHING, QUESTIONS, Understanding, kind_of, understanding
from grammar.meanings import Asking, Question, Request, Understood
from tests.rehearsal.living import NOON, installed

WAGTAIL = "grey-wagtail"


@pytest.fixture(scope="module")
def one(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    """One boat."""
    return installed(tmp_path_factory.mktemp("one"), WAGTAIL).bundle


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    """Three boats, all of them Tobias's matter; only one has a generator."""
    return installed(tmp_path_factory.mktemp("three")).bundle


def person(bundle: Bundle, key: str) -> Person:
    return next(person for person in bundle.people.values() if person.key == key)


def of(bundle: Bundle, key: str, body: str) -> dict[str, object]:
    """What is understood, without what is None."""
    found = understanding(bundle.read_text(body), person(bundle, key), bundle)
    return {name: value for name, value in asdict(found).items() if value is not None}


EVERY_KIND = [
    ("status", {"kind": "status"}),
    ("alarms", {"kind": "alarms"}),
    ("phrases", {"kind": "phrases"}),
    ("have it", {"kind": "acknowledge"}),
    ("ack 14", {"kind": "acknowledge", "alarm": 14}),
    ("checked 3", {"kind": "reset", "alarm": 3}),
    ("visit", {"kind": "visit"}),
    ("visit over", {"kind": "visit"}),
    ("generator start", {"kind": "switch", "equipment": "generator", "action": "start"}),
    ("genny off", {"kind": "switch", "equipment": "generator", "action": "stop"}),
    ("start the genny for 2 h", {"kind": "switch", "equipment": "generator", "action": "start", "minutes": 120}),
    ("fridge off until 18:00", {"kind": "switch", "equipment": "refrigeration", "action": "off", "until": "18:00"}),
    ("deck lights on until 0:05", {"kind": "switch", "equipment": "deck-lights", "action": "on", "until": "00:05"}),
    ("go teapot marble", {"kind": "confirm"}),
    ("drop teapot marble", {"kind": "withdraw"}),
    ("prove teapot marble", {"kind": "prove"}),
    ("phone lost ines", {"kind": "phone lost"}),
    ("wagtail status", {"kind": "status"}),
    ("shelve 14 for 2 h", {"kind": "shelve", "alarm": 14, "minutes": 120}),
    ("who is on duty", {"kind": "who is on duty"}),
    ("duty Tobias until Sunday", {"kind": "duty"}),
    ("duty off", {"kind": "duty off"}),
    ("quiet 14 for 2 h", {"kind": "quiet", "alarm": 14, "minutes": 120}),
    ("unshelve 14", {"kind": "unshelve", "alarm": 14}),
    ("out of service 14 for 3 days", {"kind": "out of service", "alarm": 14}),
    ("in service 14", {"kind": "in service", "alarm": 14}),
    ("in the yard for 10 days", {"kind": "attendance"}),
    ("at boat 14", {"kind": "at boat", "alarm": 14}),
    ("ashore", {"kind": "ashore"}),
    ("take over 14", {"kind": "take over", "alarm": 14}),
    ("hand over 14", {"kind": "hand over", "alarm": 14}),
    ("practice house bank low", {"kind": "practice"}),
    ("practice over", {"kind": "practice over"}),
    ("note 14 generator start", {"kind": "note", "alarm": 14}),
]


@pytest.mark.parametrize(("body", "found"), EVERY_KIND, ids=[body for body, _ in EVERY_KIND])
def test_each_kind_is_told_with_its_own_fields(one: Bundle, body: str, found: dict[str, object]) -> None:
    assert of(one, "tobias", body) == {"understood": True, "boat": WAGTAIL, **found}


def test_every_request_that_the_language_has_has_a_kind() -> None:
    assert set(KINDS) | {Question} == set(get_args(Request))
    assert set(QUESTIONS) == set(Asking)


def test_the_examples_above_show_every_kind(one: Bundle) -> None:
    shown = {of(one, "tobias", body)["kind"] for body, _ in EVERY_KIND}
    assert shown == {*KINDS.values(), *QUESTIONS.values()}


@pytest.mark.parametrize("body", ["anchor up", "ok", "stop", "don't start the generator", "generator open", ""])
def test_of_what_is_not_understood_nothing_is_told(one: Bundle, body: str) -> None:
    assert understanding(one.read_text(body), person(one, "tobias"), one) == NOTHING


@pytest.mark.parametrize("body", [body for body, _ in EVERY_KIND])
def test_a_strangers_text_is_never_understood(one: Bundle, body: str) -> None:
    assert understanding(one.read_text(body), None, one) == NOTHING


def test_a_boat_is_told_when_it_is_named_or_can_only_be_one(three: Bundle) -> None:
    assert of(three, "tobias", "salt harrier status")["boat"] == "salt-harrier"
    assert "boat" not in of(three, "tobias", "status")
    assert of(three, "ines", "status")["boat"] == WAGTAIL


def test_of_a_thing_that_only_one_boat_has_the_boat_is_still_never_guessed(three: Bundle) -> None:
    assert "boat" not in of(three, "tobias", "generator stop")
    assert of(three, "ines", "generator stop")["boat"] == WAGTAIL
    assert "boat" not in of(three, "tobias", "refrigeration off")


@pytest.mark.parametrize("body", ["salt harrier status", "salt harrier have it", "salt harrier refrigeration off"])
def test_a_boat_that_is_no_matter_of_the_persons_is_not_understood(three: Bundle, body: str) -> None:
    assert of(three, "ines", body) == {"understood": False}


def test_a_thing_that_the_named_boat_does_not_have_is_not_understood(three: Bundle) -> None:
    assert of(three, "tobias", "salt harrier generator start") == {"understood": False}


BODIES = [
    *(body for body, _ in EVERY_KIND if body not in ("have it", "ack 14", "checked 3")),
    "salt harrier status",
    "little stint refrigeration off",
    "salt harrier generator start",
    "refrigeration off",
    "visit over",
    "anchor up",
    "generator open",
    "generator stop for 2 h",
]


@pytest.mark.parametrize("key", ["ines", "tobias", "ruth"])
@pytest.mark.parametrize("body", BODIES)
def test_the_desk_answers_not_understood_to_just_what_is_told_as_not_understood(
    three: Bundle, key: str, body: str
) -> None:
    reply = answered(unknowing(three, NOON), person(three, key).number, body, NOON).reply or ""
    if isinstance(three.read_text(body), Understood):
        refused = "not understood" in reply.lower() or "has no" in reply
        assert refused is not of(three, key, body)["understood"], reply
    else:
        assert reply
        assert of(three, key, body) == {"understood": False}


def test_texts_that_mean_different_things_have_different_sentences(one: Bundle) -> None:
    said: dict[str, Request] = {}
    for body in (*(body for body, _ in EVERY_KIND), "generator start for 1 h", "ack 15", "checked"):
        meaning = one.read_text(body)
        assert isinstance(meaning, Understood)
        found = understanding(meaning, person(one, "tobias"), one)
        assert kind_of(meaning.request) == found.kind
        assert said.setdefault(sentence(meaning.request, found, one), meaning.request) == meaning.request


def test_a_sentence_names_thing_action_time_and_boat(one: Bundle) -> None:
    meaning = one.read_text("fridge off until 18:00")
    assert isinstance(meaning, Understood)
    found = understanding(meaning, person(one, "tobias"), one)
    assert sentence(meaning.request, found, one) == "asks for: refrigeration off until 18:00 on GREY WAGTAIL"


def test_the_record_has_just_these_fields_in_this_order() -> None:
    assert [field.name for field in fields(Understanding)] == [
        "understood",
        "kind",
        "equipment",
        "action",
        "minutes",
        "until",
        "boat",
        "alarm",
    ]
