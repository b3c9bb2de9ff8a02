"""Parts for the tests of the bus: an ear at the door, an independent sender and hearer, a cable that can be cut, and a
broker whose every byte the test chooses."""

import asyncio
import os
import ssl
import struct
import threading
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from typing import Self

import paho.mqtt.client as mqtt
from paho.mqtt.enums import CallbackAPIVersion

from gateway.doors.bus import MqttBus, Patience
from gateway.doors.faces import Arrived, BrokerSettings, BusChange
from tests.benchmarks.bare_reader import CONNECT, PUBLISH, answer_to, packet, split_packets

HOST = "127.0.0.1"
WITHIN = 15.0  # seconds; a deadline, not a wait: everything here happens within tens of milliseconds
HURRIED = Patience(first=0.02, longest=0.2, steady=60.0)

WITHOUT_MOSQUITTO = "HEAVINGLINE_WITHOUT_MOSQUITTO"
KINDS = ("iotcore",) if os.environ.get(WITHOUT_MOSQUITTO) else ("mosquitto", "iotcore")


async def until(true: Callable[[], bool], what: Callable[[], str] = lambda: "") -> None:
    """Let the loop run until it is true; fails at the deadline, saying what was waited for."""
    try:
        async with asyncio.timeout(WITHIN):
            while not true():
                await asyncio.sleep(0.002)
    except TimeoutError:
        raise AssertionError(f"not within {WITHIN:g} s: {what() or true}") from None


def settings(port: int, *, client_id: str, version: int = 5, **more: object) -> BrokerSettings:
    return BrokerSettings(name="shore", host=HOST, port=port, client_id=client_id, version=version, **more)  # type: ignore[arg-type]


class Ear:
    """An MqttBus and all that it has brought so far."""

    def __init__(self, chosen: BrokerSettings, patience: Patience = HURRIED) -> None:
        self.messages: list[Arrived] = []
        self.changes: list[BusChange] = []
        self.bus = MqttBus(chosen, self._woken, patience=patience)

    def _woken(self) -> None:
        messages, changes = self.bus.take()
        self.messages += messages
        self.changes += changes

    @property
    def payloads(self) -> list[str]:
        return [message.payload.decode() for message in self.messages]

    async def hear(self, count: int) -> list[Arrived]:
        """Wait until that many messages have come in all; they."""
        await until(lambda: len(self.messages) >= count, lambda: f"{count} messages, got {len(self.messages)}")
        return self.messages

    async def told(self, *, up: bool, having: str = "", past: int = 0) -> BusChange:
        """Wait for a change of that kind after the first `past` of them; it."""

        def found() -> list[BusChange]:
            return [one for one in self.changes[past:] if one.up is up and having in one.detail]

        await until(lambda: bool(found()), lambda: f"up={up} with '{having}' in {self.changes[past:]}")
        return found()[0]

    async def listening(self) -> None:
        await until(lambda: self.bus.is_listening, lambda: f"subscribed; told {self.changes}")


@asynccontextmanager
async def ear(
    port: int,
    topics: Sequence[str],
    *,
    client_id: str,
    version: int = 5,
    patience: Patience = HURRIED,
    wait: bool = True,
    **more: object,
) -> AsyncIterator[Ear]:
    """An opened ear; closed in order at the end."""
    one = Ear(settings(port, client_id=client_id, version=version, **more), patience)
    await one.bus.open(topics)
    try:
        if wait:
            await one.listening()
        yield one
    finally:
        await one.bus.close()


class Outsider:
    """A client of its own, with paho's own thread: publishes and hears independently of the door."""

    def __init__(self, port: int, version: int = 5, hears: str | None = None) -> None:
        self._port, self._hears = port, hears
        self.heard: list[mqtt.MQTTMessage] = []
        self._ready = threading.Event()
        self._client = mqtt.Client(CallbackAPIVersion.VERSION2, protocol=mqtt.MQTTv5 if version == 5 else mqtt.MQTTv311)
        self._client.on_message = lambda _client, _data, message: self.heard.append(message)
        self._client.on_connect = self._on_connect
        self._client.on_subscribe = lambda *_: self._ready.set()

    def _on_connect(self, *_: object) -> None:
        if self._hears is None:
            self._ready.set()
        else:
            self._client.subscribe(self._hears, 1)

    def __enter__(self) -> Self:
        self._client.connect(HOST, self._port)
        self._client.loop_start()
        assert self._ready.wait(WITHIN), "the outsider could not connect"
        return self

    def __exit__(self, *_: object) -> None:
        self._client.disconnect()
        self._client.loop_stop()

    def publish(self, topic: str, payload: str | bytes, *, qos: int = 1, retain: bool = False) -> None:
        """Publish and wait until the broker has it."""
        sent = self._client.publish(topic, payload, qos=qos, retain=retain)
        sent.wait_for_publish(WITHIN)
        assert sent.is_published(), f"the broker did not take a message on {topic}"

    def publish_all(self, topic: str, payloads: Sequence[str]) -> None:
        """Publish them in order at QoS 1 and wait until the broker has them all."""
        for sent in [self._client.publish(topic, payload, qos=1) for payload in payloads]:
            sent.wait_for_publish(WITHIN)

    def saw(self, topic: str) -> list[str]:
        """Payloads heard on that topic so far."""
        return [message.payload.decode() for message in self.heard if message.topic == topic]


