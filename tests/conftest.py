"""For all tests: what runs when, what runs beside what, and one demo that is played for all.

The everyday run leaves out three kinds, which ``.ci/run`` carries out: ``struck`` (kills, cuts and flips), ``long``
(whole nights on the real service and others that take seconds, each with a shorter one that stays) and all benchmarks.
The long run (HEAVINGLINE_STRUCK=1) takes them in, and random tests then try all of their examples: see effort.py.
Where tests run side by side (``-n 2 --dist loadgroup``), those of one file stay together, because they share a broker
or a folder; and so do all that look at the played demo.
"""

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import settings

from tests.effort import LONG_RUN, tries

# Speed is measured by the benchmarks, never by a test's own clock.
settings.register_profile("ours", deadline=None, max_examples=tries(100))
settings.load_profile("ours")

TOP = Path(__file__).parents[1]
TESTS = Path(__file__).parent
BENCHMARKS = TESTS / "benchmarks"
LEFT_OUT = ("struck", "long", "benchmark")


def pytest_itemcollected(item: pytest.Item) -> None:
    """Group each test: here and not when all are collected, for by then the groups have been read."""
    of_demo = "played" in getattr(item, "fixturenames", ())
    item.add_marker(pytest.mark.xdist_group("the played demo" if of_demo else str(item.path.relative_to(TESTS))))
    if BENCHMARKS in item.path.parents:
        item.add_marker(pytest.mark.benchmark)
    if getattr(getattr(item, "obj", None), "is_hypothesis_test", False) or item.name == "runTest":
        item.add_marker(pytest.mark.random)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what takes long, unless it is the long run or somebody names marks or single tests."""
    if LONG_RUN or config.option.markexpr or any("::" in wanted for wanted in config.args):
        return
    left = {item: any(item.get_closest_marker(kind) for kind in LEFT_OUT) for item in items}
    config.hook.pytest_deselected(items=[item for item in items if left[item]])
    items[:] = [item for item in items if not left[item]]


@dataclass(frozen=True, slots=True)
class Played:
    """folder: what `demo --keep` left. printed: what it said meanwhile."""

    folder: Path
    printed: str


def demo(*options: str) -> str:
    """Play the demo by the real command, with its own broker, carrier and store. Returns what it printed."""
    command = [sys.executable, "-m", "gateway", "demo", *options]
    run = subprocess.run(command, cwd=TOP, capture_output=True, timeout=150, check=False)
    printed = run.stdout.decode() + run.stderr.decode()
    assert run.returncode == 0, f"the demo did not play to its end:\n{printed}"
    return printed


@pytest.fixture(scope="session")
def played(tmp_path_factory: pytest.TempPathFactory) -> Played:
    """The demo, played once for all and kept."""
    folder = tmp_path_factory.mktemp("kept") / "demo"
    return Played(folder, demo("--keep", str(folder)))
