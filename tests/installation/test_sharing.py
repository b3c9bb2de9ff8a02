"""What boats share, as the installer writes it: told together, never with an emergency, slips in names found."""

from pathlib import Path

import pytest

from gateway.boat.settings import Shared
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.second_look import second_look
from gateway.telling.gathering import Matter
from tests.installation.small_installation import append, change, laid, loaded

BOAT, ALARMS = "boats/little-stint/boat.toml", "boats/little-stint/alarms.toml"
SILENT = """
[alarm.quiet]
name = "Nothing heard"
priority = "warning"
when = "no news for 20 min"
callout = "danger"
"""


@pytest.fixture
def small(tmp_path: Path) -> Path:
    return laid(tmp_path / "installation")


def sharing(folder: Path, boat: str, words: str) -> None:
    path = folder / f"boats/{boat}/boat.toml"
    path.write_text(f"shares = {{ {words} }}\n{path.read_text(encoding='utf-8')}", encoding="utf-8")


def test_silence_of_a_boat_is_a_matter_of_the_link_that_two_boats_share(small: Path) -> None:
    append(small, ALARMS, SILENT)
    keys = [path.name for path in sorted((small / "boats").iterdir())]
    assert len(keys) > 1, keys
    sharing(small, keys[0], 'link = "Creek mast"')
    sharing(small, keys[1], 'link = "creek  MAST"')
    bundle = loaded(small).bundle
    assert bundle.boats[keys[0]].shares == ((Shared.LINK, "Creek mast"),)
    assert bundle.matters["little-stint/quiet"] == Matter("link", "Creek mast")
    assert all(bundle.points[point].shared is Shared.LINK for point in bundle.matters)


def test_a_link_that_one_boat_has_for_itself_is_no_matter_of_several_and_deserves_a_second_look(small: Path) -> None:
    append(small, ALARMS, SILENT)
    sharing(small, "little-stint", 'link = "Creek mast"')
    found = loaded(small)
    assert found.bundle.matters == {}
    assert any(
        'shares.link: no other boat shares "creek mast"' in one for one in second_look(found.bundle, found.places)
    )


def test_an_emergency_is_never_told_as_one_of_many(small: Path) -> None:
    change(small, ALARMS, 'priority = "emergency"', 'priority = "emergency"\nshared = "berth"')
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    assert any("would tell an emergency as one of many" in str(one) for one in refused.value.mistakes)


def test_what_can_be_shared_is_named_when_a_key_is_misspelt(small: Path) -> None:
    sharing(small, "little-stint", 'lnik = "Creek mast"')
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    assert any("link" in str(one) for one in refused.value.mistakes)
