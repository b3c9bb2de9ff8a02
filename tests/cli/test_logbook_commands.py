"""`heavingline logbook show` and `verify`, on the store that a demo left."""

import json
import re
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.doors.store import open_reader
from tests.effort import some_of

ROW = re.compile(r" *(\d+)  (\d{4}-\d\d-\d\d \d\d:\d\d:\d\d)(?:\.\d{3})? +(\S+) +\S")
CODE_ASKED = re.compile(r"Reply GO (\S+) (\S+) by")


def told(*arguments: object) -> Result:
    return CliRunner().invoke(heavingline, ["logbook", *(str(argument) for argument in arguments)])


@pytest.fixture
def kept(played: Any, tmp_path: Path) -> Path:
    """The kept installation, to be damaged."""
    folder = tmp_path / "kept"
    shutil.copytree(played.folder, folder)
    return folder


def changed(folder: Path, change: Callable[[sqlite3.Connection], object]) -> None:
    with closing(sqlite3.connect(folder / "store")) as store, store:
        change(store)


# ---------------------------------------------------------------- show


def test_show_prints_every_entry_once_in_order_with_utc_time_and_chain(played: Any) -> None:
    result = told("show", played.folder)
    assert result.exit_code == 0
    rows = [ROW.match(line) for line in _entries(result)]
    assert all(rows)
    assert [int(row[1]) for row in rows if row] == list(range(1, len(rows) + 1))
    assert [row[2] for row in rows if row] == sorted(row[2] for row in rows if row)
    assert {row[3] for row in rows if row} == {"installation", "grey-wagtail"}
    assert result.output.startswith("Times are UTC.")


def test_show_says_kinds_in_words_and_times_as_times(played: Any) -> None:
    output = told("show", played.folder).output
    assert "alarm 1 (grey-wagtail/bilge-high), emergency: raise, from normal to unacknowledged" in output
    assert "the service began to run" in output
    assert "generator start: prove, from seen to proved; measured 231 V" in output
    assert not re.search(r"alarm-step|True|False|None|[\[\]{}]|\b1773\d{9}\b", output)


def test_show_of_one_boat_prints_its_chain_alone_and_its_end_value(played: Any) -> None:
    result = told("show", played.folder, "--boat", "grey-wagtail")
    assert result.exit_code == 0
    assert _entries(result)
    assert all(line.split()[3] == "grey-wagtail" for line in _entries(result))
    ends = [line for line in result.output.splitlines() if line.startswith("End value")]
    assert len(ends) == 1
    assert re.fullmatch(r"End value of grey-wagtail: grey-wagtail=\d+:[0-9a-f]{64}", ends[0])


def test_show_of_a_boat_that_is_not_there_names_those_that_are(played: Any) -> None:
    result = told("show", played.folder, "--boat", "salt-harrier")
    assert result.exit_code == 2
    assert "It holds: grey-wagtail, installation." in result.output


def test_show_keeps_names_and_words_to_itself_unless_asked(played: Any) -> None:
    output = told("show", played.folder).output
    for word in ("Tobias", "tobias", "Ines Marlow", "have it", "+44", "BILGE HIGH WATER"):
        assert word not in output


def test_show_with_names_tells_who_and_which_words(played: Any) -> None:
    output = told("show", played.folder, "--names").output
    assert "name: Tobias Penhale, number: +44 ... 456" in output
    assert "text from tobias, read as: takes an alarm" in output
    assert "body: have it" in output


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_show_never_prints_a_whole_number(played: Any, form: tuple[str, ...]) -> None:
    output = told("show", played.folder, "--names", *form).output
    assert not re.search(r"7700 ?900 ?\d{3}|1632 ?960 ?\d{3}", output)
    assert output.count("+44 ... 456") > 10


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_show_never_prints_a_code_that_was_texted_copied_or_quoted(played: Any, form: tuple[str, ...]) -> None:
    code = CODE_ASKED.search(played.printed)
    assert code is not None
    output = told("show", played.folder, "--names", *form).output.casefold()
    assert "reply go ... ... by" in output
    assert '"go ... ..."' in output or "body: go ... ..." in output
    for word in (*code.groups(), "window", "pillow"):
        assert word.casefold() not in output


def test_show_as_json_holds_each_entry_whole_and_then_the_ends(played: Any) -> None:
    rows = [json.loads(line) for line in told("show", played.folder, "--json").output.splitlines()]
    entries, ends = [row for row in rows if "n" in row], [row for row in rows if "end" in row]
    with open_reader(played.folder / "store") as reader:
        stored = list(reader.written())
    assert [(row["n"], row["kind"], row["digest"]) for row in entries] == [
        (written.entry.n, written.entry.kind, written.digest) for written in stored
    ]
    assert all("parts" not in row for row in entries)
    assert sorted(end["chain"] for end in ends) == ["grey-wagtail", "installation"]
    assert rows[-2:] == ends


