"""The durable store kept for years: backed up, restored, put aside when damaged, packed, thinned, erased from."""

import shutil
import sqlite3
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from gateway.doors.faces import Batch, ReadingRow, Snapshot, StoreOfOthers, StoreTaken, StoreTrouble, StoreUnreadable
from gateway.doors.store import back_up, open_afresh, open_reader, open_store, put_in_place, thinning
from gateway.doors.store.thinning import unpacked_row
from gateway.doors.store.writing import SqliteStore
from gateway.history.packing import packed
from gateway.history.retention import bytes_a_reading
from gateway.logbook.blocks import checksum
from gateway.logbook.chains import Heads, accept, link
from gateway.logbook.gone import PARTS_ERASED, PERSON_ERASED, READINGS_DROPPED
from gateway.logbook.kept_readings import HOUR_KEPT, HOUR_KEPT_VERSION, hour_of, line, roll
from gateway.logbook.report import HoursSeen, Report
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.moments import HOUR, MINUTE, from_rfc3339
from gateway.vocabulary.readings import Grade, Reading

BEGAN = from_rfc3339("2026-03-01T06:00:00Z")
BOATS = ("grey-wagtail", "salt-harrier")
SECRET = "+447700900456"


class Days:
    """Fills a store: readings of two boats each minute, an entry for each closed hour, sealed parts now and then."""

    def __init__(self, store: SqliteStore) -> None:
        self.store, self.heads, self.now, self.happening = store, Heads(), BEGAN, 0
        self.hours: dict[str, tuple[int, int, str]] = {}

    def go_on(self, minutes: int) -> None:
        """So many minutes more; a commit holds what came in two."""
        written: list[Written] = []
        rows: list[ReadingRow] = []
        for _ in range(minutes):
            self.now += MINUTE
            self.happening += 1
            rows += [row for boat in BOATS for row in self._rows(boat, written)]
            if self.happening % 10 == 0:
                written.append(self.entry())
            if self.happening % 2 == 0:
                self.store.commit(Batch(readings=rows, written=written))
                rows, written = [], []

    def entry(self, number: str = SECRET) -> Written:
        part = SealedPart(salt=f"{self.heads.n:032x}", content={"number": number})
        return self._link("installation", "text-queued", {"order": str(self.heads.n)}, [part])

    def _rows(self, boat: str, written: list[Written]) -> list[ReadingRow]:
        rows = []
        for name, text in (("volts", f"12.{self.happening % 70:02}"), ("pump", "true")):
            hour, count, rolled = self.hours.get(boat, (hour_of(self.now), 0, ""))
            if hour != hour_of(self.now):
                body = {"boat": boat, "hour": hour, "count": count, "digest": rolled}
                written.append(self._link(boat, HOUR_KEPT, body, []))
                hour, count, rolled = hour_of(self.now), 0, ""
            reading = Reading(signal=f"{boat}/{name}", grade=Grade.NUMBER, text=text)
            rows.append(ReadingRow(happening=self.happening, now=self.now, reading=reading))
            self.hours[boat] = (hour, count + 1, roll(rolled, line(self.happening, self.now, reading)))
        return rows

    def _link(self, chain: str, kind: str, body: dict[str, object], parts: list[SealedPart]) -> Written:
        return link(
            self.heads,
            chain=chain,
            now=self.now,
            happening=self.happening,
            kind=kind,
            version=HOUR_KEPT_VERSION,
            body=body,  # type: ignore[arg-type]
            parts=parts,
        )


@pytest.fixture(scope="session")
def five_hours(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Heads, int]:
    """A store of five hours and ten minutes, closed; its heads and last happening. Copy it before using it."""
    path = tmp_path_factory.mktemp("days") / "store"
    store = open_store(path)
    days = Days(store)
    days.go_on(5 * 60 + 10)
    store.close()
    return path, days.heads, days.happening


@pytest.fixture
def path(five_hours: tuple[Path, Heads, int], tmp_path: Path) -> Path:
    shutil.copy(five_hours[0], tmp_path / "store")
    return tmp_path / "store"


def says(store: SqliteStore, path: Path, kind: str, **body: int | str) -> None:
    """An entry that says what is going, as the service commits one before anything goes."""
    heads, last = Heads(), None
    with open_reader(path) as reader:
        for written in reader.written():
            accept(heads, written)
            last = written.entry
    assert last is not None
    fields = {"chain": "installation", "now": last.now + 1, "happening": last.happening + 1, "version": 1}
    store.commit(Batch(written=[link(heads, kind=kind, body=body, **fields)]))  # type: ignore[arg-type]


def verified(path: Path) -> Report:
    with open_reader(path) as reader:
        return verify(reader)


def all_readings(path: Path) -> list[ReadingRow]:
    with open_reader(path) as reader:
        return list(reader.readings())


