"""What no file of the project may hold: paths of one machine, and words about how the work was organised."""

import re
from functools import cache
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]
OF_TOOLS = {".git", ".venv", "__pycache__", "dist", "build"}

HOMES = r"(?<![\w./])/(?:work|opt|tmp|home|root|Users)(?:/|\b)"
WORKERS = "|".join(["agent", "assistant", "sub" + "agent", "chat" + "bot"])
WORK = rf"\b(?:{WORKERS})s?\b"
SITTING = r"\b[Ss]essions?\b"
OF_A_BROKER = r"(?:our|persistent|clean|no|the|MQTT|keeps) [Ss]essions?\b|[Ss]essions? (?:stays|taken over)|session_"
OF_PYTEST = r"scope=\"session\""
"""A session is also what a broker keeps of a client (MQTT 5, 4.1), and pytest's word for one run."""


def files() -> list[Path]:
    found = (path for path in TOP.rglob("*") if path.is_file())
    return sorted(path for path in found if not _of_tools(path.relative_to(TOP)) and path != Path(__file__))


def _of_tools(path: Path) -> bool:
    return any(part in OF_TOOLS or part.endswith(("_cache", ".egg-info", ".hypothesis")) for part in path.parts[:-1])


@cache  # when first asked for: all other tests would wait for it
def lines() -> list[tuple[str, str]]:
    told = []
    for path in files():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        told += [(f"{path.relative_to(TOP)}:{number}", line) for number, line in enumerate(text.splitlines(), 1)]
    return told


def test_there_are_files_to_look_at() -> None:
    assert len(lines()) > 10_000


@pytest.mark.parametrize("pattern", [HOMES, WORK])
def test_no_line_holds_a_path_of_one_machine_or_a_word_of_the_workplace(pattern: str) -> None:
    assert [(place, line) for place, line in lines() if re.search(pattern, line)] == []


def test_a_session_is_only_ever_that_of_a_broker_or_of_pytest() -> None:
    odd = [
        (place, line) for place, line in lines() if re.search(SITTING, re.sub(f"{OF_A_BROKER}|{OF_PYTEST}", "", line))
    ]
    assert odd == []


def test_the_top_level_holds_what_it_should_and_nothing_else() -> None:
    there = {
        path.name for path in TOP.iterdir() if not path.name.startswith(".") and not _of_tools(Path(path.name) / "x")
    }
    assert there == {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "gateway",
        "grammar",
        "config",
        "tests",
    }
