"""The reference relay node as a program: `python -m gateway.demo.relay_program`, a node without a relay.

It stands for the box at the boat: it subscribes to one command topic, says its state on another every some seconds and
at each change, and switches nothing but a line on the terminal. A builder of a real node reads it beside
`relay_node`, and an installer can try `heavingline conform` on it before there is any hardware.

What matters of it at the broker: a clean session that ends with the connection, so that no command waits for it; the
subscription first, its state afterwards; the retain mark looked at; nothing carried out while it cannot say so.
"""

import os
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

import click
import paho.mqtt.client as mqtt
from paho.mqtt.enums import CallbackAPIVersion
from paho.mqtt.properties import Properties
from paho.mqtt.reasoncodes import ReasonCode

from gateway.demo.relay_node import Obeyed, RelayNode
from gateway.vocabulary.moments import SECOND, Ms

KEEPALIVE = 25  # seconds, as the gateway's own door
COMES_BACK_WITHIN = 15  # seconds between two tries to reach the broker; the library's own 120 is long for a trial
EVERY: Ms = 10 * SECOND  # between two state messages; our choice


def wall_clock() -> Ms:
    """ms UTC of this machine."""
    return time.time_ns() // 1_000_000


def _nobody(_line: str) -> None:
    """Nobody listens."""


class RelayProgram:
    """One node at a broker; a context manager. Safe to be called from any thread.

    now: the node's own time, ms. every: ms between two state messages. told: hears each thing that happened, in words.
    """

    def __init__(
        self,
        node: RelayNode,
        host: str,
        port: int,
        *,
        command: str,
        state: str,
        now: Callable[[], Ms] = wall_clock,
        every: Ms = EVERY,
        told: Callable[[str], None] = _nobody,
    ) -> None:
        self._node, self._host, self._port = node, host, port
        self._command, self._state = command, state
        self._now, self._every, self._told = now, every, told
        self._turn = threading.Condition()
        self._client: mqtt.Client | None = None
        self._listening = False
        self._over = False
        self._ticking = threading.Thread(target=self._tick, name="relay-node", daemon=True)

    def __enter__(self) -> Self:
        self._ticking.start()
        self.join()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._turn:
            self._over = True
            self._turn.notify_all()
        self._ticking.join()
        self.cut()

    # ------------------------------------------------------------ what happens to a box

    def join(self) -> None:
        """Come to the broker, and come again by itself while it is away."""
        client = mqtt.Client(
            CallbackAPIVersion.VERSION2, client_id=f"relay-{os.urandom(6).hex()}", protocol=mqtt.MQTTv5
        )
        client.suppress_exceptions = True  # else one error in a callback would end the reading (measured)
        client.on_connect, client.on_disconnect = self._on_connect, self._on_disconnect
        client.on_subscribe, client.on_message = self._on_subscribe, self._on_message
        client.reconnect_delay_set(min_delay=1, max_delay=COMES_BACK_WITHIN)
        self._client = client
        client.connect_async(self._host, self._port, KEEPALIVE, clean_start=True)
        client.loop_start()

    def cut(self) -> None:
        """The network lead is out: no word to the broker or from it. The node's timer goes on."""
        client, self._client = self._client, None
        if client is not None:
            client.on_message = None
            client.disconnect()
            client.loop_stop()
        with self._turn:
            self._listening = False

    def restart(self) -> None:
        """Its power went and came back."""
        self.cut()
        with self._turn:
            self._node.restart()
        self.join()

    @property
    def holds(self) -> bool:
        """Whether the contact now asks the equipment to run."""
        with self._turn:
            return self._node.asks_to_run

    # ------------------------------------------------------------ its own loop

    def _tick(self) -> None:
        with self._turn:
            while not self._over:
                if self._node.time_came(self._now()):
                    self._told("the node's own timer let the relay go")
                self._say()
                self._turn.wait(self._rest() / SECOND)

    def _rest(self) -> Ms:
        """Until there is something to say or the run is over: no run lasts until the next message is due."""
        ends_at = self._node.ends_at
        return self._every if ends_at is None else max(0, min(self._every, ends_at - self._now()))

    def _say(self) -> None:
        if self._client is not None and self._listening:
            self._client.publish(self._state, self._node.state(running=self._node.asks_to_run), qos=1)

    # ------------------------------------------------------------ on paho's thread

    def _on_connect(
        self,
        client: mqtt.Client,
        _data: object,
        _flags: mqtt.ConnectFlags,
        reason: ReasonCode,
        _more: Properties | None,
    ) -> None:
        if not reason.is_failure:
            client.subscribe(self._command, qos=1)

    def _on_subscribe(
        self, client: mqtt.Client, _data: object, _mid: int, reasons: list[ReasonCode], _more: Properties | None
    ) -> None:
        with self._turn:
            self._listening = client is self._client and not any(reason.is_failure for reason in reasons)
            self._turn.notify_all()

    def _on_disconnect(self, client: mqtt.Client, *_: object) -> None:
        with self._turn:
            if client is self._client:
                self._listening = False

    def _on_message(self, client: mqtt.Client, _data: object, message: mqtt.MQTTMessage) -> None:
        with self._turn:
            if client is not self._client:
                return
            outcome = self._node.take(bytes(message.payload), retained=message.retain, now=self._now())
            self._told(f"{outcome.action}" if isinstance(outcome, Obeyed) else f"left alone: {outcome.why.value}")
            if isinstance(outcome, Obeyed):
                self._turn.notify_all()  # says its state at once


@click.command()
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", default=1883, show_default=True)
@click.option("--command", "command_topic", required=True, help="The topic on which it takes commands.")
@click.option("--state", "state_topic", required=True, help="The topic on which it says its state.")
@click.option("--actions", default="start,stop", show_default=True, help="The one that brings to life first.")
@click.option("--runs-at-rest", is_flag=True, help="Wired over a break contact, as refrigeration should be.")
@click.option("--longest", type=click.IntRange(1), help="Minutes that the relay may be held.")
@click.option("--memory", type=click.Path(path_type=Path, dir_okay=False), help="Keeps how often it was started.")
def main(
    host: str,
    port: int,
    command_topic: str,
    state_topic: str,
    actions: str,
    runs_at_rest: bool,
    longest: int | None,
    memory: Path | None,
) -> None:
    """A relay node without a relay, to try a trial on. Ctrl-C ends it."""
    first, _, second = actions.partition(",")
    if not first or not second:
        raise click.UsageError("Give two actions: --actions start,stop")
    node = RelayNode(
        actions=(first, second), runs_at_rest=runs_at_rest, longest=longest, starts=_starts(memory), knows_the_time=True
    )
    with RelayProgram(node, host, port, command=command_topic, state=state_topic, told=click.echo):
        click.echo(f"Listening on {command_topic}. Ctrl-C ends it.")
        try:
            threading.Event().wait()
        except KeyboardInterrupt:
            click.echo("Ended.")


def _starts(memory: Path | None) -> int:
    """How often it was started before; counts this start."""
    if memory is None:
        return int(time.time() // 60) % 1_000_000  # no count of an earlier start is taken for a recent one
    before = int(memory.read_text()) if memory.exists() else 0
    memory.write_text(str(before + 1))
    return before


if __name__ == "__main__":
    main()
