"""One signal table that stands for many."""

import shutil
from decimal import Decimal
from pathlib import Path

from gateway.boat.settings import Signal
from gateway.installation.load import Installation, load

SMALL = Path(__file__).parent / "small"

TANKS = """
[signal.level]
topic = "{boat}/tank/{tank}/{side}"
pointer = "/{side}/percent"
unit = "%"
report_interval = "30 s"
for_each = { tank = ["fuel", "water"], side = ["port", "2"] }

[signal.level-water-2]
scale = 0.5
"""


def loaded(tmp_path: Path, standard: str = "", own: str = "") -> dict[str, Signal]:
    """Signals of LITTLE STINT by key, with these lines added to the standard and to her own file."""
    found = read(tmp_path, standard, own)
    return {one.key: one for one in found.bundle.signals.values() if one.boat == "little-stint"}


def read(tmp_path: Path, standard: str = "", own: str = "") -> Installation:
    folder = tmp_path / "installation"
    shutil.copytree(SMALL, folder)
    for name, more in (("standard/small-motor-boat.toml", standard), ("boats/little-stint/signals.toml", own)):
        path = folder / name
        path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    (folder / "people.toml").chmod(0o644)
    return load(folder, person_id=lambda key: key, environ={"TOKEN": "a secret"})


def test_a_table_with_levels_is_one_signal_for_each_of_them_with_topic_and_pointer_filled_in(tmp_path: Path) -> None:
    signals = loaded(tmp_path, own=TANKS)
    found = {key: (one.topic, one.pointer) for key, one in signals.items() if key.startswith("level")}
    assert found == {
        "level-fuel-port": ("little-stint/tank/fuel/port", "/port/percent"),
        "level-fuel-2": ("little-stint/tank/fuel/2", "/2/percent"),
        "level-water-port": ("little-stint/tank/water/port", "/port/percent"),
        "level-water-2": ("little-stint/tank/water/2", "/2/percent"),
    }


def test_a_table_of_the_longer_name_lays_its_differences_over_that_one_alone(tmp_path: Path) -> None:
    signals = loaded(tmp_path, own=TANKS)
    assert {key: one.scale for key, one in signals.items() if one.scale != 1} == {"level-water-2": Decimal("0.5")}


def test_one_table_of_a_standard_serves_many_boats_and_a_boat_says_which_she_has(tmp_path: Path) -> None:
    own = '\n[signal.level]\nfor_each = { tank = ["fuel"] }\n'
    signals = loaded(tmp_path, standard=TANKS.split("[signal.level-water-2]", maxsplit=1)[0], own=own)
    assert {key for key in signals if key.startswith("level")} == {"level-fuel-port", "level-fuel-2"}


NAMED = """
[signal.level]
topic = "{boat}/tank/+tank/{side}/level"
unit = "%"
report_interval = "30 s"
for_each = { tank = { fuel = "TANK_1", water = "TANK_2" }, side = ["port", "aft"] }
"""


def test_a_named_level_makes_a_signal_of_each_name_under_the_word_that_the_bus_has_for_it(tmp_path: Path) -> None:
    signals = loaded(tmp_path, own=NAMED)
    assert {key: one.topic for key, one in signals.items() if key.startswith("level")} == {
        "level-fuel-port": "little-stint/tank/TANK_1/port/level",
        "level-fuel-aft": "little-stint/tank/TANK_1/aft/level",
        "level-water-port": "little-stint/tank/TANK_2/port/level",
        "level-water-aft": "little-stint/tank/TANK_2/aft/level",
    }


def test_what_a_named_level_lets_in_is_subscribed_to_once_and_not_topic_by_topic(tmp_path: Path) -> None:
    more = '\n[signal.other]\ntopic = "{boat}/tank/TANK_7/aft/level"\nreport_interval = "30 s"\n'
    moved = '\n[signal.level-fuel-aft]\ntopic = "{boat}/moved"\n'
    (topics,) = read(tmp_path, own=NAMED + more + moved).topics.values()
    assert [topic for topic in topics if "tank" in topic or "moved" in topic] == [
        "little-stint/moved",
        "little-stint/tank/+/aft/level",
        "little-stint/tank/+/port/level",
    ]
