"""Logbooks of earlier releases fold to the state they had, for ever; no kind of entry changes without a new version."""

import json
import shutil
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

import pytest

from gateway.desk.facts import TimeFell
from gateway.desk.kinds import BY_KIND
from gateway.desk.snapshots import state_bytes
from gateway.doors.store import open_reader, open_store
from gateway.logbook.verify import verify
from gateway.vocabulary.facts import Fact
from tests.golden.make import HERE, LARGEST, TOP, folded, kinds

RELEASES = sorted(folder.name for folder in HERE.iterdir() if (folder / "store").exists())


@pytest.fixture(params=RELEASES)
def release(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A copy of one release's folder, its store brought up to the present form as a start does."""
    copy: Path = tmp_path / request.param
    shutil.copytree(HERE / request.param, copy)
    open_store(copy / "store").close()
    return copy


def differences(recorded: Any, found: Any, where: str = "state") -> list[str]:
    """Where the state says something else than was recorded. Fields that are new since then are passed over."""
    if isinstance(recorded, dict) and isinstance(found, dict):
        gone = [f"{where}.{name} is gone" for name in recorded if name not in found]
        return gone + [
            other
            for name in recorded
            if name in found
            for other in differences(recorded[name], found[name], f"{where}.{name}")
        ]
    if isinstance(recorded, list) and isinstance(found, list) and len(recorded) == len(found):
        pairs = enumerate(zip(recorded, found, strict=True))
        return [other for place, (old, new) in pairs for other in differences(old, new, f"{where}[{place}]")]
    return [] if recorded == found else [f"{where} was {recorded!r}, and is {found!r}"]


def changed(recorded: dict[str, dict[str, dict[str, str]]], present: dict[str, dict[str, dict[str, str]]]) -> list[str]:
    """Kinds of entries that are gone, or hold other fields under a version that is recorded."""
    found = []
    for kind, versions in recorded.items():
        if kind not in present:
            found.append(f"{kind} is gone: old logbooks hold it for ever")
        for version, fields in versions.items():
            if present.get(kind, {}).get(version, fields) != fields:
                found.append(f"{kind} has other fields: raise its version and lift what version {version} said")
    return found


def test_this_release_has_its_logbook_here() -> None:
    version = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    assert version in RELEASES, "run: python -m tests.golden.make"


def test_it_folds_to_the_state_it_had(release: Path) -> None:
    recorded = json.loads((release / "state.json").read_text(encoding="utf-8"))
    found = json.loads(state_bytes(folded(release / "store").state))
    assert differences(recorded, found) == []
    assert recorded["heads"]["n"] > 100, "it is a whole night, not an empty one"


def test_it_verifies(release: Path) -> None:
    with open_reader(release / "store") as reader:
        report = verify(reader)
    assert report.ok
    assert all(boat.changed == boat.no_longer_kept == 0 < boat.kept for boat in report.hours)
    assert report.readings > 1_000


def test_it_holds_most_of_what_a_night_can_bring() -> None:
    with open_reader(HERE / RELEASES[-1] / "store") as reader:
        held = {str(row.kind) for row in reader.entries()}
    assert {"alarm-step", "text-queued", "text-answered", "request-step", "code-made", "hour-kept", "run-ended"} <= held


def test_no_kind_of_entry_has_changed_without_a_new_version() -> None:
    for name in RELEASES:
        recorded = json.loads((HERE / name / "kinds.json").read_text(encoding="utf-8"))
        assert changed(recorded, kinds()) == [], name


def test_a_logbook_stays_small() -> None:
    for name in RELEASES:
        assert (HERE / name / "store").stat().st_size <= LARGEST


# ---------------------------------------------------------------- the checks themselves


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeFellLater(Fact):
    """As `TimeFell`, with a field more and no new version."""

    kind: ClassVar[str] = TimeFell.kind
    what: str


def test_a_field_more_under_the_same_version_would_be_found(monkeypatch: pytest.MonkeyPatch) -> None:
    recorded = kinds()
    monkeypatch.setitem(BY_KIND, TimeFell.kind, TimeFellLater)
    assert changed(recorded, kinds()) == ["time-fell has other fields: raise its version and lift what version 1 said"]
    monkeypatch.setattr(TimeFellLater, "version", 2)
    assert changed(recorded, kinds()) == []
    monkeypatch.delitem(BY_KIND, TimeFell.kind)
    assert changed(recorded, kinds()) == ["time-fell is gone: old logbooks hold it for ever"]


def test_a_state_that_differs_would_be_found() -> None:
    old = {"a": 1, "b": [{"c": "x"}], "d": []}
    assert differences(old, {"a": 1, "b": [{"c": "x", "new": 2}], "d": [], "new": 3}) == []
    assert len(differences(old, {"a": 2, "b": [{"c": "y"}], "d": [1]})) == 3
    assert differences(old, {"a": 1, "b": [{}]}) == ["state.d is gone", "state.b[0].c is gone"]
