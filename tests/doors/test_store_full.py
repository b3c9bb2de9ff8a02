"""A disk that is really full: nothing of a failed batch is there, and the store goes on by itself once there is room.

The scenario runs in a process of its own, in a mount namespace with a file system of 1 MB (tmpfs), where the system
allows that: to root at once, to others through a user namespace. Where it allows neither, SQLite's own page limit
gives the same error code (SQLITE_FULL) from the same place. The run says which way was used.
"""

import errno
import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from gateway.doors.faces import Batch, DoorTrouble, ReadingRow
from gateway.doors.store import SqliteStore, open_reader, open_store
from gateway.logbook.chains import Heads, heads_of, heads_plain, link
from gateway.logbook.verify import verify
from gateway.vocabulary.readings import Grade, Reading

BOAT = "grey-wagtail"
REAL = {
    "a full file system of 1 MB": ["unshare", "--mount"],
    "a full file system of 1 MB in a user namespace": ["unshare", "--user", "--map-root-user", "--mount"],
}
LIMIT = "the page limit of SQLite"
MOUNT = 'mount -t tmpfs -o size=1m none "$0" && exec "$@"'


# ---------------------------------------------------------------- the scenario, in the process of its own


@dataclass(slots=True)
class Disk:
    """Ways to fill the place where the store lies, and to make room again."""

    fill: Callable[[], None]
    free: Callable[[], None]


def real_disk(folder: Path) -> Disk:
    ballast = folder / "ballast"

    def fill() -> None:
        with ballast.open("ab", buffering=0) as file:
            for size in (65_536, 512, 1):
                try:
                    while True:
                        file.write(b"x" * size)
                except OSError as error:
                    if error.errno != errno.ENOSPC:
                        raise

    return Disk(fill, ballast.unlink)


def limited(store: SqliteStore) -> Disk:
    driver = store._connection().driver

    def fill() -> None:
        driver.execute("PRAGMA max_page_count = 1").fetchall()  # SQLite takes the present size for the least

    return Disk(fill, lambda: driver.execute("PRAGMA max_page_count = 100000").fetchall() and None)


def batch(heads: Heads, size: int = 20_000) -> Batch:
    reading = Reading(signal=f"{BOAT}/note", grade=Grade.WORD, text="x" * size)
    written = [link(heads, chain=BOAT, now=1_000, happening=heads.n, kind="raised", version=1, body={"alarm": 14})]
    return Batch(readings=[ReadingRow(happening=heads.n, now=1_000, reading=reading)], written=written)


def attempt(store: SqliteStore, what: Batch) -> str:
    try:
        store.commit(what)
    except DoorTrouble as trouble:
        return f"{type(trouble).__name__}: {trouble.problem}"
    return "committed"


def on_disk(path: Path) -> dict[str, Any]:
    with open_reader(path) as reader:
        report = verify(reader)
    return {"ok": report.ok, "entries": report.entries, "readings": report.readings}


def scenario(way: str, folder: Path) -> dict[str, Any]:
    """What became of each step, for the test to judge."""
    path = folder / "store.db"
    store, heads, said = open_store(path), Heads(), {}
    disk = limited(store) if way == LIMIT else real_disk(folder)
    said["before"] = attempt(store, batch(heads))
    disk.fill()
    kept = heads_plain(heads)
    said["full"] = [attempt(store, batch(heads_of(kept))) for _ in range(3)]
    said["while full"] = on_disk(path)
    said["loaded while full"] = [len(list(store.load("1").entries)), len(list(store.load("1").readings))]
    disk.free()
    heads = heads_of(kept)
    said["with room again"] = attempt(store, batch(heads))
    committed = 2
    if way == LIMIT:
        disk.fill()
    while (last := attempt(store, batch(heads))) == "committed":
        committed += 1
    said["in the end"], said["committed"] = last, committed
    said["when it filled up by itself"] = on_disk(path)
    store.close()
    said["opened again"] = on_disk(path)
    return said


def fresh_on_full(folder: Path) -> str:
    disk = real_disk(folder)
    disk.fill()
    try:
        open_store(folder / "fresh.db")
    except DoorTrouble as trouble:
        found = f"{type(trouble).__name__}: {trouble.problem}"
    else:
        found = "opened"
    disk.free()
    return found


# ---------------------------------------------------------------- the tests


def strongest_way(folder: Path) -> str:
    for way, start in REAL.items():
        tried = subprocess.run([*start, "sh", "-c", MOUNT, str(folder), "true"], capture_output=True, check=False)
        if tried.returncode == 0:
            return way
    return LIMIT


def played(way: str, folder: Path) -> dict[str, Any]:
    start = [*REAL[way], "sh", "-c", MOUNT, str(folder)] if way in REAL else []
    command = [*start, sys.executable, __file__, way, str(folder)]
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    ended = subprocess.run(command, env=env, capture_output=True, text=True, check=False, timeout=50)
    assert ended.returncode == 0, ended.stderr
    found: dict[str, Any] = json.loads(ended.stdout)
    return found


def judge(said: dict[str, Any]) -> None:
    assert said["before"] == said["with room again"] == "committed"
    assert len(said["full"]) == 3
    for words in (*said["full"], said["in the end"]):
        assert words.startswith("StoreTrouble: the disk is full (SQLITE_FULL"), words
    assert said["while full"] == {"ok": True, "entries": 1, "readings": 1}
    assert said["loaded while full"] == [1, 1]
    everything = {"ok": True, "entries": said["committed"], "readings": said["committed"]}
    assert said["when it filled up by itself"] == said["opened again"] == everything


def test_on_a_full_disk_nothing_of_a_batch_is_kept_and_the_store_goes_on_when_there_is_room(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    way = strongest_way(tmp_path)
    said = played(way, tmp_path)
    judge(said)
    if way in REAL:
        assert said["committed"] > 5, "1 MB holds more than five batches of 20 kB"
        assert said["fresh"].startswith("StoreTrouble: the disk is full"), said["fresh"]
        assert not list(tmp_path.iterdir()), "the file system was the small one, not this folder's"
    with capsys.disabled():
        print(f"\n[the full disk was {way}]")


@pytest.mark.long
def test_the_same_holds_at_the_page_limit_of_sqlite(tmp_path: Path) -> None:
    judge(played(LIMIT, tmp_path))


if __name__ == "__main__":
    _, its_way, its_folder = sys.argv
    outcome = scenario(its_way, Path(its_folder))
    if its_way in REAL:
        for left in Path(its_folder).iterdir():
            left.unlink()
        outcome["fresh"] = fresh_on_full(Path(its_folder))
    print(json.dumps(outcome))
