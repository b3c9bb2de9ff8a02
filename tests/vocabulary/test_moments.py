"""Instants as whole milliseconds of UTC."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, as_utc, from_datetime, from_rfc3339, rfc3339

LAST = 253_402_300_799_999  # 9999-12-31T23:59:59.999Z


def test_lengths_are_milliseconds() -> None:
    assert (SECOND, MINUTE, HOUR, DAY) == (1_000, 60_000, 3_600_000, 86_400_000)


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("1970-01-01T00:00:00Z", 0),
        ("2026-03-01T03:04:00Z", 1_772_334_240_000),
        ("2026-03-01T03:04:00.007Z", 1_772_334_240_007),
        ("9999-12-31T23:59:59.999Z", LAST),
    ],
)
def test_an_instant_is_written_and_read_as_rfc_3339(text: str, moment: int) -> None:
    assert rfc3339(moment) == text
    assert from_rfc3339(text) == moment


def test_an_offset_is_taken_into_account() -> None:
    assert from_rfc3339("2026-03-01T05:04:00+02:00") == from_rfc3339("2026-03-01T03:04:00Z")


@pytest.mark.parametrize("text", ["2026-03-01T03:04:00", "2026-03-01", "yesterday", ""])
def test_a_time_without_zone_or_none_at_all_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=text or "isoformat"):
        from_rfc3339(text)


def test_microseconds_are_cut_off_never_rounded_up() -> None:
    assert from_datetime(datetime(1970, 1, 1, 0, 0, 0, 1_999, tzinfo=UTC)) == 1


@given(st.integers(0, LAST))
def test_what_is_written_reads_back(moment: int) -> None:
    assert from_rfc3339(rfc3339(moment)) == moment
    assert from_datetime(as_utc(moment).astimezone(timezone(-timedelta(hours=3, minutes=30)))) == moment
