"""`heavingline backup`, `restore` and `erase`, by the real commands on the record that the demo left."""

import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.demo.performance import TOKEN
from gateway.desk.folding import rebuilt
from gateway.desk.snapshots import state_bytes
from gateway.doors.store import open_reader, open_store
from gateway.installation.load import load
from gateway.logbook.verify import verify

TOBIAS = ("Tobias", "Penhale", "447700900456")


@pytest.fixture
def folder(played: Any, tmp_path: Path) -> Path:
    """The kept demo, to be altered at will."""
    shutil.copytree(played.folder, tmp_path / "demo")
    return tmp_path / "demo"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(heavingline, [str(word) for word in words])


def erase(folder: Path, person: str) -> Result:
    return run("erase", folder, person, "--by", "Ruth Okell", "--reason", "asked to be forgotten")


def leaves_the_files(folder: Path) -> None:
    """Tobias goes, the demo's files say somebody else."""
    people = folder / "people.toml"
    people.write_text(people.read_text(encoding="utf-8").replace("[person.tobias]", "[person.other]"), encoding="utf-8")


def state_of(folder: Path) -> bytes:
    """The state folded from everything that the store holds."""
    bundle = load(
        folder,
        person_id=lambda key: key,
        environ={"HEAVINGLINE_CARRIER_TOKEN": TOKEN},
    ).bundle
    with open_reader(folder / "store") as reader:
        entries = (written for written in reader.written() if written.entry.kind != "person-erased")
        desk = rebuilt(bundle, None, entries, ((row.happening, row.now, row.reading) for row in reader.readings()))
    return state_bytes(desk.state)


# ---------------------------------------------------------------- backup and restore


def test_a_backup_goes_into_a_new_file_and_is_verified(folder: Path, tmp_path: Path) -> None:
    done = run("backup", folder, tmp_path / "copy")
    assert done.exit_code == 0, done.output
    assert "keep it private" in done.output
    assert "In order: 1" in done.output
    assert "end value" in done.output
    again = run("backup", folder, tmp_path / "copy")
    assert again.exit_code == 1
    assert "a file of that name already" in again.output


def test_a_backup_works_beside_the_running_service(folder: Path, tmp_path: Path) -> None:
    store = open_store(folder / "store")
    try:
        assert run("backup", folder, tmp_path / "copy").exit_code == 0
        refused = run("restore", folder, tmp_path / "copy", "--replace")
        assert refused.exit_code == 1
        assert "another gateway is running on it" in refused.output
    finally:
        store.close()


@pytest.mark.long
def test_a_restore_keeps_what_was_there_and_says_what_follows(folder: Path, tmp_path: Path) -> None:
    run("backup", folder, tmp_path / "copy")
    refused = run("restore", folder, tmp_path / "copy")
    assert refused.exit_code == 1
    assert "--replace" in refused.output
    done = run("restore", folder, tmp_path / "copy", "--replace")
    assert done.exit_code == 0, done.output
    assert "kept as" in done.output
    assert "acts on no text sent before now" in done.output
    with open_reader(folder / "store") as reader:
        assert verify(reader).ok
    assert [file.name for file in folder.glob("store.replaced-*") if file.suffix[-3:] not in ("wal", "shm")]


def test_a_backup_that_does_not_verify_is_not_laid_in_place(folder: Path, tmp_path: Path) -> None:
    run("backup", folder, tmp_path / "copy")
    data = (tmp_path / "copy").read_bytes()
    place = data.index(b'"kind":"service-started"')
    (tmp_path / "copy").write_bytes(data[: place + 9] + b"S" + data[place + 10 :])
    (folder / "store").unlink()
    done = run("restore", folder, tmp_path / "copy")
    assert done.exit_code == 1
    assert "does not verify: nothing was changed" in done.output
    assert not (folder / "store").exists()


def test_a_backup_that_is_not_there_is_wrong_use(folder: Path, tmp_path: Path) -> None:
    done = run("restore", folder, tmp_path / "copy")
    assert done.exit_code == 2
    assert "there is no such file" in done.output


# ---------------------------------------------------------------- erasing a person


def test_a_person_is_erased_and_the_chains_and_the_state_stay(folder: Path) -> None:
    leaves_the_files(folder)
    before = state_of(folder)
    done = erase(folder, "tobias")
    assert done.exit_code == 0, done.output
    assert "every chain still verifies" in done.output
    with open_reader(folder / "store") as reader:
        report = verify(reader)
        last = list(reader.written())[-1]
        held = [part.content for written in reader.written() for part in written.parts if part is not None]
    assert report.ok
    assert state_of(folder) == before
    assert last.entry.kind == "person-erased"
    assert "Ruth" not in str(last.entry.body)
    assert last.parts[0] is not None
    assert last.parts[0].content == {"by": "Ruth Okell", "reason": "asked to be forgotten"}
    assert sum(chain.parts_erased for chain in report.chains) == last.entry.body["count"] != 0
    assert any("Ines" in str(content) for content in held), "others are still there"
    for name in TOBIAS:
        assert not any(name in str(content) for content in held)
        for file in folder.glob("store*"):
            assert name.encode() not in file.read_bytes(), (name, file.name)


def test_the_service_goes_on_from_an_erased_record(folder: Path) -> None:
    leaves_the_files(folder)
    erase(folder, "tobias")
    store = open_store(folder / "store")
    loaded = store.load("2")
    assert "tobias" not in {key for _, key, _ in loaded.people}
    store.close()
    shown = run("logbook", "show", folder, "--names")
    assert "(erased)" in shown.output
    assert "sealed parts that named person" in shown.output


def test_nobody_is_erased_while_the_service_runs_or_while_the_files_still_name_them(folder: Path) -> None:
    named = erase(folder, "tobias")
    assert named.exit_code == 1
    assert "still stands in people.toml" in named.output
    leaves_the_files(folder)
    store = open_store(folder / "store")
    try:
        running = erase(folder, "tobias")
        assert running.exit_code == 1
        assert "Stop that one first" in running.output
    finally:
        store.close()


def test_a_person_that_the_record_does_not_know_is_wrong_use_and_the_known_are_named(folder: Path) -> None:
    unknown = erase(folder, "nobody")
    assert unknown.exit_code == 2
    assert "tobias" in unknown.output
    with open_reader(folder / "store") as reader:
        assert all(chain.parts_erased == 0 for chain in verify(reader).chains)
