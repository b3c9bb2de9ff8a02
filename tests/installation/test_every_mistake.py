"""Every kind of mistake, as data: files in, messages out."""

import shutil
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from tests.effort import some_of

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


BESIDE = (
    {"file": "people.toml", "old": 'zone = "Europe/London"', "new": 'zone = "Europe/Londn"'},
    {
        "file": "boats/little-stint/signals.toml",
        "old": 'report_interval = "20 s"',
        "new": 'report_interval = "20 s"\nponiter = "/x"',
    },
)
"""Faults of shape in two files that most of the others stand on. A case that is `alone` is looked at only where all
else is in order: how long a text comes out with the longest names hangs on all files."""
TOGETHER = [case for case in CASES if not case.get("alone")]


@pytest.mark.parametrize(
    "case", some_of((one for one in CASES if not one.get("alone")), 8), ids=lambda one: one["what"]
)
def test_values_of_no_meaning_elsewhere_hide_no_mistake_and_bring_forth_none(
    case: Mapping[str, Any], tmp_path: Path
) -> None:
    touched = {change["file"] for change in case["change"]}
    beside = [change for change in BESIDE if not change["file"].startswith(tuple(touched))]
    folder = laid_down(tmp_path / "installation", {"change": [*case["change"], *beside]})
    with pytest.raises(InstallationRefused) as refused:
        load(folder, person_id=lambda key: key, environ={"TOKEN": "a secret"})
    ours = ("zone", "poniter")
    said = [str(mistake) for mistake in refused.value.mistakes if mistake.key.rpartition(".")[2] not in ours]
    assert said == [line for line in case["says"] if line.split(": ")[1].rpartition(".")[2] not in ours]
