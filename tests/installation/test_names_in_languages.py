"""Names as they are texted: with hyphens and without, and in another language; what is refused of them."""

from pathlib import Path

import pytest

from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import lay_down, whole_standard
from grammar.meanings import NotUnderstood, PhoneLost, Switch, Understood, Why
from tests.installation.small_installation import change

BOAT = "grey-wagtail"
WHOLE = f"standard/{whole_standard('12', 'agm')}.toml"


def laid(folder: Path) -> Path:
    """GREY WAGTAIL on the whole standard, with an owner whose language is German."""
    lay_down(folder, (BOAT,), built_on=whole_standard("12", "agm"))
    change(folder, "people.toml", 'role = "owner"', 'role = "owner"\nlanguage = "de"')
    return folder


def loaded(folder: Path) -> Bundle:
    return load(folder, person_id=str, environ={"HEAVINGLINE_CARRIER_TOKEN": "x"}).bundle


def mistakes(folder: Path) -> str:
    with pytest.raises(InstallationRefused) as refused:
        loaded(folder)
    return str(refused.value)


@pytest.fixture(scope="module")
def german(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    return loaded(laid(tmp_path_factory.mktemp("names") / "boat"))


def test_every_equipment_of_the_starter_has_german_names_that_are_read_and_one_that_is_printed(german: Bundle) -> None:
    assert len(german.equipment) >= 12
    for piece in german.equipment.values():
        rest = piece.pair[1]
        said = {"stop": "stoppen", "off": "aus", "close": "schließen"}[rest]
        assert piece.called("de") == piece.names_in["de"][0] != piece.name or piece.key == "generator"
        for name in piece.names_in["de"]:
            meant = german.readers["de"](f"{name} {said}")
            assert meant == Understood(request=Switch(equipment=piece.key, action=rest)), name


def test_no_two_things_of_the_starter_share_a_german_name(german: Bundle) -> None:
    names = [name.casefold() for piece in german.equipment.values() for name in piece.names_in["de"]]
    assert len(names) == len(set(names))


def test_an_english_name_is_none_for_a_german_person_and_the_other_way_round(german: Bundle) -> None:
    assert isinstance(german.readers["de"]("gas valve schließen"), NotUnderstood)
    assert isinstance(german.read_text("Gasventil close"), NotUnderstood)


def test_one_german_name_for_two_things_of_a_boat_is_a_mistake(tmp_path: Path) -> None:
    folder = laid(tmp_path / "boat")
    change(folder, WHOLE, '"Luftentfeuchter", "Entfeuchter"', '"Luftentfeuchter", "Kühlschrank"')
    assert 'the name "Kühlschrank" means "refrigeration" (on and off) too; give one of them another' in mistakes(folder)


def test_english_names_in_the_table_of_other_languages_are_a_mistake(tmp_path: Path) -> None:
    folder = laid(tmp_path / "boat")
    change(folder, WHOLE, '{ de = ["Klimaanlage"] }', '{ en = ["cooler"] }')
    assert "names.en: is no language here; use one of de; English names stand in spoken_names" in mistakes(folder)


def test_what_is_never_switched_by_text_is_refused_by_its_german_name_too(tmp_path: Path) -> None:
    folder = laid(tmp_path / "boat")
    change(folder, WHOLE, '{ de = ["Klimaanlage"] }', '{ de = ["Ankerlicht"] }')
    assert '"Ankerlicht" is never switched by text: anchor and navigation lights' in mistakes(folder)


@pytest.mark.parametrize("texted", ["SEA-BIRD", "sea bird"])
def test_a_name_with_a_hyphen_is_read_with_it_and_without(tmp_path: Path, texted: str) -> None:
    folder = laid(tmp_path / "boat")
    change(folder, f"boats/{BOAT}/boat.toml", 'name = "GREY WAGTAIL"', 'name = "SEA-BIRD"')
    change(folder, WHOLE, '"dehumidifier"]', '"dehumidifier", "dry-air fan"]')
    change(folder, "people.toml", 'name = "Ines Marlow"', 'name = "Anne-Marie Marlow"')
    bundle = loaded(folder)
    off = Understood(request=Switch(equipment="dehumidifier", action="off"), boat=BOAT)
    assert bundle.read_text(f"{texted} dry-air fan off") == off
    assert bundle.read_text(f"{texted} dry air fan off") == off
    for name in ("Anne-Marie", "anne marie marlow"):
        assert bundle.read_text(f"phone lost {name}") == Understood(request=PhoneLost(person="ines"))


def test_an_alert_of_a_boat_with_a_hyphen_that_comes_back_is_no_order(tmp_path: Path) -> None:
    folder = laid(tmp_path / "boat")
    change(folder, f"boats/{BOAT}/boat.toml", 'name = "GREY WAGTAIL"', 'name = "SEA-BIRD"')
    meant = loaded(folder).read_text("SEA-BIRD: generator started, 231 V after 14 s")
    assert isinstance(meant, NotUnderstood)
    assert meant.why is Why.REACTION
