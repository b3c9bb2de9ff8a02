"""What README.md tells people to type can be typed, and nothing that can be typed is missing from it."""

import re
import shlex
import subprocess
import tomllib
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from gateway.cli.commands import heavingline
from grammar.examples import EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, EXAMPLE_PEOPLE
from grammar.meanings import Understood
from grammar.sentences import read_condition
from grammar.texts import TextReader

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text(encoding="utf-8")
READER = TextReader(EXAMPLE_BOATS, EXAMPLE_EQUIPMENT, people=EXAMPLE_PEOPLE)
PROJECT = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def fenced(language: str) -> list[str]:
    """The fenced blocks of one language, without the indent of the list that they stand in."""
    found = re.findall(rf"^( *)```{language}\n(.*?)^ *```$", README, re.DOTALL | re.MULTILINE)
    return [re.sub(rf"^{indent}", "", block, flags=re.MULTILINE) for indent, block in found]


def under(heading: str) -> str:
    """What stands under a heading of the second level."""
    [found] = re.findall(rf"^## {heading}\n(.*?)(?=^## |\Z)", README, re.DOTALL | re.MULTILINE)
    return found


def commands() -> list[str]:
    """Every call of the command line: in the fenced blocks, and in code type in the text."""
    lines = [part for block in fenced("sh") for line in block.splitlines() for part in re.split(r"&&|\|", line)]
    lines += re.findall(r"`(heavingline [^`]+)`", README)
    calls = [re.search(r"(?:^|[\s/])heavingline ([a-z].*)", line.strip()) for line in lines]
    return sorted({call[1] for call in calls if call is not None})


def leaves(group: click.Group, path: str = "") -> Iterator[tuple[str, click.Command]]:
    for name, command in group.commands.items():
        if isinstance(command, click.Group):
            yield from leaves(command, f"{path}{name} ")
        else:
            yield f"{path}{name}", command


# ---------------------------------------------------------------- the two commands


@pytest.mark.parametrize("heading", ["See it run", "Run the tests"])
def test_one_command_under_each_of_the_two_headings_does_all_its_own_set_up(heading: str) -> None:
    [command] = re.findall(r"```sh\n(.*?)```", under(heading), re.DOTALL)
    assert len(command.strip().splitlines()) == 1
    assert command.startswith("python3 -m venv .venv && .venv/bin/pip install ")


def test_what_is_installed_for_them_is_offered_by_the_project() -> None:
    wanted = {extra for extras in re.findall(r"'\.\[([\w,]+)\]'", README) for extra in extras.split(",")}
    assert wanted == {"demo", "tests"}
    assert wanted <= set(PROJECT["optional-dependencies"])


def test_the_readme_says_what_it_is_for_then_the_cautions_then_how_to_see_it() -> None:
    headings = re.findall(r"^## (.+)$", README, re.MULTILINE)
    assert headings[:3] == ["Cautions", "See it run", "Run the tests"]
    assert len(README.split("## Cautions")[0]) > 500


# ---------------------------------------------------------------- every command


@pytest.mark.parametrize("block", fenced("sh"))
def test_every_block_of_commands_is_read_by_the_shell(block: str) -> None:
    subprocess.run(["bash", "-n"], input=block, text=True, check=True, capture_output=True)


@pytest.mark.parametrize("call", commands())
def test_every_command_can_be_typed_as_it_stands(call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for folder in ("my-boats", "FOLDER", "night", "other"):
        (tmp_path / folder).mkdir()
    words = shlex.split(call)
    command: click.Command = heavingline
    while isinstance(command, click.Group) and words and not words[0].startswith("-"):
        found = command.get_command(click.Context(command), words[0])
        assert found is not None, words[0]
        command, words = found, words[1:]
    if words or not isinstance(command, click.Group):
        try:
            command.make_context("typed", words)
        except click.MissingParameter:
            assert f"`heavingline {call}`" in README  # named in the text, not written out to be typed


@pytest.mark.parametrize("name", [name for name, _ in leaves(heavingline)])
def test_every_command_is_told_of(name: str) -> None:
    assert re.search(rf"heavingline {name}\b", README)


@pytest.mark.parametrize(
    "option",
    sorted(
        {
            option
            for _, command in leaves(heavingline)
            for parameter in command.params
            if isinstance(parameter, click.Option)
            for option in parameter.opts
        }
    ),
)
def test_every_option_is_told_of(option: str) -> None:
    assert re.search(rf"{option}(?![\w-])", README)


# ---------------------------------------------------------------- files and texts


@pytest.mark.parametrize("block", fenced("toml"))
def test_every_piece_of_a_file_can_be_read(block: str) -> None:
    for table in tomllib.loads(block).get("alarm", {}).values():
        assert read_condition(table["when"])
        assert read_condition(table["clears"])


def texts() -> list[str]:
    rows = re.findall(r"^\| (`[^|]+) \|", under("For the caretaker and the owner"), re.MULTILINE)
    return [text for row in rows for text in re.findall(r"`([^`]+)`", row)]


@pytest.mark.parametrize("text", texts())
def test_every_text_that_is_taught_is_understood(text: str) -> None:
    assert isinstance(READER.read(text), Understood)


def test_texts_are_taught_at_all() -> None:
    assert len(texts()) > 8


@pytest.mark.parametrize("target", sorted(set(re.findall(r"\]\((?!https?:)([^)#]+)\)", README))))
def test_every_file_that_is_linked_exists(target: str) -> None:
    assert (TOP / target).exists()
