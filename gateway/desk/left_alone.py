"""What fell due and could not be decided on, by a fault of ours: left alone for a while, so that all else goes on.

It is no part of the state: whatever was decided stands in the entries, and after a restart everything is tried again.
"""

from collections.abc import Iterator
from contextlib import contextmanager

from gateway.vocabulary.moments import MINUTE, Ms

TRIED_AGAIN: Ms = 10 * MINUTE
"""After this time it is tried again: a fault may hang on what else holds at the moment (our choice: often enough for
an alarm, seldom enough for the record, which gets an entry each time)."""

STANDING, GROUPS = "alarms that come back by themselves", "alarms that are told together"
REGULAR = "rounds, weekly words and digests"
TEXTS = "texts that have not arrived"
DUTY = "duties that end, and questions who will be on duty"
ACCOUNTS = "accounts that run empty"
PRACTICE = "practice alarms"
REQUESTS, LINKS = "requests and timed runs", "links that are down"
CALLS = "the call-outs, none of which fell over by itself"
"""What falls due, where it is not one watch or one alarm's call-out."""


class FellOver(Exception):
    """A fault of ours in what fell due. what: its name, as `Aside` knows it; the fault itself is the cause."""

    def __init__(self, what: str) -> None:
        super().__init__(what)
        self.what = what


class Aside:
    """By name: the instant from which each is tried again."""

    def __init__(self) -> None:
        self._until: dict[str, Ms] = {}

    def put(self, what: str, now: Ms) -> None:
        """Leave it alone from now on."""
        self._until[what] = now + TRIED_AGAIN

    def has(self, what: str) -> bool:
        """Whether it is left alone."""
        return what in self._until

    def next(self) -> Ms | None:
        """When something is tried again; None when nothing is left alone."""
        return min(self._until.values(), default=None)

    def over(self, now: Ms) -> bool:
        """Try again what is to be tried again by now. True when there was any."""
        ended = [what for what, until in self._until.items() if until <= now]
        for what in ended:
            del self._until[what]
        return bool(ended)


def watch(watch_id: str) -> str:
    """The name of one watch."""
    return f"the watch {watch_id}"


def call(point: str) -> str:
    """The name of one alarm's call-out."""
    return f"the call-out of {point}"


@contextmanager
def named(what: str) -> Iterator[None]:
    """A fault inside the block is one of this."""
    try:
        yield
    except FellOver:
        raise
    except Exception as fault:
        raise FellOver(what) from fault
