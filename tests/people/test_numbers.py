"""Numbers: what the installer may write, what is refused and why, and what a log line shows."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.people.numbers import NumberRefused, e164, is_fictional, masked


@pytest.mark.parametrize(
    ("written", "home", "stored"),
    [
        ("+44 7700 900123", None, "+447700900123"),
        ("+44 (0)7700 900-123", None, "+447700900123"),
        ("07700 900123", "GB", "+447700900123"),
        ("00447700900123", "GB", "+447700900123"),
        ("011 44 7700 900123", "US", "+447700900123"),
        ("(202) 555-0123", "US", "+12025550123"),
        ("0491 570 006", "AU", "+61491570006"),
        ("\uff0b44 7700\u00a0900123", None, "+447700900123"),
    ],
)
def test_any_usual_writing_is_stored_as_plus_and_digits(written: str, home: str | None, stored: str) -> None:
    assert e164(written, home) == stored


@pytest.mark.parametrize(
    ("written", "home", "word"),
    [
        ("", "GB", "no telephone number"),
        ("   ", "GB", "no telephone number"),
        ("07700 900123", None, "no country code"),
        ("+999 123456", None, "no country has"),
        ("+44 7700 900123 1234", None, "16 digits"),
        ("+1 2345 6789 0123 456", None, "16 digits"),
        ("1" * 60, "GB", "more digits than any number"),
        ("+44 770", None, "too short or too long"),
        ("+44 7700 900123 / 124", None, "too short or too long"),
        ("1-800-MARINAS", "US", "'M'"),
        ("+44 7700 900123 x5", None, "'x'"),
        ("+44 7700 900123#5", None, "'#'"),
        ("+44 7700 900123,,5", None, "','"),
        ("07700 900123", "gb", "no country with a numbering plan"),
        ("07700 900123", "XX", "no country with a numbering plan"),
    ],
)
def test_a_number_that_cannot_be_used_is_refused_with_the_reason_and_a_remedy(
    written: str, home: str | None, word: str
) -> None:
    with pytest.raises(NumberRefused) as refusal:
        e164(written, home)
    assert word in refusal.value.problem
    assert refusal.value.remedy


def test_a_number_outside_every_range_of_its_country_loads_only_when_marked_unusual() -> None:
    one_digit_short = "+44 7700 90012"
    with pytest.raises(NumberRefused) as refusal:
        e164(one_digit_short, None)
    assert "unusual_number = true" in refusal.value.remedy
    assert e164(one_digit_short, None, unusual=True) == "+44770090012"


@pytest.mark.parametrize("written", ["+44 770", "+44 7700 900123 1234", "", "MARINA"])
def test_marking_a_number_unusual_excuses_no_wrong_length_and_no_words(written: str) -> None:
    with pytest.raises(NumberRefused):
        e164(written, None, unusual=True)


@given(st.integers(0, 999))
def test_every_number_of_the_drama_range_loads_and_is_known_as_fictional(last: int) -> None:
    number = f"+447700900{last:03d}"
    assert e164(number, None) == number
    assert is_fictional(number)


@given(st.integers(0, 999), st.sampled_from(["+44 7700 900{:03d}", "07700 900{:03d}", "0044 7700 900{:03d}"]))
def test_reading_a_stored_number_again_changes_nothing(last: int, form: str) -> None:
    once = e164(form.format(last), "GB")
    assert e164(once, None) == once
    assert e164(once, "US") == once


@given(st.text(max_size=40), st.sampled_from([None, "GB", "US"]), st.booleans())
def test_any_text_is_either_a_number_of_at_most_fifteen_digits_or_refused(
    text: str, home: str | None, unusual: bool
) -> None:
    try:
        number = e164(text, home, unusual=unusual)
    except NumberRefused:
        return
    assert number[0] == "+"
    assert number[1:].isascii()
    assert number[1:].isdigit()
    assert len(number) <= 16


@pytest.mark.parametrize(
    ("number", "shown"),
    [
        ("+447700900123", "+44 ... 123"),
        ("+12025550123", "+1 ... 123"),
        ("+61491570006", "+61 ... 006"),
        ("07700900123", "... 123"),
        ("62442", "..."),
        ("", "..."),
    ],
)
def test_a_log_line_shows_the_country_and_three_digits_at_most(number: str, shown: str) -> None:
    assert masked(number) == shown
