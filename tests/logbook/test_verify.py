"""What verification finds, what it cannot see, and that it says so."""

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from gateway.logbook.canonical import write
from gateway.logbook.chains import Heads, digest, entry_bytes, entry_of, link, refer
from gateway.logbook.checks import CHECKS
from gateway.logbook.gone import PARTS_ERASED
from gateway.logbook.report import sentences
from gateway.logbook.stored import CannotRead, StoredEntry
from gateway.logbook.verify import verify
from gateway.vocabulary.entries import INSTALLATION

BOAT = "grey-wagtail"


def rewritten(row: StoredEntry, **change: Any) -> StoredEntry:
    """The row after somebody altered the entry and everything in its own row that belongs to it."""
    entry = replace(entry_of(row.data), **change)  # type: ignore[arg-type]
    data = entry_bytes(entry)
    return replace(row, data=data, digest=digest(data), **{k: v for k, v in change.items() if hasattr(row, k)})


def index_of(rows: Any, wanted: Callable[[StoredEntry], bool]) -> int:
    return next(i for i, row in enumerate(rows.entry_rows) if wanted(row))


# ---------------------------------------------------------------- in order


def test_a_store_as_it_was_written_is_in_order(rows: Any) -> None:
    report = verify(rows)
    assert report.ok
    assert (report.entries, report.bad, report.first_bad, report.unreadable) == (200, 0, None, "")
    assert [chain.chain for chain in report.chains] == [BOAT, INSTALLATION, "salt-harrier"]
    assert sum(chain.entries for chain in report.chains) == 200
    assert sum(chain.parts_kept for chain in report.chains) == len(rows.part_rows) > 20
    assert all(hours.kept >= 1 and hours.changed == hours.no_longer_kept == 0 for hours in report.hours)
    assert report.readings == sum(row.count for row in rows.block_rows)


def test_an_empty_store_is_in_order(rows: Any) -> None:
    rows.entry_rows, rows.part_rows, rows.head_rows, rows.block_rows = [], [], [], []
    assert verify(rows).ok


def test_the_report_says_what_could_not_be_seen(rows: Any) -> None:
    said = "\n".join(sentences(verify(rows)))
    assert said.startswith("In order: 200 entries, nothing disagrees.")
    assert "grey-wagtail: checked against itself only" in said
    assert "Not seen: whether a chain was cut off at its end or rewritten as a whole." in said
    assert "Not seen: whether readings of hours not closed yet were changed on purpose" in said


def test_erased_parts_leave_the_chain_in_order_and_are_counted(rows: Any) -> None:
    rows.part_rows = [replace(part, data=None) for part in rows.part_rows]
    rows.add(PARTS_ERASED, {"before": entry_of(rows.entry_rows[-1].data).now + 1, "count": len(rows.part_rows)})
    report = verify(rows)
    assert report.ok
    assert sum(chain.parts_erased for chain in report.chains) == len(rows.part_rows)
    assert "Not seen: what erased sealed parts held." in sentences(report)


# ---------------------------------------------------------------- each check, and that it is needed


def wrong_digest(rows: Any) -> int:
    rows.entry_rows[60] = replace(rows.entry_rows[60], digest="0" * 64)
    return 61


def wrong_column(rows: Any) -> int:
    rows.entry_rows[60] = replace(rows.entry_rows[60], kind="cleared")
    return 61


def skipped_place(rows: Any) -> int:
    """The last entry of a chain, so that no entry after it can disagree."""
    last = max(i for i, row in enumerate(rows.entry_rows) if row.chain == BOAT)
    rows.entry_rows[last] = rewritten(rows.entry_rows[last], place=rows.entry_rows[last].place + 1)
    rows.note_ends()
    return last + 1


def altered_and_hashed_anew(rows: Any) -> int:
    """Somebody changed what an entry says and gave it a fitting hash, but not the entry after it."""
    here = index_of(rows, lambda row: row.chain == BOAT and row.n > 60 and row.kind == "raised")
    rows.entry_rows[here] = rewritten(rows.entry_rows[here], body={"alarm": 99})
    return next(int(row.n) for row in rows.entry_rows[here + 1 :] if row.chain == BOAT)


def altered_part(rows: Any) -> int:
    part = rows.part_rows[9]
    data = write({**json.loads(part.data), "content": {"to": "+447700900999"}})
    rows.part_rows[9] = replace(part, data=data)
    return int(part.n)


