"""`heavingline demo`, by the real command."""

from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from gateway.cli.commands import heavingline
from tests.conftest import demo


@pytest.mark.long
def test_a_demo_that_keeps_nothing_prints_the_same(played: Any) -> None:
    assert played.printed.splitlines() == [*demo().splitlines(), f"Kept: {played.folder}"]


def test_the_demo_tells_both_phones_and_commands_the_boat_as_it_should(played: Any) -> None:
    for line in ("to Ines", "to Tobias", "BILGE HIGH WATER", "NOT started", "231 V", "boat silent"):
        assert line in played.printed
    assert "Commands that the boat obeyed: generator start, generator stop." in played.printed


def test_a_kept_demo_is_an_installation_that_check_accepts(played: Any) -> None:
    result = CliRunner().invoke(heavingline, ["check", str(played.folder)])
    assert result.exit_code == 0, result.output


def test_the_demo_refuses_a_folder_with_files_in_it_and_leaves_them(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    result = CliRunner().invoke(heavingline, ["demo", "--keep", str(tmp_path)])
    assert result.exit_code == 2
    assert "Name an empty or a new folder" in result.output
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]