class Cable:
    """A relay on loopback between the door and a broker, so that the connection can be cut like a cable."""

    def __init__(self, port: int) -> None:
        self._to = port
        self.port = 0
        self._ends: list[asyncio.StreamWriter] = []
        self._tasks: set[asyncio.Task[None]] = set()
        self.connections = 0

    async def __aenter__(self) -> Self:
        self._server = await asyncio.start_server(self._join, HOST, 0)
        self.port = self._server.sockets[0].getsockname()[1]
        return self

    async def __aexit__(self, *_: object) -> None:
        self._server.close()
        self.cut()
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)

    def cut(self) -> None:
        """Break every connection that goes through, at once and without a word."""
        for writer in self._ends:
            writer.transport.abort()
        self._ends.clear()

    async def _join(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self.connections += 1
        self._ends.append(writer)
        try:
            far_reader, far_writer = await asyncio.open_connection(HOST, self._to)
        except OSError:
            writer.transport.abort()
            return
        self._ends.append(far_writer)
        for source, sink in ((reader, far_writer), (far_reader, writer)):
            task = asyncio.ensure_future(_pour(source, sink))
            self._tasks.add(task)


async def _pour(source: asyncio.StreamReader, sink: asyncio.StreamWriter) -> None:
    try:
        while data := await source.read(1 << 16):
            sink.write(data)
            await sink.drain()
    except OSError:
        pass
    finally:
        sink.close()


class ScriptedBroker:
    """A broker of which the test chooses the answers. Everything received stands in `packets`: (connection, type,
    flags, body). By default it answers as a broker does; `answer` may answer in its stead (None: as a broker does)."""

    def __init__(
        self,
        version: int = 5,
        answer: Callable[[int, int, int, bytes], bytes | None] = lambda *_: None,
        *,
        context: ssl.SSLContext | None = None,
    ) -> None:
        self._context = context
        self.version, self._answer = version, answer
        self.packets: list[tuple[int, int, int, bytes]] = []
        self.connections = 0
        self._writer: asyncio.StreamWriter | None = None
        self.port = 0

    async def __aenter__(self) -> Self:
        self._server = await asyncio.start_server(self._serve, HOST, 0, ssl=self._context)
        self.port = self._server.sockets[0].getsockname()[1]
        return self

    async def __aexit__(self, *_: object) -> None:
        self._server.close()
        self.cut()

    def cut(self) -> None:
        if self._writer is not None:
            self._writer.transport.abort()

    def send(self, data: bytes) -> None:
        """Bytes to the client that came last."""
        assert self._writer is not None
        self._writer.write(data)

    def count(self, kind: int, having: bytes = b"", connection: int | None = None) -> int:
        """Packets of that type received, with these bytes in them, on that connection or on any."""
        return sum(
            1
            for on, one, _, body in self.packets
            if one == kind and having in body and (connection is None or on == connection)
        )

    async def _serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self.connections += 1
        number, self._writer, rest = self.connections, writer, b""
        try:
            while data := await reader.read(1 << 16):
                found, rest = split_packets(rest + data)
                for kind, flags, body in found:
                    self.packets.append((number, kind, flags, body))
                    chosen = self._answer(number, kind, flags, body)
                    writer.write(answer_to(kind, flags, body, self.version) if chosen is None else chosen)
        except OSError:
            pass
        finally:
            writer.close()


def raw_publish(topic: bytes, payload: bytes, mid: int, version: int) -> bytes:
    """A QoS 1 PUBLISH with any bytes as its topic."""
    properties = b"\x00" if version == 5 else b""
    return packet(PUBLISH, 2, struct.pack("!H", len(topic)) + topic + struct.pack("!H", mid) + properties + payload)


def raw_connect(client_id: bytes, version: int) -> bytes:
    """The CONNECT of a client with a clean start and nothing else (MQTT 5.0 and 3.1.1, 3.1)."""
    head = b"\x00\x04MQTT" + bytes([5 if version == 5 else 4, 2, 0, 60]) + (b"\x00" if version == 5 else b"")
    return packet(CONNECT, 0, head + struct.pack("!H", len(client_id)) + client_id)