def test_the_record_is_read_without_secrets_and_with_mistakes_in_the_files(kept: Path) -> None:
    (kept / "people.toml").write_text("not toml at all [", encoding="utf-8")
    assert told("show", kept).exit_code == 0
    assert told("verify", kept).exit_code == 0


def test_an_erased_part_is_shown_as_erased(kept: Path) -> None:
    changed(kept, lambda store: store.execute("UPDATE sealed_parts SET data = NULL WHERE n = 1"))
    result = told("show", kept, "--names")
    assert result.exit_code == 0
    assert "(erased)" in result.output
    assert "Tobias Penhale" not in result.output


def test_show_stops_at_an_entry_that_is_damaged_with_1_and_a_plain_sentence(kept: Path) -> None:
    changed(kept, lambda store: store.execute("UPDATE entries SET data = x'00' WHERE n = 20"))
    result = told("show", kept)
    assert result.exit_code == 1
    assert "Traceback" not in result.output
    assert result.exception is None or isinstance(result.exception, SystemExit)


def test_a_store_that_is_not_there_yet_is_said_in_plain_words(tmp_path: Path) -> None:
    CliRunner().invoke(heavingline, ["new", str(tmp_path / "new")])
    for command in ("show", "verify"):
        result = told(command, tmp_path / "new")
        assert result.exit_code == 1
        assert "there is no such file. Start the gateway once" in result.output


def test_a_folder_without_an_installation_is_wrong_use(tmp_path: Path) -> None:
    result = told("show", tmp_path)
    assert result.exit_code == 2
    assert "gateway.toml: the file is missing" in result.output


# ---------------------------------------------------------------- verify


def test_verify_of_an_untouched_record_ends_with_0_and_says_what_it_could_not_see(played: Any) -> None:
    result = told("verify", played.folder)
    assert result.exit_code == 0
    assert re.match(r"In order: \d+ entries, nothing disagrees\.", result.output)
    assert "Not seen: whether a chain was cut off" in result.output


@pytest.mark.parametrize("n", some_of([20, 2, 101], 3))
def test_verify_finds_a_changed_byte_ends_with_1_and_names_the_entry(kept: Path, n: int) -> None:
    def one_byte(store: sqlite3.Connection) -> None:
        [(data,)] = store.execute("SELECT data FROM entries WHERE n = ?", (n,))
        place = data.index(b'"kind":"') + len(b'"kind":"')
        other = data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :]
        store.execute("UPDATE entries SET data = ? WHERE n = ?", (other, n))

    changed(kept, one_byte)
    result = told("verify", kept)
    assert result.exit_code == 1
    assert "NOT in order" in result.output
    assert f"First: entry {n} (" in result.output
    assert json.loads(told("verify", kept, "--json").output)["first_bad"]["n"] == n


@pytest.mark.long
def test_verify_finds_a_chain_that_was_cut_off_only_against_an_end_value_from_outside(kept: Path) -> None:
    ends = re.findall(r"^End value of \S+: (\S+)$", told("show", kept).output, re.MULTILINE)
    assert len(ends) == 2
    options = [part for end in ends for part in ("--end", end)]
    whole = told("verify", kept, *options)
    assert whole.exit_code == 0
    assert "it stands at place" in whole.output

    def cut_off(store: sqlite3.Connection) -> None:
        store.execute("DELETE FROM sealed_parts WHERE n > 100")
        store.execute("DELETE FROM entries WHERE n > 100")
        store.execute("DELETE FROM chain_heads")
        store.execute(
            "INSERT INTO chain_heads SELECT chain, place, digest FROM entries "
            "WHERE n IN (SELECT max(n) FROM entries GROUP BY chain)"
        )

    changed(kept, cut_off)
    assert told("verify", kept).exit_code == 0
    against = told("verify", kept, *options)
    assert against.exit_code == 1
    assert "which was published: the chain was cut off" in against.output


def test_verify_as_json_is_one_object_with_the_whole_report(played: Any) -> None:
    report = json.loads(told("verify", played.folder, "--json").output)
    assert report["ok"] is True
    assert report["first_bad"] is None
    assert [chain["chain"] for chain in report["chains"]] == ["grey-wagtail", "installation"]


@pytest.mark.parametrize("end", ["grey-wagtail", "grey-wagtail=12", "=5:" + "0" * 64, "grey-wagtail=5:0123abcd"])
def test_an_end_value_that_is_not_written_whole_is_wrong_use(played: Any, end: str) -> None:
    result = told("verify", played.folder, "--end", end)
    assert result.exit_code == 2
    assert "write CHAIN=PLACE:HASH" in result.output


def test_two_end_values_of_one_chain_are_wrong_use(played: Any) -> None:
    end = "grey-wagtail=5:" + "0" * 64
    result = told("verify", played.folder, "--end", end, "--end", end)
    assert result.exit_code == 2


def _entries(result: Result) -> list[str]:
    return [line for line in result.output.splitlines() if re.match(r" *\d+  \d{4}-", line)]
