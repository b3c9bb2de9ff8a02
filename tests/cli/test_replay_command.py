"""`heavingline replay`: the record taken in again, by the same files and by others. Reads, and never writes."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.desk.snapshots import state_of
from gateway.desk.state import STATE_VERSION
from gateway.doors.faces import Batch, ReadingRow, Snapshot
from gateway.doors.store import open_store
from gateway.installation.starter import lay_down
from gateway.vocabulary.happenings import ReadingsExpired
from gateway.vocabulary.moments import HOUR, from_rfc3339, rfc3339
from tests.cli.test_read_command import bytes_of
from tests.rehearsal.living import installed, recorded
from tests.stories.desk_alone import DeskAlone
from tests.stories.script import read

MORNING, NOON = "2026-03-09T07:00", "2026-03-09T12:00"
STORIES = Path(__file__).parents[1] / "stories"


def replay(folder: Path, *more: object, since: str = MORNING, until: str = NOON) -> Result:
    arguments = ["replay", str(folder), "--from", since, "--to", until, *map(str, more)]
    return CliRunner().invoke(heavingline, arguments)


def as_json(folder: Path, *more: object, **when: str) -> dict[str, Any]:
    return dict(json.loads(replay(folder, "--json", *more, **when).output))


def kept_story(folder: Path, name: str = "the-generator-morning") -> DeskAlone:
    """A story in a folder's store, as the service would have committed it."""
    bundle = installed(folder, "grey-wagtail").bundle
    story = DeskAlone(bundle, read(STORIES / f"{name}.txt"))
    story.play()
    people = [(person.id, person.key, person.number) for person in bundle.people.values()]
    rows = [ReadingRow(happening=number, now=now, reading=reading) for number, now, reading in story.rows]
    store = open_store(folder / "store")
    store.commit(Batch(readings=rows, written=story.entries, people=people))
    if story.snapshot is not None:
        data, n, happening = story.snapshot
        store.commit(Batch(snapshot=Snapshot(n=n, happening=happening, state_version=STATE_VERSION, data=data)))
    store.close()
    return story


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An installation and its record of a morning."""
    folder = tmp_path_factory.mktemp("kept") / "quay"
    kept_story(folder)
    return folder


@pytest.fixture(scope="module")
def other(kept: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with another limit; no record is looked for there."""
    folder = tmp_path_factory.mktemp("other") / "quay"
    shutil.copytree(kept, folder, ignore=shutil.ignore_patterns("store*"))
    (folder / "boats/grey-wagtail/alarms.toml").write_text(
        '[alarm.shore-lost]\nwhen = "shore off for 10 min"\n', encoding="utf-8"
    )
    return folder


# ---------------------------------------------------------------- by the same files


def test_the_same_files_come_to_exactly_the_same_and_say_so(kept: Path) -> None:
    result = replay(kept)
    assert result.exit_code == 0, result.output
    assert result.output.splitlines()[0].startswith("Replayed from 2026-03-09 07:00:00 GMT to 2026-03-09 12:00:00 GMT.")
    assert "Begins with the beginning of the record." in result.output
    assert result.output.endswith("Alarms and texts are exactly those of the record, every entry hash for hash.\n")
    assert "[assumed]" not in result.output


def test_json_is_one_object_and_says_the_same(kept: Path) -> None:
    found = as_json(kept)
    assert found["same"] is found["same_files"] is found["hash_for_hash"] is True
    assert found["first_difference"] is found["assumption"] is found["with"] is None
    texts = [line for line in found["lines"] if line["kind"] == "text"]
    assert {line["which"] for line in found["lines"]} == {"both"}
    assert any("GO ... ..." in line["body"] for line in texts), "code words are hidden"
    assert texts[0]["to"] in ("Ines Marlow", "Tobias Penhale")
    assert texts[0]["local"].endswith("+00:00")


def test_it_begins_in_the_middle_with_the_fold_of_what_was_before(kept: Path) -> None:
    result = replay(kept, since="2026-03-09T08:02")
    assert "Begins with the record from its beginning on, up to 2026-03-09T08:0" in result.output
    assert result.exit_code == 0, result.output
    assert "hash for hash" in result.output


