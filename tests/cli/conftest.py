"""One demo is played once for all tests of the command line, kept, and beside it a second one that is not kept."""

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]


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
    kept, plain = (run.communicate(timeout=50)[0] for run in runs)
    return Played(folder, kept, plain, (runs[0].returncode, runs[1].returncode))
