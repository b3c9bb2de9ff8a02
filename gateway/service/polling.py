"""Texts come in by asking the carrier for them, again and again; each is taken once."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from concurrent.futures import ThreadPoolExecutor

from gateway.doors.faces import Carrier, CarrierAway, Clock, Inbound, Polled
from gateway.vocabulary.happenings import CarrierTimeSeen, LinkChanged, TextCame
from gateway.vocabulary.moments import SECOND, Ms

POLL_EVERY: Ms = 20 * SECOND
"""Between two polls (15 to 30 s advised: an answer within half a minute, some 3 MB a day on a kept connection)."""

TIME_TOLD: Ms = 30 * SECOND
"""A change of the carrier's time against ours that is passed on (our choice: a quarter of what puts ours in doubt)."""


class Polling:
    """Polls one carrier. Used on the loop's thread; the calls run in a worker thread of its own.

    came: called with each happening. unseen: tells which of these messages are new, None when
    nobody can say now. pass_over: called with a message
    that is to be known from now on without being acted on (what lay there already at the first start ever).
    """

    def __init__(
        self,
        name: str,
        carrier: Carrier,
        clock: Clock,
        *,
        came: Callable[[TextCame | LinkChanged | CarrierTimeSeen], None],
        unseen: Callable[[Sequence[str]], Awaitable[frozenset[str] | None]],
        pass_over: Callable[[str], None],
        every: Ms = POLL_EVERY,
    ) -> None:
        self._name, self._carrier, self._clock, self._came = name, carrier, clock, came
        self._unseen, self._pass_over, self._every = unseen, pass_over, every
        self._worker = ThreadPoolExecutor(1, thread_name_prefix=f"poll-{name}")
        self._up: bool | None = None
        self._ahead: Ms | None = None
        self.is_open = False

    async def run(self, *, first_ever: bool) -> None:
        """Poll for ever. first_ever: what lies with the carrier at the first answer is passed over: nobody knows what
        it was an answer to."""
        pass_over = first_ever
        while True:
            if await self.once(pass_over=pass_over):
                pass_over = False
            await self._clock.sleep(self._every)

    def clock_moved(self) -> None:
        """The wall clock was set: how far the carrier's is from it must be told anew."""
        self._ahead = None

    async def once(self, *, pass_over: bool = False) -> bool:
        """One poll; whether the carrier answered and its texts were looked through."""
        self.is_open = True
        try:
            polled = await asyncio.get_running_loop().run_in_executor(self._worker, self._poll)
            if isinstance(polled, CarrierAway):
                self._link(up=False, detail=polled.problem)
                return False
            self._link(up=True)
            if polled.carrier_now is not None:
                self._time(polled.carrier_now - self._clock.now())
            return await self._take(polled.texts, pass_over)
        except Exception as fault:  # ours or the client's: texts must go on being fetched
            self._link(up=False, detail=repr(fault))
            return False
        finally:
            self.is_open = False

    def close(self) -> None:
        """Let the open call end."""
        self._worker.shutdown(wait=True)

    def _poll(self) -> Polled | CarrierAway:
        try:
            return self._carrier.poll(self._clock.now())
        except CarrierAway as away:
            return away

    def _link(self, *, up: bool, detail: str = "") -> None:
        if up is not self._up:
            self._up = up
            self._came(LinkChanged(link=f"carrier:{self._name}", up=up, detail=detail))

    def _time(self, ahead: Ms) -> None:
        """Pass on the carrier's time when its distance from ours has changed by enough to matter."""
        if self._ahead is None or abs(ahead - self._ahead) >= TIME_TOLD:
            self._ahead = ahead
            self._came(CarrierTimeSeen(ahead=ahead))

    async def _take(self, texts: Sequence[Inbound], pass_over: bool) -> bool:
        fresh = await self._unseen([text.message for text in texts])
        if fresh is None:
            return False
        for text in texts:
            if text.message not in fresh:
                continue
            if pass_over:
                self._pass_over(text.message)
            else:
                self._came(TextCame(message=text.message, number=text.number, body=text.body, age=text.age))
        return True
