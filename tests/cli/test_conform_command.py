"""`heavingline conform`: what it refuses before anything is sent, and a trial through the command's own parts."""

import asyncio
import io
import json
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.cli.conforming import Asked, AtTerminal, try_node
from gateway.conforming.bench import NotFollowed, Windows
from gateway.demo.broker import HOST, EmbeddedBroker
from gateway.demo.relay_node import RelayNode
from gateway.demo.relay_program import RelayProgram
from gateway.installation.starter import lay_down, whole_standard
from gateway.vocabulary.moments import SECOND

GENERATOR = "grey-wagtail/generator"
STEPS_FOR_HANDS = {"link cut", "restart", "waited"}


def told(*arguments: object) -> Result:
    return CliRunner().invoke(heavingline, [str(argument) for argument in arguments])


@pytest.fixture
def laid(tmp_path: Path) -> Path:
    folder = tmp_path / "my-boats"
    assert told("new", folder).exit_code == 0
    return folder


def listens_at(folder: Path, port: int) -> None:
    file = folder / "gateway.toml"
    text = file.read_text(encoding="utf-8")
    assert "port = 1883" in text
    file.write_text(text.replace("port = 1883", f"port = {port}"), encoding="utf-8")


def test_nothing_is_sent_before_somebody_says_that_the_load_is_isolated(laid: Path) -> None:
    result = told("conform", laid, GENERATOR, "--by", "Ruth Okell")
    assert result.exit_code == 2
    assert "The relay will close. Isolate the load and lock it off" in result.stderr
    assert "Nothing was sent." in result.stderr


def test_an_unknown_name_gets_the_nearest(laid: Path) -> None:
    result = told("conform", laid, "grey-wagtail/generater", "--by", "Ruth Okell", "--load-isolated")
    assert result.exit_code == 2
    assert f'there is no such equipment; did you mean "{GENERATOR}"?' in result.stderr


def test_a_sheet_is_never_written_over_another(laid: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.txt"
    sheet.write_text("of last year")
    result = told("conform", laid, GENERATOR, "--by", "Ruth Okell", "--load-isolated", "--report", sheet)
    assert result.exit_code == 2
    assert sheet.read_text() == "of last year"


def test_feedback_and_count_of_two_topics_prove_nothing(laid: Path) -> None:
    file = laid / "boats" / "grey-wagtail" / "signals.toml"
    with file.open("a", encoding="utf-8") as signals:
        signals.write('\n[signal.generator-count]\ntopic = "{boat}/node/generator/other"\n')
    result = told("conform", laid, GENERATOR, "--by", "Ruth Okell", "--load-isolated")
    assert result.exit_code == 2
    assert "A node must say both in one message" in result.stderr


def test_wrong_files_are_named_and_nothing_is_sent(laid: Path) -> None:
    (laid / "people.toml").write_text("nonsense", encoding="utf-8")
    result = told("conform", laid, GENERATOR, "--by", "Ruth Okell", "--load-isolated")
    assert result.exit_code == 1
    assert "people.toml" in result.stderr
    assert "Nothing was sent." in result.stderr


def test_a_trial_with_nobody_to_lend_a_hand_proves_the_rest_and_writes_the_sheet(
    laid: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(""))
    report = tmp_path / "sheet.txt"
    asked = Asked(equipment=GENERATOR, by="Ruth Okell", load_isolated=True, report=report, as_json=True)
    node = RelayNode(actions=("start", "stop"), longest=240, knows_the_time=True)
    with (
        EmbeddedBroker() as broker,
        RelayProgram(
            node,
            HOST,
            broker.port,
            command="grey-wagtail/command/generator",
            state="grey-wagtail/node/generator/state",
            every=40,
        ) as program,
    ):
        listens_at(laid, broker.port)
        code = try_node(laid, asked, Windows(moves=5 * SECOND, silence=5 * SECOND, settle=60))
        assert not program.holds
    printed = capsys.readouterr()
    sheet = json.loads(printed.out)
    assert code == 1
    assert {step["step"] for step in sheet["steps"] if step["verdict"] == "not tried"} == STEPS_FOR_HANDS
    assert {step["verdict"] for step in sheet["steps"] if step["step"] not in STEPS_FOR_HANDS} == {"kept"}
    written = report.read_text(encoding="utf-8")
    assert written.startswith("Relay node of generator, GREY WAGTAIL. Commands on grey-wagtail/command/generator.\n")
    assert "Tried by Ruth Okell, load isolated, " in written
    assert written.endswith("Not proved: link cut, restart, waited.\n")


def test_the_person_is_asked_until_yes_or_no_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("perhaps\nYes\nno\n\n"))
    terminal = AtTerminal(quiet=False)

    async def asked() -> list[bool]:
        seen = [await terminal.saw("Has it let go?"), await terminal.saw("Has it let go?")]
        await terminal.do("Put the network back.")
        return seen

    assert asyncio.run(asked()) == [True, False]
    assert capsys.readouterr().out.count("Has it let go? (yes or no): ") == 3
    with pytest.raises(NotFollowed):
        asyncio.run(terminal.do("Pull the lead."))


def test_the_node_of_a_gas_valve_is_tried_by_hand_because_a_trial_would_open_it(tmp_path: Path) -> None:
    folder = tmp_path / "whole"
    lay_down(folder, boats=("grey-wagtail",), built_on=whole_standard("12", "agm"))
    result = told("conform", folder, "grey-wagtail/gas-valve", "--by", "Ruth Okell", "--load-isolated")
    assert result.exit_code == 2
    assert "a trial would open it, and no text may" in result.stderr
