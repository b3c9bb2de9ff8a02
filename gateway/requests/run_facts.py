"""What the logbook keeps of timed runs: begun, proved, their end held, sent, answered, over.

Persons stand by their random id, boats by key, equipment by id. Instants and lengths are whole ms (instants UTC).
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class RunBegan(Fact):
    """A command with an end went out; the end is due whatever becomes of its proof.

    All that the end needs stands here, so that it is carried out even when the equipment has left the installation.
    ends_with: the action that ends it. wanted: what the feedback contact shows then. repeats: a stop, which may be
    repeated; False for switching on again, which is tried once. due: instant of the end. valid, prove_within: ms.
    cool_down: ms that it goes on by itself after the end was sent; so long nobody is told of trouble.
    """

    kind: ClassVar[str] = "run-began"
    request: str
    boat: str
    equipment: str
    person: str
    ends_with: str
    wanted: bool
    repeats: bool
    due: Ms
    broker: str
    topic: str
    feedback: str
    count: str
    valid: Ms
    prove_within: Ms
    cool_down: Ms = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class RunProved(Fact):
    """The run was seen to be on; its end is counted from here. due: instant of the end."""

    kind: ClassVar[str] = "run-proved"
    equipment: str
    due: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class RunSeenOver(Fact):
    """The feedback contact showed, before the end was due, that the run is over (over) or that it goes on after all.
    at: arrival of that reading."""

    kind: ClassVar[str] = "run-seen-over"
    equipment: str
    over: bool
    at: Ms


class Waits(StrEnum):
    """Why an end that is due is not sent."""

    GAS_OR_FIRE = "gas or fire alarm"
    SILENT = "boat silent"
    NO_LINK = "no link"


@dataclass(frozen=True, slots=True, kw_only=True)
class StopHeld(Fact):
    """An end that is due waits. alarm: number of the alarm that holds it."""

    kind: ClassVar[str] = "stop-held"
    equipment: str
    because: Waits
    alarm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StopFreed(Fact):
    """What an end that is due waited for is over: it is due now."""

    kind: ClassVar[str] = "stop-freed"
    equipment: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StopSent(Fact):
    """An end that was due was sent. order: id of this command. number: 1 for the first try. again: instant of the
    next step when no proof comes."""

    kind: ClassVar[str] = "stop-sent"
    equipment: str
    order: str
    number: int
    again: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class StopAnswered(Fact):
    """What the broker said to the command that ends a run. The end goes on being due until it is proved."""

    kind: ClassVar[str] = "stop-answered"
    equipment: str
    order: str
    taken: bool


class Over(StrEnum):
    """Why a timed run is no more."""

    PROVED = "its end was sent and proved"
    ASKED = "a person ended it"
    BY_ITSELF = "it was seen to be over"
    NEVER_SENT = "it never began"
    GIVEN_UP = "its end could not be proved"
    REFUSED = "an interlock stands against its end"
    LAPSED = "its equipment is gone"


@dataclass(frozen=True, slots=True, kw_only=True)
class RunEnded(Fact):
    """A timed run is no more: nothing of it is due. measured: the proof, as said. values, objections: as above."""

    kind: ClassVar[str] = "run-ended"
    equipment: str
    because: Over
    measured: str = ""
    values: tuple[str, ...] = ()
    objections: tuple[str, ...] = ()


RUN_FACTS: tuple[type[Fact], ...] = (
    RunBegan,
    RunProved,
    RunSeenOver,
    StopHeld,
    StopFreed,
    StopSent,
    StopAnswered,
    RunEnded,
)
"""All kinds of this module, in the order of the register of kinds."""
