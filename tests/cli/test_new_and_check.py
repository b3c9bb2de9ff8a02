"""`heavingline new` and `check`, and what is said of a wrong use."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from gateway.cli import serving
from gateway.cli.commands import heavingline
from gateway.cli.switched import switched_by_text
from gateway.installation.starter import starter

TOKEN = "HEAVINGLINE_CARRIER_TOKEN"


def told(*arguments: object, token: str | None = "a-secret-token") -> Result:
    return CliRunner(env={TOKEN: token}).invoke(heavingline, [str(argument) for argument in arguments])


@pytest.fixture
def laid(tmp_path: Path) -> Path:
    folder = tmp_path / "my-boats"
    assert told("new", folder).exit_code == 0
    return folder


def change(file: Path, old: str, new: str) -> int:
    """Replace the first of `old`; the line it stands in."""
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


# ---------------------------------------------------------------- new


def test_new_lays_the_whole_starter_down(laid: Path) -> None:
    source = starter()
    wanted = {path.relative_to(source): path.read_bytes() for path in source.rglob("*") if path.is_file()}
    found = {path.relative_to(laid): path.read_bytes() for path in laid.rglob("*") if path.is_file()}
    differing = {path.as_posix() for path in found.keys() | wanted.keys() if found.get(path) != wanted.get(path)}
    assert differing == {"boats/grey-wagtail/boat.toml", "boats/grey-wagtail/signals.toml"}
    assert len(wanted) > 20


@pytest.mark.parametrize(
    ("asked", "standard"),
    [((), "yacht-12v-agm"), (("--volts", "24", "--battery", "lifepo4"), "yacht-24v-lifepo4")],
)
def test_new_builds_its_first_boat_on_the_whole_standard_for_her_batteries(
    tmp_path: Path, asked: tuple[str, ...], standard: str
) -> None:
    assert told("new", tmp_path / "fleet", *asked).exit_code == 0
    assert f'built_on = "{standard}"' in (tmp_path / "fleet/boats/grey-wagtail/boat.toml").read_text("utf-8")
    result = told("check", tmp_path / "fleet")
    assert result.exit_code == 0, result.output
    assert "How each alarm is proved" in result.output


def test_new_says_what_to_do_next(tmp_path: Path) -> None:
    result = told("new", tmp_path / "fleet")
    assert f"heavingline check {tmp_path / 'fleet'}" in result.output


def test_new_refuses_a_folder_with_files_in_it_and_leaves_them(tmp_path: Path) -> None:
    (tmp_path / "people.toml").write_text("# mine")
    result = told("new", tmp_path)
    assert result.exit_code == 2
    assert "Name an empty or a new folder" in result.output
    assert (tmp_path / "people.toml").read_text() == "# mine"
    assert not (tmp_path / "gateway.toml").exists()


# ---------------------------------------------------------------- check


def test_check_of_the_starter_finds_no_mistake_and_ends_with_0(laid: Path) -> None:
    result = told("check", laid)
    assert result.exit_code == 0, result.output
    assert "No mistakes: 3 boats, " in result.output
    assert "Nothing was started." in result.output


def test_check_names_what_is_switched_by_text_and_the_caution_of_what_can_hurt_somebody(laid: Path) -> None:
    lines = told("check", laid).output.splitlines()
    grave = lines.index("Started or switched on by text, with nobody aboard, and able to hurt somebody:")
    assert any(line.startswith("Switched by text: grey-wagtail/refrigeration, ") for line in lines[:grave])
    assert lines[grave + 1].startswith("  grey-wagtail/generator: CO KILLS. ")
    assert any("no safety-integrity claim" in line for line in lines[grave:])


def test_check_of_boats_that_have_nothing_to_switch_says_so() -> None:
    assert list(switched_by_text({})) == ["Nothing here can be switched by text."]


def test_check_names_every_mistake_at_once_with_file_line_key_and_cure(laid: Path) -> None:
    standard = laid / "standard" / "yacht-12v-agm.toml"
    lines = {
        "gateway.toml": change(laid / "gateway.toml", "port = 1883", "port = 99999"),
        "people.toml": change(laid / "people.toml", "role =", "rolle ="),
        f"standard/{standard.name}": change(standard, "priority =", 'priorty = "warning" #'),
    }
    result = told("check", laid)
    assert result.exit_code == 1
    for file, line in lines.items():
        assert re.search(rf"^{re.escape(file)}, line {line}: \S.*: .+; .+", result.output, re.MULTILINE), result.output
    found = [line for line in result.output.splitlines() if ", line " in line]
    assert f"{len(found)} mistakes. Nothing was started." in result.output


def test_check_of_one_mistake_counts_one(laid: Path) -> None:
    change(laid / "gateway.toml", "port = 1883", "port = 0")
    result = told("check", laid)
    assert result.exit_code == 1
    assert "1 mistake. Nothing was started." in result.output


def test_check_reads_a_file_that_is_no_toml_and_says_where_it_breaks(laid: Path) -> None:
    (laid / "callout.toml").write_text("[list.danger\n", encoding="utf-8")
    result = told("check", laid)
    assert result.exit_code == 1
    assert re.search(r"^callout\.toml, line 1: ", result.output, re.MULTILINE)


def test_a_secret_that_is_not_set_in_this_shell_is_no_mistake_in_the_files(laid: Path) -> None:
    result = told("check", laid, token=None)
    assert result.exit_code == 0
    assert f"Look at: the variable {TOKEN} is not set in this shell; `run` does not start without it." in result.output


def test_a_secret_that_is_set_is_neither_asked_for_nor_shown(laid: Path) -> None:
    result = told("check", laid, token="tell-nobody")
    assert TOKEN not in result.output
    assert "tell-nobody" not in result.output


# ---------------------------------------------------------------- run, as far as it does not start


def test_run_starts_nothing_without_its_secret_and_says_which(laid: Path) -> None:
    result = told("run", laid, token=None)
    assert result.exit_code == 1
    assert f"the variable {TOKEN} is not set; set it where the program is started" in result.output
    assert "Nothing was started." in result.output
    assert not (laid / "store").exists()


def test_run_starts_nothing_on_files_with_mistakes(laid: Path) -> None:
    change(laid / "gateway.toml", "port = 1883", "port = 0")
    result = told("run", laid)
    assert result.exit_code == 1
    assert "gateway.toml, line " in result.output
    assert not (laid / "store").exists()


# ---------------------------------------------------------------- wrong use


@pytest.mark.parametrize("command", [("check",), ("run",), ("logbook", "show"), ("logbook", "verify")])
def test_a_folder_that_is_not_there_is_wrong_use_and_the_answer_says_what_to_do(
    command: tuple[str, ...], tmp_path: Path
) -> None:
    result = told(*command, tmp_path / "nowhere")
    words = " ".join(result.output.split())
    assert result.exit_code == 2
    assert "there is no folder" in words
    assert "gateway.toml" in words
    assert "heavingline new" in words


@pytest.mark.parametrize(
    ("written", "meant"),
    [(["chek", "x"], "check"), (["logbok"], "logbook"), (["logbook", "verfy", "x"], "verify"), (["demmo"], "demo")],
)
def test_a_mistyped_command_is_answered_with_the_right_one(written: list[str], meant: str) -> None:
    result = told(*written)
    assert result.exit_code == 2
    assert re.search(rf"Did you mean.*'{meant}'", result.output)


def test_a_mistyped_option_is_answered_with_the_right_one() -> None:
    result = told("demo", "--kep", "x")
    assert result.exit_code == 2
    assert "'--keep'" in result.output


def test_the_list_of_commands_says_of_each_what_it_does() -> None:
    listed = told("--help").output
    for words in ("Names every mistake", "Plays a night", "Reads the record", "Lays down", "Runs the gateway"):
        assert words in listed


@pytest.mark.parametrize("command", ["check", "run"])
def test_a_point_out_of_service_for_longer_than_14_days_starts_nothing(laid: Path, command: str) -> None:
    """Design rule 11. Without an inline table, as it is written more often."""
    alarms = laid / "boats/little-stint/alarms.toml"
    table = '\n[alarm.bilge-high.out_of_service]\nuntil = "2999-01-01"\nby = "Ruth Okell"\nbecause = "new switch"\n'
    line = change(alarms, "[alarm.house-low]", table + "\n[alarm.house-low]") + 2
    result = told(command, laid)
    assert result.exit_code == 1
    assert f"boats/little-stint/alarms.toml, line {line}: alarm.bilge-high.out_of_service.until: is" in result.output
    assert "Nothing was started" in result.output
    assert not (laid / "store").exists()


def test_run_that_falls_over_a_fault_of_ours_ends_with_1_and_says_where_without_its_words(
    laid: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def falls(_opened: object) -> None:
        raise RuntimeError("go teapot marble, +447700900123")

    monkeypatch.setattr(serving, "_run", falls)
    result = told("run", laid)
    assert result.exit_code == 1
    assert "RuntimeError in cli/test_new_and_check.py, line" in result.output
    assert "+447700900123" not in result.output.replace('raise RuntimeError("go teapot marble, +447700900123")', "")
