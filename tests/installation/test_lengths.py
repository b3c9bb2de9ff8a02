"""Lengths of time and clock times as an installer writes them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.installation.lengths import clock_of, length_of, spelt
from gateway.installation.slips import Slip


@pytest.mark.parametrize(
    ("written", "ms"),
    [
        ("30 s", 30_000),
        ("10 min", 600_000),
        ("10min", 600_000),
        ("2 h", 7_200_000),
        ("1.5 h", 5_400_000),
        ("7 days", 604_800_000),
        ("0 s", 0),
        ("0.25 s", 250),
    ],
)
def test_a_length_is_a_number_and_its_unit(written: str, ms: int) -> None:
    assert length_of(written) == ms


@pytest.mark.parametrize(
    "written", ["10", "", "min", "-3 s", "10 m", "ten min", "1 h 30 min", "1e3 s", "10 MIN", 10, True, None, ["1 s"]]
)
def test_anything_else_is_refused_with_what_to_write(written: object) -> None:
    with pytest.raises(Slip, match='such as "10 min"'):
        length_of(written)


@given(st.integers(0, 14 * 24 * 3600 * 1000))
def test_a_length_spelt_out_reads_back(ms: int) -> None:
    assert length_of(spelt(ms)) == ms


@pytest.mark.parametrize(("written", "minutes"), [("08:00", 480), ("00:00", 0), ("23:59", 1439)])
def test_a_clock_time_is_hours_and_minutes(written: str, minutes: int) -> None:
    assert clock_of(written) == minutes


@pytest.mark.parametrize("written", ["8:00", "24:00", "08:60", "08.00", "0800", 8, None])
def test_a_clock_time_that_is_none_is_refused(written: object) -> None:
    with pytest.raises(Slip, match='such as "08:00"'):
        clock_of(written)
