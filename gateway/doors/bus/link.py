"""One connection to the broker, from CONNECT to its end. Never used twice.

paho is given a fresh client for every connection: what was published on an earlier one and never answered is gone
with it and cannot be sent again, while the broker keeps our session and subscriptions by the client id. paho starts no
thread here; the loop's reader calls it, and drains the socket: calling `loop_read` until nothing comes took 66,000
QoS 1 messages/s against 30,000 of paho's own thread (measured).
"""

import asyncio
import socket
import struct
from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from typing import Any

import paho.mqtt.client as mqtt
from paho.mqtt.properties import Properties
from paho.mqtt.reasoncodes import ReasonCode

from gateway.doors.bus.asking import Asking
from gateway.doors.bus.greeting import away_word, fresh_client, here_word, knock, presence_topic
from gateway.doors.bus.intake import Intake
from gateway.doors.bus.outgoing import Outgoing
from gateway.doors.bus.patience import Ended
from gateway.doors.faces import Arrived, BrokerSettings, kind_and_place

ANSWER_WITHIN = 10.0  # seconds for CONNACK, SUBACK and PUBACK (the Bus protocol promises 10 s for the last)
ROUNDS, PACKETS = 8, 32  # loop_read calls a wake-up: bounded, so that the loop stays fair (measured)
LEAVE_WITHIN = 3.0  # seconds for a word and a DISCONNECT when closing; a stop must not hang on a broker. Our choice
TAKEN_OVER = 0x8E  # MQTT 5.0, 3.14.2.1: session taken over


