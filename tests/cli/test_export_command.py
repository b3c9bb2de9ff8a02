"""`heavingline logbook export`: the record for other programs, and what of it is never written."""

import csv
import hashlib
import io
import json
import shutil
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.cli.spreadsheet import as_it_was
from gateway.doors.store import open_reader
from gateway.logbook.canonical import write
from gateway.logbook.seals import seal_hash
from gateway.vocabulary.entries import Entry, SealedPart
from gateway.vocabulary.moments import SECOND, from_rfc3339, rfc3339
from tests.rehearsal.living import INES, STRANGER, TOBIAS, recorded

RIGHT = ("--unsealed", "--by", "Ruth Okell", "--reason", "asked for by the insurer")


def export(folder: Path, *options: object) -> Result:
    return CliRunner().invoke(heavingline, ["logbook", "export", str(folder), *(str(option) for option in options)])


def lines(folder: Path, *options: object) -> list[dict[str, Any]]:
    result = export(folder, "--format", "jsonl", *options)
    assert result.exit_code == 0, result.output
    return [json.loads(line) for line in result.output.splitlines()]


def rows(folder: Path, *options: object) -> list[list[str]]:
    result = export(folder, "--format", "csv", *options)
    assert result.exit_code == 0, result.output
    return list(csv.reader(io.StringIO(result.stdout_bytes.decode(), newline=""), strict=True))


def table(found: list[list[str]]) -> list[dict[str, str]]:
    """The rows below the heading by its names, as they were before they were made safe."""
    return [dict(zip(found[0], map(as_it_was, row), strict=True)) for row in found[1:]]


def kept_entries(folder: Path) -> list[Entry]:
    with open_reader(folder / "store") as reader:
        return [written.entry for written in reader.written()]


def entry_in(record: Mapping[str, Any]) -> Entry:
    fields = {name: value for name, value in record.items() if name not in ("digest", "parts")}
    return Entry(**{**fields, "sealed": tuple(fields["sealed"])})


def hash_of(record: Mapping[str, Any]) -> str:
    """By the rule that is promised: SHA-256 over the canonical bytes of the object without `digest` and `parts`."""
    return hashlib.sha256(write({k: v for k, v in record.items() if k not in ("digest", "parts")})).hexdigest()


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, tuple[str, str]]:
    """An installation with a record, and a code that stands open in it."""
    folder = tmp_path_factory.mktemp("kept") / "quay"
    living = recorded(folder)
    living.writes(TOBIAS, "refrigeration off")
    [request] = living.desk.state.requests.open.values()
    assert request.words is not None
    first, second = request.words
    living.writes(TOBIAS, f"go {first.upper()} {second[:-1]}")  # one letter is missing
    living.writes(STRANGER, f"is it {second}, {first}?")
    living.keep(folder / "store")
    return folder, (first, second)


@pytest.fixture(scope="module")
def folder(kept: tuple[Path, tuple[str, str]]) -> Path:
    return kept[0]


# ---------------------------------------------------------------- JSON lines


def test_json_lines_give_back_the_same_entries(folder: Path) -> None:
    assert [entry_in(record) for record in lines(folder)] == kept_entries(folder)


def test_the_hash_of_every_exported_entry_can_be_computed_again_and_chains_to_the_next(folder: Path) -> None:
    ends: dict[str, str] = {}
    for record in lines(folder):
        assert record["digest"] == hash_of(record)
        assert record["previous"] == ends.get(record["chain"], "")
        ends[record["chain"]] = record["digest"]
    assert set(ends) == {"installation", "grey-wagtail"}


def test_a_line_has_just_these_keys(folder: Path) -> None:
    keys = ["n", "chain", "place", "now", "happening", "kind", "version", "body", "sealed", "previous", "digest"]
    assert all(list(record) == keys for record in lines(folder))


@pytest.mark.parametrize("form", ["jsonl", "csv"])
def test_names_numbers_and_texts_are_left_out_and_persons_are_random_ids(folder: Path, form: str) -> None:
    output = export(folder, "--format", form).output
    for hidden in (INES, TOBIAS, STRANGER, "7700", "Penhale", "Tobias", "what is wrong", "CARBON MONOXIDE", "salt"):
        assert hidden not in output
    assert "p-tobias" in output


