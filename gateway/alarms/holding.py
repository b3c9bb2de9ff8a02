"""What becomes of an alarm that somebody has: where that person is, and who has it next. The logbook's facts of it."""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


class Whereabouts(StrEnum):
    """How far the holder is, by his own word. It is kept and told; nothing is switched or silenced by it."""

    AT_BOAT = "at the boat"
    ASHORE = "ashore again"


@dataclass(frozen=True, slots=True, kw_only=True)
class HolderProgressed(Fact):
    """The person who has an alarm says where he is."""

    kind: ClassVar[str] = "holder-progressed"
    number: int
    point: str
    boat: str
    person: str
    where: Whereabouts


@dataclass(frozen=True, slots=True, kw_only=True)
class HolderChanged(Fact):
    """An alarm that somebody has goes over to another person. before, person: random ids of both."""

    kind: ClassVar[str] = "holder-changed"
    number: int
    point: str
    boat: str
    before: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverAsked(Fact):
    """The person who has an alarm asks the others to take it; until then it stays with that person. until: when the
    call-out list begins anew if nobody does (instant)."""

    kind: ClassVar[str] = "hand-over-asked"
    number: int
    point: str
    boat: str
    person: str
    until: Ms
