"""One more boat from the firm's standard."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.installation.adding import NewBoat, NotAdded, add_boat, key_of, toml_text
from gateway.installation.mistakes import InstallationRefused
from tests.installation.small_installation import append, change, laid, loaded

NO_GAS = 'no_gas_aboard = "Ruth Okell: cooks with spirit, diesel engine"'


@pytest.fixture
def small(tmp_path: Path) -> Path:
    return laid(tmp_path / "installation")


def wanted(name: str = "SALT HARRIER", built_on: str = "small-motor-boat", **more: str) -> NewBoat:
    return NewBoat(name=name, built_on=built_on, **more)


def boat_file(folder: Path, key: str = "salt-harrier") -> dict[str, object]:
    return tomllib.loads((folder / "boats" / key / "boat.toml").read_text(encoding="utf-8"))


def test_a_boat_is_made_of_the_standard_and_of_what_the_other_boats_show(small: Path) -> None:
    files = add_boat(small, wanted(berth="C15"))
    assert files == tuple(f"boats/salt-harrier/{name}.toml" for name in ("boat", "signals", "alarms", "equipment"))
    assert boat_file(small) == {
        "name": "SALT HARRIER",
        "short_name": "harrier",
        "berth": "C15",
        "zone": "Europe/London",
        "broker": "quay",
        "carrier": "main",
        "built_on": "small-motor-boat",
        "emergency_number": "112",
    }


def test_only_differences_stand_in_its_files_and_at_first_there_are_none(small: Path) -> None:
    add_boat(small, wanted())
    for name in ("signals", "alarms", "equipment"):
        assert tomllib.loads((small / f"boats/salt-harrier/{name}.toml").read_text(encoding="utf-8")) == {}
    append(small, "boats/salt-harrier/boat.toml", NO_GAS)
    change(
        small, "people.toml", 'boats = ["little-stint"]', 'boats = ["little-stint", "salt-harrier"]', everywhere=True
    )
    bundle = loaded(small).bundle
    own, other = (
        {point.key: point.when for point in bundle.points.values() if point.boat == boat}
        for boat in ("salt-harrier", "little-stint")
    )
    assert {key for key in own if own[key] != other[key]} == {"house-low"}  # little-stint's own difference
    assert bundle.signals["salt-harrier/house-volts"].topic == "salt-harrier/dc/house"


def test_what_a_new_boat_still_wants_is_told_with_its_name(small: Path) -> None:
    change(small, "callout.toml", '"ines", "tobias"', '"owner", "caretaker"')
    change(small, "callout.toml", '"ines"', '"owner"')
    add_boat(small, wanted())
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    (nobody, no_detector) = refused.value.mistakes
    assert nobody.file == "callout.toml"
    assert "tells nobody of salt-harrier" in nobody.problem
    assert "on SALT HARRIER: no signal senses gas" in no_detector.problem


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (wanted("LITTLE STINT"), 'the name "LITTLE STINT" is taken by boats/little-stint'),
        (wanted("Little-Stint"), "is taken by boats/little-stint"),
        (wanted("stint"), 'the name "STINT" is taken by boats/little-stint'),
        (wanted(short_name="Stint"), 'the short name "Stint" is taken by boats/little-stint'),
        (wanted(built_on="small-motor-bot"), 'did you mean "small-motor-boat"'),
        (wanted(built_on="../gateway"), "there is no standard/../gateway.toml"),
        (wanted(zone="Europe/Londen"), '"Europe/Londen" is no time zone'),
        (wanted(broker="key"), 'no broker in gateway.toml is called "key"'),
        (wanted("4711"), "Begin with a letter"),
        (wanted("\N{CJK UNIFIED IDEOGRAPH-9DFA}"), "no folder can be named after"),
        (wanted("SALT\nHARRIER"), "write it on one line"),
        (wanted(berth=" C15"), "without blanks round it"),
    ],
    ids=lambda case: case if isinstance(case, str) else "",
)
def test_what_cannot_be_made_is_refused_with_its_cure_and_leaves_nothing_behind(
    small: Path, asked: NewBoat, said: str
) -> None:
    with pytest.raises(NotAdded) as refused:
        add_boat(small, asked)
    assert said in str(refused.value)
    assert [path.name for path in (small / "boats").iterdir()] == ["little-stint"]


def test_a_second_broker_must_be_chosen_and_can_be(small: Path) -> None:
    append(small, "gateway.toml", '[broker.bay]\nhost = "127.0.0.2"\nclient_id = "bay"')
    with pytest.raises(NotAdded, match="2 brokers: quay, bay"):
        add_boat(small, wanted())
    add_boat(small, wanted(broker="bay"))
    assert boat_file(small)["broker"] == "bay"


def test_boats_in_different_zones_leave_the_zone_to_be_said(small: Path) -> None:
    add_boat(small, wanted("TEAL", zone="Europe/Lisbon"))
    with pytest.raises(NotAdded, match="Write --zone"):
        add_boat(small, wanted())


def test_a_last_word_that_another_boat_has_is_no_short_name(small: Path) -> None:
    add_boat(small, wanted("GREEN STINT"))
    assert boat_file(small, "green-stint")["short_name"] == "green stint"


def test_files_that_are_there_already_are_never_written_over(small: Path) -> None:
    add_boat(small, wanted())
    before = (small / "boats/salt-harrier/boat.toml").read_bytes()
    with pytest.raises(NotAdded):
        add_boat(small, wanted(berth="X1"))
    assert (small / "boats/salt-harrier/boat.toml").read_bytes() == before


def test_a_folder_without_gateway_toml_is_no_installation(tmp_path: Path) -> None:
    with pytest.raises(NotAdded, match=r"gateway\.toml is missing"):
        add_boat(tmp_path, wanted())
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "key"), [("SALT HARRIER", "salt-harrier"), ("\u00c9toile d'Or II", "etoile-d-or-ii"), ("Teal", "teal")]
)
def test_the_folder_is_named_after_the_boat(name: str, key: str) -> None:
    assert key_of(name) == key


@given(st.text().filter(str.isprintable))
def test_any_printable_name_is_written_so_that_it_reads_back(name: str) -> None:
    assert tomllib.loads(f"name = {toml_text(name)}")["name"] == name
