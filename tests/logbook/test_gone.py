"""What is gone must have an entry that says so: readings dropped by age or size, parts erased by age or at a word."""

from dataclasses import replace
from typing import Any

import pytest

from gateway.logbook.gone import PARTS_ERASED, PERSON_ERASED, READINGS_DROPPED
from gateway.logbook.verify import verify
from gateway.vocabulary.moments import HOUR
from tests.logbook.conftest import BEGAN

BOAT = "grey-wagtail"


def an_hour_taken_out(rows: Any) -> int:
    """All readings of a boat's first hour; n of the entry that closed it."""
    closing = next(row for row in rows.entry_rows if row.kind == "hour-kept" and row.chain == BOAT)
    rows.block_rows = [row for row in rows.block_rows if row.boat != BOAT or row.first_now >= BEGAN + HOUR]
    return int(closing.n)


def a_part_erased(rows: Any, which: int) -> int:
    rows.part_rows[which] = replace(rows.part_rows[which], data=None)
    return int(rows.part_rows[which].n)


def test_an_hour_that_no_entry_dropped_is_named_by_the_entry_that_closed_it(rows: Any) -> None:
    n = an_hour_taken_out(rows)
    report = verify(rows)
    assert report.first_bad is not None
    assert (report.bad, report.first_bad.n, report.first_bad.chain) == (1, n, BOAT)
    assert "in the hour from 2026-03-01T04:00:00Z are gone, and no entry says so" in report.first_bad.what


@pytest.mark.parametrize(("before", "right"), [(BEGAN + HOUR, True), (BEGAN, False)], ids=["it", "one before it"])
def test_an_hour_may_be_gone_when_an_entry_dropped_it(rows: Any, before: int, right: bool) -> None:
    an_hour_taken_out(rows)
    rows.add(READINGS_DROPPED, {"before": before, "hours": 1, "count": 60, "size": 900, "because": "age"})
    report = verify(rows)
    assert report.ok is right
    assert next(hours for hours in report.hours if hours.boat == BOAT).no_longer_kept == 1


def test_a_part_that_was_marked_as_erased_by_another_hand_is_named(rows: Any) -> None:
    n = a_part_erased(rows, 9)
    report = verify(rows)
    assert report.first_bad is not None
    assert (report.bad, report.first_bad.n) == (1, n)
    assert "1 sealed part is marked as erased, and entries account for 0" in report.first_bad.what


def test_parts_may_be_erased_by_age_up_to_the_instant_that_an_entry_names(rows: Any) -> None:
    n = a_part_erased(rows, 9)
    made = next(row.now for row in rows.entry_rows if row.n == n)
    rows.add(PARTS_ERASED, {"before": made, "count": 1})
    assert not verify(rows).ok
    rows.add(PARTS_ERASED, {"before": made + 1, "count": 1})
    assert verify(rows).ok


def test_as_many_parts_may_be_erased_at_a_word_as_the_entry_counts(rows: Any) -> None:
    a_part_erased(rows, 9)
    a_part_erased(rows, 12)
    rows.add(PERSON_ERASED, {"person": "p-7f", "count": 2})
    assert verify(rows).ok
    first = a_part_erased(rows, 3)
    report = verify(rows)
    assert report.first_bad is not None
    assert report.first_bad.n == first


@pytest.mark.parametrize("kind", [READINGS_DROPPED, PARTS_ERASED, PERSON_ERASED])
@pytest.mark.parametrize("body", [{}, {"before": "always", "count": "all"}])
def test_an_entry_that_does_not_say_how_far_accounts_for_nothing(rows: Any, kind: str, body: dict[str, Any]) -> None:
    an_hour_taken_out(rows)
    a_part_erased(rows, 9)
    rows.add(kind, body)
    assert verify(rows).bad == 2


def test_an_hour_that_is_no_instant_is_named_and_nothing_is_raised(rows: Any) -> None:
    rows.add("hour-kept", {"boat": "little-stint", "hour": 2**53 - 1, "count": 1, "digest": "ab" * 32})
    report = verify(rows)
    assert report.first_bad is not None
    assert str(2**53 - 1) in report.first_bad.what