def false_reference(rows: Any) -> int:
    heads = Heads()
    matter = link(heads, chain=INSTALLATION, now=1, happening=1, kind="k", version=1, body={})
    made = refer(heads, chain=BOAT, to=replace(matter, digest="ab" * 32))
    rows.hold_only([matter, made])
    return 2


ONLY_BY = {
    "own_hash": wrong_digest,
    "own_columns": wrong_column,
    "place_follows": skipped_place,
    "previous_follows": altered_and_hashed_anew,
    "parts_are_those_sealed": altered_part,
    "reference_is_true": false_reference,
}


def test_every_check_has_a_damage_that_only_it_finds() -> None:
    assert set(ONLY_BY) == set(CHECKS)


@pytest.mark.parametrize("check", ONLY_BY)
def test_the_damage_is_found_and_named(rows: Any, check: str) -> None:
    n = ONLY_BY[check](rows)
    report = verify(rows)
    assert not report.ok
    assert report.first_bad is not None
    assert report.first_bad.n == n


@pytest.mark.parametrize("check", ONLY_BY)
def test_without_its_check_the_damage_goes_unseen(rows: Any, check: str, monkeypatch: pytest.MonkeyPatch) -> None:
    ONLY_BY[check](rows)
    monkeypatch.delitem(CHECKS, check)  # type: ignore[arg-type]
    report = verify(rows)
    assert (report.bad, report.first_bad) == (0, None)


# ---------------------------------------------------------------- missing, reordered, stray


@pytest.mark.parametrize("gone", [0, 1, 77, 150])
def test_a_missing_entry_is_named(rows: Any, gone: int) -> None:
    rows.part_rows = [part for part in rows.part_rows if part.n != gone + 1]
    del rows.entry_rows[gone]
    report = verify(rows)
    assert report.first_bad is not None
    assert (report.first_bad.n, "missing" in report.first_bad.what) == (gone + 1, True)


def test_two_entries_that_changed_places_are_named(rows: Any) -> None:
    first = index_of(rows, lambda row: row.chain == BOAT and row.n > 60 and row.kind == "raised")
    second = index_of(rows, lambda row: row.chain == BOAT and row.n > first + 1 and row.kind == "raised")
    a, b = rows.entry_rows[first], rows.entry_rows[second]
    rows.entry_rows[first] = rewritten(b, n=a.n, place=a.place)
    rows.entry_rows[second] = rewritten(a, n=b.n, place=b.place)
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == a.n


@pytest.mark.parametrize("chain", [BOAT, INSTALLATION, "salt-harrier"])
def test_a_last_entry_that_cannot_be_read_is_named_and_not_the_one_before_it(rows: Any, chain: str) -> None:
    last = max(i for i, row in enumerate(rows.entry_rows) if row.chain == chain)
    rows.entry_rows[last] = replace(rows.entry_rows[last], data=b"\xff")
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == last + 1


def test_rows_out_of_order_are_named(rows: Any) -> None:
    rows.entry_rows.append(rows.entry_rows[20])
    report = verify(rows)
    assert report.first_bad is not None
    assert (report.first_bad.n, report.first_bad.what) == (21, "it stands out of order")


def test_a_removed_part_is_not_taken_for_an_erased_one(rows: Any) -> None:
    gone = rows.part_rows.pop(5)
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == gone.n
    assert "not marked as erased" in report.first_bad.what


@pytest.mark.parametrize("n", [7, 999, "7", None])
def test_a_part_that_belongs_nowhere_is_found(rows: Any, n: object) -> None:
    rows.part_rows = sorted([*rows.part_rows, replace(rows.part_rows[0], n=n)], key=lambda p: p.n if p.n == 7 else 0)
    assert not verify(rows).ok


def test_a_part_that_an_entry_does_not_name_is_found(rows: Any) -> None:
    last = rows.part_rows[-1]
    rows.part_rows.append(replace(last, place=7))
    report = verify(rows)
    assert report.first_bad is not None
    assert (report.first_bad.n, "does not name" in report.first_bad.what) == (last.n, True)


