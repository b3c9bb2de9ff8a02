"""What everything is called in a text."""

from dataclasses import replace

import pytest

from gateway.people.settings import Role
from gateway.wording.names import (
    begins_with_carrier_word,
    boat,
    equipment_of,
    first_name,
    phrase_name,
    point_name,
    small,
    spoken,
    thing_name,
)
from gateway.wording.scene import Scene
from grammar.carrier_words import CARRIER_WORDS

GREY = "grey-wagtail"


def test_a_boat_is_said_with_its_berth_by_name_by_short_name_and_cut(scene: Scene) -> None:
    assert boat(scene, GREY, berth=True).forms == ("GREY WAGTAIL C14", "GREY WAGTAIL", "WAGTAIL", "WAGTAIL")
    assert boat(scene, "").forms[0] == "Gateway"
    assert boat(scene, "long-gone").forms[0] == "LONG GONE"


def test_a_name_of_which_the_alphabet_leaves_nothing_is_said_by_its_key(scene: Scene) -> None:
    named = replace(scene.boats[GREY], name="海燕", short_name="海")
    assert boat(replace(scene, boats={GREY: named}), GREY).forms[0] == "GREY WAGTAIL"


def test_a_boat_whose_name_is_a_word_for_the_carrier_is_introduced_as_a_boat(scene: Scene) -> None:
    named = replace(scene.boats[GREY], name="STOP GAP", short_name="Stop")
    assert boat(replace(scene, boats={GREY: named}), GREY).forms == ("Boat STOP GAP", "Boat STOP", "Boat STOP")


@pytest.mark.parametrize("text", ["STOP", "stop all of it", "End.", '"quit"', "Opt-out", "START NOW", "yes", "Help me"])
def test_words_for_the_carrier_are_known_in_front(text: str) -> None:
    assert begins_with_carrier_word(text)


def test_every_word_that_the_language_of_texts_keeps_from_the_carrier_is_kept_here_too() -> None:
    assert all(begins_with_carrier_word(word) for word in CARRIER_WORDS)


@pytest.mark.parametrize("text", ["GENERATOR STOP", "Stopped", "ending", "", "NOT taken", "Started"])
def test_other_words_are_none(text: str) -> None:
    assert not begins_with_carrier_word(text)


def test_people_are_called_by_their_first_name_and_an_office_by_its_whole_name(scene: Scene) -> None:
    assert first_name(scene, "id-tobias") == "Tobias"
    assert first_name(scene, "id-marina") == "Marina office"
    assert first_name(scene, "nobody known") == "somebody"


def test_two_of_one_first_name_get_an_initial(scene: Scene) -> None:
    other = replace(scene.people["id-ruth"], name="Tobias Okell", role=Role.INSTALLER)
    both = replace(scene, people={**scene.people, "id-ruth": other})
    assert first_name(both, "id-tobias") == "Tobias P"
    assert first_name(both, "id-ruth") == "Tobias O"


def test_an_emergency_is_said_in_capitals_and_the_rest_small(scene: Scene) -> None:
    assert point_name(scene, f"{GREY}/bilge-high") == "BILGE HIGH WATER"
    assert point_name(scene, f"{GREY}/shore-lost") == "shore power lost"
    assert point_name(scene, f"{GREY}/left-out") == "left out"


def test_abbreviations_stay_in_capitals() -> None:
    assert small("CO alarm") == "CO alarm"
    assert small("Shore power") == "shore power"
    assert small("Çaça") == "caça"
    assert spoken("grey-wagtail/co-level") == "CO level"


def test_equipment_is_found_by_id_or_by_key_aboard(scene: Scene) -> None:
    assert equipment_of(scene, GREY, "generator") is equipment_of(scene, GREY, f"{GREY}/generator")
    assert equipment_of(scene, "salt-harrier", "generator") is None
    assert equipment_of(scene, GREY, None) is None
    assert thing_name(scene, f"{GREY}/left-out") == "left out"


def test_a_name_that_a_carrier_would_take_is_never_printed_in_front_of_a_phrase(scene: Scene) -> None:
    assert phrase_name(scene, f"{GREY}/generator") == "GENERATOR"
    odd = replace(scene.equipment[f"{GREY}/generator"], spoken_names=("stop light",))
    assert phrase_name(replace(scene, equipment={odd.id: odd}), odd.id) is None
