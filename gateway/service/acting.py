"""What the desk has ordered, carried out once it is on disk: each order by the part that it is for."""

import asyncio
from collections.abc import Callable, Coroutine, Mapping

from gateway.doors.faces import Bus, Clock
from gateway.service.keeping import KeepingDaily
from gateway.service.mailing import Mailing
from gateway.service.sending import Sending
from gateway.vocabulary.happenings import Happening, PublishAnswered
from gateway.vocabulary.moments import SECOND, Ms
from gateway.vocabulary.orders import DropReadings, EraseParts, Order, PublishCommand, SendMail, SendText

LONGEST_HELD_UP: Ms = 10 * SECOND
"""Between the decision on a command and its going out: the interlocks were looked at then, and a proof is waited for
from then on (our choice: as long as a broker may take to answer)."""


class Acting:
    """Hands orders out, and keeps hold of the work that was begun for them. All on the asyncio loop's thread.

    buses: by broker's name. came: takes the answers of the world. step: hears each tagged step (for tests that strike).
    """

    def __init__(
        self,
        buses: Mapping[str, Bus],
        sending: Sending,
        mailing: Mailing,
        keeping: KeepingDaily,
        clock: Clock,
        *,
        came: Callable[[Happening], None],
        step: Callable[[str], None],
    ) -> None:
        self._buses, self._sending, self._mailing, self._keeping = buses, sending, mailing, keeping
        self._clock, self._came, self._step = clock, came, step
        self._tasks: set[asyncio.Task[None]] = set()

    @property
    def is_still(self) -> bool:
        """Whether no work is under way."""
        return not self._tasks

    def act(self, order: Order, decided_at: Ms, *, maybe_told: bool) -> None:
        """Carry one order out. maybe_told: it may have gone out from memory; then it is looked for first."""
        if isinstance(order, SendText):
            self._step("before send")
            self._sending.send(order, decided_at, look_first=maybe_told)
        elif isinstance(order, SendMail):
            self._mailing.send(order)
        elif isinstance(order, PublishCommand):
            self._step("before publish")
            self.start(self._publish(order, decided_at))
        elif isinstance(order, DropReadings | EraseParts):
            self.start(self._keeping.carry_out(order))

    def start(self, work: Coroutine[None, None, None]) -> None:
        """Begin some work on the loop."""
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def close(self) -> None:
        """Break off what is under way."""
        for task in list(self._tasks):
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)

    async def _publish(self, order: PublishCommand, decided_at: Ms) -> None:
        """Never late: one that a slow disk has held up is not sent at all."""
        bus = self._buses.get(order.broker)  # None: its broker has left the installation, a stop is still due
        held_up = max(0, self._clock.now() - decided_at)  # our time may run ahead of the clock by milliseconds
        left = order.expires_after - held_up
        in_time = left > 0 and held_up <= LONGEST_HELD_UP
        taken = (
            in_time
            and bus is not None
            and await bus.publish(order.topic, order.payload, retain=False, expires_after=-(-left // SECOND))
        )
        self._step("published")
        self._came(PublishAnswered(order=order.id, taken=taken))
