"""How texts come in from all carriers: by polls, each at the pace of the hour, and by web hooks where there are any."""

import asyncio
from collections.abc import Callable, Iterable, Mapping

from gateway.desk.state import State
from gateway.doors.faces import Carrier, Clock, Inbox
from gateway.service.hooking import Hooking
from gateway.service.kept import Kept
from gateway.service.pace import ALONE, Pace, is_waiting, last_alarm_text, poll_every
from gateway.service.polling import Polling
from gateway.service.texts_taken import TextsTaken
from gateway.vocabulary.happenings import (
    CarrierTimeSeen,
    DeliveryReported,
    Happening,
    LinkChanged,
    OptFlagCame,
    TextCame,
)
from gateway.vocabulary.moments import Ms


class Incoming:
    """Used on the loop's thread. paces: by carrier; every: a fixed time between two polls in their place, None: none.
    state: the desk's present state. came: called with each happening; it drops a text that is on its way already.
    pass_over: called with the id of a text that is not to be acted on."""

    def __init__(
        self,
        carriers: Mapping[str, Carrier],
        inboxes: Mapping[str, Inbox],
        paces: Mapping[str, Pace],
        clock: Clock,
        texts: TextsTaken,
        *,
        every: Ms | None,
        state: Callable[[], State],
        came: Callable[[TextCame | OptFlagCame | DeliveryReported | LinkChanged | CarrierTimeSeen], None],
        pass_over: Callable[[str], None],
    ) -> None:
        self._kept = Kept()

        def polling(name: str, carrier: Carrier) -> Polling:
            def present() -> Ms:
                last, waits = last_alarm_text(state()), is_waiting(state())
                return poll_every(paces.get(name, ALONE), now=clock.now(), last_alarm_text=last, waits=waits)

            fixed = None if every is None else lambda: every
            return Polling(
                name, carrier, clock, came=came, unseen=texts.unseen, pass_over=pass_over, every=fixed or present
            )

        self._pollings = {name: polling(name, carrier) for name, carrier in carriers.items()}
        self._hookings = [
            Hooking(name, inbox, self._pollings[name], clock, self._kept, texts, came=came)
            for name, inbox in inboxes.items()
        ]
        self._tasks: list[asyncio.Task[None]] = []

    @property
    def is_still(self) -> bool:
        """Whether no poll is under way. A carrier's call that waits for a poll or for the disk moves nothing itself."""
        return not any(polling.is_open for polling in self._pollings.values())

    def start(self, *, first_ever: bool, only_after: Ms | None = None) -> None:
        """Poll and listen from now on. first_ever: what lies with the carriers now is passed over; only_after: so is
        what was sent before this instant."""
        loop = asyncio.get_running_loop()
        for polling in self._pollings.values():
            polling.only_after(only_after)
        self._tasks += [loop.create_task(polling.run(first_ever=first_ever)) for polling in self._pollings.values()]
        self._tasks += [loop.create_task(hooking.run()) for hooking in self._hookings]

    async def stop(self) -> None:
        """Poll and listen no more. A poll that is under way is left to `close`."""
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, *(hooking.close() for hooking in self._hookings), return_exceptions=True)

    def close(self) -> None:
        """Let open polls end."""
        for polling in self._pollings.values():
            polling.close()

    def hurry(self) -> None:
        """Something was said to somebody, who may answer."""
        for polling in self._pollings.values():
            polling.hurry()

    def clock_moved(self) -> None:
        """The wall clock was set."""
        for polling in self._pollings.values():
            polling.clock_moved()

    def on_disk(self, happenings: Iterable[Happening], texts: Iterable[str]) -> None:
        """These are on disk: whoever waits for that may be answered. texts: ids of texts, passed over or taken."""
        self._kept.on_disk(happenings, texts)
