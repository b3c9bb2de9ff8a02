"""The reference relay node: what the box at the boat that switches a relay should do with a command. Pure.

A builder of a real node can follow this file line by line. It never trusts the shore: a command is carried out only
when it is whole, new, asked for in sight of the node's latest state, and within the node's own limit; whatever happens
to the link afterwards, the node's own timer ends the run (handbook 5.1 G7).

A command is a JSON object: ``id`` (text), ``do`` (one of the node's two actions), ``issued_at`` and ``valid_until``
(RFC 3339 with a zone), ``run_minutes`` (whole minutes, or null for no length) and ``seen`` (whole number: the count in
the node's latest state message that the sender had). A state message is a JSON object: ``running``, ``count``, and
measured numbers. Instants are ms UTC and are handed in.

It carries no safety-integrity claim: the wired chain (selector, detectors, the set's own controller) must be safe
without it, and a qualified marine electrician and the local codes decide what may hang on its relay.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any, TypeAlias

import orjson

from gateway.vocabulary.moments import MINUTE, Ms, from_rfc3339

END_MARGIN: Ms = 5 * MINUTE
"""How much later than asked the node ends a timed run by itself, so that the gateway's own stop, proved and told,
normally comes first. Our choice: longer than the gateway's first tries, short against any run."""

LONGEST_COMMAND = 4096
"""Bytes of a command that are looked at; a whole one has under 300 (our choice)."""

IDS_KEPT = 64
"""Ids remembered beyond those that could still act (our choice)."""

COUNTS_A_START = 1_000_000
"""The count goes on from the next multiple of this after a restart: one number to keep in lasting memory a start,
and no count of an earlier start is ever taken for a recent one. A message a second fills it in 11 days, and running
over into the next million does no harm but at a restart. Our choice."""


class Why(StrEnum):
    """Why a command was not carried out."""

    UNREADABLE = "not a whole command"
    RETAINED = "delivered as retained: a state of unknown age is no command"
    REPEATED = "this id was taken before"
    OUT_OF_SIGHT = "its sender had not seen the latest state"
    UNKNOWN_ACTION = "not an action of this node"
    TOO_LONG = "longer than the node's own limit"
    LATE = "its time is over"


@dataclass(frozen=True, slots=True, kw_only=True)
class Obeyed:
    """The relay stands as asked. ends_at: when the node's own timer lets it go; None when nothing is timed."""

    id: str
    action: str
    ends_at: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ignored:
    """Nothing was switched, and why. detail: the value that did not fit."""

    why: Why
    detail: str = ""


Outcome: TypeAlias = Obeyed | Ignored


@dataclass(frozen=True, slots=True, kw_only=True)
class _Command:
    id: str
    do: str
    valid_until: Ms
    run_minutes: int | None
    seen: int


