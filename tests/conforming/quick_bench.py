"""A bench in quick time: a node, the person's hands, and a broker that keeps what waits, all in one process.

The broker here is a model of three rules of MQTT 5 (retained message to a new subscription, 3.3.1.3; messages kept for
a client that is away, 3.1.2.11; live delivery without retain mark): the runs over real brokers stand in
test_at_brokers.
"""

import itertools
from collections import deque
from dataclasses import dataclass, field

from gateway.conforming.bench import NotFollowed, Said
from gateway.demo.relay_node import RelayNode
from gateway.vocabulary.moments import MINUTE, SECOND, Ms, from_rfc3339

T0: Ms = from_rfc3339("2026-03-01T08:00:00Z")
EVERY: Ms = 20 * SECOND


@dataclass
class QuickBench:
    """`Bench` over one `RelayNode`, which says its state every 20 s and at each change.

    blind: nobody is there. looks: how long (ms) the person watches the relay before answering that it still holds.
    dawdles: how long the person takes to answer that it let go. boots: how long the node is silent after its power or
    its network came back. latest: what the trial names as the latest end of a run of one minute.
    """

    node: RelayNode
    is_kept_for: bool = False
    blind: bool = False
    looks: Ms = 7 * MINUTE
    dawdles: Ms = 0
    boots: Ms = 0
    latest: Ms = 6 * MINUTE + 20 * SECOND
    time: Ms = T0
    connected: bool = True
    retained: str = ""
    queued: list[str] = field(default_factory=list)
    said: deque[Said] = field(default_factory=deque)
    instructions: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._ids = itertools.count(1)
        self._next_say = self.time
        self._let_go_at: Ms | None = None
        self._due: Ms = 0

    def now(self) -> Ms:
        return self.time

    def wall(self) -> Ms:
        return self.time

    def new_id(self) -> str:
        return f"c-{next(self._ids)}"

    async def publish(self, payload: str, *, retain: bool = False) -> bool:
        if retain:
            self.retained = payload
        if self.connected:
            self._deliver(payload, retained=False)
        elif self.is_kept_for:
            self.queued.append(payload)
        return True

    async def next_state(self, until: Ms) -> Said | None:
        while not self.said and self.time < until:
            self._live(min(until, self.time + SECOND))
        return self.said.popleft() if self.said else None

    def forget_states(self) -> None:
        self.said.clear()

    async def do(self, instruction: str) -> None:
        if self.blind:
            raise NotFollowed("nobody at the terminal")
        self.instructions.append(instruction)
        if "power away" in instruction:
            self.node.restart()
            self._connect()
        elif instruction.startswith("Pull"):
            self.connected = False
        else:
            self._connect()
        self._live(self.time + 5 * SECOND)

    async def saw(self, question: str) -> bool:
        """The person watches, and answers truly; also when it was by the clock that it let go."""
        self.instructions.append(question)
        if "let go by then" in question or "before this was asked" in question:
            return self._let_go_at is not None and self._let_go_at <= self._due
        if self._due == 0:
            self._due = self.time - 5 * SECOND + self.latest  # the run began when the lead was asked for, 5 s ago
        until = self.time + self.looks
        while self._let_go_at is None and self.time < until:
            self._live(self.time + SECOND)
        if self._let_go_at is not None:
            self._live(self.time + self.dawdles)
        return self._let_go_at is not None

    def _connect(self) -> None:
        self._live(self.time + self.boots)
        self.connected = True
        self._say()
        if self.retained:
            self._deliver(self.retained, retained=True)
        for payload in self.queued:
            self._deliver(payload, retained=False)
        self.queued.clear()

    def _deliver(self, payload: str, *, retained: bool) -> None:
        before = self.node.asks_to_run
        self.node.take(payload.encode(), retained=retained, now=self.time)
        if self.node.asks_to_run is not before:
            self._say()

    def _say(self) -> None:
        message = self.node.state(running=self.node.asks_to_run)
        if self.connected:
            self.said.append(Said(at=self.time, running='"running":true' in message, count=self.node.count))

    def _live(self, until: Ms) -> None:
        while self.time < until:
            self.time = min(until, self.time + SECOND)
            if self.node.time_came(self.time):
                self._let_go_at = self._let_go_at or self.time
                self._say()
            if self.time >= self._next_say:
                self._next_say = self.time + EVERY
                self._say()
