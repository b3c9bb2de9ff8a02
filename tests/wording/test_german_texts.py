"""What goes out to a person whose language is German: every caution translated, every kind of text in one part."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Boat
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import ONE_PART_SEPTETS, septets
from gateway.wording.cautions import not_proof, on_arrival, while_it_lasts
from gateway.wording.fitting import Piece
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
