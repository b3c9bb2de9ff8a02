"""Time, and what wakes us."""

from collections.abc import Callable
from typing import Protocol

from gateway.vocabulary.moments import Ms


class Clock(Protocol):
    """Time as the service sees it. Called on the loop's thread."""

    def start(self, woken: Callable[[], None], not_before: Ms | None) -> None:
        """Begin to wake; `now` goes on from the later of the wall clock and this instant."""
        ...

    def now(self) -> Ms:
        """The instant, ms UTC; never goes back."""
        ...

    def wake_at(self, moment: Ms | None) -> None:
        """Call `woken` at this instant; replaces the one named before."""
        ...

    def step(self) -> Ms | None:
        """How far the wall clock has been moved since the last call, None when it was not."""
        ...

    async def sleep(self, length: Ms) -> None:
        """Wait for a length of time."""
        ...

    def close(self) -> None:
        """Wake no more."""
        ...
