"""What a phone puts round a text by itself is taken off; what was made to cost time is not even looked at."""

import pytest

from grammar.cleaning import LONGEST_RAW, Cleaned, cleaned, folded, swells

THUMB, DARK_THUMB, TICK = "\U0001f44d", "\U0001f44d\U0001f3ff\ufe0f", "\u2705"


@pytest.mark.parametrize(
    "text",
    [
        f"{THUMB} generator stop",
        f"generator stop {THUMB}{TICK}",
        f"{DARK_THUMB}{TICK}generator stop{DARK_THUMB}{THUMB}",
        f"generator stop! {THUMB}!",
    ],
)
def test_harmless_signs_at_both_ends_are_taken_off(text: str) -> None:
    assert cleaned(text) == Cleaned(text="generator stop", cheered=True)


@pytest.mark.parametrize("text", ["generator \u274c stop", f"generator {THUMB} stop", "generator stop \u274c"])
def test_signs_within_and_signs_that_negate_stay(text: str) -> None:
    assert cleaned(text) == Cleaned(text=text)


def test_marks_without_width_are_dropped_at_the_edges_of_words_and_stay_within() -> None:
    assert folded("\u200bgenerator\u200b \u2060\u200b start\ufeff") == "generator start"
    assert folded("gener\u200bator start") == "gener\u200bator start"


@pytest.mark.parametrize(
    ("body", "made_to_cost"),
    [
        ("\ufdfa" * 1_600, True),
        ("a" + "\u0316\u0301" * 200, True),
        ("\ufdfa" * 8, False),
        ("\u2026" * 1_000, False),
        ("\u1ec7" * 1_600, False),
        ("e\u0302\u0323 " * 400, False),
        ("a" * 1_600, False),
    ],
    ids=[
        "one for eighteen",
        "a row of marks",
        "a few",
        "ellipses",
        "ready made letters",
        "letters with marks",
        "plain",
    ],
)
def test_a_text_that_normalisation_would_blow_up_is_known_before(body: str, made_to_cost: bool) -> None:
    assert len(body) <= LONGEST_RAW
    assert swells(body) is made_to_cost
