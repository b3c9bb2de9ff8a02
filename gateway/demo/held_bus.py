"""A bus that hands its messages on only when told to, so that a moment of quick time is taken in as a whole."""

from collections.abc import Iterable, Sequence

from gateway.doors.bus import MqttBus
from gateway.doors.faces import Arrived, BusChange


class HeldBus:
    """Stands round a real bus. What has come waits until `release`; then all of it is taken at once, in order.

    fence_seen: the number in the newest fence message that has come (a message on `fence_topic`, sent behind all
    that must have come before it). published: how many messages the gateway has published.
    """

    def __init__(self, inner: MqttBus, fence_topic: str) -> None:
        self._inner, self._fence_topic = inner, fence_topic
        self._held: list[Arrived] = []
        self._changes: list[BusChange] = []
        self._free = False
        self.fence_seen = 0
        self.published = 0

    def look(self) -> None:
        """Fetch what has come from the real bus, without handing it on."""
        messages, changes = self._inner.take()
        self._held += messages
        self._changes += changes
        for message in messages:
            if message.topic == self._fence_topic:
                self.fence_seen = max(self.fence_seen, int(message.payload))

    def release(self) -> None:
        """Hand on everything at the next `take`."""
        self._free = True

    @property
    def is_empty(self) -> bool:
        """Whether nothing but changes of the link is held back."""
        return not self._held

    @property
    def is_listening(self) -> bool:
        """The broker has granted every subscription."""
        return self._inner.is_listening

    async def open(self, topics: Sequence[str]) -> None:
        """As the real bus."""
        await self._inner.open(topics)

    def take(self) -> tuple[list[Arrived], list[BusChange]]:
        """What was released, and changes of the link at once."""
        self.look()
        changes, self._changes = self._changes, []
        if not self._free:
            return [], changes
        self._free = False
        messages, self._held = self._held, []
        return messages, changes

    def acknowledge(self, messages: Iterable[Arrived]) -> None:
        """As the real bus."""
        self._inner.acknowledge(messages)

    async def publish(self, topic: str, payload: str, *, retain: bool, expires_after: int | None) -> bool:
        """As the real bus."""
        self.published += 1
        return await self._inner.publish(topic, payload, retain=retain, expires_after=expires_after)

    async def close(self) -> None:
        """As the real bus."""
        await self._inner.close()
