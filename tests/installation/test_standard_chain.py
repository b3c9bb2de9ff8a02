"""Standards that are built on one another."""

from pathlib import Path

import pytest

from gateway.installation.adding import NewBoat, add_boat
from gateway.installation.load import Installation, load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import lay_down
from grammar.meanings import say_condition

UPPER = """built_on = "motor-yacht-12v"
leave_out = ["fuel-low"]

[alarm.house-low]
when = "house-volts below 24.0 V for 10 min"
clears = "house-volts above 24.4 V for 60 s"

[signal.bilge-aft]
topic = "{boat}/bilge/aft"
carries = "contact"
report_interval = "60 s"

[alarm.bilge-aft]
name = "Water aft"
priority = "warning"
when = "bilge-aft on for 15 s"
clears = "bilge-aft off for 60 s"
callout = "ordinary"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lay_down(tmp_path / "boats", boats=("grey-wagtail",))
    (tmp_path / "boats/standard/upper.toml").write_text(UPPER, encoding="utf-8")
    build_on(tmp_path / "boats", "upper")
    return tmp_path / "boats"


def build_on(folder: Path, name: str) -> None:
    file = folder / "boats/grey-wagtail/boat.toml"
    lines = [f'built_on = "{name}"' if "built_on" in line else line for line in file.read_text().splitlines()]
    file.write_text("\n".join(lines), encoding="utf-8")


def loaded(folder: Path) -> Installation:
    return load(folder, person_id=str, environ={"HEAVINGLINE_CARRIER_TOKEN": "x"})


def refused(folder: Path) -> str:
    with pytest.raises(InstallationRefused) as told:
        loaded(folder)
    return str(told.value)


def test_what_the_upper_says_holds_and_the_rest_is_the_lowers(folder: Path) -> None:
    points = loaded(folder).bundle.points
    assert "24.0 V" in say_condition(points["grey-wagtail/house-low"].when)
    assert points["grey-wagtail/house-low"].name == "House bank low"
    assert points["grey-wagtail/bilge-aft"].name == "Water aft"
    assert "grey-wagtail/fuel-low" not in points
    assert "grey-wagtail/fire" in points


def test_the_boat_still_says_the_last_word(folder: Path) -> None:
    file = folder / "boats/grey-wagtail/alarms.toml"
    file.write_text('leave_out = ["bilge-aft"]\n[alarm.house-low]\nname = "Bank low"\n', encoding="utf-8")
    points = loaded(folder).bundle.points
    assert points["grey-wagtail/house-low"].name == "Bank low"
    assert "grey-wagtail/bilge-aft" not in points


def test_three_standards_may_stand_on_one_another(folder: Path) -> None:
    text = 'built_on = "upper"\n[alarm.bilge-aft]\nname = "Water in the lazarette"\n'
    (folder / "standard/top.toml").write_text(text, encoding="utf-8")
    build_on(folder, "top")
    points = loaded(folder).bundle.points
    assert points["grey-wagtail/bilge-aft"].name == "Water in the lazarette"
    assert "grey-wagtail/fuel-low" not in points


def test_a_mistake_is_named_where_it_was_written(folder: Path) -> None:
    file = folder / "standard/upper.toml"
    file.write_text(UPPER.replace('"bilge-aft on for 15 s"', '"bilge-oft on for 15 s"'), encoding="utf-8")
    assert "standard/upper.toml, line 16: alarm.bilge-aft.when" in refused(folder)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"motor-yacht-12v"', '"motor-yacht-12"', "there is no file standard/motor-yacht-12.toml"),
        ('"motor-yacht-12v"', '"upper"', "comes back to itself"),
        ('["fuel-low"]', '["fuel-lo"]', '"fuel-lo" is not in what this is built on'),
        ('["fuel-low"]', '["house-low"]', '"house-low" is left out here and changed below'),
        ('["fuel-low"]', '"fuel-low"', "is no list of names"),
    ],
)
def test_what_does_not_fit_is_a_mistake_with_its_place(folder: Path, old: str, new: str, said: str) -> None:
    (folder / "standard/upper.toml").write_text(UPPER.replace(old, new, 1), encoding="utf-8")
    told = refused(folder)
    assert said in told
    assert "standard/upper.toml, line" in told


def test_a_new_boat_is_shown_all_the_tables_of_the_whole_chain(folder: Path) -> None:
    add_boat(folder, NewBoat(name="TEAL", built_on="upper", zone="Europe/London"))
    alarms = (folder / "boats/teal/alarms.toml").read_text(encoding="utf-8")
    assert "bilge-aft" in alarms
    assert "house-low" in alarms
    assert "fuel-low" not in alarms
