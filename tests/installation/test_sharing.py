"""What boats share, as the installer writes it: told together, never with an emergency, slips in names found."""

from pathlib import Path

import pytest

from gateway.boat.settings import Shared
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.second_look import second_look
from gateway.installation.starter import lay_down
from gateway.telling.gathering import Matter
from tests.installation.small_installation import append, loaded


@pytest.fixture
def three(tmp_path: Path) -> Path:
    lay_down(tmp_path, boats=("grey-wagtail", "salt-harrier", "little-stint"))
    return tmp_path


def sharing(folder: Path, boat: str, words: str) -> None:
    path = folder / f"boats/{boat}/boat.toml"
    path.write_text(f"shares = {{ {words} }}\n{path.read_text(encoding='utf-8')}", encoding="utf-8")


def test_silence_of_a_boat_is_a_matter_of_the_link_that_two_boats_share(three: Path) -> None:
    sharing(three, "salt-harrier", 'link = "Creek mast"')
    sharing(three, "little-stint", 'link = "creek  MAST"')
    bundle = loaded(three).bundle
    assert bundle.boats["salt-harrier"].shares == ((Shared.LINK, "Creek mast"),)
    assert {bundle.points[point].boat for point in bundle.matters} == {"salt-harrier", "little-stint"}
    assert all(bundle.points[point].shared is Shared.LINK for point in bundle.matters)
    assert {matter.kind for matter in bundle.matters.values()} == {"link"}
    assert len({matter.name.casefold().split()[0] for matter in bundle.matters.values()}) == 1
    assert isinstance(next(iter(bundle.matters.values())), Matter)


def test_a_link_that_one_boat_has_for_itself_is_no_matter_of_several_and_deserves_a_second_look(three: Path) -> None:
    sharing(three, "little-stint", 'link = "Creek mast"')
    found = loaded(three)
    assert found.bundle.matters == {}
    warnings = second_look(found.bundle, found.places)
    assert any('shares.link: no other boat shares "creek mast"' in one for one in warnings)


def test_an_emergency_is_never_told_as_one_of_many(three: Path) -> None:
    append(three, "boats/little-stint/alarms.toml", '[alarm.fire]\nshared = "berth"')
    with pytest.raises(InstallationRefused) as refused:
        loaded(three)
    assert any("would tell an emergency as one of many" in str(one) for one in refused.value.mistakes)


def test_what_can_be_shared_is_named_when_a_key_is_misspelt(three: Path) -> None:
    sharing(three, "little-stint", 'lnik = "Creek mast"')
    with pytest.raises(InstallationRefused) as refused:
        loaded(three)
    assert any("link" in str(one) for one in refused.value.mistakes)
