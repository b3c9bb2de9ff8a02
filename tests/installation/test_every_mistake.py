"""Every kind of mistake, as data: files in, messages out."""

import shutil
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused

HERE = Path(__file__).parent
CASES = tomllib.loads((HERE / "mistakes.toml").read_text(encoding="utf-8"))["case"]


def laid_down(folder: Path, case: Mapping[str, Any]) -> Path:
    """The small installation with the changes of the case."""
    shutil.copytree(HERE / "small", folder)
    for change in case["change"]:
        path = folder / change["file"]
        if change.get("gone"):
            shutil.rmtree(path) if path.is_dir() else path.unlink()
            continue
        text = change["new"]
        if "old" in change:
            before = path.read_text(encoding="utf-8")
            assert change["old"] in before, f"{change['file']} does not hold {change['old']!r}"
            text = before.replace(change["old"], text, 1)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding=change.get("encoding", "utf-8"))
        path.chmod(0o644)  # whatever the umask: one case is a secret's file that others can read
    return folder


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["what"])
def test_a_mistake_is_told_with_file_line_key_and_cure(case: Mapping[str, Any], tmp_path: Path) -> None:
    folder = laid_down(tmp_path / "installation", case)
    with pytest.raises(InstallationRefused) as refused:
        load(folder, person_id=lambda key: key, environ={"TOKEN": "a secret"})
    assert str(refused.value).split("\n") == case["says"]


def test_the_small_installation_itself_is_without_mistake(tmp_path: Path) -> None:
    folder = laid_down(tmp_path / "installation", {"change": []})
    loaded = load(folder, person_id=lambda key: key, environ={"TOKEN": "a secret"})
    assert loaded.warnings == ()


def test_no_two_cases_are_told_alike() -> None:
    said = [tuple(case["says"]) for case in CASES]
    assert len(set(said)) >= 100
