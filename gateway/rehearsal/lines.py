"""What of a turn people would notice: steps of alarms, and texts to persons. A replay is judged by these."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from gateway.alarms.facts import AlarmGivenUp, AlarmStep
from gateway.rehearsal.recorded import facts_of
from gateway.telling.facts import TextQueued
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.moments import Ms

NEARLY: Ms = 5_000
"""Two like lines no further apart are one and the same (our choice: the gateway's clock wakes it late by less)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmLine:
    """A step of an alarm. now: instant (ms UTC). event, after: words of the table of alarms. measured: as said."""

    now: Ms
    boat: str
    number: int
    point: str
    event: str
    after: str
    measured: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TextLine:
    """A text. now: instant (ms UTC). boat: key, "" for the gateway itself. person: random id. body: None when it was
    erased."""

    now: Ms
    boat: str
    person: str
    about: str
    again: bool
    body: str | None


Line: TypeAlias = AlarmLine | TextLine


def lines_of(entries: Iterable[Written]) -> tuple[Line, ...]:
    """The lines that these entries amount to, in their order."""
    found: list[Line] = []
    for fact, written in facts_of(entries):
        now = written.entry.now
        match fact:
            case AlarmStep():
                found.append(
                    AlarmLine(
                        now=now,
                        boat=fact.boat,
                        number=fact.number,
                        point=fact.point,
                        event=str(fact.event),
                        after=str(fact.after),
                        measured=fact.measured,
                    )
                )
            case AlarmGivenUp():
                boat = written.entry.chain
                found.append(
                    AlarmLine(
                        now=now,
                        boat=boat,
                        number=fact.number,
                        point=fact.point,
                        event="given up",
                        after="normal",
                        measured=fact.because,
                    )
                )
            case TextQueued():
                body = _body(written.parts[0])
                found.append(
                    TextLine(now=now, boat=fact.boat, person=fact.person, about=fact.about, again=fact.again, body=body)
                )
    return tuple(found)


def _body(part: SealedPart | None) -> str | None:
    content = part.content if part is not None else None
    return str(content["body"]) if isinstance(content, Mapping) and "body" in content else None


def same(was: Line, would: Line) -> bool:
    """Whether two lines say the very same at the very same instant. A body that was erased is taken as the same."""
    if isinstance(was, TextLine) and isinstance(would, TextLine) and was.body is None:
        would = replace(would, body=None)
    return was == would


def nearly_same(was: Line, would: Line) -> bool:
    """Whether they say the same, within a few seconds."""
    return abs(was.now - would.now) <= NEARLY and same(was, replace(would, now=was.now))
