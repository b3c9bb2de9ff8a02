"""What withholds a suggestion by itself, whatever else would: each bar is tried alone."""

import pytest

from grammar.answers import would_mislead


@pytest.mark.parametrize("text", ["hasn t come ashore 14", "wouldn't 14", "mustn t", "un-checked 14", "unchecked 14"])
def test_a_negation_that_a_phone_cut_in_two_withholds_a_suggestion(text: str) -> None:
    assert would_mislead(text)


@pytest.mark.parametrize("text", ["generator start ❌", "generator_start", "2 generator start", "fridge on off"])
def test_a_sign_a_figure_in_front_and_two_actions_do_too(text: str) -> None:
    assert would_mislead(text)


def test_a_word_of_another_language_does_where_that_is_read() -> None:
    assert would_mislead("generator nicht starten", frozenset({"nicht"}))
    assert not would_mislead("generator nicht starten")


@pytest.mark.parametrize("text", ["generatr start", "hav it 14", "fridge of"])
def test_a_mere_slip_does_not(text: str) -> None:
    assert not would_mislead(text)