# ---------------------------------------------------------------- CSV


def test_csv_parses_back_to_the_same_entries(folder: Path) -> None:
    found = []
    for cells in table(rows(folder)):
        record: dict[str, Any] = {
            name: json.loads(cell) if name in ("n", "place", "now", "happening", "version", "body", "sealed") else cell
            for name, cell in cells.items()
            if name != "time"
        }
        assert record["digest"] == hash_of(record)
        assert cells["time"] == rfc3339(record["now"])
        found.append(entry_in(record))
    assert found == kept_entries(folder)


def test_csv_lines_end_with_cr_lf_and_every_row_has_as_many_cells_as_the_heading(folder: Path) -> None:
    written = export(folder, "--format", "csv").stdout_bytes
    assert written.endswith(b"\r\n")
    assert written.count(b"\n") == written.count(b"\r\n")
    found = rows(folder)
    assert {len(row) for row in found} == {len(found[0])}


# ---------------------------------------------------------------- which of them


def test_only_one_chain_when_it_is_named(folder: Path) -> None:
    assert {record["chain"] for record in lines(folder, "--boat", "grey-wagtail")} == {"grey-wagtail"}
    result = export(folder, "--format", "jsonl", "--boat", "salt-harrier")
    assert result.exit_code == 2
    assert "It holds: grey-wagtail, installation" in result.output


