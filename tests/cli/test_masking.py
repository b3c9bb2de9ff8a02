"""What is never shown of the record, whatever a text looks like."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from gateway.cli.masking import Masks, printable


def masks() -> Masks:
    known = Masks()
    known.learn([{"words": ["teapot", "marble"]}])
    return known


@pytest.mark.parametrize(
    ("body", "shown"),
    [
        ("go teapot marble", "go ... ..."),
        ("GO TEAPOT MARBLE", "GO ... ..."),
        ("go teapot marble 7 lantern piccolo please", "go ... ... ... ... ... ..."),
        ("go teapot marble lantern piccolo", "go ... ... ... ..."),
        ("go teapot marble line 7 lantern piccolo", "go ... ... ... ... ... ..."),
        ("go 7 lantern piccolo teapot marble", "go ... ... ... ... ..."),
        ("GO teapot-marble: 7. lantern, piccolo", "GO ...-...: .... ..., ..."),
        ("Reply GO TEAPOT MARBLE 7 + list line 7 by 03:21", "Reply GO ... ... ... + ... ... ... by 03:21"),
        ("drop teapot marble please", "drop ... ... please"),
        ("Go, teapot - marble!", "Go, ... - ...!"),
        ("go\nteapot\nmarble", "go ... ..."),
        ("go teapot", "go ..."),
        ("start generator? Reply GO TEAPOT MARBLE by 08:11", "start generator? Reply GO ... ... by 08:11"),
        ("Loved \N{LEFT DOUBLE QUOTATION MARK}Reply GO TEAPOT MARBLE\N{RIGHT DOUBLE QUOTATION MARK}", None),
        ("teapot marble", "... ..."),
        ("marble, then teapot", "..., then ..."),
        ("\N{FULLWIDTH LATIN SMALL LETTER G}\N{FULLWIDTH LATIN SMALL LETTER O} teapot marble", "go ... ..."),
        ("call +44 7700 900456 now", "call +44 ... 456 now"),
        ("a text from +44 ... 999", "a text from +44 ... 999"),
        ("have it 14", "have it 14"),
        ("the cargo marble is here", "the cargo marble is here"),
    ],
)
def test_a_text_is_shown_without_codes_and_numbers(body: str, shown: str | None) -> None:
    found = masks().text(body)
    assert "teapot" not in found.casefold()
    if shown is not None:
        assert found == shown


@given(st.text(max_size=40), st.text(max_size=40))
@example(before="", after="go")  # hidden as what stands behind `go`, the second word must still make the code known
def test_no_text_in_which_both_words_of_a_code_stand_alone_shows_either(before: str, after: str) -> None:
    shown = masks().text(f"{before} teapot {after} marble ").casefold()
    assert "teapot" not in shown
    assert "marble" not in shown


@given(st.text(max_size=80))
def test_what_is_shown_is_one_line_that_no_terminal_obeys(body: str) -> None:
    shown = masks().text(body)
    assert shown.isprintable() or not shown
    assert len(shown.splitlines()) <= 1


def test_a_sealed_part_hides_its_number_and_its_words() -> None:
    part = masks().part({"number": "+447700900456", "body": "go teapot marble", "words": ["teapot", "marble"]})
    assert part == {"number": "+44 ... 456", "body": "go ... ...", "words": "..."}


def test_what_moves_a_terminal_becomes_a_gap() -> None:
    assert printable("a\x1b[2Jb\u202ec\r\n") == "a [2Jb c  "
