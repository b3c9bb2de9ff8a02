"""CHK-25: the strength of a two-word code against NIST SP 800-63B rev. 3, 5.1.2 (look-up secrets: 20 bits or more)."""

from math import log2

import pytest

from grammar.code_word_list import ALL_CODE_WORDS
from grammar.code_words import FEWEST, drawable


def test_two_different_words_in_order_from_1025_carry_20_bits() -> None:
    assert FEWEST == 1_025
    assert log2(FEWEST * (FEWEST - 1)) >= 20.0
    assert log2((FEWEST - 1) * (FEWEST - 2)) < 20.0


def test_the_words_of_the_demo_boat_carry_20_bits_and_more() -> None:
    count = len(drawable(["GREY WAGTAIL", "SALT HARRIER", "LITTLE STINT", "generator", "refrigeration"]))
    assert count <= len(ALL_CODE_WORDS)
    assert log2(count * (count - 1)) >= 20.6


def test_six_digits_carry_less_than_20_bits() -> None:
    assert log2(10**6) == pytest.approx(19.93, abs=0.005)
