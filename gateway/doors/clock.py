"""Time: the only place where a clock is read, and where something wakes us (apscheduler).

`now` advances by the monotonic clock, so a step of the wall clock neither ends a delay nor makes one; the step is
noticed and told. apscheduler only wakes the desk at the next due moment, with a sweep every few seconds behind it: what
is due stands in the desk's state, so a lost wake-up costs seconds, never an alarm. The sweep goes by the loop's own
monotonic timer, because apscheduler goes by the wall clock: set back an hour, it would sleep for that hour.
"""

import asyncio
import time
from collections.abc import Callable
from datetime import UTC

from apscheduler.schedulers.asyncio import AsyncIOScheduler  # type: ignore[import-untyped]

from gateway.vocabulary.moments import SECOND, Ms, as_utc

SWEEP_SECONDS = 5
"""How often the desk is asked whether something is due, whatever was scheduled (our choice)."""

SAME_WALL: Ms = 100
"""The wall clock may have drifted so far since a wake-up was named before it is named anew (our choice)."""

STEP_TOLD = 2 * SECOND
"""A difference between wall and monotonic clock that counts as a step; less is the clock being disciplined."""


class SystemClock:
    """The real clock. `start` must be called on the asyncio loop's thread; `woken` is called there, too."""

    def __init__(self) -> None:
        self._base_wall = time.time_ns() // 1_000_000
        self._base_steady = time.monotonic_ns() // 1_000_000
        self._floor: Ms = 0
        self._stepped: Ms = 0
        self._scheduler: AsyncIOScheduler | None = None
        self._woken: Callable[[], None] = lambda: None
        self._sweeper: asyncio.TimerHandle | None = None
        self._named: tuple[Ms, Ms] | None = None

    def start(self, woken: Callable[[], None], not_before: Ms | None) -> None:
        """Begin to wake. not_before: the last instant recorded; `now` goes on from the later of it and the wall."""
        self._woken = woken
        if not_before is not None:
            self._floor = max(0, not_before + 1 - self._raw())
        # A one-shot that is late must still fire (the default drops it after 1 s, measured), hence no grace limit.
        self._scheduler = AsyncIOScheduler(
            timezone=UTC, job_defaults={"misfire_grace_time": None, "coalesce": True, "max_instances": 1}
        )
        self._scheduler.start()
        self._sweep()

    def now(self) -> Ms:
        """The instant, ms UTC; never goes back."""
        return self._raw() + self._floor

    def wake_at(self, moment: Ms | None) -> None:
        """Wake at this instant instead of at the one named before; None: only the sweep wakes."""
        if self._scheduler is None:
            return
        # apscheduler goes by the wall clock; what it shows now is put in relation to our own time.
        wall = None if moment is None else time.time_ns() // 1_000_000 + max(0, moment - self.now())
        if moment is None or wall is None:
            if self._scheduler.get_job("due") is not None:
                self._scheduler.remove_job("due")
            self._named = None
        elif self._named is None or self._named[0] != moment or abs(self._named[1] - wall) > SAME_WALL:
            self._scheduler.add_job(self._due, "date", run_date=as_utc(wall), id="due", replace_existing=True)
            self._named = moment, wall

    def step(self) -> Ms | None:
        """How far the wall clock has been moved since the last call (ms, positive forward), None when it was not."""
        drift = (time.time_ns() // 1_000_000 - self._base_wall) - (time.monotonic_ns() // 1_000_000 - self._base_steady)
        moved = drift - self._stepped
        if abs(moved) < STEP_TOLD:
            return None
        self._stepped = drift
        return moved

    async def sleep(self, length: Ms) -> None:
        """Wait for a length of time."""
        await asyncio.sleep(length / SECOND)

    def close(self) -> None:
        """Wake no more."""
        if self._sweeper is not None:
            self._sweeper.cancel()
        if self._scheduler is not None:
            self._scheduler.shutdown(wait=False)
            self._scheduler = None

    def _raw(self) -> Ms:
        return self._base_wall + time.monotonic_ns() // 1_000_000 - self._base_steady

    def _sweep(self) -> None:
        self._sweeper = asyncio.get_running_loop().call_later(SWEEP_SECONDS, self._sweep)
        self._woken()

    async def _due(self) -> None:
        self._named = None
        self._woken()
