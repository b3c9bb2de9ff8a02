"""Once a day, at a quiet moment: readings packed by the hour, what is old enough dropped or erased, end values
published. In small steps: each change of the store is a transaction of some ms, and an alarm's commit comes between.
"""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any, Protocol, TypeVar

from gateway.desk.state import State
from gateway.doors.faces import Clock, Store, StoreTrouble
from gateway.history.retention import HourHeld, readings_due, sealed_due, to_pack
from gateway.history.settings import Keeping
from gateway.service.pace import FAST_FOR, is_waiting, last_alarm_text
from gateway.vocabulary.happenings import PartsExpired, ReadingsExpired
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms
from gateway.vocabulary.orders import DropReadings, EraseParts

T = TypeVar("T")

AFTER_START: Ms = 10 * MINUTE
"""A start has other things to do first (our choice)."""

LOOK_AGAIN: Ms = 10 * MINUTE
"""When the moment was not quiet (our choice)."""

PATIENCE: Ms = 12 * HOUR
"""After so long it is done in any case: it hinders nothing, and a disk must not fill up over a noisy week."""


class InWriter(Protocol):
    """Runs something in the writer's thread."""

    def __call__(self, work: Callable[[], T]) -> Awaitable[T]: ...


class KeepingDaily:
    """Used on the loop's thread. It looks in a worker thread of its own and changes in the writer's.

    came: called with what is due to go; the orders that follow from it come back to `carry_out` when the entry is on
    disk. state: the desk's present one. want_snapshot: asks for a snapshot with the next commit, so that no start needs
    the readings that go. daily: what else is to be done then.
    """

    def __init__(
        self,
        store: Store,
        clock: Clock,
        rules: Keeping,
        *,
        in_writer: InWriter,
        state: Callable[[], State],
        came: Callable[[ReadingsExpired | PartsExpired], None],
        want_snapshot: Callable[[], None],
        daily: Callable[[], Awaitable[None]],
    ) -> None:
        self._store, self._clock, self._rules = store, clock, rules
        self._in_writer, self._state, self._came = in_writer, state, came
        self._want_snapshot, self._daily = want_snapshot, daily
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="keeping")
        self._task: asyncio.Task[None] | None = None
        self.is_open = False

    def start(self, thinned_at: Ms | None) -> None:
        """Do it from now on. thinned_at: instant at which it was last done."""
        self._task = asyncio.get_running_loop().create_task(self._run(thinned_at))

    async def stop(self) -> None:
        """Begin nothing more."""
        if self._task is not None:
            self._task.cancel()
            await asyncio.gather(self._task, return_exceptions=True)

    def close(self) -> None:
        """Let an open look end."""
        self._worker.shutdown(wait=True)

    async def once(self) -> None:
        """All of it. A store that cannot be used now is left alone until the next time."""
        self.is_open = True
        try:
            await self._thin(self._clock.now())
            await self._daily()
        except StoreTrouble:
            pass  # it is told where commits fail
        finally:
            self.is_open = False

    async def carry_out(self, order: DropReadings | EraseParts) -> None:
        """What was recorded as dropped or erased, goes."""
        try:
            if isinstance(order, DropReadings):
                while await self._in_writer(lambda: self._store.drop_hour(order.before)):
                    pass
                return
            upto, _ = await self._look(lambda: self._store.parts_before(order.before))
            after: int | None = 0
            while after is not None:
                after = await self._in_writer(partial(self._store.erase_parts, after, upto))
        except StoreTrouble:
            pass  # what is left is found and recorded anew the next day

    async def _run(self, thinned_at: Ms | None) -> None:
        due = max(self._clock.now() + AFTER_START, (thinned_at or 0) + DAY)
        while True:
            await self._clock.sleep(max(0, due - self._clock.now()))
            self.is_open = True
            if self._is_quiet() or self._clock.now() - due > PATIENCE:
                await self.once()
                due = self._clock.now() + DAY
            else:
                self.is_open = False
                await self._clock.sleep(LOOK_AGAIN)

    def _is_quiet(self) -> bool:
        last = last_alarm_text(self._state())
        return not is_waiting(self._state()) and (last is None or self._clock.now() - last > FAST_FOR)

    async def _thin(self, now: Ms) -> None:
        held = await self._look(self._store.survey)
        going = readings_due(held, now, self._rules)
        if going is not None and not is_waiting(self._state()):
            self._want_snapshot()
            self._came(
                ReadingsExpired(
                    before=going.before,
                    hours=going.hours,
                    readings=going.readings,
                    size=going.size,
                    because=going.because,
                )
            )
        before = sealed_due(now, self._rules)
        _, parts = await self._look(lambda: self._store.parts_before(before))
        if parts:
            self._came(PartsExpired(before=before, parts=parts))
        gone = 0 if going is None else going.before
        await self._pack([hour for hour in to_pack(held, now) if hour.hour >= gone])
        await self._in_writer(lambda: self._store.note_thinned(now))

    async def _pack(self, hours: Sequence[HourHeld]) -> None:
        for hour in hours:
            while (packed := await self._look(partial(self._store.next_group, hour))) is not None:
                if not await self._in_writer(partial(self._store.put_packed, packed)):
                    break

    async def _look(self, work: Callable[[], Any]) -> Any:
        return await asyncio.get_running_loop().run_in_executor(self._worker, work)
