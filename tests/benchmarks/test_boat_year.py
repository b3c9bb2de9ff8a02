"""A boat's year through the desk: what a reading costs does not grow with the days, nor what it takes on disk."""

import json
import sys
import time
from pathlib import Path

import pytest

from tests.benchmarks.boat_year import WITHIN, Year, measure
from tests.benchmarks.bytes_a_reading import measure as bytes_on_disk

PACKED_AT_MOST = 0.1
"""Of a bare table's bytes. Measured: 0.04 (our choice of how much worse is a fault)."""


def calls_of_a_day(year: Year, day: int) -> float:
    """Calls of functions a reading, on one day."""
    count, before = 0, year.count["readings"]

    def seen(*_: object) -> None:
        nonlocal count
        count += 1

    sys.setprofile(seen)
    try:
        year.one_day(day)
    finally:
        sys.setprofile(None)
    return count / (year.count["readings"] - before)


def test_a_reading_costs_the_same_after_days_of_alarms_and_texts() -> None:
    year = Year()
    first = calls_of_a_day(year, 0)
    for day in range(1, 5):
        year.one_day(day)
    assert year.count["texts"] > 5
    assert calls_of_a_day(year, 5) < 1.1 * first


def test_a_packed_reading_takes_a_fraction_of_a_bare_table(tmp_path: Path) -> None:
    found = bytes_on_disk(1, tmp_path)
    assert found["packed"] < PACKED_AT_MOST * found["a bare table"]
    assert found["packed"] < found["not packed"]


PLAIN = 1.0e-6
"""Seconds of processor time in which a plain machine reads one small JSON object (our choice: about what a server
takes). The promised time is for such a one; one that is slower, or shared with others, has so much more."""


def slowness() -> float:
    """How many times slower than the plain machine this one is at this moment, 1 for a faster one."""
    began, count = time.process_time(), 200_000
    for _ in range(count):
        json.loads('{"volts": 12.4}')
    return max(1.0, (time.process_time() - began) / count / PLAIN)


@pytest.mark.struck
def test_a_tenth_of_a_year_takes_less_than_a_tenth_of_the_promised_time() -> None:
    before = slowness()
    found = measure(37)
    assert found["readings"] > 37 * 288 * 20
    assert found["seconds"] < WITHIN * 37 / 365 * max(before, slowness())
