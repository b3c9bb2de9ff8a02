"""Quick time: a clock that stands still until it is told to jump to the next moment at which something is due."""

import asyncio
from collections.abc import Callable

from gateway.vocabulary.moments import Ms


class QuickClock:
    """`faces.Clock` for the demo and for tests. Used on the asyncio loop's thread; `now` may be read from any."""

    def __init__(self, start: Ms) -> None:
        self._now = start
        self._due: Ms | None = None
        self._sleepers: list[tuple[Ms, asyncio.Future[None]]] = []
        self._woken: Callable[[], None] = lambda: None

    def start(self, woken: Callable[[], None], not_before: Ms | None) -> None:
        """Begin to wake."""
        self._woken = woken
        if not_before is not None and not_before >= self._now:
            self._now = not_before + 1

    def now(self) -> Ms:
        """The moment at which time stands."""
        return self._now

    def wake_at(self, moment: Ms | None) -> None:
        """Remember when the desk wants to be woken."""
        self._due = moment

    def step(self) -> Ms | None:
        """Nobody moves this clock behind our back."""
        return None

    async def sleep(self, length: Ms) -> None:
        """Wait until time has been moved on by so much."""
        waiter: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        sleeper = (self._now + length, waiter)
        self._sleepers.append(sleeper)
        try:
            await waiter
        finally:
            if sleeper in self._sleepers:
                self._sleepers.remove(sleeper)

    def close(self) -> None:
        """Nothing is left running."""

    def next_moment(self) -> Ms | None:
        """The next moment at which the service wants something: a wake-up, or the end of a sleep."""
        moments = [at for at, _ in self._sleepers]
        if self._due is not None:
            moments.append(self._due)
        return min(moments, default=None)

    def jump(self, moment: Ms) -> None:
        """Move time on to this moment and wake everybody whose time has come, in order."""
        self._now = max(self._now, moment)
        for at, waiter in sorted(self._sleepers, key=lambda sleeper: sleeper[0]):
            if at <= self._now and not waiter.done():
                waiter.set_result(None)
        self._sleepers = [(at, waiter) for at, waiter in self._sleepers if at > self._now]
        if self._due is not None and self._due <= self._now:
            self._due = None
        self._woken()
