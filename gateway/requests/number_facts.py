"""What the logbook keeps of whose number is proved. Persons stand by their random id; no number stands here.

Instants are ms UTC.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


class Unproved(StrEnum):
    """Why a number that was proved is so no longer."""

    CHANGED = "another number in the files"
    SILENT = "silent for 60 days"


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberAsked(Fact):
    """Two words were made for a person to send back, as proof of the number. Its sealed part is {"words": [first,
    second]}. ask: its id. expires: last good instant. That they are spent is a fact like that of any code."""

    kind: ClassVar[str] = "number-asked"
    ask: str
    person: str
    expires: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberProved(Fact):
    """A person's number is proved. at: instant that the proof counts from. by: id of the installer who made sure of it,
    "" when the two words came back from it."""

    kind: ClassVar[str] = "number-proved"
    person: str
    at: Ms
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberUnproved(Fact):
    """A person's number must be proved again before it commands."""

    kind: ClassVar[str] = "number-unproved"
    person: str
    because: Unproved


NUMBER_FACTS: tuple[type[Fact], ...] = (NumberAsked, NumberProved, NumberUnproved)
"""All kinds of this matter, for the register of kinds."""
