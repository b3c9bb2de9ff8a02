"""Hear what is said on a broker for a while, and disturb nothing.

A client of its own: another client id, a clean start, no session left behind, no last will, and no way to publish. So
the running gateway keeps its link and its messages: a broker throws out a client only for another of the same id
(MQTT 5.0, 3.1.4-3). QoS 0 is asked for, so that the broker never waits for us and keeps nothing for us.
"""

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace

import paho.mqtt.client as mqtt
from paho.mqtt.enums import CallbackAPIVersion
from paho.mqtt.packettypes import PacketTypes
from paho.mqtt.properties import Properties
from paho.mqtt.reasoncodes import ReasonCode

from gateway.doors.bus.greeting import CONNECT_WITHIN, LARGEST_PACKET, in_words, secure
from gateway.doors.faces import BrokerSettings, BrokerUnheard, Overheard
from gateway.vocabulary.moments import SECOND, Ms

ANSWER_WITHIN: Ms = 10 * SECOND
"""How long the broker may take to welcome us and to answer the filters; as on the gateway's own link."""

STEP = 0.1
"""Seconds that one look at the socket may take: how late the end and Ctrl-C may be (our choice)."""


def listener_id(chance: bytes) -> str:
    """A client id that no other program has: 18 characters, within the 23 that every broker takes (MQTT 3.1.1,
    3.1.3.1). chance: 4 random bytes."""
    return f"listening-{chance[:4].hex()}"


class Listener:
    """One broker, heard once from beginning to end. Blocks; for a worker thread."""

    def __init__(self, settings: BrokerSettings, client_id: str) -> None:
        """settings: the gateway's link. client_id: ours. Raises ValueError when it is the gateway's own."""
        if client_id == settings.client_id:
            raise ValueError("the listener would throw out the gateway itself")
        self._settings = replace(settings, client_id=client_id)
        self._client = self._fresh()
        self._trouble: str | None = None
        self._subscribed = False
        self._filters: Sequence[str] = ()
        self._refused: list[str] = []
        self._stopped = threading.Event()

    def stop(self) -> None:
        """End the listening as if its time were over. From any thread."""
        self._stopped.set()

    def hear(self, filters: Sequence[str], length: Ms, each: Callable[[Overheard], None]) -> tuple[str, ...]:
        """Listen for that long (ms, from the broker's answer on); each: called for every message. Gives back the
        filters that the broker refused. Raises BrokerUnheard when no connection comes about or all are refused."""
        self._filters = tuple(filters)
        self._client.on_message = lambda _client, _data, message: each(_overheard(message))
        try:
            self._connect()
            self._go_on(lambda: self._subscribed or self._stopped.is_set(), ANSWER_WITHIN, must=True)
            if self._subscribed and len(self._refused) == len(self._filters):
                raise self._unheard("the broker refused what we asked to hear", "See to the gateway's rights there")
            self._go_on(self._stopped.is_set, length, must=False)
        finally:
            self._client.disconnect()
            sock = self._client.socket()
            if sock is not None:
                self._client.loop_write()
                sock.close()
        return tuple(self._refused)

    def _fresh(self) -> mqtt.Client:
        settings = self._settings
        client = mqtt.Client(
            CallbackAPIVersion.VERSION2,
            client_id=settings.client_id,
            protocol=mqtt.MQTTv5 if settings.version == 5 else mqtt.MQTTv311,
            clean_session=None if settings.version == 5 else True,
            reconnect_on_failure=False,
        )
        client.suppress_exceptions = True
        client.connect_timeout = CONNECT_WITHIN
        if settings.user is not None:
            client.username_pw_set(settings.user, settings.password)
        client.on_connect = self._on_connect
        client.on_subscribe = self._on_subscribe
        client.on_disconnect = self._on_disconnect
        return client

    def _connect(self) -> None:
        settings, client = self._settings, self._client
        try:
            secure(client, settings)
            if settings.version == 5:
                properties = Properties(PacketTypes.CONNECT)  # type: ignore[no-untyped-call]  # paho gives it no types
                properties.SessionExpiryInterval = 0  # the session ends with the connection (MQTT 5.0, 3.1.2.11.2)
                properties.MaximumPacketSize = LARGEST_PACKET
                client.connect(
                    settings.host, settings.port, settings.keepalive, clean_start=True, properties=properties
                )
            else:
                client.connect(settings.host, settings.port, settings.keepalive)
        except (OSError, ValueError) as error:
            raise self._unheard(in_words(error, settings), "See to host, port and certificate") from None

    def _go_on(self, done: Callable[[], bool], length: Ms, *, must: bool) -> None:
        end = time.monotonic_ns() + length * 1_000_000
        while not done():
            left = (end - time.monotonic_ns()) / 1_000_000_000
            if left <= 0:
                if must:
                    raise self._unheard("no answer from the broker", "Is this an MQTT port, and the version right")
                return
            if self._client.loop(min(STEP, left)) != mqtt.MQTT_ERR_SUCCESS and self._trouble is None:
                self._trouble = "the connection broke"
            if self._trouble is not None:
                raise self._unheard(self._trouble, "See to user, password and rights there")

    def _unheard(self, problem: str, remedy: str) -> BrokerUnheard:
        return BrokerUnheard(where=f"broker {self._settings.name}", problem=problem, remedy=remedy)

    def _on_connect(
        self, client: mqtt.Client, _data: object, _flags: object, reason: ReasonCode, _properties: object
    ) -> None:
        if reason.is_failure:
            self._trouble = f"the broker refused us: {reason}"
            return
        client.subscribe([(one, 0) for one in self._filters])

    def _on_subscribe(
        self, _client: mqtt.Client, _data: object, _mid: int, reasons: list[ReasonCode], _properties: object
    ) -> None:
        pairs = zip(self._filters, reasons, strict=False)
        self._refused = [one for one, reason in pairs if reason.is_failure]
        self._subscribed = True

    def _on_disconnect(
        self, _client: mqtt.Client, _data: object, _flags: object, reason: ReasonCode, _properties: object
    ) -> None:
        if reason.is_failure and self._trouble is None:
            self._trouble = f"the connection ended: {reason}"


def _overheard(message: mqtt.MQTTMessage) -> Overheard:
    try:
        topic: str | None = message.topic
    except UnicodeDecodeError:
        topic = None
    return Overheard(
        topic=topic, payload=bytes(message.payload), retained=message.retain, at=time.monotonic_ns() // 1_000_000
    )
