"""What is not watched."""

from dataclasses import replace
from pathlib import Path

import pytest

from gateway.installation.not_watched import HAZARDS, not_watched
from gateway.installation.starter import starter
from tests.installation.small_installation import append, change, laid, loaded, without_generator


@pytest.fixture
def small(tmp_path: Path) -> Path:
    return laid(tmp_path / "installation")


def found(folder: Path, kind: str, boat: str = "little-stint") -> dict[str, str]:
    installation = loaded(folder)
    rows = not_watched(installation.bundle, installation.no_gas_aboard)
    return {row.what: row.why for row in rows if row.kind == kind and row.boat == boat}


def test_a_hazard_without_an_alarm_is_named_with_its_row_in_the_handbook(small: Path) -> None:
    hazards = found(small, "hazard")
    assert hazards["shore power"] == "no alarm tells of it (handbook 3, P04)"
    assert "start battery" in hazards
    assert not {"fire or smoke", "carbon monoxide", "house bank", "high water in the bilge"} & set(hazards)


def test_gas_that_is_not_aboard_is_named_with_who_says_so(small: Path) -> None:
    assert found(small, "hazard")["gas or petrol vapour"].startswith("none is aboard (Ruth Okell:")


@pytest.mark.parametrize(
    ("left_out", "hazard"),
    [("fire", "fire or smoke"), ("co", "carbon monoxide"), ("bilge-high", "high water in the bilge")],
)
def test_a_grave_alarm_left_out_is_seen_at_once(small: Path, left_out: str, hazard: str) -> None:
    without_generator(small)
    change(small, "boats/little-stint/alarms.toml", "[alarm", f'leave_out = ["{left_out}"]\n[alarm')
    assert hazard in found(small, "hazard")


def test_a_detector_whose_silence_alone_is_told_watches_nothing() -> None:
    """The starter supervises its detectors: with the alarm itself left out that must not pass for a watch on fire."""
    stint = {"fire", "co", "bilge-high"}
    bundle = loaded(starter()).bundle
    left = {
        key: point for key, point in bundle.points.items() if point.boat != "little-stint" or point.key not in stint
    }
    assert {"fire-silent", "co-silent"} <= {point.key for point in left.values() if point.boat == "little-stint"}
    rows = not_watched(replace(bundle, points=left), {})
    hazards = {row.what for row in rows if row.boat == "little-stint" and row.kind == "hazard"}
    assert {"fire or smoke", "carbon monoxide", "high water in the bilge"} <= hazards


def test_a_pump_that_runs_long_does_not_stand_for_high_water(small: Path) -> None:
    pump = (
        '[alarm.bilge-pump]\nname = "Bilge pump runs long"\npriority = "alarm"\nwhen = "bilge-high on for 5 min"\n'
        'concerns = "flooding"\ncallout = "danger"'
    )
    append(small, "boats/little-stint/alarms.toml", pump)
    change(small, "boats/little-stint/alarms.toml", "[alarm", 'leave_out = ["bilge-high"]\n[alarm')
    assert "high water in the bilge" in found(small, "hazard")
    assert "bilge pump runs too long" not in found(small, "hazard")


def test_a_boat_whose_silence_nobody_is_told_is_named(small: Path) -> None:
    change(small, "boats/little-stint/alarms.toml", "[alarm", 'leave_out = ["silent"]\n[alarm')
    assert "silence of the boat" in found(small, "hazard")


def test_a_signal_that_no_alarm_looks_at_is_named_with_what_it_is_for(small: Path) -> None:
    assert found(small, "signal") == {
        "heartbeat": "only as a sign of life",
        "hatch": "only for the interlocks",
        "selector": "only for switching",
        "running": "only for switching",
        "count": "only for switching",
    }


def test_a_detector_whose_own_silence_is_not_told_is_named_until_an_alarm_says_it(small: Path) -> None:
    assert set(found(small, "silence")) == {"bilge-high", "fire", "co"}
    alarm = '[alarm.fire-silent]\nname = "Fire detector silent"\npriority = "warning"\ncallout = "danger"\n'
    append(small, "boats/little-stint/alarms.toml", f'{alarm}when = "no news from fire for 10 min"')
    assert set(found(small, "silence")) == {"bilge-high", "co"}


def test_the_starters_boats_leave_open_what_their_files_leave_out() -> None:
    assert "shore power" in found(starter(), "hazard", "salt-harrier")
    assert "shore power" not in found(starter(), "hazard", "grey-wagtail")
    assert "cold food" in found(starter(), "hazard", "little-stint")


def test_every_hazard_has_a_row_of_the_handbook_of_its_own() -> None:
    assert len({hazard.row for hazard in HAZARDS}) == len(HAZARDS)
