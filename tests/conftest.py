"""For all tests: what runs when, what runs beside what, and one demo that is played for all.

The long kill and flip runs are left to the check before a release: they take place when the mark is asked for
(``-m struck``) or with HEAVINGLINE_STRUCK=1. Where tests run side by side (``-n 2 --dist loadgroup``), those of one
file stay together, because they share a broker or a folder; and so do all that look at the played demo.
The demo is played once and kept, and beside it a second one that is not kept.
"""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("ours", deadline=None)  # speed is measured by the benchmarks, never by a test's own clock
settings.load_profile("ours")

TOP = Path(__file__).parents[1]
TESTS = Path(__file__).parent


def pytest_itemcollected(item: pytest.Item) -> None:
    """Group each test: here and not when all are collected, for by then the groups have been read."""
    of_demo = "played" in getattr(item, "fixturenames", ())
    item.add_marker(pytest.mark.xdist_group("the played demo" if of_demo else str(item.path.relative_to(TESTS))))


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if "struck" in str(config.option.markexpr) or os.environ.get("HEAVINGLINE_STRUCK") == "1":
        return
    struck = [item for item in items if item.get_closest_marker("struck")]
    if struck:
        config.hook.pytest_deselected(items=struck)
        items[:] = [item for item in items if not item.get_closest_marker("struck")]


@dataclass(frozen=True, slots=True)
class Played:
    """folder: what `demo --keep` left. kept, plain: what was printed, with and without `--keep`. codes: exit codes."""

    folder: Path
    kept: str
    plain: str
    codes: tuple[int, int]


@pytest.fixture(scope="session")
def played(tmp_path_factory: pytest.TempPathFactory) -> Played:
    """Two demos by the real command, side by side, each with its own broker, carrier and store."""
    folder = tmp_path_factory.mktemp("kept") / "demo"
    runs = [
        subprocess.Popen(
            [sys.executable, "-m", "gateway", "demo", *options],
            cwd=TOP,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
        )
        for options in (["--keep", str(folder)], [])
    ]
    kept, plain = (run.communicate(timeout=150)[0] for run in runs)
    codes = runs[0].returncode, runs[1].returncode
    assert codes == (0, 0), f"a demo did not play to its end:\n{kept}\n{plain}"
    return Played(folder, kept, plain, codes)
