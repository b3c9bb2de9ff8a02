"""`heavingline read`: how a text would be understood and answered, by the files and the record of a folder."""

import hashlib
import json
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gateway.cli.commands import heavingline
from gateway.doors.clock import SystemClock
from gateway.doors.store import open_store
from gateway.installation.starter import lay_down
from gateway.vocabulary.moments import HOUR, MINUTE
from tests.effort import some_of, tries
from tests.rehearsal.living import TOBIAS, recorded

KEYS = ["understood", "kind", "equipment", "action", "minutes", "until", "boat", "alarm", "reply"]
NOTHING = dict.fromkeys(KEYS) | {"understood": False}


def read(*arguments: object, given: str | None = None) -> Result:
    return CliRunner().invoke(heavingline, ["read", *(str(argument) for argument in arguments)], input=given)


def as_json(folder: Path, who: str, text: str) -> dict[str, Any]:
    found = json.loads(read(folder, "--as", who, "--json", text).output)
    assert list(found) == KEYS
    return dict(found)


def bytes_of(folder: Path) -> dict[str, str]:
    """Every file's hash; SQLite's index of its journal is no part of the record and is left aside."""
    files = [path for path in sorted(folder.rglob("*")) if path.is_file() and not path.name.endswith("-shm")]
    return {str(path): hashlib.sha256(path.read_bytes()).hexdigest() for path in files if path.stat().st_size}


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An installation that has never run."""
    folder = tmp_path_factory.mktemp("bare") / "quay"
    lay_down(folder, ["grey-wagtail"])
    return folder


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An installation with a record of long ago, in which all was well at the end."""
    folder = tmp_path_factory.mktemp("kept") / "quay"
    recorded(folder).keep(folder / "store")
    return folder


# ---------------------------------------------------------------- what is printed


EVERY_KIND = [
    ("status", {"kind": "status"}),
    ("alarms", {"kind": "alarms"}),
    ("phrases", {"kind": "phrases"}),
    ("have it 14", {"kind": "acknowledge", "alarm": 14}),
    ("checked 14", {"kind": "reset", "alarm": 14}),
    ("visit", {"kind": "visit"}),
    ("generator start for 2 h", {"kind": "switch", "equipment": "generator", "action": "start", "minutes": 120}),
    ("fridge off until 18:00", {"kind": "switch", "equipment": "refrigeration", "action": "off", "until": "18:00"}),
    ("go teapot marble", {"kind": "confirm"}),
    ("drop teapot marble", {"kind": "withdraw"}),
    ("quiet 14 for 2 h", {"kind": "quiet", "alarm": 14, "minutes": 120}),
    ("who is on duty", {"kind": "who is on duty"}),
    ("duty me", {"kind": "duty"}),
    ("phone lost Tobias", {"kind": "phone lost"}),
]


@pytest.mark.parametrize(("text", "found"), EVERY_KIND, ids=[text for text, _ in EVERY_KIND])
def test_json_is_one_object_with_just_these_keys_for_every_kind(bare: Path, text: str, found: dict[str, Any]) -> None:
    told = as_json(bare, "tobias", text)
    assert isinstance(told.pop("reply"), str)
    wanted = NOTHING | {"understood": True, "boat": "grey-wagtail"} | found
    wanted.pop("reply")
    assert told == wanted


def test_it_ends_with_0_when_understood_and_1_when_not(bare: Path) -> None:
    assert read(bare, "--as", "tobias", "status").exit_code == 0
    assert read(bare, "--as", "tobias", "anchor up").exit_code == 1
    assert read(bare, "--as", "tobias", "--json", "anchor up").exit_code == 1


def test_for_a_reader_it_says_what_was_understood_the_reply_and_that_nothing_was_sent(bare: Path) -> None:
    output = read(bare, "--as", "tobias", "generator start for 2 h").output
    assert "Understood: Tobias Penhale asks for: generator start for 120 min on GREY WAGTAIL." in output
    assert "Reply: GREY WAGTAIL: generator NOT started." in output
    assert "no record yet, so everything is unknown" in output
    assert "Nothing was sent, nothing was written." in output


@pytest.mark.parametrize(("word", "says"), [("stop", "cut Ines Marlow off"), ("start", "Carriers answer this")])
def test_a_word_that_carriers_act_on_is_said_to_be_one(bare: Path, word: str, says: str) -> None:
    said = read(bare, "--as", "ines", word).output
    assert says in said
    assert "Not understood" not in said


def test_what_is_no_unicode_text_is_read_as_the_desk_reads_it(bare: Path) -> None:
    told = as_json(bare, "tobias", "alarms \udcff")  # an answer without the minute: it may pass between the two
    assert told == as_json(bare, "tobias", "alarms ?")
    assert told["understood"]
    assert as_json(bare, "\udcff", "status") == NOTHING


