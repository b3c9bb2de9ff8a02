"""How hard the random tests try: with a quarter of their examples every day, with all of them in the long run.

A mistake that a random test can find is found by the long run before a release; the everyday run looks for the plain
ones within a time that nobody minds.
"""

import os

LONG_RUN = os.environ.get("HEAVINGLINE_STRUCK") == "1"
LEAST = 5
"""Examples: fewer would leave out one of the two or three ways that most of these tests choose between."""


def tries(whole: int) -> int:
    """How many examples to try where the long run tries that many."""
    return whole if LONG_RUN else max(LEAST, whole // 4)
