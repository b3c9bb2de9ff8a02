"""What a web hook brings. The call is the bell; the letter is fetched.

A signed call tells no time, stays signed for ever, and does not tell where one field ends and the next begins. So it
is taken as a hint that a text lies with the carrier: a poll is made at once, and number, words and age are those of the
carrier's own list. Only a text that the list does not show within 8 s is taken as the call has it, with its age
unknown: it is answered and may take an alarm, but it commands nothing. Each text counts once, whichever way it comes
and however often, for ever: by the carrier's id, on disk.

The carrier has its answer when the text is on disk, within 10 s of the 15 s that it waits, else it is told to turn to
its fallback address; what it gives up on is found by the next poll.
"""

import asyncio
from collections.abc import Callable
from typing import Any

from gateway.doors.faces import Clock, DeliveryWord, DoorTrouble, HookedText, Inbox
from gateway.service.kept import Kept
from gateway.service.polling import Polling
from gateway.service.texts_taken import TextsTaken
from gateway.vocabulary.happenings import DeliveryReported, LinkChanged, OptFlagCame, TextCame
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms

ANSWER_WITHIN: Ms = 10 * SECOND
"""The carrier waits 15 s in all, connecting included (its page on overrides of connections)."""

LOOKS: tuple[Ms, ...] = (2 * SECOND, 3 * SECOND, 3 * SECOND)
"""Waits for the text to be shown, each after a poll: 8 s in all, and 2 to put it on disk (our choice; how soon a list
shows a text is not documented)."""

OPEN_AGAIN: Ms = MINUTE
"""Between two tries to listen (our choice)."""

MARKS = {"STOP": True, "START": False}
"""The carrier's marks that a text opts out (True) or in, whatever its words were (its customised opt-out feature; from
memory)."""

DOUBT_AGAIN: Ms = HOUR
"""A call that is signed wrongly is told at most so often: whoever knows the account could else fill the record."""


class Hooking:
    """One carrier's web hook. Used on the loop's thread. `faces.HookTaker`.

    came: called with each happening; it drops a text that is on its way already.
    """

    def __init__(
        self,
        name: str,
        inbox: Inbox,
        polling: Polling,
        clock: Clock,
        kept: Kept,
        texts: TextsTaken,
        *,
        came: Callable[[TextCame | OptFlagCame | DeliveryReported | LinkChanged], None],
    ) -> None:
        self._name, self._inbox, self._polling, self._clock = name, inbox, polling, clock
        self._kept, self._texts, self._came = kept, texts, came
        self._closing = asyncio.Event()
        self._up: bool | None = None
        self._doubted_at: Ms | None = None

    async def run(self) -> None:
        """Listen. What keeps it from listening is told, and tried again: alarms go on meanwhile, and polls."""
        while True:
            try:
                await self._inbox.open(self)
            except DoorTrouble as trouble:
                self._link(up=False, detail=trouble.problem)
                await self._clock.sleep(OPEN_AGAIN)
            else:
                self._link(up=True)
                return

    async def close(self) -> None:
        """Listen no more. Calls under way are told that nothing was taken."""
        self._closing.set()
        await self._inbox.close()

    # ------------------------------------------------------------ faces.HookTaker

    async def text(self, text: HookedText) -> bool:
        """A text. True once it is on disk."""
        self._link(up=True)
        until = self._clock.now() + ANSWER_WITHIN
        on_disk = self._kept.text(text.message)
        try:
            fresh = await self._texts.unseen([text.message])
            if fresh == frozenset() and not self._texts.is_on_its_way(text.message):
                return True  # on disk since long
            if fresh:
                if text.mark in MARKS:  # the carrier's list does not show it; never from a call that is sent again
                    self._came(OptFlagCame(number=text.number, out=MARKS[text.mark]))
                await self._fetched(text)
            return await self._done(on_disk, until - self._clock.now())
        finally:
            self._kept.let_go(on_disk)

    async def word(self, word: DeliveryWord) -> bool:
        """A word on a text of ours. True once what followed is on disk."""
        self._link(up=True)
        report = DeliveryReported(order=word.order, status=word.status, code=word.code)
        on_disk = self._kept.word(report)
        try:
            self._came(report)
            return await self._done(on_disk, ANSWER_WITHIN)
        finally:
            self._kept.let_go(on_disk)

    def doubted(self, detail: str) -> None:
        """A call named our account and was signed wrongly: told, but not again and again."""
        now = self._clock.now()
        if self._doubted_at is None or now - self._doubted_at >= DOUBT_AGAIN:
            self._doubted_at = now
            self._link(up=False, detail=f"{detail}; look at public_url, at the address given to the carrier, the token")

    # ------------------------------------------------------------ small things

    async def _fetched(self, text: HookedText) -> None:
        """Have the text polled; take it as the call has it when it does not show."""
        shown = self._polling.shown(text.message)
        try:
            for wait in LOOKS:
                self._polling.ring()
                if await self._done(shown, wait) or self._closing.is_set():
                    return
        finally:
            self._polling.not_sought(text.message, shown)
        if await self._texts.unseen([text.message]):
            self._came(TextCame(message=text.message, number=text.number, body=text.body, age=None))

    async def _done(self, future: asyncio.Future[None], length: Ms) -> bool:
        """Wait for it, no longer than this, and not at all once we are closing; whether it is done."""
        late = asyncio.ensure_future(self._clock.sleep(max(length, 0)))
        closing = asyncio.ensure_future(self._closing.wait())
        try:
            either: list[asyncio.Future[Any]] = [future, late, closing]
            await asyncio.wait(either, return_when=asyncio.FIRST_COMPLETED)
        finally:
            late.cancel()
            closing.cancel()
        return future.done()

    def _link(self, *, up: bool, detail: str = "") -> None:
        if up is not self._up:
            self._up = up
            self._came(LinkChanged(link=f"hook:{self._name}", up=up, detail=detail))
