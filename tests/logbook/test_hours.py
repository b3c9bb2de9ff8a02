"""Hours of readings against the entries that closed them."""

from dataclasses import replace
from typing import Any

import pytest

from gateway.logbook.blocks import checksum, pack
from gateway.logbook.chains import Heads, link
from gateway.logbook.gone import READINGS_DROPPED
from gateway.logbook.kept_readings import hour_of, read_line
from gateway.logbook.report import sentences
from gateway.logbook.verify import verify

BOAT = "grey-wagtail"


def first_hour(rows: Any) -> tuple[int, str]:
    row = next(row for row in rows.entry_rows if row.kind == "hour-kept" and row.chain == BOAT)
    return row.n, row.chain


def test_a_changed_reading_changes_its_hour_and_names_the_entry_that_closed_it(rows: Any) -> None:
    n, _ = first_hour(rows)
    here = next(i for i, row in enumerate(rows.block_rows) if row.boat == BOAT)
    block = rows.block_rows[here]
    lines = block.lines.replace(b'"12.1"', b'"13.1"')
    assert lines != block.lines
    rows.block_rows[here] = replace(block, lines=lines, checksum=checksum(block.id, block.batch, block.places, lines))
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == n
    assert "2026-03-01T04:00:00Z" in report.first_bad.what
    assert next(hours for hours in report.hours if hours.boat == BOAT).changed == 1


def test_a_reading_taken_out_of_an_hour_changes_it(rows: Any) -> None:
    del rows.block_rows[4]
    report = verify(rows)
    assert sum(hours.changed for hours in report.hours) == 1


def test_an_hour_whose_readings_are_all_gone_is_no_longer_kept_and_not_bad_where_an_entry_says_so(rows: Any) -> None:
    rows.block_rows = rows.block_rows[-1:]
    before = hour_of(rows.block_rows[0].first_now)
    rows.add(READINGS_DROPPED, {"before": before, "hours": 3, "count": 180, "size": 9000, "because": "size"})
    report = verify(rows)
    assert report.ok
    assert all(hours.no_longer_kept >= 1 and hours.kept == 0 for hours in report.hours)
    assert "Not seen: readings of hours that are no longer kept." in sentences(report)


def test_readings_added_to_an_hour_that_passed_without_any_are_found(rows: Any) -> None:
    _, now, reading = read_line(rows.block_rows[0].lines)
    (block,) = pack([(0, now - 86_400_000, reading)])
    fields = {name: getattr(block, name) for name in type(block).__slots__}
    fields["checksum"] = checksum(0, 0, block.places, block.lines)
    rows.block_rows.insert(0, replace(rows.block_rows[0], id=0, batch=0, **fields))
    report = verify(rows)
    assert report.first_bad is not None
    assert "had none when it passed" in report.first_bad.what


@pytest.mark.parametrize(
    "change",
    [
        {"checksum": 1},
        {"count": 2},
        {"id": None},
        {"batch": 0},
        {"batch": "1"},
        {"first_now": 1},
        {"boat": "little-stint"},
        {"lines": b""},
        {"lines": None},
        {"places": b"[9,9]"},
        {"places": 5},
    ],
)
def test_a_damaged_block_of_an_hour_not_closed_yet_is_found(rows: Any, change: dict[str, Any]) -> None:
    rows.block_rows[-1] = replace(rows.block_rows[-1], **change)
    report = verify(rows)
    assert report.first_bad is not None
    assert f"readings block {rows.block_rows[-1].id}" in report.first_bad.what


@pytest.mark.parametrize("body", [{}, {"boat": BOAT, "hour": 1, "count": "1", "digest": ""}])
def test_an_entry_that_closes_no_proper_hour_is_found(rows: Any, body: dict[str, Any]) -> None:
    made = link(Heads(), chain=BOAT, now=1, happening=1, kind="hour-kept", version=1, body=body)
    rows.hold_only([made])
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == 1


def test_an_hour_closed_twice_is_found(rows: Any) -> None:
    heads = Heads()
    body = {"boat": BOAT, "hour": 0, "count": 0, "digest": ""}
    made = [link(heads, chain=BOAT, now=1, happening=1, kind="hour-kept", version=1, body=body) for _ in range(2)]
    rows.hold_only(made)
    report = verify(rows)
    assert report.first_bad is not None
    assert (report.first_bad.n, "closed already" in report.first_bad.what) == (2, True)