def hours(report: Report) -> set[tuple[int, int, int]]:
    def seen(boat: HoursSeen) -> tuple[int, int, int]:
        return boat.kept, boat.changed, boat.no_longer_kept

    return {seen(boat) for boat in report.hours}


# ---------------------------------------------------------------- backup and restore


def test_a_backup_beside_the_running_service_is_one_complete_file_that_verifies_by_itself(
    path: Path, tmp_path: Path
) -> None:
    store = open_store(path)
    store.commit(Batch(people=[("1", "ines", "+447700900123")]))
    back_up(path, tmp_path / "copy")
    store.commit(Batch(people=[("2", "tobias", "+447700900456")]))
    store.close()
    assert sorted(file.name for file in tmp_path.iterdir() if file.name.startswith("copy")) == ["copy"]
    assert (tmp_path / "copy").stat().st_mode & 0o077 == 0
    alone = tmp_path / "elsewhere"
    alone.mkdir()
    shutil.move(tmp_path / "copy", alone / "copy")
    assert verified(alone / "copy").ok
    again = open_store(alone / "copy")
    assert again.load("").people == [("1", "ines", "+447700900123")]
    again.close()


def test_a_backup_while_commits_come_is_of_one_moment(
    path: Path, tmp_path: Path, five_hours: tuple[Path, Heads, int]
) -> None:
    store = open_store(path)
    days = Days(store)
    days.heads = Heads(five_hours[1].n, dict(five_hours[1].chains))
    stop, backups = threading.Event(), 0

    def commits() -> None:
        while not stop.is_set():
            store.commit(Batch(written=[days.entry(), days.entry()]))

    writer = threading.Thread(target=commits)
    writer.start()
    try:
        for number in range(3):
            back_up(path, tmp_path / f"copy-{number}")
            backups += 1
    finally:
        stop.set()
        writer.join()
        store.close()
    seen = [verified(tmp_path / f"copy-{number}") for number in range(backups)]
    assert all(report.ok for report in seen)
    assert all((report.entries - five_hours[1].n) % 2 == 0 for report in seen), "a batch whole, or not at all"


def test_a_backup_is_never_laid_over_a_file(path: Path, tmp_path: Path) -> None:
    (tmp_path / "mine").write_text("mine")
    with pytest.raises(StoreTrouble, match="a file of that name already"):
        back_up(path, tmp_path / "mine")
    assert (tmp_path / "mine").read_text() == "mine"
    assert not list(tmp_path.glob("*.part"))


def test_a_backup_of_nothing_says_so_and_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(StoreUnreadable, match="no such file"):
        back_up(tmp_path / "store", tmp_path / "copy")
    assert list(tmp_path.iterdir()) == []


def test_a_restored_store_bears_the_mark_of_it_until_that_is_said(path: Path, tmp_path: Path) -> None:
    back_up(path, tmp_path / "copy")
    now = BEGAN + 50 * HOUR
    assert put_in_place(tmp_path / "copy", tmp_path / "new" / "store", now, replace=False) is None
    store = open_store(tmp_path / "new" / "store")
    marks = store.load("").marks
    assert marks.restored is not None
    assert (marks.restored.backup_n, marks.restored.backup_at) == (
        verified(path).entries,
        all_readings(path)[-1].now,
    )
    assert marks.texts_after == now
    store.commit(Batch(said=["restored"]))
    assert store.load("").marks.restored is None
    assert store.load("").marks.texts_after == now, "for ever"
    store.close()
    assert open_store(path).load("").marks.restored is None, "the backup's own store bears none"


def test_a_store_that_is_there_or_held_is_not_replaced_unasked(path: Path, tmp_path: Path) -> None:
    back_up(path, tmp_path / "copy")
    before = path.read_bytes()
    with pytest.raises(StoreTrouble, match="--replace"):
        put_in_place(tmp_path / "copy", path, BEGAN, replace=False)
    store = open_store(path)
    with pytest.raises(StoreTaken):
        put_in_place(tmp_path / "copy", path, BEGAN, replace=True)
    store.close()
    assert path.read_bytes() == before
    aside = put_in_place(tmp_path / "copy", path, BEGAN, replace=True)
    assert aside is not None
    assert aside.name == "store.replaced-20260301T060000Z"
    assert verified(aside).ok


def test_a_store_put_aside_takes_what_is_still_in_its_journal_with_it(path: Path, tmp_path: Path) -> None:
    back_up(path, tmp_path / "copy")
    store = open_store(path)
    store.commit(Batch(people=[("1", "ines", "+447700900123")]))
    for end in ("", "-wal"):  # as a kill leaves them
        shutil.copy(f"{path}{end}", tmp_path / f"killed{end}")
    store.close()
    aside = put_in_place(tmp_path / "copy", tmp_path / "killed", BEGAN, replace=True)
    assert aside is not None
    with sqlite3.connect(aside) as file:
        assert file.execute("SELECT key FROM people").fetchall() == [("ines",)]


