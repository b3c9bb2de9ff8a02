"""The example of a replay in README.md is what really comes out, on the record that the demo leaves."""

import re
import shutil
from pathlib import Path
from typing import Protocol

from click.testing import CliRunner

from gateway.cli.commands import heavingline

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


class Played(Protocol):
    """The demo as it was kept."""

    @property
    def folder(self) -> Path: ...


def block(language: str) -> list[str]:
    """The fenced blocks of the chapter."""
    [chapter] = re.findall(r"^### What would another limit have done\?\n(.*?)(?=^##)", README, re.DOTALL | re.MULTILINE)
    return re.findall(rf"^```{language}\n(.*?)^```$", chapter, re.DOTALL | re.MULTILINE)


def test_the_example_of_a_replay_comes_out_as_it_is_printed(played: Played, tmp_path: Path) -> None:
    [change], [wanted] = block("toml"), block("text")
    [*_, command] = block("sh")
    other = tmp_path / "other"
    shutil.copytree(played.folder, other)
    (other / "boats/grey-wagtail/alarms.toml").write_text(change, encoding="utf-8")
    words = command.split()[1:]
    words = [{"night": str(played.folder), "other": str(other)}.get(word, word) for word in words]
    result = CliRunner().invoke(heavingline, words)
    assert result.exit_code == 0, result.output
    lines = iter(result.output.replace(str(other), "other").splitlines())
    for line in wanted.splitlines():
        begin = line.removesuffix("...")
        assert any(found == line or (begin != line and found.startswith(begin)) for found in lines), line
