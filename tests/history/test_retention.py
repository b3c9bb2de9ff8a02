"""What is due to go, and when."""

import pytest

from gateway.history.retention import HourHeld, bytes_a_reading, readings_due, sealed_due, to_pack
from gateway.history.settings import USUAL, Keeping
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, from_rfc3339, rfc3339

NOW = from_rfc3339("2026-03-09T10:20:00Z")
THIS_HOUR = from_rfc3339("2026-03-09T10:00:00Z")


def held(hours: int, *, size: int = 1_000, loose: int = 0) -> list[HourHeld]:
    """So many hours up to the present one."""
    first = THIS_HOUR - (hours - 1) * HOUR
    return [HourHeld(hour=first + i * HOUR, first=i + 1, readings=100, size=size, loose=loose) for i in range(hours)]


def test_the_usual_rules_are_those_of_the_handbook_and_ours() -> None:
    assert (USUAL.readings_days, USUAL.readings_megabytes, USUAL.sealed_months) == (400, 2_000, 24)


def test_nothing_is_due_while_everything_is_young_and_small() -> None:
    assert readings_due(held(24 * 300), NOW, USUAL) is None
    assert readings_due([], NOW, USUAL) is None


def test_readings_go_by_age_in_whole_hours() -> None:
    due = readings_due(held(24 * 10), NOW, Keeping(readings_days=9))
    assert due is not None
    assert (due.before, due.hours, due.readings, due.size, due.because) == (
        THIS_HOUR - 9 * DAY,
        23,
        2_300,
        23_000,
        "age",
    )


def test_readings_go_by_size_oldest_first() -> None:
    hours = held(24 * 10, size=1_000_000)
    due = readings_due(hours, NOW, Keeping(readings_megabytes=100))
    assert due is not None
    assert (due.hours, due.because) == (24 * 10 - 100, "size")
    left = [hour for hour in hours if hour.hour >= due.before]
    assert sum(hour.size for hour in left) == 100_000_000


def test_the_last_two_days_stay_whatever_their_size() -> None:
    due = readings_due(held(24 * 10, size=90_000_000), NOW, Keeping(readings_megabytes=10))
    assert due is not None
    assert due.before == THIS_HOUR - 2 * DAY


def test_what_has_gone_once_is_not_due_again() -> None:
    rules = Keeping(readings_days=9)
    due = readings_due(held(24 * 10), NOW, rules)
    assert due is not None
    left = [hour for hour in held(24 * 10) if hour.hour >= due.before]
    assert readings_due(left, NOW, rules) is None


@pytest.mark.parametrize(
    ("now", "months", "due"),
    [
        ("2026-03-09T10:20:00Z", 24, "2024-03-09T00:00:00Z"),
        ("2026-01-31T10:20:00Z", 1, "2025-12-31T00:00:00Z"),
        ("2026-03-31T00:00:00Z", 1, "2026-02-28T00:00:00Z"),
        ("2024-02-29T23:59:59Z", 24, "2022-02-28T00:00:00Z"),
        ("2024-03-30T12:00:00Z", 1, "2024-02-29T00:00:00Z"),
    ],
)
def test_sealed_parts_go_after_calendar_months(now: str, months: int, due: str) -> None:
    assert rfc3339(sealed_due(from_rfc3339(now), Keeping(sealed_months=months))) == due


def test_hours_are_packed_when_they_are_over_for_an_hour() -> None:
    hours = held(5, loose=3)
    assert [hour.hour for hour in to_pack(hours, NOW)] == [hour.hour for hour in hours[:3]]
    assert to_pack(held(5), NOW) == []
    assert len(to_pack(hours, THIS_HOUR + 59 * MINUTE)) == 3


def test_bytes_a_reading_are_told_apart_for_packed_and_loose_hours() -> None:
    hours = [*held(2, size=500), HourHeld(hour=THIS_HOUR, first=9, readings=10, size=800, loose=1)]
    assert (bytes_a_reading(hours, packed=True), bytes_a_reading(hours, packed=False)) == (5, 80)
    assert bytes_a_reading([], packed=True) is None
