"""DEVELOPERS.md names only what there is, and its parts from the code are those of today."""

import ast
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, ClassVar

import pytest

from gateway.alarms.life import ASIDE, LATCHING_STEPS, STEPS
from gateway.desk.kinds import BY_KIND
from gateway.requests.life import STEPS as REQUEST_STEPS
from gateway.vocabulary.facts import Fact
from tests.documents.diagrams import DEVELOPERS, PARTS, TOP, layers, parts_in, rewritten

TEXT = DEVELOPERS.read_text(encoding="utf-8")
LINKS = re.findall(r"\[([^\]]+)\]\(([^)\s]+)\)", TEXT)
PLAIN = re.sub(r"```.*?```", "", TEXT, flags=re.DOTALL)


def test_the_parts_from_the_code_are_those_of_today() -> None:
    assert rewritten(TEXT) == TEXT, "run: python -m tests.documents.diagrams"


def test_every_part_that_the_code_gives_is_shown_once() -> None:
    assert sorted(parts_in(TEXT)) == sorted(PARTS)


@pytest.mark.parametrize("target", sorted({target for _, target in LINKS}))
def test_every_file_that_is_linked_exists(target: str) -> None:
    assert (TOP / target).exists()


@pytest.mark.parametrize(
    ("name", "target"),
    sorted({(text.strip("`"), target) for text, target in LINKS if re.fullmatch(r"`[A-Za-z_][\w.]*`", text)}),
)
def test_every_name_that_is_linked_stands_in_its_file(name: str, target: str) -> None:
    path = TOP / target
    if path.is_dir() or path.stem == name:
        assert path.name.removesuffix(".py") == name  # a room
    else:
        assert name in _names(path)


@pytest.mark.parametrize("path", sorted(set(re.findall(r"(?<![\w/(])(?:gateway|tests|grammar)/[\w/.]*\w", PLAIN))))
def test_every_path_that_is_named_exists(path: str) -> None:
    assert (TOP / path).exists()


@pytest.mark.parametrize("name", sorted(set(re.findall(r"(?<!\[)`([A-Za-z_]+(?:\.[A-Za-z_]+)?)`", PLAIN))))
def test_every_other_name_in_code_type_is_known(name: str) -> None:
    rooms = {room for row in layers() for room in row} | {"grammar"}
    tools = {"lark", "ruff", "mypy"}
    keys = {"when", "clears", "carries", "kind", "version"}
    assert name in rooms | tools | keys | set(BY_KIND) | {"reference", "now"} | _all_names() or (TOP / name).exists()


@pytest.mark.parametrize("module", sorted(set(re.findall(r"python -m ([\w.]+)", TEXT))))
def test_every_module_that_is_run_exists(module: str) -> None:
    assert module == "pytest" or any(
        (TOP / f"{module.replace('.', '/')}{end}").is_file() for end in (".py", "/__main__.py")
    )


def test_the_lift_that_is_shown_lifts_the_first_version_and_refuses_what_is_not_known() -> None:
    [shown] = re.findall(r"```python\n(.*?)```", TEXT, re.DOTALL)
    frame = "@dataclass(frozen=True, slots=True, kw_only=True)\nclass LinkStep(Fact):\n"
    known: dict[str, Any] = {
        "Fact": Fact,
        "dataclass": dataclass,
        "ClassVar": ClassVar,
        "Mapping": Mapping,
        "Plain": Any,
    }
    exec(frame + "".join(f"    {line}\n" for line in shown.splitlines()), known)
    assert known["LinkStep"].lift(1, {"link": "store"}) == {"link": "store", "memory_kept": True}
    assert known["LinkStep"].lift(2, {"memory_kept": False}) == {"memory_kept": False}
    with pytest.raises(ValueError, match="version 3 is not known"):
        known["LinkStep"].lift(3, {})


def test_every_room_is_in_the_table_of_rooms() -> None:
    placed = {room for row in layers() for room in row}
    there = {path.parent.name for path in (TOP / "gateway").glob("*/__init__.py")} | {"__main__"}
    assert placed == there


def test_every_step_of_an_alarm_is_drawn() -> None:
    drawn = PARTS["life of a latching alarm"]() + PARTS["life of an alarm"]()
    for table in (STEPS, LATCHING_STEPS):
        for state, row in table.items():
            for event, after in row.items():
                if state not in ASIDE and after not in ASIDE:
                    assert re.search(rf"    {state.name.lower()} --> {after.name.lower()} : .*{event}", drawn)


def test_every_step_of_a_request_is_drawn() -> None:
    drawn = PARTS["life of a request"]()
    for state, row in REQUEST_STEPS.items():
        for event, after in row.items():
            assert re.search(rf"    {state.name.lower()} --> {after.name.lower()} : .*{event}", drawn)


@lru_cache
def _names(path: Path) -> frozenset[str]:
    """What a module defines: its own names, and ``Class.name`` for members and fields."""
    names: set[str] = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        names |= _defined(node)
        if isinstance(node, ast.ClassDef):
            names |= {f"{node.name}.{name}" for member in node.body for name in _defined(member)}
    return frozenset(names)


def _defined(node: ast.stmt) -> set[str]:
    if isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
        return {node.name}
    if isinstance(node, ast.Assign):
        return {target.id for target in node.targets if isinstance(target, ast.Name)}
    if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
        return {node.target.id}
    return set()


@lru_cache
def _all_names() -> frozenset[str]:
    found: set[str] = set()
    for room in ("gateway", "grammar"):
        for path in (TOP / room).rglob("*.py"):
            found |= {part for name in _names(path) for part in (name, name.rpartition(".")[2])}
    return frozenset(found)
