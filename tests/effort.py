"""How hard tests try: with a part of their examples or cases every day, with all of them in the long run.

A mistake that a random test can find is found by the long run before a release; the everyday run looks for the plain
ones within a time that nobody minds.
"""

import os
from collections.abc import Callable, Iterable
from typing import Any

import pytest

LONG_RUN = os.environ.get("HEAVINGLINE_STRUCK") == "1"
LEAST = 5
"""Examples: fewer would leave out one of the two or three ways that most of these tests choose between."""


def tries(whole: int) -> int:
    """How many examples to try where the long run tries that many."""
    return whole if LONG_RUN else max(LEAST, whole // 8)


def some_of(cases: Iterable[Any], one_in: int) -> list[Any]:
    """For parametrize: the first of every so many every day, the others marked long. A tuple is several values."""
    return [
        case
        if not place % one_in
        else pytest.param(*case if isinstance(case, tuple) else (case,), marks=pytest.mark.long)
        for place, case in enumerate(cases)
    ]


def first_of(cases: Iterable[Any], wanted: Callable[[Any], bool]) -> list[Any]:
    """For a fixture's params: those that are wanted every day, the others marked long."""
    return [case if wanted(case) else pytest.param(case, marks=pytest.mark.long) for case in cases]