@pytest.mark.parametrize("what", ["words", "another database"])
def test_what_is_no_store_is_not_laid_in_place(tmp_path: Path, what: str) -> None:
    backup = tmp_path / "backup"
    if what == "words":
        backup.write_bytes(b"no database at all " * 400)
    else:
        with sqlite3.connect(backup) as file:
            file.execute("CREATE TABLE boats (name TEXT)")
    with pytest.raises(StoreUnreadable):
        put_in_place(backup, tmp_path / "store", BEGAN, replace=False)
    assert not (tmp_path / "store").exists()


# ---------------------------------------------------------------- damage


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def garbage(path: Path) -> None:
    path.write_bytes(b"just words, no record at all. " * 500)


def last_page(path: Path) -> None:
    data = bytearray(path.read_bytes())
    for place in range(len(data) - 4096, len(data), 40):
        data[place] ^= 0x55
    path.write_bytes(bytes(data))


def last_entry(path: Path) -> None:
    with sqlite3.connect(path) as file:
        file.execute(
            "UPDATE entries SET data = CAST(replace(CAST(data AS TEXT), 'queued', 'queueD') AS BLOB) "
            "WHERE n = (SELECT max(n) FROM entries)"
        )


def last_entry_gone(path: Path) -> None:
    with sqlite3.connect(path) as file:
        file.execute("DELETE FROM sealed_parts WHERE n = (SELECT max(n) FROM entries)")
        file.execute("DELETE FROM entries WHERE n = (SELECT max(n) FROM entries)")


def last_block(path: Path) -> None:
    with sqlite3.connect(path) as file:
        file.execute("UPDATE reading_blocks SET lines = x'00' WHERE id = (SELECT max(id) FROM reading_blocks)")


@pytest.mark.parametrize("damage", [cut_short, garbage, last_page, last_entry, last_entry_gone, last_block])
def test_damage_at_the_end_is_found_when_the_store_is_opened(path: Path, damage: Callable[[Path], None]) -> None:
    damage(path)
    with pytest.raises(StoreUnreadable):
        open_store(path)


def test_every_flipped_byte_of_the_last_pages_is_found_or_does_no_harm(path: Path) -> None:
    whole = path.read_bytes()
    for back in range(40, 9_000, 1_511):
        data = bytearray(whole)
        data[-back] ^= 0x20
        path.write_bytes(bytes(data))
        try:
            store = open_store(path)
        except StoreUnreadable:
            continue
        store.commit(Batch(people=[("1", "ines", "+447700900123")]))
        store.close()
        assert verified(path).ok, back


def test_a_damaged_store_is_kept_aside_and_the_fresh_one_bears_the_mark(path: Path) -> None:
    garbage(path)
    words = path.read_bytes()
    store = open_afresh(path, "the file is damaged", BEGAN)
    loaded = store.load("")
    assert loaded.last_now is None
    assert loaded.marks.replaced is not None
    assert (loaded.marks.replaced.kept_as, loaded.marks.replaced.problem) == (
        "store.damaged-20260301T060000Z",
        "the file is damaged",
    )
    assert path.with_name("store.damaged-20260301T060000Z").read_bytes() == words
    store.start_afresh("again", BEGAN)
    assert path.with_name("store.damaged-20260301T060000Z-2").exists(), "two in one second keep both"
    store.commit(Batch(said=["replaced"]))
    assert store.load("").marks.replaced is None
    store.close()


def test_a_file_that_is_sound_and_not_ours_is_told_apart_from_damage(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / "store") as file:
        file.execute("CREATE TABLE boats (name TEXT)")
    with pytest.raises(StoreOfOthers):
        open_store(tmp_path / "store")


# ---------------------------------------------------------------- packed, dropped, erased


def pack_all(store: SqliteStore, *, before: int) -> int:
    groups = 0
    for held in store.survey():
        while held.hour < before and (group := store.next_group(held)) is not None:
            assert store.put_packed(group)
            groups += 1
    return groups


def test_packed_hours_hold_the_same_readings_in_the_same_order_and_still_verify(path: Path) -> None:
    before, report = all_readings(path), verified(path)
    store = open_store(path)
    loose = bytes_a_reading(store.survey(), packed=False)
    assert pack_all(store, before=BEGAN + 4 * HOUR) == 4
    held = store.survey()
    assert [hour.loose == 0 for hour in held] == [True] * 4 + [False] * 2
    small = bytes_a_reading(held, packed=True)
    assert small is not None
    assert loose is not None
    assert small < loose / 5
    assert [row.happening for row in store.load("").readings] == [row.happening for row in before]
    store.close()
    assert all_readings(path) == before
    after = verified(path)
    assert (after.ok, after.hours, after.readings) == (True, report.hours, report.readings)


