"""The starter: a complete installation, which the demo runs and a new installer begins with."""

import tomllib
from pathlib import Path

import pytest

from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Carries, Senses
from gateway.demo.boat import DemoBoat
from gateway.installation.load import Installation, load, topics
from gateway.installation.starter import FolderTaken, lay_down, starter
from gateway.people.settings import Role
from gateway.requests.settings import Sort
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import septets
from grammar.meanings import IsContact, NoNews, Switch, Understood


def load_from(folder: Path) -> Installation:
    return load(
        folder,
        person_id=lambda key: f"id of {key}",
        environ={"HEAVINGLINE_CARRIER_TOKEN": "secret"},
    )


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Installation:
    """GREY WAGTAIL alone, as the demo has her."""
    folder = tmp_path_factory.mktemp("one") / "boat"
    lay_down(folder, boats=("grey-wagtail",))
    return load_from(folder)


@pytest.fixture(scope="module")
def fleet() -> Installation:
    """All three boats, as `new` lays them down."""
    return load_from(starter())


def point(loaded: Installation, key: str) -> Point:
    return loaded.bundle.points[f"grey-wagtail/{key}"]


def test_it_loads_without_mistake_and_nothing_of_it_deserves_a_second_look(loaded: Installation) -> None:
    assert loaded.warnings == ()


def test_it_is_grey_wagtail_at_berth_c14(loaded: Installation) -> None:
    boat = loaded.bundle.boats["grey-wagtail"]
    assert (boat.name, boat.short_name, boat.berth, str(boat.zone)) == (
        "GREY WAGTAIL",
        "wagtail",
        "C14",
        "Europe/London",
    )
    assert loaded.standards == {"grey-wagtail": "motor-yacht-12v"}


def test_its_people_have_numbers_from_the_range_kept_for_drama(loaded: Installation) -> None:
    people = {person.key: person for person in loaded.bundle.people.values()}
    assert {key: (person.number, person.role) for key, person in people.items()} == {
        "ines": ("+447700900123", Role.OWNER),
        "tobias": ("+447700900456", Role.CARETAKER),
        "ruth": ("+447700900789", Role.INSTALLER),
        "marina": ("+441632960555", Role.OFFICE),
    }
    assert people["ines"].id == "id of ines"
    assert people["tobias"].may("grey-wagtail", "generator", "start")
    assert not people["marina"].may("grey-wagtail", "cabin-lights", "off")


def test_an_emergency_goes_to_both_at_once_again_after_3_min_to_the_office_after_6_and_round_every_10(
    loaded: Installation,
) -> None:
    danger = loaded.bundle.callouts["grey-wagtail/danger"]  # handbook 2.3
    assert [(step.after, step.tell) for step in danger.steps] == [
        (0, ("id of ines", "id of tobias")),
        (3 * MINUTE, ("id of ines", "id of tobias")),
        (6 * MINUTE, ("id of marina",)),
    ]
    assert danger.repeat == 10 * MINUTE


def test_every_emergency_is_latched_and_on_a_list_of_emergencies(loaded: Installation) -> None:
    emergencies = [each for each in loaded.bundle.points.values() if each.priority is Priority.EMERGENCY]
    assert {each.key: each.concerns for each in emergencies} == {
        "bilge-high": Concerns.FLOODING,
        "fire": Concerns.FIRE,
        "co": Concerns.CO,
        "gas": Concerns.GAS,
    }
    assert all(each.latching for each in emergencies)
    lists = {each.key: each.callout.partition("/")[2] for each in emergencies}
    assert lists == {"bilge-high": "danger", "fire": "all-at-once", "co": "danger", "gas": "all-at-once"}


def test_at_least_ten_points_each_say_what_it_means_and_what_to_do_in_plain_characters(loaded: Installation) -> None:
    assert len(loaded.bundle.points) >= 10
    for each in loaded.bundle.points.values():
        for said in (each.name, each.means, each.do):
            assert said
            assert septets(said) == len(said)


def test_bilge_high_water_stands_for_15_s_and_clears_after_60_s(loaded: Installation) -> None:
    bilge = point(loaded, "bilge-high")  # handbook 3, P01
    assert bilge.when == IsContact(signal="bilge-high", wanted=True, lasting=15 * SECOND)
    assert bilge.clears == IsContact(signal="bilge-high", wanted=False, lasting=60 * SECOND)


def test_silence_is_told_after_10_min(loaded: Installation) -> None:
    assert point(loaded, "silent").when == NoNews(signal=None, lasting=10 * MINUTE)  # handbook 3, P26


def test_the_generator_is_bound_as_the_handbook_asks(loaded: Installation) -> None:
    generator = loaded.bundle.equipment["grey-wagtail/generator"]  # handbook 5.2
    assert (generator.sort, generator.pair) == (Sort.ENGINE, ("start", "stop"))
    assert generator.selector == "grey-wagtail/selector"
    assert (generator.run_limit, generator.default_run, generator.prove_within) == (4 * HOUR, HOUR, 90 * SECOND)
    assert generator.permitted is not None
    assert (generator.permitted.start, generator.permitted.end) == (8 * 60, 20 * 60)
    assert generator.permitted.by == "Tarn Creek Marina office"
    assert {lock.key: lock.says for lock in generator.interlocks} == {
        "fuel": "fuel under 20%",
        "start-battery": "start battery under 12.2 V",
    }
    assert "CO KILLS" in generator.caution


def test_every_sort_of_sensing_that_the_interlocks_know_is_aboard(loaded: Installation) -> None:
    no_hazard = {Senses.LINK}  # a hint that not every node gives; the starter's boat is missed by her silence
    sensed = {signal.senses for signal in loaded.bundle.signals.values() if signal.senses}
    assert sensed == set(Senses) - no_hazard


