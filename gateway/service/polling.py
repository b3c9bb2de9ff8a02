"""Texts come in by asking the carrier for them, again and again; each is taken once."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from concurrent.futures import ThreadPoolExecutor

from gateway.doors.faces import Carrier, CarrierAway, Clock, Inbound, Polled, kind_and_place
from gateway.vocabulary.happenings import CarrierTimeSeen, LinkChanged, TextCame
from gateway.vocabulary.moments import SECOND, Ms

TIME_TOLD: Ms = 30 * SECOND
"""A change of the carrier's time against ours that is passed on (our choice: a quarter of what puts ours in doubt)."""


class Polling:
    """Polls one carrier. Used on the loop's thread; the calls run in a worker thread of its own.

    came: called with each happening. unseen: tells which of these messages are new, None when nobody can say now.
    pass_over: called with a message that is to be known from now on without being acted on (what lay there already at
    the first start ever). every: the present time between two polls.
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
        every: Callable[[], Ms],
    ) -> None:
        self._name, self._carrier, self._clock, self._came = name, carrier, clock, came
        self._unseen, self._pass_over, self._every = unseen, pass_over, every
        self._worker = ThreadPoolExecutor(1, thread_name_prefix=f"poll-{name}")
        self._up: bool | None = None
        self._ahead: Ms | None = None
        self._only_after: Ms | None = None
        self._calling = self._rung = False
        self._resting: asyncio.Future[None] | None = None
        self._sought: dict[str, set[asyncio.Future[None]]] = {}

    @property
    def is_open(self) -> bool:
        """Whether a poll is under way or about to be."""
        return self._calling or self._rung or (self._resting is not None and self._resting.done())

    def ring(self) -> None:
        """Poll at once; after a poll that is under way, which may have come too early."""
        self._rung = True
        self.hurry()

    def hurry(self) -> None:
        """The time between two polls may have become shorter."""
        if self._resting is not None and not self._resting.done():
            self._resting.set_result(None)

    def shown(self, message: str) -> asyncio.Future[None]:
        """Done once a poll has shown this text, and it has come. End it with `not_sought`."""
        sought: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self._sought.setdefault(message, set()).add(sought)
        return sought

    def not_sought(self, message: str, sought: asyncio.Future[None]) -> None:
        """Nobody waits for this text to be shown any more."""
        waiting = self._sought.get(message, set())
        waiting.discard(sought)
        if not waiting:
            self._sought.pop(message, None)

    def only_after(self, sent: Ms | None) -> None:
        """Texts sent before this instant (the carrier's time of them) are passed over: the record was restored then,
        and nobody knows what became of them before."""
        self._only_after = sent

    async def run(self, *, first_ever: bool) -> None:
        """Poll for ever. first_ever: what lies with the carrier at the first answer is passed over: nobody knows what
        it was an answer to."""
        pass_over = first_ever
        while True:
            self._rung = False
            if await self.once(pass_over=pass_over):
                pass_over = False
            await self._rest()

    async def _rest(self) -> None:
        """Until the next poll is due by the pace, which may change meanwhile, or was asked for."""
        polled_at = self._clock.now()
        while not self._rung and (left := polled_at + self._every() - self._clock.now()) > 0:
            self._resting = asyncio.get_running_loop().create_future()
            self._calling = True  # until the sleep has begun: quick time must not pass it by
            sleep = asyncio.ensure_future(self._clock.sleep(left))
            try:
                await asyncio.sleep(0)
                self._calling = False
                await asyncio.wait({sleep, self._resting}, return_when=asyncio.FIRST_COMPLETED)
            finally:
                self._calling, self._resting = False, None
                sleep.cancel()

    def clock_moved(self) -> None:
        """The wall clock was set: how far the carrier's is from it must be told anew."""
        self._ahead = None

    async def once(self, *, pass_over: bool = False) -> bool:
        """One poll; whether the carrier answered and its texts were looked through."""
        self._calling = True
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
            self._link(up=False, detail=kind_and_place(fault))
            return False
        finally:
            self._calling = False

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
            old = self._only_after is not None and text.sent_at is not None and text.sent_at < self._only_after
            if pass_over or old:
                self._pass_over(text.message)
            else:
                self._came(TextCame(message=text.message, number=text.number, body=text.body, age=text.age))
        for text in texts:
            for sought in self._sought.get(text.message, ()):
                if not sought.done():
                    sought.set_result(None)
        return True