def test_it_begins_with_the_kept_state_where_there_is_one_before(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    story = kept_story(folder, "found-at-the-start")
    assert story.snapshot is not None
    kept_at = state_of(story.snapshot[0]).now
    result = replay(folder, since=rfc3339(kept_at + 1), until="2026-03-20")
    assert f"Begins with the state that was kept at {rfc3339(kept_at)}." in result.output
    assert result.exit_code == 0, result.output
    assert "hash for hash" in result.output


# ---------------------------------------------------------------- by others


def test_other_files_are_shown_side_by_side_and_the_assumption_on_each_line(kept: Path, other: Path) -> None:
    result = replay(kept, "--with", other)
    assert result.exit_code == 0, result.output
    lines = result.output.split("\n\n")[1].splitlines()
    marked = [line.endswith("[assumed]") for line in lines]
    assert True in marked
    assert marked == sorted(marked)
    assert any(" was       alarm " in line for line in lines)
    assert "it is assumed that nobody answers, and every text is delivered after 20 s" in result.output
    found = as_json(kept, "--with", other)
    assert (found["same"], found["same_files"]) == (False, False)
    assert found["first_difference"]["at"].startswith("2026-03-09T07:45:00")


def test_files_that_have_changed_since_are_said_to_be_others(kept: Path, tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    shutil.copytree(kept, folder)
    people = folder / "people.toml"
    people.write_text(people.read_text(encoding="utf-8") + "# a remark\n", encoding="utf-8")
    result = replay(folder)
    assert "Other files were in use then" in result.output
    assert result.output.endswith("Alarms and texts are exactly those of the record.\n")


# ---------------------------------------------------------------- never a byte


@pytest.mark.long
def test_no_byte_is_changed_even_while_the_gateway_holds_the_store(kept: Path, other: Path) -> None:
    before = bytes_of(kept)
    store = open_store(kept / "store")
    try:
        held = bytes_of(kept)
        assert replay(kept).exit_code == 0
        assert replay(kept, "--with", other).exit_code == 0
        assert bytes_of(kept) == held
    finally:
        store.close()
    assert replay(kept).exit_code == 0
    shown = bytes_of(kept)
    assert shown[str(kept / "store")] == before[str(kept / "store")]


def test_neither_number_nor_code_is_shown(kept: Path) -> None:
    for output in (replay(kept).output, replay(kept, "--json").output):
        assert "+447700900" not in output.replace(" ", "")


# ---------------------------------------------------------------- wrong use, plainly answered

WRONG = [
    ("soon", NOON, "--from soon: no instant. Write 2026-03-09"),
    (NOON, MORNING, "--from is not before --to"),
    (NOON, NOON, "--from is not before --to"),
    ("2027-01-01", "2027-01-02", "The record goes from 2026-03-09T07:"),
    ("2025-01-01", "2025-01-02", "The record goes from 2026-03-09T07:"),
    ("2026-03-29T01:30", "2026-04-01", "leave this hour out"),
]


@pytest.mark.parametrize(("since", "until", "said"), WRONG)
def test_wrong_times_are_answered_with_what_to_write(kept: Path, since: str, until: str, said: str) -> None:
    result = replay(kept, since=since, until=until)
    assert result.exit_code == 2
    assert said in result.output


def test_a_folder_without_a_record_is_told_so(tmp_path: Path) -> None:
    lay_down(tmp_path / "quay", ["grey-wagtail"])
    result = replay(tmp_path / "quay")
    assert result.exit_code == 1
    assert "store" in result.output


def test_a_folder_with_other_boats_is_told_so(kept: Path, tmp_path: Path) -> None:
    installed(tmp_path / "far", "salt-harrier")
    result = replay(kept, "--with", tmp_path / "far")
    assert result.exit_code == 2
    assert (
        "the record is of grey-wagtail, and this installation has none of them (it has salt-harrier)" in result.output
    )


def test_mistakes_in_the_other_files_are_named(kept: Path, other: Path, tmp_path: Path) -> None:
    shutil.copytree(other, tmp_path / "bad")
    (tmp_path / "bad/callout.toml").write_text("nonsense = 1\n", encoding="utf-8")
    result = replay(kept, "--with", tmp_path / "bad")
    assert result.exit_code == 1
    assert "callout.toml" in result.output


def test_a_damaged_record_is_said_to_be_so(kept: Path, tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    shutil.copytree(kept, folder)
    (folder / "store").write_bytes(b"no store at all" * 1000)
    result = replay(folder)
    assert result.exit_code == 1
    assert "store" in result.output


# ---------------------------------------------------------------- what is no longer kept


@pytest.mark.long
def test_days_whose_readings_are_gone_say_so_and_the_rest_is_replayed(tmp_path: Path) -> None:
    folder = tmp_path / "quay"
    living = recorded(folder, from_rfc3339("2026-03-08T22:00:00Z"))
    living.hear(2 * HOUR)
    living.hear(HOUR)
    before = from_rfc3339("2026-03-09T00:00:00Z")
    living.take(ReadingsExpired(before=before, hours=2, readings=1000, size=9000, because="age"))
    living.hear(HOUR)
    living.keep(folder / "store")
    store = open_store(folder / "store")
    while store.drop_hour(before):
        pass
    store.close()
    found = as_json(folder, since="2026-03-08", until="2026-03-10")
    assert found["days_not_kept"] == ["2026-03-08"]
    assert found["from"] == "2026-03-09T00:00:00Z"
    assert found["same"], found["first_difference"]
    assert found["begins_with"].endswith("without the readings that are no longer kept")
    shown = replay(folder, since="2026-03-08", until="2026-03-10").output
    assert "2026-03-08: its readings are no longer kept" in shown
    gone = replay(folder, since="2026-03-08", until="2026-03-09")
    assert gone.exit_code == 2
    assert "no longer kept, so nothing before that can be replayed. Name a later --to" in gone.output
