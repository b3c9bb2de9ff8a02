"""What decoding one message costs, as a ratio to bare `float` or `json.loads` of the same payload in the same run.

Measured in three runs: an object with a time 3.7 to 3.8 times `json.loads`; a bare number 67 to 70 times `float`, which
is one call of C, while ours keeps the digits, looks at unit and form and makes a reading.
`python -m tests.benchmarks.test_decode_cost` prints the ratios of this machine.
"""

import json
from collections.abc import Callable
from dataclasses import replace
from time import perf_counter

import pytest

from gateway.boat.decoding import decode
from gateway.boat.settings import Signal

VOLTS = Signal(id="grey-wagtail/house-volts", boat="grey-wagtail", key="house-volts", topic="t", unit="V")
INSIDE = replace(VOLTS, pointer="/battery/house/voltage", time_pointer="/t")
NUMBER = b"12.4"
OBJECT = b'{"battery":{"house":{"voltage":12.40,"current":-3.1}},"t":"2026-03-01T03:04:00Z","seq":7}'

ALLOWED = {"number": 210.0, "object": 12.0}
"""Three times what was measured, so that only a blunder in the code trips it and no busy machine does."""


def best(work: Callable[[], object]) -> float:
    """Seconds for 300 calls, the best of 7: the least disturbed."""

    def once() -> float:
        began = perf_counter()
        for _ in range(300):
            work()
        return perf_counter() - began

    return min(once() for _ in range(7))


def ratio(shape: str) -> float:
    """Our cost over the bare one's."""
    if shape == "number":
        return best(lambda: decode((VOLTS,), NUMBER, retained=False)) / best(lambda: float(NUMBER))
    return best(lambda: decode((INSIDE,), OBJECT, retained=False)) / best(lambda: json.loads(OBJECT))


@pytest.mark.parametrize("shape", sorted(ALLOWED))
def test_decoding_costs_no_more_than_its_multiple_of_bare_parsing(shape: str) -> None:
    assert ratio(shape) <= ALLOWED[shape]


if __name__ == "__main__":
    for name in sorted(ALLOWED):
        print(f"{name}: {ratio(name):.1f} times bare parsing")
