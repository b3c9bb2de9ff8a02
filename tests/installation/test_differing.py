"""What changes between two installations."""

from collections.abc import Callable
from pathlib import Path

import pytest

from gateway.installation.differing import Difference, differences
from gateway.installation.starter import lay_down
from tests.installation.small_installation import append, change, loaded

Change = Callable[[Path], None]
STANDARD = "standard/motor-yacht-12v.toml"


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, Path]:
    old, new = tmp_path / "old", tmp_path / "new"
    for folder in (old, new):
        lay_down(folder)
    return old, new


def changed(folders: tuple[Path, Path]) -> list[tuple[str, str, str | None, str | None]]:
    old, new = folders
    return [(each.where, each.what, each.old, each.new) for each in differences(loaded(new), loaded(old))]


def test_two_alike_differ_in_nothing(folders: tuple[Path, Path]) -> None:
    assert changed(folders) == []


def test_a_changed_standard_shows_at_every_boat_that_does_not_say_otherwise(folders: tuple[Path, Path]) -> None:
    change(folders[1], STANDARD, "house-volts below 12.0 V for 10 min", "house-volts below 12.1 V for 5 min")
    assert changed(folders) == [
        (boat, "alarm house-low: when", "house-volts below 12.0 V for 10 min", "house-volts below 12.1 V for 5 min")
        for boat in ("grey-wagtail", "little-stint")  # salt-harrier has a limit of its own
    ]


def test_a_signal_an_interlock_and_a_length_are_told_as_they_would_be_written(folders: tuple[Path, Path]) -> None:
    change(folders[1], STANDARD, 'report_interval = "30 s"', 'report_interval = "20 s"')
    change(folders[1], STANDARD, "fuel-level at least 20 %", "fuel-level at least 25 %")
    change(folders[1], STANDARD, 'minimum_off = "10 min"', 'minimum_off = "15 min"')
    assert [each for each in changed(folders) if each[0] == "grey-wagtail"] == [
        ("grey-wagtail", "equipment generator: minimum_off", "10 min", "15 min"),
        (
            "grey-wagtail",
            "equipment generator, interlock fuel: needs",
            "fuel-level at least 20 %",
            "fuel-level at least 25 %",
        ),
        ("grey-wagtail", "signal house-volts: report_interval", "30 s", "20 s"),
    ]


def test_an_alarm_that_comes_and_one_that_goes_are_one_line_each(folders: tuple[Path, Path]) -> None:
    change(folders[1], "boats/little-stint/alarms.toml", '"fridge-warm"', '"fridge-warm", "hatch-open"')
    alarm = '[alarm.post]\nname = "Post open"\npriority = "caution"\nwhen = "shore off for 60 s"\ncallout = "ordinary"'
    append(folders[1], "boats/little-stint/alarms.toml", alarm)
    assert changed(folders) == [
        ("little-stint", "alarm hatch-open", "Hatch open", None),
        ("little-stint", "alarm post", None, "Post open"),
    ]


def test_a_boat_that_goes_is_one_line_and_not_one_for_every_signal(folders: tuple[Path, Path], tmp_path: Path) -> None:
    lay_down(tmp_path / "two", boats=("grey-wagtail", "salt-harrier"))
    found = changed((folders[0], tmp_path / "two"))
    assert [each for each in found if each[0] not in ("people",)] == [("little-stint", "boat", "LITTLE STINT", None)]
    assert ("people", "person hanno", "Hanno Tregale", None) in found
    back = changed((tmp_path / "two", folders[0]))
    assert ("little-stint", "boat", None, "LITTLE STINT") in back


def test_people_are_told_with_masked_numbers(folders: tuple[Path, Path]) -> None:
    change(folders[1], "people.toml", "900123", "900124")
    change(folders[1], "people.toml", 'actions = ["off"]', 'actions = ["on", "off"]')
    found = changed(folders)
    assert [each[:2] for each in found] == [("people", "person hanno: rights"), ("people", "person ines: number")]
    assert found[0][2:] == ("little-stint * off", "little-stint * on off")
    assert "7700900" not in str(found)


def test_a_changed_round_shows_at_each_boat_with_who_is_told_there(folders: tuple[Path, Path]) -> None:
    change(folders[1], "callout.toml", '{ after = "5 min", tell = ["owner"] }', '{ after = "4 min", tell = ["owner"] }')
    assert changed(folders)[0] == (
        "grey-wagtail",
        "call-out urgent: steps",
        "0 s tobias; 5 min ines; 10 min tobias, ines",
        "0 s tobias; 4 min ines; 10 min tobias, ines",
    )
    assert [each[0] for each in changed(folders)] == ["grey-wagtail", "little-stint", "salt-harrier"]


def test_a_list_of_persons_is_told_once_for_all(folders: tuple[Path, Path]) -> None:
    for folder in folders:
        append(folder, "callout.toml", '[list.spare]\nsteps = [{ after = "0 s", tell = ["tobias"] }]')
    append(folders[1], "callout.toml", 'repeat = "20 min"')
    assert changed(folders) == [("call-outs", "call-out spare: repeat", "-", "20 min")]


def test_links_are_told_without_their_secrets(folders: tuple[Path, Path]) -> None:
    change(
        folders[1], "gateway.toml", "port = 1883", 'port = 8883\nuser = "boats"\npassword_from = { variable = "TOKEN" }'
    )
    found = changed(folders)
    assert found == [
        ("gateway", "broker quay: port", "1883", "8883"),
        ("gateway", "broker quay: user", "-", "boats"),
    ]
    assert "a secret" not in str(found)


def test_another_standard_is_told_as_such(folders: tuple[Path, Path]) -> None:
    old, new = folders
    (new / "standard/fast.toml").write_text((new / STANDARD).read_text(encoding="utf-8"), encoding="utf-8")
    change(new, "boats/little-stint/boat.toml", "motor-yacht-12v", "fast")
    assert differences(loaded(new), loaded(old)) == (
        Difference(where="little-stint", what="boat: built_on", old="motor-yacht-12v", new="fast"),
    )
