"""The yardstick for the intake: a source of ready-made PUBLISH packets, and the barest reader of them.

`PublishSource` is a server in a process of its own that plays the broker to one client: it welcomes it, waits for a
subscription and writes packets built beforehand as fast as the client takes them, so that what is measured is the
client. `bare_rate` is what paho-mqtt does at best in this process: the loop's reader, drained, each message counted and
acknowledged, nothing else. Both the whole service and the bare reader can be run against it; the ratio of the two is
what means something, and only when both were measured in one run on one machine.

Formats: MQTT 5.0 and MQTT 3.1.1 (OASIS standards), sections 2 and 3.
"""

import asyncio
import json
import select
import socket
import struct
import subprocess
import sys
import time
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import accumulate
from types import TracebackType
from typing import Self

import paho.mqtt.client as mqtt
from paho.mqtt.enums import CallbackAPIVersion

HOST = "127.0.0.1"
CONNECT, CONNACK, PUBLISH, PUBACK, SUBSCRIBE, SUBACK, PINGREQ, PINGRESP = 1, 2, 3, 4, 8, 9, 12, 13
ROUNDS, PACKETS = 8, 32  # the same bounds as the door's reader
CHUNK = 1 << 16  # bytes of whole packets handed to the kernel at once


def small_payload(n: int) -> bytes:
    """About 50 bytes of JSON, as a boat's node would send them."""
    return json.dumps({"value": 12 + n % 100 / 100, "unit": "V", "at": 1_700_000_000 + n, "seq": n}).encode()


def boat_topics(boats: int = 50) -> tuple[str, ...]:
    """Topics of the form `boat-N/alarm/bilge`."""
    return tuple(f"boat-{n}/alarm/bilge" for n in range(boats))


# ---------------------------------------------------------------- packets


def packet(kind: int, flags: int, body: bytes) -> bytes:
    """A packet with its fixed header (2.1): type, flags, remaining length in groups of seven bits."""
    length, rest = bytearray(), len(body)
    while True:
        length.append(rest & 0x7F | (0x80 if rest > 0x7F else 0))
        rest >>= 7
        if not rest:
            return bytes([kind << 4 | flags]) + bytes(length) + body


def publish_packet(topic: bytes, payload: bytes, mid: int, version: int) -> bytes:
    """A QoS 1 PUBLISH (3.3), without properties where the version has them."""
    properties = b"\x00" if version == 5 else b""
    return packet(PUBLISH, 2, struct.pack("!H", len(topic)) + topic + struct.pack("!H", mid) + properties + payload)


def split_packets(data: bytes) -> tuple[list[tuple[int, int, bytes]], bytes]:
    """(type, flags, body) of each whole packet in data, and what is left of a packet not whole yet."""
    found: list[tuple[int, int, bytes]] = []
    at = 0
    while True:
        length, shift, body = 0, 0, at + 1
        while body < len(data) and shift <= 21:
            byte = data[body]
            length |= (byte & 0x7F) << shift
            body, shift = body + 1, shift + 7
            if not byte & 0x80:
                break
        else:
            return found, data[at:]
        if body + length > len(data):
            return found, data[at:]
        found.append((data[at] >> 4, data[at] & 0x0F, data[body : body + length]))
        at = body + length


def answer_to(kind: int, flags: int, body: bytes, version: int) -> bytes:
    """What a broker answers to one packet of a client; empty when nothing."""
    properties = b"\x00" if version == 5 else b""
    if kind == CONNECT:
        return packet(CONNACK, 0, b"\x00\x00" + properties)
    if kind == SUBSCRIBE:
        return packet(SUBACK, 0, body[:2] + properties + b"\x01" * _filters_in(body, version))
    if kind == PUBLISH and flags & 0x06:
        length = struct.unpack("!H", body[:2])[0]
        return packet(PUBACK, 0, body[2 + length : 4 + length])
    return packet(PINGRESP, 0, b"") if kind == PINGREQ else b""


def _filters_in(body: bytes, version: int) -> int:
    at, count = 2 + (1 + body[2] if version == 5 else 0), 0  # properties shorter than 128 bytes: ours have none
    while at < len(body):
        at += 2 + struct.unpack("!H", body[at : at + 2])[0] + 1
        count += 1
    return count


# ---------------------------------------------------------------- the source, seen from the test


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """What the source saw. acknowledged: PUBACKs. seconds: from its first PUBLISH to the last PUBACK it waited for."""

    acknowledged: int
    seconds: float


class PublishSource:
    """A server in a child process with `count` ready QoS 1 messages for the first client that subscribes.

    The n-th goes to topics[n % len(topics)] with payload(n). window: how many may be unacknowledged, as a broker's
    receive maximum; None leaves it to TCP alone. version: 5 or 3 (3.1.1), as the client speaks. Packet ids run from 1
    to 65535 and round again. A context manager; leaving it ends the child.
    """

    def __init__(
        self,
        count: int,
        *,
        topics: Sequence[str] = boat_topics(),
        payload: Callable[[int], bytes] = small_payload,
        window: int | None = None,
        version: int = 5,
    ) -> None:
        names = [topic.encode() for topic in topics]
        packets = [publish_packet(names[n % len(names)], payload(n), n % 65535 + 1, version) for n in range(count)]
        self.count = count
        self.bytes = sum(map(len, packets))
        self.port = 0
        self._order = json.dumps({"window": window, "version": version, "lengths": [len(one) for one in packets]})
        self._packets = b"".join(packets)
        self._child: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Self:
        self._child = subprocess.Popen(
            [sys.executable, "-I", __file__], stdin=subprocess.PIPE, stdout=subprocess.PIPE, bufsize=-1
        )
        assert self._child.stdin is not None
        self._child.stdin.write(self._order.encode() + b"\n" + self._packets)
        self._child.stdin.close()
        self.port = self._line()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        assert self._child is not None
        assert self._child.stdout is not None
        self._child.kill()
        self._child.wait()
        self._child.stdout.close()

    def served(self, within: float = 30.0) -> Served:
        """Wait, at most so many seconds, until every message was sent and acknowledged. Blocks."""
        assert self._child is not None
        assert self._child.stdout is not None
        ready, _, _ = select.select([self._child.stdout], [], [], within)
        assert ready, f"the client did not take and acknowledge {self.count} messages within {within:g} s"
        return Served(acknowledged=self._line(), seconds=self._line() / 1e6)

    def _line(self) -> int:
        assert self._child is not None
        assert self._child.stdout is not None
        return int(self._child.stdout.readline())