class RelayNode:
    """One relay at the boat.

    actions: the two actions, the one that brings the equipment to life first ("start", "stop"). runs_at_rest: whether
    the equipment runs while the relay is open: False for a generator; True for what is wired over a break contact, as
    refrigeration should be, so that a dead node spoils no food. longest: whole minutes that the relay may be held,
    also when the command names no length; None for no limit. starts: how often it started before (lasting memory).
    knows_the_time: it has a clock that is right, and so refuses a command after its valid_until; it needs none.
    """

    def __init__(
        self,
        *,
        actions: tuple[str, str],
        runs_at_rest: bool = False,
        longest: int | None = None,
        starts: int = 0,
        knows_the_time: bool = False,
    ) -> None:
        self._actions = actions
        self._runs_at_rest = runs_at_rest
        self._longest = longest
        self._knows_the_time = knows_the_time
        self._begin(starts * COUNTS_A_START)

    def _begin(self, count: int) -> None:
        self._first = self._count = count
        self._held = False
        self._ends_at: Ms | None = None
        self._taken: dict[str, int] = {}

    @property
    def asks_to_run(self) -> bool:
        """Whether the contact now asks the equipment to run."""
        return self._held is not self._runs_at_rest

    @property
    def count(self) -> int:
        """The count in the latest state message."""
        return self._count

    @property
    def ends_at(self) -> Ms | None:
        """When the node's own timer lets the relay go; None when it is not running."""
        return self._ends_at

    def take(self, payload: bytes, *, retained: bool, now: Ms) -> Outcome:
        """Carry out one command, or say why not. Never raises. A command is looked at once, whatever came of it."""
        if retained:
            return Ignored(why=Why.RETAINED)
        command = _read(payload)
        if command is None:
            return Ignored(why=Why.UNREADABLE)
        if command.id in self._taken:
            return Ignored(why=Why.REPEATED, detail=command.id)
        if not self._in_sight(command.seen):
            return Ignored(why=Why.OUT_OF_SIGHT, detail=f"seen {command.seen}, now {self._count}")
        self._taken[command.id] = command.seen
        refusal = self._refusal(command, now)
        return refusal or self._obey(command, now)

    def _in_sight(self, seen: int) -> bool:
        """The last count or the last but one (a state message may cross a command); none before the first message."""
        return max(self._count - 1, self._first + 1) <= seen <= self._count

    def _refusal(self, command: _Command, now: Ms) -> Ignored | None:
        if command.do not in self._actions:
            return Ignored(why=Why.UNKNOWN_ACTION, detail=command.do)
        if self._knows_the_time and now > command.valid_until:
            return Ignored(why=Why.LATE)
        if self._longest is not None and (command.run_minutes or 0) > self._longest:
            return Ignored(why=Why.TOO_LONG, detail=f"{command.run_minutes} min, at most {self._longest} min")
        return None

    def _obey(self, command: _Command, now: Ms) -> Obeyed:
        to_run = command.do == self._actions[0]
        self._held = to_run is not self._runs_at_rest
        minutes = command.run_minutes if command.run_minutes is not None else self._longest
        self._ends_at = now + minutes * MINUTE + END_MARGIN if self._held and minutes is not None else None
        return Obeyed(id=command.id, action=command.do, ends_at=self._ends_at)

    def time_came(self, now: Ms) -> bool:
        """Let the relay go if the timed run is over (at `ends_at` or later); whether it did."""
        if self._ends_at is None or now < self._ends_at:
            return False
        self.let_go()
        return True

    def let_go(self) -> None:
        """Open the relay, as when a switch in series with it has opened: closing that again must start nothing."""
        self._held = False
        self._ends_at = None

    def restart(self) -> None:
        """Power came back: the relay is open, no timer runs, and every command made before is out of sight."""
        self._begin((self._count // COUNTS_A_START + 1) * COUNTS_A_START)

    def state(self, *, running: bool, **measured: float) -> str:
        """The next state message: whether the equipment was *measured* to run, the count, which grows by one, and
        further measured numbers such as volts."""
        self._count += 1
        self._forget()
        return orjson.dumps({"running": running, "count": self._count, **measured}).decode()

    def _forget(self) -> None:
        """Ids are kept while their `seen` would still be good, so that a repeat can never act; the newest of the others
        are kept too, against a sender that uses one twice."""
        out_of_sight = [id_ for id_, seen in self._taken.items() if not self._in_sight(seen)]
        for id_ in out_of_sight[:-IDS_KEPT]:
            del self._taken[id_]


def _read(payload: bytes) -> _Command | None:
    """The command, or None when anything about it is not whole."""
    if len(payload) > LONGEST_COMMAND:
        return None
    try:
        found = orjson.loads(payload)
        from_rfc3339(found["issued_at"])
        return _Command(
            id=_text(found["id"]),
            do=_text(found["do"]),
            valid_until=from_rfc3339(found["valid_until"]),
            run_minutes=_minutes(found.get("run_minutes")),
            seen=_whole(found["seen"]),
        )
    except (ValueError, LookupError, TypeError, AttributeError, OverflowError):
        return None


def _text(raw: Any) -> str:
    if not isinstance(raw, str) or not raw:
        raise TypeError("text")
    return raw


def _whole(raw: Any) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int):
        raise TypeError("whole number")
    return raw


def _minutes(raw: Any) -> int | None:
    if raw is None:
        return None
    if _whole(raw) < 1:
        raise ValueError("minutes")
    return _whole(raw)
