"""The value in a text that is sent again: that of the moment, not that of the raising."""

import pytest

from gateway.vocabulary.moments import MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from tests.desk.watched_boat import comes, keeps, said, value, watched

LOW = said("low", "volts below 12.0 V with deadband 0.2 V for 60 s", "gone for 60 s", priority=Priority.ALARM)


def bodies(now: str) -> list[str]:
    """The texts of an alarm raised at 11.9 V, with this value from the next reading on, until one was sent again."""
    boat = watched(LOW)
    keeps(boat, 2 * MINUTE, volts="11.9")
    for _ in range(120):
        if now:
            comes(boat, value("volts", now))
        boat.wait(30 * SECOND)
        found = [text.body for text in boat.sent if "LOW" in text.body.upper() and "still" in text.body]
        if found:
            return [boat.sent[0].body, found[0]]
    raise AssertionError("it was never sent again")


@pytest.mark.parametrize(
    ("now", "shown"),
    [
        ("11.2", "11.2 V"),  # worse by now
        ("12.1", "was 11.9 V"),  # behind the limit and not yet behind its deadband: it stands because of what it was
        ("", "was 11.9 V"),  # not heard: the last that raised it
    ],
)
def test_a_text_that_is_sent_again_holds_the_value_of_its_moment(now: str, shown: str) -> None:
    first, again = bodies(now)
    assert ", 11.9 V (below 12.0 V)" in first
    assert f", {shown} (below 12.0 V)" in again
