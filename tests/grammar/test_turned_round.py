"""A boat's name that stands behind or inside what is asked, put in front to look for a suggestion."""

import pytest

from grammar.names import Branch
from grammar.turned_round import boat_named, boat_to_front

NAMES = Branch()
NAMES.add(["grey", "wagtail"], "BOAT", "grey-wagtail")
NAMES.add(["stint"], "BOAT", "little-stint")


@pytest.mark.parametrize(
    ("text", "turned"),
    [
        ("visit over stint", ["stint visit over"]),
        ("visit on the stint", ["stint visit on the", "stint visit"]),
        ("turn grey wagtail fridge off", ["grey wagtail turn fridge off"]),
    ],
)
def test_the_name_comes_first_and_what_led_to_it_is_left_out_once(text: str, turned: list[str]) -> None:
    assert list(boat_to_front(text, NAMES)) == turned


@pytest.mark.parametrize("text", ["stint visit", "visit", "visit stint and grey wagtail", "status of stint or stint"])
def test_with_none_one_in_front_or_two_nothing_is_turned_round(text: str) -> None:
    assert list(boat_to_front(text, NAMES)) == []


def test_of_two_boats_none_is_meant() -> None:
    assert boat_named("visit stint", NAMES) == "little-stint"
    assert boat_named("visit stint and grey wagtail", NAMES) is None
