"""`heavingline paper-list`: what is printed opens the next start, and what is kept gives no word away."""

import os
import re
import stat
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.installation.load import Installation
from gateway.installation.mistakes import InstallationRefused
from gateway.requests.paper_lists import same_line
from grammar.meanings import PaperLine
from tests.installation.small_installation import change, laid, loaded

LINE = re.compile(r"^ +(\d+)  ([A-Z]+) ([A-Z]+)$", re.MULTILINE)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    folder = laid(tmp_path / "small")
    change(folder, "boats/little-stint/equipment.toml", 'run_limit = "3 h"', 'run_limit = "3 h"\npaper_line = true')
    return folder


def typed(folder: Path, who: str, *more: str) -> Result:
    environ = {"TOKEN": "a secret", "HEAVINGLINE_CARRIER_TOKEN": "a secret"}
    return CliRunner(env=environ).invoke(heavingline, ["paper-list", str(folder), who, "--lines", "5", *more])


def lines_of(printed: str) -> list[PaperLine]:
    return [
        PaperLine(number=int(number), words=(first.lower(), second.lower()))
        for number, first, second in LINE.findall(printed)
    ]


def starters(found: Installation) -> set[str]:
    return {person.key for person in found.bundle.people.values() if person.may("little-stint", "generator", "start")}


def test_every_printed_line_is_the_one_that_is_kept_at_its_number(small: Path) -> None:
    result = typed(small, "ines")
    assert result.exit_code == 0, result.output
    lines = lines_of(result.stdout)
    assert [line.number for line in lines] == [1, 2, 3, 4, 5]
    paper = loaded(small).bundle.paper_lists["ines"]
    assert all(same_line(paper, line) for line in lines)
    assert len({line.words for line in lines}) == 5


def test_the_file_holds_no_word_and_is_read_by_its_owner_alone(small: Path) -> None:
    lines = lines_of(typed(small, "ines").stdout)
    kept = (small / "paper.toml").read_text(encoding="utf-8")
    assert not any(word in kept for line in lines for word in line.words)
    assert stat.S_IMODE((small / "paper.toml").stat().st_mode) == 0o600
    assert not list(small.glob(".paper*"))


def test_two_lists_share_nothing_and_the_other_persons_stays(small: Path) -> None:
    first = lines_of(typed(small, "ines").stdout)
    typed(small, "tobias")
    others = loaded(small).bundle.paper_lists["tobias"]
    second = lines_of(typed(small, "ines").stdout)
    lists = loaded(small).bundle.paper_lists
    assert lists["tobias"] == others
    assert not same_line(lists["ines"], first[0])
    assert same_line(lists["ines"], second[0])


def test_a_person_who_is_not_there_gets_none(small: Path) -> None:
    result = typed(small, "nobody")
    assert result.exit_code == 2
    assert "nobody has the key nobody; write one of " in result.stderr
    assert not (small / "paper.toml").exists()


def test_wrong_files_are_named_and_nothing_is_written(small: Path) -> None:
    change(small, "people.toml", "role =", "rolle =")
    assert typed(small, "ines").exit_code == 1
    assert not (small / "paper.toml").exists()


def test_whoever_may_start_it_and_has_no_list_is_named_until_there_is_one(small: Path) -> None:
    def named() -> str:
        return "".join(warning for warning in loaded(small).warnings if "paper_line" in warning)

    assert all(key in named() for key in starters(loaded(small)))
    for key in starters(loaded(small)):
        typed(small, key)
    assert named() == ""


def test_a_file_that_others_can_read_is_refused(small: Path) -> None:
    typed(small, "ines")
    os.chmod(small / "paper.toml", 0o644)
    result = typed(small, "ines")
    assert result.exit_code == 1
    assert "paper.toml: can be read by others; run: chmod 600 paper.toml" in result.stderr


def test_one_list_under_two_persons_is_a_mistake(small: Path) -> None:
    typed(small, "ines")
    file = small / "paper.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text + text[text.index("[list.") :].replace("[list.ines]", "[list.tobias]"), encoding="utf-8")
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    (mistake,) = refused.value.mistakes
    assert (mistake.file, mistake.key) == ("paper.toml", "list.tobias.id")
    assert "ines" in mistake.problem


def test_the_list_of_somebody_who_left_deserves_a_second_look(small: Path) -> None:
    typed(small, "ines")
    kept = small / "paper.toml"
    kept.write_text(kept.read_text().replace("[list.ines]", "[list.inez]"))
    assert any('nobody has the key "inez"; did you mean "ines"?' in warning for warning in loaded(small).warnings)


@pytest.mark.parametrize("old", ['salt = "', 'id = "', '  "'])
def test_a_damaged_file_is_a_mistake_with_its_place(small: Path, old: str) -> None:
    typed(small, "ines")
    kept = small / "paper.toml"
    kept.write_text(kept.read_text().replace(old, f"{old}zz", 1))
    result = typed(small, "ines")
    assert result.exit_code == 1
    assert re.search(r"^paper\.toml, line \d+: list\.ines", result.stderr, re.MULTILINE), result.stderr