# ---------------------------------------------------------------- the source, in its own process


def _serve() -> None:
    order = json.loads(sys.stdin.buffer.readline())
    packets = sys.stdin.buffer.read()
    ends = [0, *accumulate(order["lengths"])]  # ends[n]: bytes of the first n packets
    with socket.create_server((HOST, 0)) as server:
        print(server.getsockname()[1], flush=True)
        client, _ = server.accept()
        with client:
            client.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            _serve_one(client, memoryview(packets), ends, order["window"], order["version"])


def _serve_one(client: socket.socket, packets: memoryview, ends: list[int], window: int | None, version: int) -> None:
    count = len(ends) - 1
    acknowledged, cut, rest, subscribed, told, began = 0, 0, b"", False, False, 0.0
    outgoing = memoryview(b"")  # whole packets: an answer must not fall into the middle of one
    answers = bytearray()
    client.setblocking(False)
    while True:
        allowed = count if window is None else min(count, acknowledged + window)
        if not outgoing and answers:
            outgoing, answers = memoryview(bytes(answers)), bytearray()
        elif not outgoing and subscribed and cut < allowed:
            began = began or time.perf_counter()
            upto = min(allowed, max(cut + 1, bisect_right(ends, ends[cut] + CHUNK) - 1))
            outgoing, cut = packets[ends[cut] : ends[upto]], upto
        readable, writable, _ = select.select([client], [client] if outgoing else [], [])
        if readable:
            data = client.recv(1 << 16)
            if not data:
                return
            acks, rest, others = _count_acks(rest + data)
            acknowledged += acks
            for kind, flags, body in others:
                answers += answer_to(kind, flags, body, version)
                subscribed = subscribed or kind == SUBSCRIBE
            if acknowledged >= count and not told:
                told = True
                print(f"{acknowledged}\n{int((time.perf_counter() - began) * 1e6)}", flush=True)
        if writable:
            outgoing = outgoing[client.send(outgoing) :]


def _count_acks(data: bytes) -> tuple[int, bytes, list[tuple[int, int, bytes]]]:
    """PUBACKs in data, what is left over, and the other packets. Mostly data is nothing but PUBACKs of four bytes."""
    whole = len(data) // 4
    if data[0 : 4 * whole : 4].count(PUBACK << 4) == whole and data[1 : 4 * whole : 4].count(2) == whole:
        return whole, data[4 * whole :], []
    found, rest = split_packets(data)
    others = [one for one in found if one[0] != PUBACK]
    return len(found) - len(others), rest, others


# ---------------------------------------------------------------- the bare reader


def bare_rate(count: int, *, window: int | None = None) -> float:
    """Messages a second of the bare drained QoS 1 reader over `count` of them, from the first to the last."""
    with PublishSource(count, window=window) as source:
        rate = asyncio.run(_read_bare(source.port, count))
        assert source.served().acknowledged == count
    return rate


async def _read_bare(port: int, count: int) -> float:
    loop = asyncio.get_running_loop()
    done = loop.create_future()
    seen, began = 0, 0.0

    def on_message(*_: object) -> None:
        nonlocal seen, began
        seen += 1
        if seen == 1:
            began = time.perf_counter()
        elif seen == count:
            done.set_result((count - 1) / (time.perf_counter() - began))

    def on_readable() -> None:
        for _ in range(ROUNDS):
            before = seen
            for _ in range(PACKETS):
                client.loop_read()
            if seen - before < PACKETS:
                return

    def on_connect(*_: object) -> None:
        client.subscribe("#", 1)

    def on_want_write(_client: mqtt.Client, _data: object, sock: "mqtt.SocketLike") -> None:
        loop.add_writer(sock.fileno(), client.loop_write)

    def on_written(_client: mqtt.Client, _data: object, sock: "mqtt.SocketLike") -> None:
        loop.remove_writer(sock.fileno())

    client = mqtt.Client(
        CallbackAPIVersion.VERSION2, client_id="bare", protocol=mqtt.MQTTv5, reconnect_on_failure=False
    )
    client.on_message = on_message
    client.on_connect = on_connect
    client.connect(HOST, port)
    sock = client.socket()
    assert sock is not None
    client.on_socket_register_write = on_want_write
    client.on_socket_unregister_write = on_written
    loop.add_reader(sock, on_readable)
    try:
        async with asyncio.timeout(60):
            rate: float = await done
        while client.want_write():  # the last acknowledgements
            await asyncio.sleep(0)
    finally:
        loop.remove_reader(sock)
        client.disconnect()
        client.loop_write()
    return rate


if __name__ == "__main__":
    _serve()
