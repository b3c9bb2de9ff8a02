"""Which filters we ask the broker for on one connection, and what it says to each."""

import asyncio
from collections.abc import Callable, Sequence

import paho.mqtt.client as mqtt
from paho.mqtt.properties import Properties
from paho.mqtt.reasoncodes import ReasonCode

from gateway.doors.bus.outgoing import REFUSED

FILTERS_A_PACKET = 100  # filters in one SUBSCRIBE, so that a thousand boats make no giant packet. Our choice


class Asking:
    """The subscriptions of one connection. Called on the loop's thread. answered: done once every filter has been
    answered. noted: is told what is wrong."""

    def __init__(self, client: mqtt.Client, noted: Callable[[str], None]) -> None:
        self._client, self._noted = client, noted
        self._asked: dict[int, Sequence[str]] = {}
        self.answered: asyncio.Future[None] = asyncio.get_running_loop().create_future()

    def ask_for(self, topics: Sequence[str]) -> None:
        """Ask for every filter at QoS 1, which caps a QoS 2 publisher to it: QoS 2 with manual acknowledgement sticks
        for good in paho (measured). Asking on every connection also refreshes retained values."""
        for first in range(0, len(topics), FILTERS_A_PACKET):
            some = topics[first : first + FILTERS_A_PACKET]
            try:
                self._ask(some)
            except ValueError:  # one filter that is none must not keep the others from being heard
                for one in some:
                    try:
                        self._ask([one])
                    except ValueError:
                        self._noted(f"'{one}' is no MQTT topic filter; correct the topic")
        self._settle()

    def _ask(self, topics: Sequence[str]) -> None:
        _, mid = self._client.subscribe([(topic, 1) for topic in topics])
        if mid is not None:
            self._asked[mid] = topics

    def on_subscribe(
        self,
        _client: mqtt.Client,
        _data: object,
        mid: int,
        reasons: list[ReasonCode],
        _properties: Properties | None,
    ) -> None:
        """paho's callback: the SUBACK of some filters."""
        for topic, reason in zip(self._asked.pop(mid, ()), reasons, strict=False):
            if reason.value >= REFUSED:
                self._noted(f"the broker refused the filter '{topic}': {reason}; see to the gateway's rights there")
        self._settle()

    def _settle(self) -> None:
        if not self._asked and not self.answered.done():
            self.answered.set_result(None)
