"""What is left on each carrier's account, asked once a day: an account that runs empty sends no alarm, and says so only
when one is refused."""

import asyncio
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor

from gateway.desk.state import State
from gateway.doors.faces import Carrier, Clock, Funds
from gateway.vocabulary.happenings import BalanceSeen
from gateway.vocabulary.moments import DAY, HOUR, Ms

AFTER_START: Ms = HOUR
"""A start has other things to do first, and a gateway that starts again and again must not ask each time (our
choice)."""

AGAIN_AFTER: Ms = HOUR
"""When the carrier could not be asked (our choice: the account is not urgent, the marina's network comes back)."""


class Balances:
    """Used on the loop's thread; the calls run in a worker thread of its own. state: the desk's present one. came:
    called with what each account holds."""

    def __init__(
        self,
        carriers: Mapping[str, Carrier],
        clock: Clock,
        *,
        state: Callable[[], State],
        came: Callable[[BalanceSeen], None],
    ) -> None:
        self._carriers, self._clock, self._state, self._came = carriers, clock, state, came
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="balance")
        self._tasks: list[asyncio.Task[None]] = []
        self._calling = 0

    @property
    def is_still(self) -> bool:
        """Whether no carrier is being asked."""
        return self._calling == 0

    def start(self) -> None:
        """Ask from now on, each carrier a day after it was last asked."""
        loop = asyncio.get_running_loop()
        self._tasks = [loop.create_task(self._run(name, carrier)) for name, carrier in self._carriers.items()]

    async def stop(self) -> None:
        """Ask no more. An open call is left to `close`."""
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)

    def close(self) -> None:
        """Let an open call end."""
        self._worker.shutdown(wait=True)

    async def _run(self, name: str, carrier: Carrier) -> None:
        known = self._state().accounts.get(name)
        due = max(self._clock.now() + AFTER_START, 0 if known is None else known.at + DAY)
        while True:
            await self._clock.sleep(max(0, due - self._clock.now()))
            found = await self._asked(carrier)
            if found is not None:
                self._came(BalanceSeen(carrier=name, amount=found.amount, currency=found.currency))
            due = self._clock.now() + (AGAIN_AFTER if found is None else DAY)

    async def _asked(self, carrier: Carrier) -> Funds | None:
        self._calling += 1
        try:
            return await asyncio.get_running_loop().run_in_executor(self._worker, carrier.balance)
        except Exception:  # away, which the polls tell; or a fault of ours or the client's: the next try may go well
            return None
        finally:
            self._calling -= 1
