"""What goes out to a person whose language is German: every caution translated, every kind of text in one part."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Boat
from gateway.requests.answers import Answer
from gateway.telling.notices import Notice
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import ONE_PART_SEPTETS, septets
from gateway.wording.cautions import not_proof, on_arrival, while_it_lasts
from gateway.wording.fitting import Piece
from gateway.wording.held_back import with_held
from gateway.wording.phrasebook import speaking, translated
from gateway.wording.say import say
from grammar.languages import LANGUAGES
from tests.documents.texts import GROUPS, Example, scene, starter

EXAMPLES = [example for _, group in GROUPS for example in group]


def points() -> Iterator[Point]:
    """An emergency of each concern, and one of none, without words of an installer."""
    known = next(iter(starter().points.values()))
    for concern in (*Concerns, None):
        yield replace(known, concerns=concern, priority=Priority.EMERGENCY, means="")


def cautions(point: Point, boat: Boat) -> Iterator[Piece]:
    yield while_it_lasts(point, boat)
    yield not_proof(point)
    yield from on_arrival(point, boat)


def test_every_caution_before_boarding_and_while_it_lasts_is_translated() -> None:
    boat = next(iter(starter().boats.values()))
    forms = [form for point in points() for piece in cautions(point, boat) for form in piece.forms if form]
    assert len(forms) > len(Concerns)
    with speaking("de"):
        assert [form for form in forms if translated(form) == form] == []


@pytest.mark.parametrize("caution", [" CO KILLS.", ". It may run: CO KILLS", ". It may still run: CO KILLS"])
def test_every_caution_of_an_engine_is_translated(caution: str) -> None:
    with speaking("de"):
        assert "CO TÖTET" in translated(caution)


ENGLISH_PHRASES = re.compile(
    r"\b(?:HAVE IT|CHECKED|ALARMS|PHRASES|VISIT|AT BOAT|ASHORE|TAKE OVER|HAND OVER|DUTY|SHELVE|UNSHELVE|AWAY|ABOARD)\b"
)
"""GO, DROP, PROVE, START and STOP are the same in every language: carriers and code words know them so."""


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example[0])
def test_every_kind_of_text_fits_one_part_in_every_language(example: Example) -> None:
    english = scene()
    for language in LANGUAGES:
        people = {key: replace(person, language=language) for key, person in english.people.items()}
        text = say(example[1], replace(english, people=people))
        assert (septets(text) or ONE_PART_SEPTETS + 1) <= ONE_PART_SEPTETS, (language, text)


def test_a_line_of_the_book_takes_in_no_second_sentence_and_a_phrase_in_capitals_no_other_words() -> None:
    with speaking("de"):
        assert translated(". Nothing is switched. Alarms go on") == ". Nothing is switched. Alarms go on"
        assert translated("Ask the marina or look at the post") == "Ask the marina or look at the post"
        assert translated("ALARMS or HAVE IT 14") == "ALARME oder ÜBERNEHME 14"
        assert translated(". Did you mean FRIDGE ON or FRIDGE OFF?") == ". Meinten Sie FRIDGE EIN oder FRIDGE AUS?"


ENGLISH = re.compile(
    r"\b(the|you|your|is|are|has|not|nothing|nobody|reply|since|until|till|for|and|or|of|to|by|from|at|it|she|her|its)\b"
)
"""Words that no German text of ours holds, in small letters: names of boats and people have capitals."""

QUOTED = re.compile(r"\((?:its code [^)]*|new sender fitted)\)|'[^']*'")
"""What a person or the installer wrote, which is told as it was written, and keys of the installer's files."""


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example[0])
def test_every_phrase_is_offered_as_it_is_read_in_german(example: Example) -> None:
    assert ENGLISH_PHRASES.findall(in_german(example[1])) == []


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example[0])
def test_no_english_is_left_in_a_text_of_any_kind(example: Example) -> None:
    assert ENGLISH.findall(QUOTED.sub("", in_german(example[1]))) == []


def in_german(notice: Notice | Answer) -> str:
    english = scene()
    people = {key: replace(person, language="de") for key, person in english.people.items()}
    return say(notice, replace(english, people=people))


@pytest.mark.parametrize(
    ("english", "german"),
    [
        (". Somebody aboard since Sun 02:06", ". Jemand an Bord seit So 02:06"),
        (". Ask again from 08:00", ". Ab 08:00 erneut fragen"),
        (". Wait 2 h 30 min", ". 2 h 30 min warten"),
        (". Wait for the tide", ". Wait for the tide"),
        (" since 22 Mar 03:04 boat time", " seit 22. März 03:04 Bootszeit"),
        (
            ": only Ines or Tobias can say how it is kept. Nothing was changed",
            ": nur Ines oder Tobias kann das sagen. ",
        ),
        (". Bilge: about 160 L/h come in, its pump moves 11 times that", ". Bilge: etwa 160 L/h laufen zu, die Pumpe"),
        (
            ". House bank about 78% (volts at rest), 50% in about 10 h",
            ". Bordbatterie etwa 78% (Ruhespannung), 50% in ",
        ),
        ("Those are not the words, 2 tries left. Nothing was switched", "Das sind nicht die Wörter, noch 2 Versuche"),
    ],
)
def test_reasons_times_and_sums_are_told_in_german_and_an_installers_sentence_stays(english: str, german: str) -> None:
    with speaking("de"):
        assert translated(english).startswith(german)


def test_what_was_held_back_is_told_in_the_readers_language() -> None:
    assert with_held("GREY WAGTAIL", (14, 15), "de")[0] == "GREY WAGTAIL. Zurückgehalten: 14, 15. Siehe ALARME"