def test_its_texts_are_read(loaded: Installation) -> None:
    assert loaded.bundle.read_text("genny start for 2 h") == Understood(
        request=Switch(equipment="generator", action="start", minutes=120)
    )
    assert loaded.bundle.read_text("wagtail fridge off") == Understood(
        request=Switch(equipment="refrigeration", action="off"), boat="grey-wagtail"
    )
    assert len(loaded.bundle.code_words) >= 1_025  # handbook CHK-25


def test_the_demos_boat_publishes_every_topic_of_it(loaded: Installation) -> None:
    published = {topic for topic, _, _ in DemoBoat().due(MINUTE)}
    assert published == set(topics(loaded)["quay"])
    commands = {piece.topic for piece in loaded.bundle.equipment.values()}
    assert commands == {f"grey-wagtail/command/{name}" for name in DemoBoat().nodes}


def test_contacts_and_words_are_told_apart_from_numbers(loaded: Installation) -> None:
    carried = {signal.key: signal.carries for signal in loaded.bundle.signals.values()}
    assert carried["bilge-high"] is Carries.CONTACT
    assert carried["selector"] is Carries.WORD
    assert carried["house-volts"] is Carries.NUMBER


def test_no_secret_stands_in_it_and_no_value_of_one_is_shown(loaded: Installation) -> None:
    assert "secret" not in repr(loaded.carriers)
    assert loaded.carriers[0].token == "secret"
    for file in starter().rglob("*.toml"):
        assert "password =" not in file.read_text(encoding="utf-8")


def test_every_figure_of_the_standard_has_its_origin_beside_it() -> None:
    lines = (starter() / "standard" / "motor-yacht-12v.toml").read_text(encoding="utf-8").splitlines()
    table = ""
    said: dict[str, str] = {}
    for line in lines:
        if line.startswith("["):
            table = line.partition("]")[0]
        said[table] = said.get(table, "") + (line.partition("#")[2] if "#" in line else "")
    for name, words in said.items():
        if name.startswith(("[alarm.", "[equipment.")):
            assert "handbook" in words or "our choice" in words, name


def test_it_is_found_from_the_checkout_and_is_plain_toml() -> None:
    assert starter().is_dir()
    for file in Path(starter()).rglob("*.toml"):
        tomllib.loads(file.read_text(encoding="utf-8"))


# ---------------------------------------------------------------- three boats


def named(fleet: Installation, people: tuple[str, ...]) -> list[str]:
    return [fleet.bundle.people[each].key for each in people]


def test_all_three_boats_load_without_mistake_and_nothing_deserves_a_second_look(fleet: Installation) -> None:
    assert fleet.standards == dict.fromkeys(("grey-wagtail", "salt-harrier", "little-stint"), "motor-yacht-12v")
    assert fleet.warnings == ()


def test_each_boat_calls_its_own_owner_by_the_same_list(fleet: Installation) -> None:
    first = {
        boat: named(fleet, fleet.bundle.callouts[fleet.bundle.points[f"{boat}/fire"].callout].everyone)
        for boat in fleet.bundle.boats
    }
    assert first == {
        "grey-wagtail": ["ines", "tobias", "marina"],
        "salt-harrier": ["edda", "tobias", "marina"],
        "little-stint": ["hanno", "tobias", "marina"],
    }


def test_the_caretaker_has_all_three_with_rights_and_each_owner_one(fleet: Installation) -> None:
    people = {person.key: person for person in fleet.bundle.people.values()}
    assert set(people["tobias"].boats) == set(fleet.bundle.boats)
    assert people["tobias"].may("salt-harrier", "refrigeration", "off")
    assert people["ines"].boats == ("grey-wagtail",)
    assert not people["ines"].may("salt-harrier", "refrigeration", "off")
    assert people["hanno"].may("little-stint", "deck-lights", "off")
    assert not people["hanno"].may("little-stint", "deck-lights", "on")
    assert len({person.number for person in people.values()}) == 6


def test_two_of_the_boats_are_differences_only(fleet: Installation) -> None:
    assert {key.partition("/")[2] for key in fleet.left_out["salt-harrier"]} >= {"shore-lost", "generator"}
    for boat in ("salt-harrier", "little-stint"):
        files = sorted((starter() / "boats" / boat).glob("*.toml"))
        assert sum(len(file.read_text(encoding="utf-8").splitlines()) for file in files) < 60
    low = {boat: fleet.bundle.points[f"{boat}/house-low"].when for boat in fleet.bundle.boats}
    assert low["little-stint"] == low["grey-wagtail"] != low["salt-harrier"]
    assert {piece.boat for piece in fleet.bundle.equipment.values() if piece.sort is Sort.ENGINE} == {"grey-wagtail"}


@pytest.mark.parametrize("boats", [("grey-wagtail",), ("salt-harrier",), ("little-stint", "grey-wagtail")])
def test_any_part_of_it_can_be_laid_down_and_loads(boats: tuple[str, ...], tmp_path: Path) -> None:
    files = lay_down(tmp_path / "part", boats=boats)
    part = load_from(tmp_path / "part")
    assert sorted(file for file in files if file.endswith(".toml")) == sorted(part.files)
    assert set(part.bundle.boats) == set(boats)
    assert all(set(person.boats) <= set(boats) and person.boats for person in part.bundle.people.values())


def test_it_is_never_laid_down_over_files(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(FolderTaken, match="empty or a new folder"):
        lay_down(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]
