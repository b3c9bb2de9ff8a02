"""What we publish on one connection, and whether the broker took it."""

import asyncio
from collections.abc import Callable

import paho.mqtt.client as mqtt
from paho.mqtt.packettypes import PacketTypes
from paho.mqtt.properties import Properties
from paho.mqtt.reasoncodes import ReasonCode

OUTGOING_WINDOW = 20  # our unanswered publishes at once; mosquitto's own default. Fewer where the broker says so
REFUSED = 0x80  # MQTT 5.0, 2.4 and MQTT 3.1.1, 3.9.3: reason codes from here on are failures


class Outgoing:
    """The messages of one connection that wait for their PUBACK. Called on the loop's thread. noted: is told what is
    wrong."""

    def __init__(self, client: mqtt.Client, version: int, noted: Callable[[str], None]) -> None:
        self._client, self._version, self._noted = client, version, noted
        self._answers: dict[int, asyncio.Future[bool]] = {}
        self.window = asyncio.Semaphore(OUTGOING_WINDOW)
        self._over = False

    def welcomed(self, properties: Properties | None) -> None:
        """The broker says how many unanswered messages it takes at once."""
        self.window = asyncio.Semaphore(min(OUTGOING_WINDOW, getattr(properties, "ReceiveMaximum", OUTGOING_WINDOW)))

    def over(self) -> None:
        """The connection has ended: nothing that waits is answered any more."""
        self._over = True
        for answer in self._answers.values():
            if not answer.done():
                answer.set_result(False)

    async def put(self, topic: str, payload: str, retain: bool, expires_after: int | None) -> bool:
        """One QoS 1 message; True when the broker took it, False when it did not or the connection ended."""
        properties = None
        if expires_after is not None and self._version == 5:
            properties = Properties(PacketTypes.PUBLISH)  # type: ignore[no-untyped-call]  # paho gives it no types
            properties.MessageExpiryInterval = expires_after
        try:
            if not topic:  # paho lets it through in MQTT 5, for topic aliases; brokers cut the connection (measured)
                raise ValueError("the topic is empty")
            sent = self._client.publish(topic, payload, qos=1, retain=retain, properties=properties)
        except ValueError as error:
            self._noted(f"nothing can be published on '{topic}': {error}")
            return False
        if sent.rc != mqtt.MQTT_ERR_SUCCESS:
            return False
        answer = self._answers[sent.mid] = asyncio.get_running_loop().create_future()
        try:
            taken: bool = await answer
        finally:
            del self._answers[sent.mid]
        if not taken and not self._over:
            self._noted(f"the broker refused our message on '{topic}'; see to the gateway's rights there")
        return taken

    def on_publish(
        self, _client: mqtt.Client, _data: object, mid: int, reason: ReasonCode, _properties: Properties | None
    ) -> None:
        """paho's callback: the PUBACK of a message."""
        answer = self._answers.get(mid)
        if answer is not None and not answer.done():
            answer.set_result(int(reason.value) < REFUSED)
