"""Mails go out: after the commit, at least once, by a way that has nothing to do with the carrier of texts."""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from gateway.doors.faces import Clock, Mail, MailAway
from gateway.vocabulary.happenings import LinkChanged, MailAnswered
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms
from gateway.vocabulary.orders import SendMail

TRY_AGAIN: tuple[Ms, ...] = (MINUTE, 5 * MINUTE, 15 * MINUTE, 30 * MINUTE, HOUR)
"""Waits before the next try; the last one repeats (RFC 5321 4.5.4.1 has 30 min or more; sooner at first, because what
is told is trouble: our choice)."""

GIVEN_UP_AFTER: Ms = 4 * DAY
"""From the decision on (RFC 5321 4.5.4.1: four to five days)."""

LINK = "mail"
"""The mail server's name among the links."""


class Mailing:
    """Hands mails to the server in a worker thread. Used on the loop's thread. came: called with the end of each order,
    and when the server comes or goes. Whatever went wrong is tried again: a mail may come twice, but is not lost."""

    def __init__(self, mail: Mail | None, clock: Clock, came: Callable[[MailAnswered | LinkChanged], None]) -> None:
        self._mail, self._clock, self._came = mail, clock, came
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="mail")
        self._tasks: set[asyncio.Task[None]] = set()
        self._calling = 0
        self._up: bool | None = None
        self._closing = False

    @property
    def is_still(self) -> bool:
        """Whether no mail is being handed over; one that waits for its next try is not."""
        return self._calling == 0

    def send(self, order: SendMail) -> None:
        """Hand one mail over. One that may have gone in an earlier run goes again."""
        task = asyncio.get_running_loop().create_task(self._deliver(order))
        self._calling += 1  # until the task has begun: quick time must not pass it by
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def close(self) -> None:
        """Give up what waits for another try; let an open call end. What has no end stays open in the store."""
        self._closing = True
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        await asyncio.to_thread(self._worker.shutdown, True, cancel_futures=True)

    async def _deliver(self, order: SendMail) -> None:
        tries, began = 0, True
        while True:
            if not began:
                self._calling += 1
            began = False
            try:
                trouble = await self._call(order)
            finally:
                self._calling -= 1
            if trouble is None:
                self._came(MailAnswered(order=order.id, taken=True))
                return
            if self._mail is None or self._clock.now() - order.at > GIVEN_UP_AFTER:
                self._came(MailAnswered(order=order.id, taken=False, detail=trouble))
                return
            await self._clock.sleep(TRY_AGAIN[min(tries, len(TRY_AGAIN) - 1)])
            tries += 1

    async def _call(self, order: SendMail) -> str | None:
        """One try; None when the server has the mail, else what went wrong."""
        if self._mail is None:
            return "there is no mail server in the installation any more"
        try:
            await asyncio.get_running_loop().run_in_executor(self._worker, self._mail.send, order)
        except MailAway as away:
            self._link(up=False, detail=away.problem)
            return away.problem
        except Exception as fault:  # ours or the library's: the mail must not be lost by it
            self._link(up=False, detail=type(fault).__name__)
            return type(fault).__name__
        self._link(up=True)
        return None

    def _link(self, *, up: bool, detail: str = "") -> None:
        if up is not self._up:
            self._up = up
            self._came(LinkChanged(link=LINK, up=up, detail=detail))
