"""What is typed into the live demo, and what it means."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.demo.boat import CONTACTS, DemoBoat
from gateway.demo.live_words import (
    LEVELS,
    LinkBreaks,
    LinkMended,
    Moves,
    Quits,
    Typed,
    Unclear,
    WantsHelp,
    Writes,
    help_lines,
    typed,
)

PEOPLE = {"tobias": "+447700900456", "stranger": "+447700900999"}
BEGIN = 1_773_057_600_000


@pytest.mark.parametrize(
    ("line", "means"),
    [
        ("tobias: have it 1", Writes(number="+447700900456", body="have it 1")),
        ("Tobias:go teapot marble ", Writes(number="+447700900456", body="go teapot marble")),
        ("stranger: tell me: who is it?", Writes(number="+447700900999", body="tell me: who is it?")),
        ("+44 7700 900111: hello", Writes(number="+447700900111", body="hello")),
        ("bilge-high on", Moves(name="bilge-high", value=True)),
        ("shore off", Moves(name="shore", value=False)),
        ("SHORE   OFF", Moves(name="shore", value=False)),
        ("selector local", Moves(name="selector", value="LOCAL")),
        ("selector REMOTE", Moves(name="selector", value="REMOTE")),
        ("house-volts 11.5", Moves(name="house-volts", value=11.5)),
        ("silent", LinkBreaks()),
        ("back", LinkMended()),
        ("help", WantsHelp()),
        (" Quit ", Quits()),
    ],
)
def test_a_line_means(line: str, means: Typed) -> None:
    assert typed(line, PEOPLE) == means


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("bob: hello", "There are tobias, stranger"),
        ("tobias:", "says what?"),
        ("shore perhaps", "on or off?"),
        ("shore", "Type help"),
        ("selector north", "LOCAL or REMOTE?"),
        ("fridge nan", "A number from 0 to 100"),
        ("fridge -4", "A number from 0 to 100"),
        ("anchor up", "Type help"),
    ],
)
def test_a_line_that_means_nothing_says_what_could_be_typed(line: str, says: str) -> None:
    found = typed(line, PEOPLE)
    assert isinstance(found, Unclear)
    assert says in found.why


@given(st.one_of(st.text(), st.tuples(st.sampled_from([*CONTACTS, *LEVELS, "selector"]), st.text()).map(" ".join)))
def test_whatever_is_typed_is_something_and_what_moves_the_boat_can_be_moved(line: str) -> None:
    found = typed(line, PEOPLE)
    if isinstance(found, Moves):
        DemoBoat().set(found.name, found.value, BEGIN)


def test_everything_that_can_be_moved_stands_in_the_help() -> None:
    shown = "\n".join(help_lines(PEOPLE))
    for word in (*CONTACTS, *LEVELS, "selector LOCAL", "silent", "back", "quit", *PEOPLE):
        assert word in shown
