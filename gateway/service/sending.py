"""Texts go out: after the commit, at least once, and never again once the carrier has them."""

import asyncio
from collections.abc import Callable, Coroutine, Mapping
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from gateway.doors.faces import Accepted, Carrier, CarrierAway, Clock, NoAnswer, Refused, SendResult
from gateway.vocabulary.happenings import SendAnswered
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority

T = TypeVar("T")

LOOK_AGAIN: tuple[Ms, ...] = (5 * SECOND, 15 * SECOND, 45 * SECOND)
"""Waits before the next try after no answer; the last one repeats (common practice; a marina network is often back
within a minute)."""

MOST_REFUSED_TRIES = 3
"""Tries of a text that the carrier asks to send later (too many requests), then it counts as refused."""


class Sending:
    """Hands texts to the carriers in worker threads; emergencies have one of their own. Used on the loop's thread.

    answered: called with the end of each order. A text without an answer is looked up before it is repeated, so
    that nobody gets it twice; when it cannot be looked up either, it is tried again later.
    """

    def __init__(self, carriers: Mapping[str, Carrier], clock: Clock, answered: Callable[[SendAnswered], None]) -> None:
        self._carriers, self._clock, self._answered = carriers, clock, answered
        self._urgent = ThreadPoolExecutor(1, thread_name_prefix="send-emergency")
        self._ordinary = ThreadPoolExecutor(1, thread_name_prefix="send")
        self._tasks: set[asyncio.Task[None]] = set()
        self._known: set[str] = set()
        self.calls_open = 0

    @property
    def is_still(self) -> bool:
        """Whether no text is under way."""
        return not self._tasks

    def know(self, messages: frozenset[str]) -> None:
        """Texts of ours that the carrier took earlier: they are not the ones looked for."""
        self._known |= messages

    def send(self, order: SendText, queued_at: Ms, *, look_first: bool = False) -> None:
        """Hand one text over. look_first: it may have gone out in an earlier run."""
        self._start(self._deliver(order, queued_at, look_first))

    def send_unrecorded(self, order: SendText) -> None:
        """Hand one text over once, from memory, while the record cannot be kept."""
        self._start(self._once(order))

    async def close(self) -> None:
        """Give up what is waiting for another try, let open calls end."""
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        self._urgent.shutdown(wait=True)
        self._ordinary.shutdown(wait=True)

    def _start(self, work: Coroutine[None, None, None]) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _once(self, order: SendText) -> None:
        await self._call(order, lambda: self._carriers[order.carrier].send(order))

    async def _deliver(self, order: SendText, queued_at: Ms, look_first: bool) -> None:
        tries, refused = 0, 0
        unknown = look_first
        while True:
            result = await (self._look(order, queued_at) if unknown else self._send(order))
            if isinstance(result, Accepted):
                self._known.add(result.message)
                self._answered(SendAnswered(order=order.id, accepted=True, message=result.message, found=unknown))
                return
            if isinstance(result, Refused):
                refused += 1
                if result.again_after is None or refused >= MOST_REFUSED_TRIES:
                    self._answered(SendAnswered(order=order.id, accepted=False, code=result.code, detail=result.detail))
                    return
                await self._clock.sleep(result.again_after)
                continue
            if result is None:  # looked up, and the carrier has it not
                unknown = False
                continue
            unknown = True
            if self._clock.now() - queued_at > max(order.valid_for, MINUTE):
                self._answered(SendAnswered(order=order.id, accepted=False, code="no answer", detail=result.detail))
                return
            await self._clock.sleep(LOOK_AGAIN[min(tries, len(LOOK_AGAIN) - 1)])
            tries += 1

    async def _send(self, order: SendText) -> SendResult:
        return await self._call(order, lambda: self._carriers[order.carrier].send(order))

    async def _look(self, order: SendText, queued_at: Ms) -> Accepted | NoAnswer | None:
        carrier, known = self._carriers[order.carrier], frozenset(self._known)

        def look() -> Accepted | NoAnswer | None:
            try:
                found = carrier.look_up(order, queued_at, known)
            except CarrierAway as away:
                return NoAnswer(detail=str(away))
            return Accepted(message=found, status="found") if found is not None else None

        return await self._call(order, look)

    async def _call(self, order: SendText, work: Callable[[], T]) -> T:
        pool = self._urgent if order.priority is Priority.EMERGENCY else self._ordinary
        self.calls_open += 1
        try:
            return await asyncio.get_running_loop().run_in_executor(pool, work)
        finally:
            self.calls_open -= 1