def test_an_end_that_is_not_noted_or_noted_without_entries_is_found(rows: Any) -> None:
    gone = rows.head_rows.pop(0)
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == max(row.n for row in rows.entry_rows if row.chain == gone.chain)
    rows.head_rows.insert(0, gone)
    rows.head_rows.append(replace(gone, chain="little-stint"))
    report = verify(rows)
    assert report.first_bad is not None
    assert (report.first_bad.n, report.first_bad.chain) == (None, "little-stint")


@pytest.mark.parametrize(
    "change",
    [
        {"data": None},
        {"data": "text"},
        {"data": b""},
        {"data": b"{}"},
        {"data": b"\xff"},
        {"n": "x"},
        {"n": None},
        {"chain": "\udcff"},
        {"chain": 5},
        {"place": None},
        {"digest": b"x"},
    ],
)
def test_no_content_whatever_makes_it_raise(rows: Any, change: dict[str, Any]) -> None:
    rows.entry_rows[30] = replace(rows.entry_rows[30], **change)
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == 31
    "\n".join(sentences(report)).encode()  # printable, too


@pytest.mark.parametrize("method", ["entries", "parts", "heads", "blocks"])
def test_a_file_that_gives_no_rows_is_said_to_be_unreadable(rows: Any, method: str) -> None:
    class Broken:
        def __getattr__(self, name: str) -> Any:
            return self.fail if name == method else getattr(rows, name)

        def fail(self) -> Any:
            yield from list(getattr(rows, method)())[:2]
            raise CannotRead("the file is damaged")

    report = verify(Broken())
    assert not report.ok
    assert report.unreadable == "the file is damaged"
    assert sentences(report)[0] == "The store cannot be read: the file is damaged"


# ---------------------------------------------------------------- end values from outside


def ends(rows: Any, upto: int = 200) -> dict[str, str]:
    return {row.chain: f"{row.place}:{row.digest}" for row in rows.entry_rows if row.n <= upto}


def cut(rows: Any, upto: int) -> None:
    rows.entry_rows = [row for row in rows.entry_rows if row.n <= upto]
    rows.part_rows = [row for row in rows.part_rows if row.n <= upto]
    rows.block_rows = [row for row in rows.block_rows if row.last_now <= rows.entry_rows[-1].now]
    rows.note_ends()


def test_an_end_value_published_earlier_is_found_where_it_was(rows: Any) -> None:
    report = verify(rows, ends(rows, 150))
    assert report.ok
    assert all(chain.agrees for chain in report.chains)
    assert "as published" in report.chains[0].against
    assert not any("cut off" in said for said in sentences(report))
    alone = {chain: value.partition(":")[2].upper() for chain, value in ends(rows, 150).items()}
    assert verify(rows, alone).ok


def test_the_end_value_in_the_report_is_what_is_published(rows: Any) -> None:
    assert {chain.chain: chain.end for chain in verify(rows).chains} == ends(rows)


def test_a_cut_off_chain_is_found_only_by_its_end_value(rows: Any) -> None:
    published = ends(rows)
    cut(rows, 150)
    assert verify(rows).ok
    report = verify(rows, published)
    assert not report.ok
    assert all(chain.agrees is False and "was cut off" in chain.against for chain in report.chains)
    alone = verify(rows, {BOAT: published[BOAT].partition(":")[2]})
    assert "cut off before it, or rewritten" in next(c.against for c in alone.chains if c.chain == BOAT)
    assert next(c.agrees for c in alone.chains if c.chain == INSTALLATION) is None


def test_a_chain_rewritten_to_its_end_is_found_only_by_its_end_value(rows: Any) -> None:
    published = ends(rows)
    heads, new = Heads(), []
    for row in rows.entry_rows:
        e = entry_of(row.data)
        fields = {"chain": e.chain, "now": e.now, "happening": e.happening, "kind": "raised", "version": 1}
        new.append(link(heads, **fields, body={"alarm": 1}))
    rows.hold_only(new)
    assert verify(rows).ok
    report = verify(rows, published)
    assert all(chain.agrees is False and "was rewritten" in chain.against for chain in report.chains)
    assert report.first_bad is not None


def test_an_end_value_of_a_chain_that_is_not_there_is_said_to_be_cut_off(rows: Any) -> None:
    report = verify(rows, {"little-stint": "4:" + "ab" * 32})
    assert not report.ok
    assert "cut off" in next(chain.against for chain in report.chains if chain.chain == "little-stint")
