"""One broker's link, kept up for ever."""

import asyncio
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor

from gateway.doors.bus.greeting import in_words
from gateway.doors.bus.intake import Intake
from gateway.doors.bus.link import Link
from gateway.doors.bus.patience import Ended, Patience, Waits
from gateway.doors.faces import Arrived, BrokerSettings, BusChange


class MqttBus:
    """`faces.Bus` over MQTT 5 or 3.1.1. Create and use it on the asyncio loop's thread.

    Changes told by `take`: up=True once a connection, with whether the broker kept our session (False at the very
    first one too); up=False when it is lost and when attempts fail for a new reason; and up=True with a detail and
    memory_kept=True when the broker refuses a filter or a message of ours while the link stands. A connection's
    up=True is taken before or together with its first message.

    At least once: what is not acknowledged comes again on the next connection. Our presence stands retained on
    `heavingline/<client_id>/presence`, as last will too.
    """

    def __init__(
        self, settings: BrokerSettings, woken: Callable[[], None], *, patience: Patience | None = None
    ) -> None:
        self._settings = settings
        self._intake = Intake(woken)
        self._intake.room_again = self._room_again
        self._waits = Waits(patience or Patience())
        self._generation = 0
        self._link: Link | None = None
        self._task: asyncio.Task[None] | None = None
        self._last_told = ""
        self._connector = ThreadPoolExecutor(1, thread_name_prefix="bus-connect")

    @property
    def is_listening(self) -> bool:
        """The broker has answered every filter on the present connection."""
        return self._link is not None and self._link.is_listening

    async def open(self, topics: Sequence[str]) -> None:
        """Begin to connect and to keep connecting; subscribe to these filters, each once, on every connection."""
        if self._task is None:
            once = tuple(dict.fromkeys(topics))  # a broker may deliver once for every overlapping filter
            self._task = asyncio.get_running_loop().create_task(self._keep_up(once))

    def take(self) -> tuple[list[Arrived], list[BusChange]]:
        """All that has come since the last call, in order of arrival."""
        return self._intake.take()

    def acknowledge(self, messages: Iterable[Arrived]) -> None:
        """Acknowledge in the order given, which must be the order of arrival and leave out none (MQTT 3.1.1, 4.6):
        mosquitto bears with less, iotcore cuts the connection (both measured). Those of an earlier connection are
        dropped: a late one marked another message, with the same packet id, as handled and lost it (measured)."""
        link = self._link
        if link is None or not link.is_up:
            return
        for message in messages:
            if message.qos and message.generation == link.generation:
                link.acknowledge(message)

    async def publish(self, topic: str, payload: str, *, retain: bool, expires_after: int | None) -> bool:
        """QoS 1; True when the broker took it within 10 s. After False it is not sent any more, by this or a later
        connection; whether it had arrived before the link broke is then unknown. expires_after: s, MQTT 5 only."""
        link = self._link
        if link is None or not link.is_up:
            return False
        return await link.publish(topic, payload, retain=retain, expires_after=expires_after)

    async def close(self) -> None:
        """Say that we are away, disconnect in order; the session stays with the broker."""
        if self._link is not None:
            await self._link.leave()
        if self._task is not None:
            self._task.cancel()
            await asyncio.gather(self._task, return_exceptions=True)
            self._task = None
        self._connector.shutdown(wait=False)

    async def _keep_up(self, topics: Sequence[str]) -> None:
        while True:
            end = await self._one_connection(topics)
            wait = self._waits.after(end)
            suspicion = self._waits.suspicion(self._settings.client_id)
            self._tell_down("; ".join(part for part in (end.detail, suspicion) if part), rival=bool(suspicion))
            await asyncio.sleep(wait)

    async def _one_connection(self, topics: Sequence[str]) -> Ended:
        self._generation += 1
        try:
            link = self._link = Link(
                self._settings, self._generation, self._intake, welcomed=self._tell_up, noted=self._note
            )
            return await link.live(topics, self._connector)
        except Exception as error:  # a wrong setting, a name not found, a certificate: told, and tried again
            return Ended(detail=in_words(error, self._settings))
        finally:
            self._link = None

    def _room_again(self) -> None:
        if self._link is not None:
            self._link.resume_reading()

    def _tell_up(self, memory_kept: bool) -> None:
        self._last_told = ""
        detail = "" if memory_kept else "the broker knows no session of ours; what was sent meanwhile may be missing"
        self._intake.tell(BusChange(up=True, memory_kept=memory_kept, detail=detail))

    def _tell_down(self, detail: str, *, rival: bool) -> None:
        if detail != self._last_told:
            self._last_told = detail
            self._intake.tell(BusChange(up=False, detail=detail, rival=rival))

    def _note(self, detail: str) -> None:
        self._intake.tell(BusChange(up=True, detail=detail))
