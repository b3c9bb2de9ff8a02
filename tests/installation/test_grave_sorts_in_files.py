"""Heat and inverter are held to what an engine is held to when the installation is read (handbook 5.1 G0, 5.2)."""

from pathlib import Path

import pytest

from gateway.installation.mistakes import InstallationRefused
from tests.installation.small_installation import append, change, laid, loaded

PIECE = """
[equipment.piece]
name = "piece"
sort = "{sort}"
pair = ["on", "off"]
topic = "{{boat}}/command/piece"
feedback = "running"
count = "count"
caution = "Mind it."
{more}
"""
LIMITS = 'run_limit = "2 h"\ndefault_run = "1 h"'
MORE = {"heat": LIMITS, "inverter": ""}


def with_piece(folder: Path, sort: str, *, more: str | None = None) -> Path:
    """The small installation with one more piece of this sort, and without its generator."""
    laid(folder)
    file = "standard/small-motor-boat.toml"
    append(folder, file, PIECE.format(sort=sort, more=MORE[sort] if more is None else more))
    append(folder, "boats/little-stint/equipment.toml", "")
    return folder


def mistakes(folder: Path) -> str:
    with pytest.raises(InstallationRefused) as refused:
        loaded(folder)
    return str(refused.value)


@pytest.mark.parametrize("sort", MORE)
def test_with_selector_detectors_and_caution_it_is_taken(tmp_path: Path, sort: str) -> None:
    assert "little-stint/piece" in loaded(with_piece(tmp_path / "one", sort)).bundle.equipment


@pytest.mark.parametrize("sort", MORE)
def test_without_a_selector_it_is_refused(tmp_path: Path, sort: str) -> None:
    folder = with_piece(tmp_path / "one", sort)
    change(folder, "boats/little-stint/signals.toml", "# Little differs.", 'leave_out = ["selector"]')
    assert "equipment.piece.selector: is missing" in mistakes(folder)


@pytest.mark.parametrize("sort", MORE)
def test_without_a_caution_it_is_refused(tmp_path: Path, sort: str) -> None:
    folder = with_piece(tmp_path / "one", sort)
    change(folder, "standard/small-motor-boat.toml", 'caution = "Mind it."', 'caution = ""')
    assert "equipment.piece.caution: is missing" in mistakes(folder)


def test_a_heater_without_a_limit_or_with_a_longer_one_than_three_hours_is_refused(tmp_path: Path) -> None:
    assert "equipment.piece.run_limit: is missing" in mistakes(with_piece(tmp_path / "one", "heat", more=""))
    longer = with_piece(tmp_path / "two", "heat", more='run_limit = "4 h"\ndefault_run = "1 h"')
    assert "equipment.piece.run_limit: is 4 h; write at most 3 h" in mistakes(longer)


def test_a_heater_rests_ten_minutes_after_a_failure_and_is_tried_three_times_at_most(tmp_path: Path) -> None:
    piece = loaded(with_piece(tmp_path / "one", "heat")).bundle.equipment["little-stint/piece"]
    assert (piece.attempts, piece.cooling_off) == (3, 10 * 60_000)
    shorter = with_piece(tmp_path / "two", "heat", more=f'{LIMITS}\ncooling_off = "9 min"\nattempts = 4')
    said = mistakes(shorter)
    assert "equipment.piece.cooling_off: is 9 min; write at least 10 min" in said
    assert "equipment.piece.attempts: is 4; write 1 to 3" in said


def test_a_heater_without_a_detector_of_carbon_monoxide_is_refused(tmp_path: Path) -> None:
    folder = with_piece(tmp_path / "one", "heat")
    file = "standard/small-motor-boat.toml"
    change(folder, file, 'senses = "carbon monoxide"', "")
    change(folder, file, 'concerns = "carbon monoxide"', "")
    said = mistakes(folder)
    assert "equipment.piece: may not be started from afar on LITTLE STINT: no signal senses carbon monoxide" in said
