"""The bench at a real broker: the gateway's own door under a client id of its own, beside a gateway that runs."""

import asyncio
import contextlib
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Protocol, Self

from gateway.boat.decoding import decode
from gateway.boat.settings import Signal
from gateway.conforming.bench import Said
from gateway.doors.bus import MqttBus, Patience
from gateway.doors.faces import Arrived, BrokerSettings, DoorTrouble
from gateway.vocabulary.moments import SECOND, Ms

CONNECTED_WITHIN: Ms = 30 * SECOND
"""How long the broker may take to let us in (our choice: three of the door's own waits for an answer)."""


LOOK_AGAIN: Ms = 100
"""The link may come to listen without a word of news (our choice)."""


class Hands(Protocol):
    """The person at the bench."""

    async def do(self, instruction: str) -> None: ...

    async def saw(self, question: str) -> bool: ...


class Time(Protocol):
    """What is used of the clock's door."""

    def now(self) -> Ms: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class NodeTopics:
    """Where the node listens and speaks. feedback and count must come in one message of one topic."""

    command: str
    feedback: Signal
    count: Signal


class AtBroker:
    """`Bench` over MQTT; an asynchronous context manager. Raises DoorTrouble when the broker does not let us in."""

    def __init__(
        self,
        settings: BrokerSettings,
        topics: NodeTopics,
        *,
        clock: Time,
        new_id: Callable[[], str],
        hands: Hands,
        patience: Patience | None = None,
    ) -> None:
        # The broker keeps nothing for us: what the node says while we are away is no proof of anything.
        self._settings = replace(settings, client_id=f"{settings.client_id}-conform", session_expiry=0)
        self._topics, self._clock, self._hands = topics, clock, hands
        self.new_id = new_id
        self._said: deque[Said] = deque()
        self._news = asyncio.Event()
        self._trouble = ""
        self._bus = MqttBus(self._settings, self._woken, patience=patience)

    async def __aenter__(self) -> Self:
        await self._bus.open((self._topics.feedback.topic,))
        try:
            async with asyncio.timeout(CONNECTED_WITHIN / SECOND):
                while not self._bus.is_listening:
                    await self._some_news(LOOK_AGAIN)
        except TimeoutError:
            await self._bus.close()
            raise DoorTrouble(
                where=f"broker {self._settings.name}",
                problem=self._trouble or "it does not let us in",
                remedy="Look at its address and log; the user of gateway.toml must be allowed the id "
                f"{self._settings.client_id}",
            ) from None
        return self

    async def __aexit__(self, *_: object) -> None:
        await self._bus.close()

    def now(self) -> Ms:
        return self._clock.now()

    def wall(self) -> Ms:
        return self._clock.now()

    async def publish(self, payload: str, *, retain: bool = False) -> bool:
        return await self._bus.publish(self._topics.command, payload, retain=retain, expires_after=None)

    def forget_states(self) -> None:
        self._said.clear()

    async def next_state(self, until: Ms) -> Said | None:
        while not self._said:
            left = until - self.now()
            if left <= 0:
                return None
            await self._some_news(left)
        return self._said.popleft()

    async def do(self, instruction: str) -> None:
        await self._hands.do(instruction)

    async def saw(self, question: str) -> bool:
        return await self._hands.saw(question)

    async def _some_news(self, within: Ms) -> None:
        self._news.clear()
        with contextlib.suppress(TimeoutError):
            async with asyncio.timeout(within / SECOND):
                await self._news.wait()

    def _woken(self) -> None:
        messages, changes = self._bus.take()
        self._said.extend(said for message in messages if (said := self._said_by(message)) is not None)
        self._bus.acknowledge(messages)
        for change in changes:
            self._trouble = "" if change.up else change.detail
        self._news.set()

    def _said_by(self, message: Arrived) -> Said | None:
        """A live state message. A retained one was said before, and an unreadable one says nothing."""
        if message.retained or message.topic != self._topics.feedback.topic:
            return None
        readings = decode((self._topics.feedback, self._topics.count), message.payload, retained=False)
        values = [reading.value for reading in readings]
        match values:
            case [bool() as running, Decimal() as count] if count == count.to_integral_value():
                return Said(at=self.now(), running=running, count=int(count))
        return None
