"""The simulated boat's own MQTT client: a real connection to a real broker.

MQTT 5, QoS 1, a clean session that ends with the connection: a command published while the boat is away waits for
nobody and can start nothing later (measured: a persistent session would start a generator hours late).

For quick time both sides may send fences, numbered messages on topics of their own. A fence goes out when everything
said before it was acknowledged; once it has come through, nothing said before it is still on the way. That rests on the
broker keeping the order of one publisher's messages over topics. mosquitto does; iotcore does for the score of messages
that a boat says between two fences, and not for a backlog of many rounds behind a slow reader with a filter a topic
(both measured). So: one fence at a time, and nothing new is said before it has come through.
"""

import itertools
import os
import queue
import socket
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from types import TracebackType
from typing import Self

import paho.mqtt.client as mqtt
from paho.mqtt.enums import CallbackAPIVersion
from paho.mqtt.properties import Properties
from paho.mqtt.reasoncodes import ReasonCode
from paho.mqtt.subscribeoptions import SubscribeOptions

from gateway.demo.boat import Message

FENCE_TO_GATEWAY = "heavingline/fence/to-gateway"
FENCE_TO_BOAT = "heavingline/fence/to-boat"

ANSWER_WITHIN = 10.0  # seconds for every answer of the broker, as the gateway's own door waits; on loopback it takes ms
KEEPALIVE = 25  # seconds, as the gateway's own door

_numbers = itertools.count(1)


class BoatLinkTrouble(Exception):
    """The broker did not take us, or did not answer in time. The text says which, and what to look at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Received:
    """One message on a command topic, as it came. retained: with the retain mark, so of unknown age."""

    topic: str
    payload: bytes
    retained: bool


def _nobody() -> None:
    """Nobody wants to be woken."""


class BoatLink:
    """One boat's connection; a context manager. Its methods block and may be called from any thread but paho's.

    prefix: the boat's topics stand below it. woken: called, on paho's own thread, when `commands` or `fence_seen` has
    something new; it must only hand on the word (an event, a `call_soon_threadsafe`).
    """

    def __init__(
        self, host: str, port: int, *, prefix: str = "grey-wagtail", woken: Callable[[], None] = _nobody
    ) -> None:
        self._host, self._port, self._woken = host, port, woken
        self._prefix = prefix
        self._received: queue.SimpleQueue[Received] = queue.SimpleQueue()
        self._news = threading.Condition()
        self._listening = False
        self._trouble = ""
        self._fence = 0
        self._client = self._fresh_client()

    def _fresh_client(self) -> mqtt.Client:
        """One for every connection: paho leaves two sockets open when a client is started twice."""
        client = mqtt.Client(
            CallbackAPIVersion.VERSION2,
            client_id=f"{self._prefix}-{os.getpid()}-{next(_numbers)}",
            protocol=mqtt.MQTTv5,
        )
        client.suppress_exceptions = True  # else one error in a callback would end the reading (measured)
        client.on_socket_open = _without_delay
        client.on_connect = self._on_connect
        client.on_subscribe = self._on_subscribe
        client.on_message = self._on_message
        return client

    # ------------------------------------------------------------ coming and going

    def connect(self) -> Self:
        """Connect and subscribe; returns when the broker has granted it. Possible again after `close`.

        Raises BoatLinkTrouble.
        """
        self._client, self._trouble = self._fresh_client(), ""
        try:
            self._client.connect(self._host, self._port, KEEPALIVE, clean_start=True)
        except OSError as error:
            raise BoatLinkTrouble(f"{self._where}: {error}. Is the broker running?") from error
        self._client.loop_start()
        with self._news:
            self._news.wait_for(lambda: self._listening or self._trouble, ANSWER_WITHIN)
            trouble = self._trouble or ("" if self._listening else "no answer")
        if trouble:
            self.close()
            raise BoatLinkTrouble(f"{self._where}: {trouble}. Look at the broker's log.")
        return self

    def close(self) -> None:
        """Disconnect in order and end paho's thread. Safe to call twice."""
        self._client.disconnect()
        self._client.loop_stop()
        self._listening = False

    def __enter__(self) -> Self:
        return self.connect()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    # ------------------------------------------------------------ saying

    def publish_and_wait(self, messages: Sequence[Message]) -> None:
        """Publish all in order at QoS 1; returns when the broker has acknowledged every one. Raises BoatLinkTrouble."""
        sent = [self._client.publish(topic, payload, qos=1, retain=retained) for topic, payload, retained in messages]
        try:
            for one in sent:
                one.wait_for_publish(ANSWER_WITHIN)
        except (RuntimeError, ValueError) as error:
            raise BoatLinkTrouble(f"{self._where}: {error}. Is the broker running?") from error
        if not all(one.is_published() for one in sent):
            raise BoatLinkTrouble(f"{self._where}: a message was not acknowledged within {ANSWER_WITHIN:g} s.")

    def publish_fence(self, number: int, behind: Sequence[Message] = ()) -> None:
        """Send fence `number` to the gateway, behind these and all that was published before. Raises
        BoatLinkTrouble."""
        self.publish_and_wait([*behind, (FENCE_TO_GATEWAY, str(number), False)])

    # ------------------------------------------------------------ hearing

    def commands(self) -> list[Received]:
        """All commands that have come since the last call, in order of arrival."""
        taken: list[Received] = []
        while True:
            try:
                taken.append(self._received.get_nowait())
            except queue.Empty:
                return taken

    @property
    def fence_seen(self) -> int:
        """The highest fence that the gateway has sent us; 0 before the first."""
        return self._fence

    def wait_for_fence(self, number: int, within: float = ANSWER_WITHIN) -> bool:
        """Wait (s) until fence `number` or a later one of the gateway's has come; whether it has."""
        with self._news:
            return self._news.wait_for(lambda: self._fence >= number, within)

    @property
    def _where(self) -> str:
        return f"the boat's link to {self._host}:{self._port}"

    # ------------------------------------------------------------ on paho's thread

    def _on_connect(
        self,
        client: mqtt.Client,
        _data: object,
        _flags: mqtt.ConnectFlags,
        reason: ReasonCode,
        _properties: Properties | None,
    ) -> None:
        if reason.is_failure:
            self._tell(trouble=f"the broker refused us: {reason}")
        else:
            filters = (f"{self._prefix}/command/#", FENCE_TO_BOAT)
            client.subscribe([(one, SubscribeOptions(qos=1)) for one in filters])

    def _on_subscribe(
        self,
        _client: mqtt.Client,
        _data: object,
        _mid: int,
        reasons: list[ReasonCode],
        _properties: Properties | None,
    ) -> None:
        refused = [str(reason) for reason in reasons if reason.is_failure]
        self._tell(trouble=f"the broker refused our subscription: {refused[0]}" if refused else "")

    def _tell(self, *, trouble: str) -> None:
        with self._news:
            self._trouble, self._listening = trouble, not trouble
            self._news.notify_all()

    def _on_message(self, _client: mqtt.Client, _data: object, message: mqtt.MQTTMessage) -> None:
        if message.topic == FENCE_TO_BOAT:
            if message.payload.isdigit():
                with self._news:
                    self._fence = max(self._fence, int(message.payload))
                    self._news.notify_all()
        else:
            payload = bytes(message.payload)
            self._received.put(Received(topic=message.topic, payload=payload, retained=message.retain))
        self._woken()


def _without_delay(_client: mqtt.Client, _data: object, sock: object) -> None:
    """Small packets go out at once; paho does not set it by itself."""
    if isinstance(sock, socket.socket):
        sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
