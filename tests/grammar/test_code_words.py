"""The words that codes are made of."""

import re

import pytest
from lark.lexer import PatternStr
from rapidfuzz.distance import Levenshtein

from grammar.carrier_words import CARRIER_WORDS
from grammar.code_word_list import ALL_CODE_WORDS
from grammar.code_words import FEWEST, TooFewCodeWords, drawable
from grammar.examples import EXAMPLE_BOATS, EXAMPLE_EQUIPMENT
from grammar.meanings import Confirm, Understood
from grammar.texts import _PARSER, TextReader


def test_there_are_at_least_1300_words_of_four_to_seven_plain_letters() -> None:
    assert len(set(ALL_CODE_WORDS)) == len(ALL_CODE_WORDS) >= 1_300
    assert [word for word in ALL_CODE_WORDS if not re.fullmatch("[a-z]{4,7}", word)] == []
    assert list(ALL_CODE_WORDS) == sorted(ALL_CODE_WORDS)


def test_every_two_words_are_three_letters_apart() -> None:
    near = [
        (one, other)
        for place, one in enumerate(ALL_CODE_WORDS)
        for other in ALL_CODE_WORDS[:place]
        if Levenshtein.distance(one, other, score_cutoff=2) <= 2
    ]
    assert near == []


def test_no_word_is_one_of_the_language_or_of_a_carrier_or_one_slip_from_it() -> None:
    keywords = {term.pattern.value for term in _PARSER.terminals if isinstance(term.pattern, PatternStr)}
    keywords |= {part for word in CARRIER_WORDS for part in word.split()}
    near = [(w, k) for w in ALL_CODE_WORDS for k in keywords if len(k) > 2 and Levenshtein.distance(w, k) <= 1]
    assert near == []


FORBIDDEN = """alarm fire flood leak smoke gas carbon panic danger warning caution rescue siren red green blue amber
    orange yellow purple violet scarlet crimson white black brown grey hundred dozen double second single million stop
    start cancel finish launch release confirm blood wound poison drown murder corpse bilge pump battery engine anchor
    tide quay buoy berth mast keel stern hatch cabin helm diesel water meter litre gallon minute fathom"""


def test_no_word_is_an_alarm_a_colour_a_number_an_order_harm_or_a_word_of_the_boat() -> None:
    assert set(FORBIDDEN.split()) & set(ALL_CODE_WORDS) == set()


def test_every_word_is_read_back_as_part_of_a_code() -> None:
    reader = TextReader(EXAMPLE_BOATS, EXAMPLE_EQUIPMENT)
    words = drawable([*EXAMPLE_BOATS, *EXAMPLE_EQUIPMENT])
    for first, second in zip(words, reversed(words), strict=True):
        assert reader.read(f"Go {first} {second}") == Understood(request=Confirm(words=(first, second)))


def test_a_word_of_a_name_and_its_near_neighbours_are_not_drawn() -> None:
    left = drawable(["Marbles", "the TEAPOT's lamp", "Tarn Creek"])
    assert "marble" in ALL_CODE_WORDS
    assert {"marble", "teapot"} & set(left) == set()
    assert "walrus" in left


def test_fewer_than_1025_words_left_are_refused_with_the_number() -> None:
    assert len(drawable(ALL_CODE_WORDS[:100])) >= FEWEST
    with pytest.raises(TooFewCodeWords, match="1024 words"):
        drawable(ALL_CODE_WORDS[: len(ALL_CODE_WORDS) - FEWEST + 1])
