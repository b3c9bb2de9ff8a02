"""What is to be told of who has an alarm, as values: where the holder is, who has it next, remarks."""

from dataclasses import dataclass
from typing import TypeAlias

from gateway.alarms.holding import Whereabouts
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgressTold:
    """The holder is at the boat, or ashore again. holder: id; equal to person when it is the answer.
    situations: what the holder has of that boat."""

    person: str
    boat: str
    situations: tuple[Situation, ...]
    holder: str
    where: Whereabouts


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedOver:
    """Another person has it from now on. holder: id of the one who has it now, before: of the one who had it."""

    person: str
    boat: str
    situation: Situation
    holder: str
    before: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverWanted:
    """The holder asks the others to take it. until: when the list is told anew if nobody does (instant).
    asked: ids of those who were asked."""

    person: str
    boat: str
    situation: Situation
    holder: str
    until: Ms
    asked: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteAnswer:
    """A remark was kept for the record. number: the alarm that it is about, None for the boat."""

    person: str
    boat: str
    number: int | None = None


HolderNotice: TypeAlias = ProgressTold | HandedOver | HandOverWanted | NoteAnswer
