"""What a trial of a relay node needs: its command topic, its state messages, time, and a pair of hands."""

from collections.abc import Awaitable
from dataclasses import dataclass
from typing import Protocol

from gateway.vocabulary.moments import MINUTE, SECOND, Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One state message of the node. at: its arrival, ms UTC. running: its feedback. count: its own message count."""

    at: Ms
    running: bool
    count: int


LONGEST_SLACK: Ms = 30 * SECOND
"""So that a node which reports seldom is not allowed to overrun for long (our choice: short against the margin)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Windows:
    """How long the trial waits (ms).

    settle: between a command that must be ignored and the first state message that proves it was (our choice: longer
    than any relay and its feedback take). moves: for the feedback after a good command (the equipment's
    `prove_within`). silence: for a state message at all (three report intervals, handbook 3). minute: a minute of the
    node's own timer; shorter only where a test runs a node in quick time. margin: how much later than asked a node's
    timer may end a run (our choice, that of the reference node). back: for the first state message after the network
    or the power was given back (our choice: an access point and a small node are up within two minutes).
    """

    moves: Ms
    silence: Ms
    settle: Ms = 10 * SECOND
    minute: Ms = MINUTE
    margin: Ms = 5 * MINUTE
    back: Ms = 2 * MINUTE

    @property
    def slack(self) -> Ms:
        """How much later than minute and margin say a relay may be seen to let go: one report interval, because a node
        looks at its timer at the latest when it says its state, and never more than `LONGEST_SLACK`."""
        return min(self.silence // 3, LONGEST_SLACK)


class NotFollowed(Exception):
    """The person at the bench did not do what was asked, or there is nobody to ask. The text says which."""


class Bench(Protocol):
    """One node under trial. All instants are ms UTC."""

    def now(self) -> Ms: ...

    def wall(self) -> Ms:
        """The wall clock, for what is written into a command."""
        ...

    def publish(self, payload: str, *, retain: bool = False) -> Awaitable[bool]:
        """One message on the node's command topic; whether the broker took it."""
        ...

    def next_state(self, until: Ms) -> Awaitable[Said | None]:
        """The next state message not yet handed out, waiting for it until that instant; None when none came."""
        ...

    def forget_states(self) -> None:
        """Drop what has come and was not handed out: it was said before what is asked next."""
        ...

    def new_id(self) -> str: ...

    def do(self, instruction: str) -> Awaitable[None]:
        """Ask the person to do something, and wait until it is done. Raises NotFollowed."""
        ...

    def saw(self, question: str) -> Awaitable[bool]:
        """Ask the person what they see; yes or no. Raises NotFollowed."""
        ...