# ---------------------------------------------------------------- whose text


@pytest.mark.parametrize("who", ["tobias", TOBIAS, "+44 7700 900456", "07700 900456", "0044 7700 900456"])
@pytest.mark.long
def test_a_person_is_named_by_key_or_by_number_in_any_usual_writing(bare: Path, who: str) -> None:
    assert as_json(bare, who, "alarms") == as_json(bare, "tobias", "alarms")
    assert as_json(bare, who, "alarms")["understood"]


@pytest.mark.parametrize("who", some_of(["+44 7700 900999", "nobody", "Tobias", "", "+", "go teapot"], 3))
def test_who_is_on_no_list_is_a_stranger_who_is_neither_understood_nor_answered(kept: Path, who: str) -> None:
    assert as_json(kept, who, "status") == NOTHING
    result = read(kept, "--as", who, "status")
    assert result.exit_code == 1
    assert "a stranger" in result.output
    assert "Reply: none" in result.output


# ---------------------------------------------------------------- with and without a record


def test_without_a_record_everything_is_unknown(bare: Path) -> None:
    assert "house volts never heard" in as_json(bare, "tobias", "status")["reply"]
    assert "NOT switched" in as_json(bare, "tobias", "refrigeration off")["reply"]


def test_with_a_record_the_reply_is_that_of_the_gateway_as_it_stood(kept: Path) -> None:
    assert "house volts 13.6 V" in as_json(kept, "tobias", "status")["reply"]
    assert "alarm 1 is closed" in as_json(kept, "tobias", "have it 1")["reply"].lower()
    assert "Against: the record as it stands at 2026-03-09T12:0" in read(kept, "--as", "tobias", "status").output


@pytest.mark.long
def test_a_record_that_has_just_ended_is_brought_up_to_the_present(tmp_path: Path) -> None:
    living = recorded(tmp_path / "quay", SystemClock().now() - 11 * MINUTE)
    assert SystemClock().now() - living.now < 10 * MINUTE
    living.keep(tmp_path / "quay" / "store")
    told = as_json(tmp_path / "quay", "tobias", "status")["reply"]
    assert "house volts 13.6 V (" in told, "with its age, because it is minutes old by now"


def test_code_words_are_hidden_in_a_reply(kept: Path) -> None:
    told = as_json(kept, "tobias", "refrigeration off")
    assert "Reply GO *** *** by" in told["reply"]