def test_a_start_from_a_snapshot_amid_a_packed_hour_brings_only_what_came_after_it(path: Path) -> None:
    before = all_readings(path)
    store = open_store(path)
    happening = before[len(before) // 3].happening
    store.commit(Batch(snapshot=Snapshot(n=0, happening=happening, state_version="1", data=b"{}")))
    pack_all(store, before=BEGAN + 9 * HOUR)
    assert list(store.load("1").readings) == [row for row in before if row.happening > happening]
    store.close()


def test_readings_that_come_while_an_hour_is_packed_are_not_lost(path: Path) -> None:
    store = open_store(path)
    held = store.survey()
    group = store.next_group(held[-1])
    assert group is not None
    store.commit(
        Batch(
            readings=[
                ReadingRow(
                    happening=9_999,
                    now=held[-1].hour + 40 * MINUTE,
                    reading=Reading(signal="grey-wagtail/volts", grade=Grade.NUMBER, text="1"),
                )
            ]
        )
    )
    assert store.put_packed(group), "it is behind those packed"
    assert not store.put_packed(group), "they are not there any more as they were read"
    assert [row.happening for row in store.load("").readings][-1] == 9_999
    store.close()


@pytest.mark.parametrize("form", ["loose", "packed"])
def test_dropped_hours_are_no_longer_kept_and_the_rest_still_verifies(path: Path, form: str) -> None:
    before = all_readings(path)
    store = open_store(path)
    if form == "packed":
        pack_all(store, before=BEGAN + 9 * HOUR)
    limit = BEGAN + 2 * HOUR
    says(store, path, READINGS_DROPPED, before=limit)
    dropped = 0
    while store.drop_hour(limit):
        dropped += 1
        assert verified(path).ok, "after each step"
    assert dropped == 2
    store.close()
    assert all_readings(path) == [row for row in before if row.now >= limit]
    assert hours(verified(path)) == {(3, 0, 2)}


def test_a_reading_changed_in_a_packed_hour_changes_the_hour(path: Path) -> None:
    store = open_store(path)
    pack_all(store, before=BEGAN + 9 * HOUR)
    store.close()

    with sqlite3.connect(path) as file:
        file.row_factory = sqlite3.Row

        class Row:
            def __init__(self, row: sqlite3.Row) -> None:
                self.form, self.places, self.lines = row["form"], row["places"], row["lines"]
                self.id, self.batch = row["id"], row["batch"]

        row = Row(file.execute("SELECT * FROM reading_blocks ORDER BY id LIMIT 1").fetchone())
        places, lines = unpacked_row(row)
        forged = lines.replace(b'"12.01"', b'"13.01"')
        assert forged != lines
        new = (packed(forged), checksum(row.id, row.batch, places, forged), row.id)
        file.execute("UPDATE reading_blocks SET lines = ?, checksum = ? WHERE id = ?", new)
    report = verified(path)
    assert report.first_bad is not None
    assert "are not those recorded" in report.first_bad.what


def test_a_damaged_packed_block_is_named(path: Path) -> None:
    store = open_store(path)
    pack_all(store, before=BEGAN + 9 * HOUR)
    store.close()
    with sqlite3.connect(path) as file:
        file.execute("UPDATE reading_blocks SET lines = substr(lines, 1, 40) WHERE id = 1")
    report = verified(path)
    assert not report.ok
    assert report.first_bad is not None


def test_sealed_parts_are_erased_by_age_in_steps_and_the_chains_still_verify(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(thinning, "PARTS_AT_ONCE", 3)
    store = open_store(path)
    upto, parts = store.parts_before(BEGAN + 2 * HOUR)
    assert parts == 11
    says(store, path, PARTS_ERASED, before=BEGAN + 2 * HOUR)
    steps, after = 0, 0
    while (reached := store.erase_parts(after, upto)) is not None:
        after, steps = reached, steps + 1
    assert steps >= 4
    assert store.parts_before(BEGAN + 2 * HOUR) == (upto, 0)
    store.close()
    report = verified(path)
    assert report.ok
    assert sum(chain.parts_erased for chain in report.chains) == 11


def test_what_was_erased_stands_nowhere_in_the_files_any_more(path: Path) -> None:
    store = open_store(path)
    with open_reader(path) as reader:
        every = [(w.entry.n, place) for w in reader.written() for place, _ in enumerate(w.parts)]
    says(store, path, PERSON_ERASED, count=len(every))
    store.commit(Batch(erased=every, people=[("1", "ines", "+447700900123")]))
    store.commit(Batch(forgotten=["1"]))
    for file in path.parent.iterdir():
        assert SECRET.encode() not in file.read_bytes(), file.name
    assert store.load("").people == []
    store.close()
    assert verified(path).ok
