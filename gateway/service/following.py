"""Texts whose arrival matters are followed until the carrier has its last word on them, web hook or none.

A web hook's reports are best effort (the carrier's own word) and most installations have none; only `delivered` counts
as delivered, and what did not arrive must hasten the next person.
"""

import asyncio
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor

from gateway.desk.state import State
from gateway.doors.faces import Carrier, Clock
from gateway.telling.delivery import ENDED, Taken, rank
from gateway.vocabulary.happenings import DeliveryReported
from gateway.vocabulary.moments import MINUTE, SECOND, Ms

LOOKS: tuple[Ms, ...] = (
    10 * SECOND,
    20 * SECOND,
    30 * SECOND,
    45 * SECOND,  # 1:45: before the next person is told of an emergency or alarm (`ARRIVES_WITHIN`)
    2 * MINUTE,
    5 * MINUTE + 45 * SECOND,  # 9:30: the same of a warning
    8 * MINUTE,
    15 * MINUTE,
    30 * MINUTE,
    60 * MINUTE,
)
"""Waits before each look (our choice: a phone that is on has its text within seconds, a look costs 1 kB; after two
hours the call-out has long gone on)."""


class Following:
    """Used on the loop's thread; the calls run in a worker of their own. state: the desk's present state. carrier_of:
    the name of the carrier that has a text. came: called with each word that is news."""

    def __init__(
        self,
        carriers: Mapping[str, Carrier],
        clock: Clock,
        *,
        state: Callable[[], State],
        carrier_of: Callable[[Taken], str | None],
        came: Callable[[DeliveryReported], None],
    ) -> None:
        self._carriers, self._clock, self._state = carriers, clock, state
        self._carrier_of, self._came = carrier_of, came
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="status")
        self._tasks: dict[str, asyncio.Task[None]] = {}
        self._calling = 0

    @property
    def is_still(self) -> bool:
        """Whether no look is under way."""
        return self._calling == 0

    def look_after(self) -> None:
        """Begin to follow every text that is not followed yet and has had no last word. After a start, those too that
        the run before it followed."""
        telling = self._state().telling
        for order, text in telling.taken.items():
            fresh = self._clock.now() - text.at < sum(LOOKS)
            if fresh and text.message and order not in self._tasks and not self._has_ended(order):
                self._tasks[order] = asyncio.get_running_loop().create_task(self._follow(order, text))

    async def stop(self) -> None:
        """Follow no more. An open call is left to `close`."""
        for task in self._tasks.values():
            task.cancel()
        await asyncio.gather(*self._tasks.values(), return_exceptions=True)

    def close(self) -> None:
        """Let an open call end."""
        self._worker.shutdown(wait=True)

    def _has_ended(self, order: str) -> bool:
        known = self._state().telling.deliveries.get(order)
        return known is not None and known.ended

    async def _follow(self, order: str, text: Taken) -> None:
        carrier = self._carriers.get(self._carrier_of(text) or "")
        age = self._clock.now() - text.at
        for place, wait in enumerate(LOOKS):
            if age >= sum(LOOKS[: place + 1]):  # looked at by the run before this one
                continue
            await self._clock.sleep(wait)
            if carrier is None or order not in self._state().telling.taken or self._has_ended(order):
                return
            found = await self._look(carrier, text.message)
            if found is not None:
                status, code = found
                self._came(DeliveryReported(order=order, status=status, code=code))
                if rank(status) >= ENDED:
                    return

    async def _look(self, carrier: Carrier, message: str) -> tuple[str, str] | None:
        self._calling += 1
        try:
            return await asyncio.get_running_loop().run_in_executor(self._worker, carrier.status, message)
        except Exception:  # away, or a fault of ours or the client's: the next look may go well
            return None
        finally:
            self._calling -= 1