def test_the_words_of_an_open_code_are_known_again_and_not_spent(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    living = recorded(folder)
    living.writes(TOBIAS, "refrigeration off")
    [request] = living.desk.state.requests.open.values()
    living.keep(folder / "store")
    words = " ".join(request.words or ())
    for _ in range(2):
        output = read(folder, "--as", "tobias", f"go {words}").output
        assert "A command would go out to the boat" in output
        assert words.split()[0] not in output
    assert "those are not the words" in as_json(folder, "tobias", "go teapot marble")["reply"]


def test_files_changed_since_the_record_are_used_as_they_are_now(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    recorded(folder).keep(folder / "store")
    boat = folder / "boats" / "grey-wagtail" / "boat.toml"
    boat.write_text(boat.read_text().replace('"GREY WAGTAIL"', '"GREY HERON"'))
    told = as_json(folder, "tobias", "grey heron status")
    assert told["understood"]
    assert told["reply"].startswith("GREY HERON")
    assert "house volts 13.6 V" in told["reply"]


def test_a_snapshot_that_cannot_be_read_is_passed_over(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    living = recorded(folder)
    living.keep(folder / "store", snapshot=b'{"now":1}')
    assert "house volts 13.6 V" in as_json(folder, "tobias", "status")["reply"]


# ---------------------------------------------------------------- nothing is written


TEXTS = st.one_of(st.sampled_from([text for text, _ in EVERY_KIND]), st.text(max_size=60))
SENDERS = st.sampled_from(["ines", "tobias", "ruth", "marina", "somebody", "+447700900999"])


@settings(max_examples=tries(20), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(lines=st.lists(st.fixed_dictionaries({"as": SENDERS, "body": TEXTS}), max_size=12))
@pytest.mark.long
def test_whatever_is_read_changes_no_byte_of_the_store_and_gives_one_object_a_line(
    kept: Path, lines: list[dict[str, str]]
) -> None:
    before = bytes_of(kept)
    result = read(kept, "--file", "-", given="".join(f"{json.dumps(line)}\n" for line in lines))
    assert result.exit_code == 0, result.output
    assert bytes_of(kept) == before
    told = [json.loads(line) for line in result.output.splitlines()]
    assert len(told) == len(lines)
    assert all(list(each) == KEYS for each in told)


def test_it_reads_while_a_gateway_is_running_on_the_store(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    recorded(folder).keep(folder / "store")
    running = open_store(folder / "store")
    before = bytes_of(folder)
    assert "house volts 13.6 V" in as_json(folder, "tobias", "status")["reply"]
    assert bytes_of(folder) == before
    running.close()


def test_nothing_of_a_folder_without_a_record_is_written(bare: Path) -> None:
    before = {path: path.stat().st_mtime_ns for path in bare.rglob("*")}
    as_json(bare, "tobias", "visit over")
    assert {path: path.stat().st_mtime_ns for path in bare.rglob("*")} == before


# ---------------------------------------------------------------- many at once


def test_a_file_gives_one_object_a_line_each_as_if_it_were_alone(kept: Path, tmp_path: Path) -> None:
    texts = [("tobias", "visit"), ("tobias", "refrigeration off"), ("nobody", "status"), ("ines", "anchor up")]
    file = tmp_path / "texts"
    file.write_text("\n".join(json.dumps({"body": body, "as": who}) for who, body in texts) + "\n\n", "utf-8")
    result = read(kept, "--file", file)
    assert result.exit_code == 0
    assert [json.loads(line) for line in result.output.splitlines()] == [as_json(kept, *text) for text in texts]


def test_a_line_that_names_nobody_is_the_text_of_whoever_stands_behind_as(kept: Path) -> None:
    result = read(kept, "--file", "-", "--as", "tobias", given='{"body": "status"}\n')
    assert json.loads(result.output) == as_json(kept, "tobias", "status")


@pytest.mark.parametrize(
    "line", ["status", '{"as": "tobias"}', '{"body": "status"}', '["status", "tobias"]', '{"body": 1, "as": "x"}', "{"]
)
def test_a_bad_line_is_named_and_nothing_is_tried(kept: Path, line: str) -> None:
    result = CliRunner().invoke(
        heavingline, ["read", str(kept), "--file", "-"], input=f'{{"body": "status", "as": "ines"}}\n{line}\n'
    )
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "line 2" in result.stderr
    assert '{"body": "status", "as": "KEY OR NUMBER"}' in result.stderr


# ---------------------------------------------------------------- wrong use and trouble


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ([], "Give a text in quotes"),
        (["status"], "Say whose text it is"),
        (["status", "--as", "ines", "--file", "-"], "Give a text in quotes"),
    ],
)
def test_wrong_use_ends_with_2_and_says_what_is_missing(bare: Path, options: list[str], says: str) -> None:
    result = read(bare, *options)
    assert result.exit_code == 2
    assert says in result.output


def test_mistakes_in_the_files_are_named_as_check_names_them(tmp_path: Path) -> None:
    lay_down(tmp_path / "quay")
    people = tmp_path / "quay" / "people.toml"
    people.write_text(people.read_text().replace('role = "owner"', 'role = "owne"', 1))
    result = read(tmp_path / "quay", "--as", "ines", "status")
    assert result.exit_code == 1
    assert "people.toml, line" in result.output


def test_a_store_that_cannot_be_read_is_told_with_what_to_do(tmp_path: Path) -> None:
    lay_down(tmp_path / "quay")
    (tmp_path / "quay" / "store").write_bytes(b"no store at all" * 300)
    result = read(tmp_path / "quay", "--as", "ines", "status")
    assert result.exit_code == 1
    assert str(tmp_path / "quay" / "store") in result.output


def test_a_record_that_does_not_hang_together_is_told_and_nothing_is_answered(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    recorded(folder).keep(folder / "store")
    with closing(sqlite3.connect(folder / "store")) as store, store:
        store.execute("DELETE FROM entries WHERE n = 3")
    result = read(folder, "--as", "ines", "status")
    assert result.exit_code == 1
    assert "Look at it with `heavingline logbook verify`" in result.output


@pytest.mark.long
def test_the_real_command_answers(bare: Path) -> None:
    """In a process of its own, as it is typed."""
    done = subprocess.run(
        [sys.executable, "-m", "gateway", "read", str(bare), "--as", "ines", "--json", "alarms"],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
        timeout=30,
    )
    assert json.loads(done.stdout)["kind"] == "alarms"
    assert done.stderr == ""


def test_an_hour_old_record_is_taken_as_it_stood(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    recorded(folder, SystemClock().now() - HOUR).keep(folder / "store")
    told = as_json(folder, "tobias", "status")["reply"]
    assert "house volts 13.6 V," in told, "without an age"
