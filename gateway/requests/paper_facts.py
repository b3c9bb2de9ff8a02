"""What the logbook keeps of paper lists: that one came, that a line is used, that one is void. No word stands here.

Persons stand by their random id, lists by their own.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from gateway.vocabulary.facts import Fact


class ListOver(StrEnum):
    """Why a paper list is good for nothing any more."""

    REPLACED = "a newer list was printed"
    LOST = "phone reported lost"


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperListCame(Fact):
    """The files have a list for a person that was not known before. lines: how many it has."""

    kind: ClassVar[str] = "paper-list-came"
    person: str
    paper: str
    lines: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperLineUsed(Fact):
    """A line of a person's list came back right: it and all before it are crossed off for good. line: counted from 1.
    request: what it confirmed, or was refused for another reason."""

    kind: ClassVar[str] = "paper-line-used"
    person: str
    paper: str
    line: int
    request: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperListVoid(Fact):
    """A list is void for good, whatever of it is not used yet."""

    kind: ClassVar[str] = "paper-list-void"
    person: str
    paper: str
    because: ListOver


PAPER_FACTS: tuple[type[Fact], ...] = (PaperListCame, PaperLineUsed, PaperListVoid)
"""All kinds of this matter, for the register of kinds."""