class Link:
    """One connection. `live` runs it; everything else is called while it runs, on the loop's thread."""

    def __init__(
        self,
        settings: BrokerSettings,
        generation: int,
        intake: Intake,
        *,
        welcomed: Callable[[bool], None],
        noted: Callable[[str], None],
    ) -> None:
        """welcomed is told once, with whether the broker kept our session; noted is told what is wrong meanwhile."""
        self._settings, self.generation, self._intake = settings, generation, intake
        self._welcomed = welcomed
        self._loop = asyncio.get_running_loop()
        self._ended: asyncio.Future[Ended] = self._loop.create_future()
        self._greeted: asyncio.Future[None] = self._loop.create_future()
        self._up_since: float | None = None
        self._socket: socket.socket | None = None
        self._paused = False
        self._client = fresh_client(settings)
        self._asking = Asking(self._client, noted)
        self._outgoing = Outgoing(self._client, settings.version, noted)
        self._minder: asyncio.TimerHandle | None = None

    @property
    def is_up(self) -> bool:
        """The broker has welcomed us and the connection has not ended."""
        return self._up_since is not None and not self._ended.done()

    @property
    def is_listening(self) -> bool:
        """Every filter asked for on this connection has been answered, and the connection has not ended."""
        return self._asking.answered.done() and not self._ended.done()

    async def live(self, topics: Sequence[str], connector: Executor) -> Ended:
        """Connect, subscribe, say that we are here, and stay until the end. Raises what knocking at the door raises."""
        try:
            await self._connect(connector)
            if not await self._within(self._greeted):
                self.abort("no welcome (CONNACK) from the broker")
                return await self._ended
            if not self._ended.done():
                self._asking.ask_for(topics)
            await self.publish(presence_topic(self._settings), here_word(), retain=True, expires_after=None)
            if not await self._within(self._asking.answered):
                self.abort("no answer to our subscription (SUBACK) from the broker")
            return await self._ended
        finally:
            self._tear_down()

    async def publish(self, topic: str, payload: str, *, retain: bool, expires_after: int | None) -> bool:
        """One QoS 1 message; True when the broker took it. Whatever else happens, it is never sent later."""
        try:
            async with asyncio.timeout(ANSWER_WITHIN), self._outgoing.window:
                return self.is_up and await self._outgoing.put(topic, payload, retain, expires_after)
        except TimeoutError:
            # It may lie half sent in a buffer, of paho's or the kernel's. Cut, so that it cannot go out late.
            self.abort(f"no answer (PUBACK) to a message on '{topic}'")
            return False

    def acknowledge(self, message: Arrived) -> None:
        """Queue the PUBACK of a message of this connection."""
        self._client.ack(message.mid, message.qos)

    async def leave(self) -> None:
        """Say that we are away, disconnect in order and wait for the end, a few seconds at most."""
        try:
            async with asyncio.timeout(LEAVE_WITHIN):
                await self.publish(presence_topic(self._settings), away_word(), retain=True, expires_after=None)
                if self.is_up:
                    self._client.disconnect()  # goes out behind all acknowledgements queued before it
                    await asyncio.shield(self._ended)
        except TimeoutError:
            self.abort("no answer from the broker while leaving")

    def abort(self, detail: str) -> None:
        """End the connection without a word; what is still in the kernel's buffer is thrown away."""
        if self._socket is not None and not self._ended.done():
            self._socket.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        self._end(Ended(detail=detail, lived=self._lived()))

    def resume_reading(self) -> None:
        """The intake has room again."""
        if self._paused and self._socket is not None and not self._ended.done():
            self._paused = False
            self._loop.add_reader(self._socket, self._on_readable)
            if _pending(self._socket):
                self._loop.call_soon(self._on_readable)

    # ------------------------------------------------------------ beginning and end

    async def _connect(self, connector: Executor) -> None:
        client = self._client
        client.on_connect = self._on_connect
        client.on_disconnect = self._on_disconnect
        client.on_subscribe = self._asking.on_subscribe
        client.on_publish = self._outgoing.on_publish
        client.on_message = self._on_message
        knocking = self._loop.run_in_executor(connector, knock, client, self._settings)
        try:
            self._socket = await asyncio.shield(knocking)
        except asyncio.CancelledError:
            knocking.add_done_callback(_close_unused)
            raise
        client.on_socket_register_write = self._on_want_write
        client.on_socket_unregister_write = self._on_written
        client.on_socket_close = self._on_closing
        self._loop.add_reader(self._socket, self._on_readable)
        self._loop.add_writer(self._socket, self._on_writable)  # CONNECT is waiting in paho's queue
        self._mind()

    async def _within(self, wanted: "asyncio.Future[None]") -> bool:
        either: set[asyncio.Future[Any]] = {wanted, self._ended}
        await asyncio.wait(either, timeout=ANSWER_WITHIN, return_when=asyncio.FIRST_COMPLETED)
        return wanted.done() or self._ended.done()

    def _lived(self) -> float | None:
        return None if self._up_since is None else self._loop.time() - self._up_since

    def _end(self, end: Ended) -> None:
        if self._ended.done():
            return
        self._ended.set_result(end)
        self._stop_watching()
        self._outgoing.over()

    def _stop_watching(self) -> None:
        if self._socket is not None and self._socket.fileno() >= 0:
            self._loop.remove_reader(self._socket)
            self._loop.remove_writer(self._socket)

    def _tear_down(self) -> None:
        self._end(Ended(detail="closed", lived=self._lived()))
        if self._minder is not None:
            self._minder.cancel()
        client = self._client
        client.on_socket_register_write = client.on_socket_unregister_write = client.on_socket_close = None
        client.on_connect = client.on_disconnect = client.on_subscribe = client.on_publish = client.on_message = None
        if self._socket is not None:
            self._socket.close()

    def _mind(self) -> None:
        """Every second: keepalive and what else paho has to see to."""
        if not self._ended.done():
            self._guarded(self._client.loop_misc)
            self._minder = self._loop.call_later(1.0, self._mind)

    def _guarded(self, step: Callable[[], object]) -> None:
        """Run one step of paho; whatever it raises ends this connection and no more."""
        try:
            step()
        except Exception as error:
            self.abort(f"the MQTT library failed: {kind_and_place(error)}")

    # ------------------------------------------------------------ the loop's reader and writer

    def _on_readable(self) -> None:
        before = self._intake.came
        self._guarded(self._drain)
        if self._intake.came > before:
            self._intake.wake()

    def _drain(self) -> None:
        sock, intake, read = self._socket, self._intake, self._client.loop_read
        if sock is None or self._paused or self._ended.done():
            return
        for _ in range(ROUNDS):
            before = intake.came
            for _ in range(PACKETS):
                read()
            if self._ended.done():
                return
            if intake.is_full:
                # Withheld acknowledgements are the usual brake; this one is for what they do not hold.
                self._loop.remove_reader(sock)
                self._paused = True
                return
            if intake.came - before < PACKETS and not _pending(sock):
                return
        if _pending(sock):  # TLS may hold whole packets that the socket no longer shows
            self._loop.call_soon(self._on_readable)

    def _on_writable(self) -> None:
        self._guarded(self._client.loop_write)

    def _on_want_write(self, _client: mqtt.Client, _data: object, sock: "mqtt.SocketLike") -> None:
        if not self._ended.done():
            self._loop.add_writer(sock.fileno(), self._on_writable)

    def _on_written(self, _client: mqtt.Client, _data: object, sock: "mqtt.SocketLike") -> None:
        if sock.fileno() >= 0:
            self._loop.remove_writer(sock.fileno())

    def _on_closing(self, _client: mqtt.Client, _data: object, _sock: "mqtt.SocketLike") -> None:
        self._stop_watching()  # now, while the socket still has its number: the next one may be given the same

    # ------------------------------------------------------------ what the broker says

    def _on_message(self, _client: mqtt.Client, _data: object, message: mqtt.MQTTMessage) -> None:
        try:
            topic: str | None = message.topic
        except UnicodeDecodeError:
            topic = None
        self._intake.put(
            Arrived(
                generation=self.generation,
                mid=message.mid,
                qos=message.qos,
                topic=topic,
                payload=bytes(message.payload),
                retained=message.retain,
            )
        )

    def _on_connect(
        self,
        _client: mqtt.Client,
        _data: object,
        flags: mqtt.ConnectFlags,
        reason: ReasonCode,
        properties: Properties | None,
    ) -> None:
        if reason.is_failure:
            self._end(Ended(detail=f"the broker refused us: {reason}"))
            return
        if self._greeted.done():
            return
        self._outgoing.welcomed(properties)
        self._up_since = self._loop.time()
        self._greeted.set_result(None)
        self._welcomed(bool(flags.session_present))

    def _on_disconnect(
        self,
        _client: mqtt.Client,
        _data: object,
        flags: mqtt.DisconnectFlags,
        reason: ReasonCode,
        _properties: Properties | None,
    ) -> None:
        by_word = flags.is_disconnect_packet_from_server
        if by_word:
            detail = f"the broker ended the connection: {reason}"
        elif reason == "Keep alive timeout":
            detail = "nothing heard from the broker for too long (keepalive)"
        else:
            detail = "the connection to the broker broke"
        self._end(
            Ended(
                detail=detail,
                lived=self._lived(),
                cut=True,
                taken_over=by_word and reason.value == TAKEN_OVER,
            )
        )


def _pending(sock: socket.socket) -> bool:
    """TLS has decrypted bytes waiting that the socket itself no longer shows."""
    pending = getattr(sock, "pending", None)
    return pending is not None and pending() > 0


def _close_unused(knocking: "asyncio.Future[socket.socket]") -> None:
    """Nobody waits for this connection any more; CONNECT has not been sent on it."""
    if not knocking.cancelled() and knocking.exception() is None:
        knocking.result().close()
