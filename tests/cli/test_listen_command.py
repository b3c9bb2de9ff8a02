"""`heavingline listen`, against a real broker."""

import json
import os
import pty
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.demo.broker import EmbeddedBroker
from gateway.installation.starter import lay_down
from tests.doors.brokers import Outsider

RETAINED = {
    "grey-wagtail/bilge/high": "off",
    "grey-wagtail/dc/house": '{"voltage": 12.71, "current": -3.2}',
    "grey-wagtail/charger/state": "bulk",
    "heavingline/x/presence": '{"state":"here"}',
    "grey-wagtail/command/generator": "{}",
}


@pytest.fixture(scope="module")
def broker() -> Iterator[EmbeddedBroker]:
    with EmbeddedBroker() as one:
        with Outsider(one.port) as outsider:
            for topic, payload in RETAINED.items():
                outsider.publish(topic, payload, retain=True)
        yield one


@pytest.fixture
def folder(tmp_path: Path, broker: EmbeddedBroker) -> Path:
    lay_down(tmp_path / "boats", boats=("grey-wagtail",))
    file = tmp_path / "boats" / "gateway.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("port = 1883 ", f"port = {broker.port} "), encoding="utf-8")
    return tmp_path / "boats"


def listened(folder: Path, *more: str) -> Result:
    return CliRunner().invoke(heavingline, ["listen", str(folder), "--for", "0.3s", *more])


def test_it_shows_every_topic_with_what_it_carries_and_what_uses_it(folder: Path) -> None:
    result = listened(folder)
    assert result.exit_code == 0, result.output
    assert result.output.splitlines() == [
        "Broker quay: 5 topics, 5 messages in 0.3 s.",
        "  grey-wagtail/bilge/high",
        "      1 retained (of unknown age)",
        "      contact: off   -> grey-wagtail/bilge-high",
        "  grey-wagtail/charger/state",
        "      1 retained (of unknown age)",
        "      word: bulk   -> NOT USED",
        "  grey-wagtail/command/generator",
        "      1 retained (of unknown age)",
        "      nothing to watch: {}   -> commands to grey-wagtail/generator",
        "  grey-wagtail/dc/house",
        "      1 retained (of unknown age), JSON",
        "      /voltage number: 12.71   -> grey-wagtail/house-volts",
        "      /current number: -3.2   -> NOT USED",
        "  heavingline/x/presence",
        "      1 retained (of unknown age), JSON",
        "      /state word: here   -> the gateway itself",
    ]


def test_a_table_that_is_asked_for_can_be_put_into_the_boats_file_as_it_is(folder: Path) -> None:
    result = listened(folder, "--signal", "grey-wagtail/dc/house#/current", "--signal", "grey-wagtail/charger/state")
    tables = result.output[result.output.index("[signal.") : result.output.index("\nPut them")]
    signals = folder / "boats" / "grey-wagtail" / "signals.toml"
    signals.write_text(tables, encoding="utf-8")
    checked = CliRunner().invoke(heavingline, ["check", str(folder)])
    assert checked.exit_code == 0, checked.output
    assert "No mistakes" in checked.output
    again = listened(folder)
    assert "/current number: -3.2   -> grey-wagtail/dc-house-current" in again.output
    assert "NOT USED" not in again.output


def test_a_topic_of_which_nothing_was_heard_is_named_and_ends_with_1(folder: Path) -> None:
    result = listened(folder, "--signal", "grey-wagtail/nothing")
    assert result.exit_code == 1
    assert "grey-wagtail/nothing: nothing was heard of it. Listen longer" in result.output


def test_programs_get_one_object(folder: Path) -> None:
    result = listened(folder, "--json", "--topics", "grey-wagtail/dc/#")
    (topic,) = json.loads(result.stdout)["topics"]
    assert (topic["topic"], topic["messages"], topic["json"]) == ("grey-wagtail/dc/house", 1, True)
    assert [(value["pointer"], value["carries"], value["used_by"]) for value in topic["values"]] == [
        ("/voltage", "number", "grey-wagtail/house-volts"),
        ("/current", "number", ""),
    ]


def test_files_with_mistakes_in_them_still_let_an_installer_listen(folder: Path) -> None:
    (folder / "people.toml").write_text("nonsense", encoding="utf-8")
    result = listened(folder)
    assert result.exit_code == 0
    assert "what is used cannot be said" in result.output
    assert "/voltage number: 12.71" in result.output
    assert "NOT USED" not in result.output


def test_a_broker_that_is_away_is_named_and_ends_with_1(folder: Path) -> None:
    file = folder / "gateway.toml"
    file.write_text(
        "\n".join("port = 1" if line.startswith("port =") else line for line in file.read_text().splitlines()),
        encoding="utf-8",
    )
    result = listened(folder)
    assert result.exit_code == 1
    assert "broker quay: 127.0.0.1:1:" in result.output


@pytest.mark.parametrize("length", ["60", "0 s", "25 h", "soon"])
def test_a_length_that_is_none_is_wrong_use(folder: Path, length: str) -> None:
    result = CliRunner().invoke(heavingline, ["listen", str(folder), "--for", length])
    assert result.exit_code == 2
    assert "--for" in result.output


@pytest.mark.long
def test_at_a_terminal_the_installer_is_asked_which_and_gets_their_tables(folder: Path) -> None:
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "gateway", "listen", str(folder), "--for", "0.3s"],
        stdin=theirs,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    os.close(theirs)
    writing = threading.Timer(0, os.write, (ours, b"2\n"))
    writing.start()
    said, _ = process.communicate(timeout=20)
    writing.join()
    os.close(ours)
    assert process.returncode == 0, said
    assert "  1  grey-wagtail/charger/state\n  2  grey-wagtail/dc/house /current" in said
    assert "[signal.dc-house-current]" in said
    assert "[signal.charger-state]" not in said
