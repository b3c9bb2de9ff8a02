"""Cells that a spreadsheet must not run, and rows that any reader of CSV gets back."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.cli.spreadsheet import as_it_was, guarded, row

ANY = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"))
TEMPTING = st.one_of(ANY, st.tuples(st.sampled_from("=+-@\t\r\n'"), ANY).map("".join))


@pytest.mark.parametrize("cell", ["=1+1", "+44 7700 900123", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "＝1", "-", "--5"])
def test_what_may_be_run_gets_an_apostrophe_in_front(cell: str) -> None:
    assert guarded(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["", "-3.1", "-12", "13.6", "on", "status", '{"a": 1}', "a=1", "2026-03-09T03:00:00Z"])
def test_numbers_and_ordinary_words_stay_as_they_are(cell: str) -> None:
    assert guarded(cell) == cell


def test_a_row_quotes_as_rfc_4180_says() -> None:
    assert row(["a", 'says "on", twice', "two\r\nlines", ""]) == 'a,"says ""on"", twice","two\r\nlines",\r\n'


@given(st.lists(TEMPTING, min_size=2, max_size=6))
def test_any_cells_come_back_as_they_were(cells: list[str]) -> None:
    [found] = csv.reader(io.StringIO(row(cells), newline=""), strict=True)
    assert [as_it_was(cell) for cell in found] == cells


@given(TEMPTING)
def test_no_cell_begins_as_a_formula_may(cell: str) -> None:
    shown = guarded(cell)
    assert not shown.startswith(("=", "+", "@", "\t", "\r", "\n"))
    if shown.startswith("-"):
        float(shown)