def test_from_an_instant_on_and_up_to_one_that_is_not_in_it(folder: Path) -> None:
    everything = lines(folder)
    middle = everything[len(everything) // 2]["now"]
    before, after = lines(folder, "--to", rfc3339(middle)), lines(folder, "--from", rfc3339(middle))
    assert before + after == everything
    assert after[0]["now"] == middle
    assert lines(folder, "--from", "2026-03-09", "--to", "2026-03-10") == everything
    assert lines(folder, "--from", "2026-03-10") == []


@pytest.mark.parametrize("option", ["--from", "--to"])
def test_what_is_no_instant_is_refused_with_an_example(folder: Path, option: str) -> None:
    result = export(folder, "--format", "jsonl", option, "yesterday")
    assert result.exit_code == 2
    assert "Write 2026-03-09T03:00:00Z" in result.output


# ---------------------------------------------------------------- readings


def test_every_reading_is_exported_as_it_was_received(folder: Path) -> None:
    with open_reader(folder / "store") as reader:
        kept = [(row.happening, row.now, row.reading.signal, row.reading.text) for row in reader.readings()]
    assert len(kept) > 100
    found = lines(folder, "--readings")
    assert [(r["happening"], r["now"], r["signal"], r["text"]) for r in found] == kept
    assert {r["grade"] for r in found} == {"number", "contact", "word"}


def test_readings_as_csv_say_the_same_as_json_lines(folder: Path) -> None:
    for cells, record in zip(table(rows(folder, "--readings")), lines(folder, "--readings"), strict=True):
        assert (cells["signal"], cells["text"], cells["now"]) == (record["signal"], record["text"], str(record["now"]))
        assert cells["time"] == rfc3339(record["now"])
        assert cells["retained"] == json.dumps(record["retained"])


def test_readings_of_a_stretch_of_time_only(folder: Path) -> None:
    begin = from_rfc3339("2026-03-09T12:02:00Z")
    found = lines(folder, "--readings", "--from", rfc3339(begin), "--to", rfc3339(begin + 30 * SECOND))
    assert found
    assert all(begin <= record["now"] < begin + 30 * SECOND for record in found)
    assert lines(folder, "--readings", "--boat", "installation") == []


# ---------------------------------------------------------------- sealed contents, by right


@pytest.mark.parametrize(
    "options",
    [
        ("--unsealed",),
        ("--unsealed", "--by", "Ruth Okell"),
        ("--unsealed", "--reason", "insurer"),
        ("--unsealed", "--by", " ", "--reason", "insurer"),
        ("--by", "Ruth Okell", "--reason", "insurer"),
        ("--readings", *RIGHT),
    ],
)
def test_sealed_contents_need_a_name_and_a_reason(folder: Path, options: tuple[str, ...]) -> None:
    result = export(folder, "--format", "jsonl", *options)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "--" in result.stderr


def test_the_first_line_says_who_asked_and_why(folder: Path) -> None:
    told = lines(folder, *RIGHT)[0]
    assert list(told) == ["unsealed"]
    assert told["unsealed"].startswith("Sealed contents asked for by Ruth Okell at 20")
    assert told["unsealed"].endswith("Reason: asked for by the insurer")
    [first] = rows(folder, *RIGHT)[0]
    assert "asked for by Ruth Okell" in first


def test_with_a_right_the_contents_stand_beside_their_entries_and_fit_their_hashes(folder: Path) -> None:
    texts = {}
    for record in lines(folder, *RIGHT)[1:]:
        assert record["digest"] == hash_of(record)
        assert len(record["parts"]) == len(record["sealed"])
        for part, sealed in zip(record["parts"], record["sealed"], strict=True):
            if part["salt"] is not None:
                assert seal_hash(SealedPart(salt=part["salt"], content=part["content"])) == sealed
                texts[part["content"].get("body")] = part["content"].get("number")
    assert texts["what is wrong with her?"] == INES
    assert texts["=1+1 what is this?"] == STRANGER
    assert any("Poisonous and cannot be smelt" in str(text) for text in texts)
    assert any("Do not go below" in str(text) for text in texts), "words that are no code are not hidden"


@pytest.mark.parametrize("form", ["jsonl", "csv"])
def test_code_words_are_never_written_and_cannot_be_found_by_trying(
    kept: tuple[Path, tuple[str, str]], form: str
) -> None:
    folder, (first, second) = kept
    output = export(folder, "--format", form, *RIGHT).output.casefold()
    assert first not in output
    assert second[:-1] not in output
    saltless = [p["content"] for r in lines(folder, *RIGHT)[1:] for p in r["parts"] if p["salt"] is None]
    assert len(saltless) == 4, "the code, the text that asks for it, a mistyped try, and a stranger's"
    assert {"words": "..."} in saltless
    assert any("Reply GO *** *** by" in str(part) or "Reply GO ... ... by" in str(part) for part in saltless)


def test_an_erased_part_is_null(folder: Path, tmp_path: Path) -> None:
    shutil.copytree(folder, tmp_path / "quay")
    with closing(sqlite3.connect(tmp_path / "quay" / "store")) as store, store:
        store.execute("UPDATE sealed_parts SET data = NULL WHERE n = 1 AND place = 0")
    first = lines(tmp_path / "quay", *RIGHT)[1]
    assert first["parts"][0] is None
    assert first["parts"][1]["content"]["key"]


# ---------------------------------------------------------------- where it goes


def test_into_a_new_file_for_its_owner_only(folder: Path, tmp_path: Path) -> None:
    out = tmp_path / "record.jsonl"
    result = export(folder, "--format", "jsonl", "--out", out)
    assert result.exit_code == 0
    assert result.output == f"{out}: {len(kept_entries(folder))} entries.\n"
    assert out.stat().st_mode & 0o777 == 0o600
    assert [json.loads(line) for line in out.read_text().splitlines()] == lines(folder)


def test_a_file_that_is_there_is_never_written_over(folder: Path, tmp_path: Path) -> None:
    out = tmp_path / "letter"
    out.write_text("dear Ines")
    result = export(folder, "--format", "csv", "--out", out)
    assert result.exit_code == 2
    assert "Name a new one" in result.output
    assert out.read_text() == "dear Ines"


def test_of_a_record_that_is_damaged_half_way_no_half_file_is_left(folder: Path, tmp_path: Path) -> None:
    shutil.copytree(folder, tmp_path / "quay")
    with closing(sqlite3.connect(tmp_path / "quay" / "store")) as store, store:
        store.execute("UPDATE entries SET data = x'7b7d' WHERE n = 9")
    result = export(tmp_path / "quay", "--format", "jsonl", "--out", tmp_path / "half")
    assert result.exit_code == 1
    assert "entry 9" in result.output
    assert not (tmp_path / "half").exists()


def test_exporting_changes_no_byte_of_the_store(folder: Path) -> None:
    before = (folder / "store").read_bytes()
    lines(folder, *RIGHT)
    rows(folder, "--readings")
    assert (folder / "store").read_bytes() == before


def test_the_help_says_that_the_asking_is_not_recorded(folder: Path) -> None:
    assert "NOT in the record" in " ".join(export(folder, "--help").output.split())
