"""Texts go out: after the commit, at least once, and never again once the carrier has them."""

import asyncio
from collections import Counter
from collections.abc import Callable, Coroutine, Mapping
from concurrent.futures import ThreadPoolExecutor

from gateway.doors.faces import Accepted, Carrier, CarrierAway, Clock, NoAnswer, Refused, SendResult, kind_and_place
from gateway.telling.outcomes import NO_ANSWER, NO_CARRIER, outcome_of
from gateway.vocabulary.happenings import SendAnswered, SendDelayed
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority

FIRST_LOOK: Ms = 2 * SECOND
"""Wait before a young text of an earlier run is looked for: it may have been on the wire when that run ended, and a
carrier's list may lag behind what it has just taken (our choice; nothing is documented)."""


class Sending:
    """Hands texts to the carriers in worker threads; emergencies have one of their own. Used on the loop's thread.

    answered: called with the end of each order, and before that once when it is long in going. What follows from each
    answer of the carrier stands in `gateway.telling.outcomes`. stepped: called with "carrier answered" when a call has
    come back and nothing of it is recorded yet (for tests that strike there). A text without an answer is looked up
    before it is repeated, so that nobody gets it twice; when it cannot be looked up either, it is tried again later.
    """

    def __init__(
        self,
        carriers: Mapping[str, Carrier],
        clock: Clock,
        answered: Callable[[SendAnswered | SendDelayed], None],
        stepped: Callable[[str], None] = lambda _: None,
    ) -> None:
        self._carriers, self._clock, self._answered, self._stepped = carriers, clock, answered, stepped
        self._urgent = ThreadPoolExecutor(1, thread_name_prefix="send-emergency")
        self._ordinary = ThreadPoolExecutor(1, thread_name_prefix="send")
        self._tasks: set[asyncio.Task[None]] = set()
        self._resting: set[asyncio.Task[None]] = set()
        self._known: set[str] = set()
        self._closing = False

    @property
    def is_still(self) -> bool:
        """Whether no text is under way; one that waits for its next try is not."""
        return self._tasks <= self._resting

    def know(self, messages: frozenset[str]) -> None:
        """Texts of ours that the carrier took earlier: they are not the ones looked for."""
        self._known |= messages

    def send(self, order: SendText, queued_at: Ms, *, look_first: bool = False) -> None:
        """Hand one text over. queued_at: no text of this order is older. look_first: it may have gone out already."""
        self._start(self._deliver(order, queued_at, look_first, recorded=True))

    def send_unrecorded(self, order: SendText) -> None:
        """Hand one text over from memory, while the record cannot be kept. How it ended is not recorded, and the text
        does not count as known: once the record is kept again, its order finds it with the carrier."""
        self._start(self._deliver(order, self._clock.now(), False, recorded=False))

    async def close(self) -> None:
        """Give up what is waiting for another try; let open calls end (some 20 s at most) and take their answers.

        What has no answer then stays open in the store, and is looked up at the next start."""
        self._closing = True
        for task in self._resting:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        self._urgent.shutdown(wait=True)
        self._ordinary.shutdown(wait=True)

    def _start(self, work: Coroutine[None, None, None]) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _deliver(self, order: SendText, queued_at: Ms, look_first: bool, *, recorded: bool) -> None:
        began = self._clock.now()
        tries: Counter[str] = Counter()
        unknown, delayed = look_first, False
        if look_first and began - queued_at < MINUTE:
            await self._rest(FIRST_LOOK)
        while not self._closing:
            result = await self._call(order, queued_at, look=unknown, remember=recorded)
            if isinstance(result, Accepted):
                self._stepped("carrier answered")
                end = SendAnswered(order=order.id, accepted=True, message=result.message, found=unknown)
                break
            if result is None:  # looked up, and the carrier has it not
                unknown = False
                continue
            code = result.code if isinstance(result, Refused) else NO_ANSWER
            outcome = outcome_of(code)
            tries[code] += 1
            unknown = outcome.look_first
            wait = outcome.wait(tries[code])
            waited = self._clock.now() - began
            # Counted from our first try: what was queued long ago, while the record could not be kept or the gateway
            # did not run, is tried for as long as any other.
            if wait is None or (outcome.for_ever and waited > max(order.valid_for, MINUTE)):
                end = SendAnswered(order=order.id, accepted=False, code=code, detail=result.detail)
                break
            if recorded and not delayed and outcome.next_person is not None and waited >= outcome.next_person:
                delayed = True
                self._answered(SendDelayed(order=order.id, code=code))
            asked = result.again_after if isinstance(result, Refused) else None
            await self._rest(wait if asked is None else asked)
        else:
            return  # closing: its end stays open in the store
        if recorded:
            self._answered(end)

    async def _rest(self, length: Ms) -> None:
        """Wait before another try; not at all when there will be none."""
        task = asyncio.current_task()
        if self._closing or task is None:
            return
        self._resting.add(task)
        try:
            await self._clock.sleep(length)
        finally:
            self._resting.discard(task)

    async def _call(self, order: SendText, queued_at: Ms, *, look: bool, remember: bool) -> SendResult | None:
        """One call in a worker: hand it over, or look whether the carrier has it (None: it has not)."""
        carrier = self._carriers.get(order.carrier)
        if carrier is None:
            return Refused(code=NO_CARRIER, detail=f"the carrier {order.carrier} is no longer in the installation")

        def work() -> SendResult | None:
            if self._closing:  # it waited behind another call
                return NoAnswer(detail="the gateway is stopping")
            # What is known is asked and kept in the worker: of two equal texts each finds its own.
            result = _looked_up(carrier, order, queued_at, frozenset(self._known)) if look else carrier.send(order)
            if remember and isinstance(result, Accepted):
                self._known.add(result.message)
            return result

        pool = self._urgent if order.priority is Priority.EMERGENCY else self._ordinary
        try:
            return await asyncio.get_running_loop().run_in_executor(pool, work)
        except Exception as fault:  # ours or the client's: an alarm must not be lost by it, nor be told twice
            return NoAnswer(detail=kind_and_place(fault))


def _looked_up(carrier: Carrier, order: SendText, since: Ms, known: frozenset[str]) -> Accepted | NoAnswer | None:
    try:
        found = carrier.look_up(order, since, known)
    except CarrierAway as away:
        return NoAnswer(detail=str(away))
    return Accepted(message=found, status="found") if found is not None else None
