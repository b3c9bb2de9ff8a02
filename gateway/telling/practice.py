"""A call-out for practice: facts, and their part of the state. It has no number and no alarm, so nothing that decides
on alarms can take the one for the other."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import ClassVar

from gateway.telling.settings import CallOutList
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import DAY, MINUTE, Ms

ENDS_AFTER: Ms = 10 * MINUTE
"""So long after the last step of the list a practice that nobody has taken is over. There are no repeats: it is to show
that each step reaches somebody (our choice: the time after which the holder of an emergency is asked, handbook 2.3)."""


MOST_A_DAY = 12
"""Practices of one boat in 24 h: enough for an afternoon of proving, and a sender's number that was forged wakes nobody
all night (our choice)."""


class PracticeEnd(StrEnum):
    """Why a practice is over."""

    TAKEN = "somebody has it"
    SAID = "a person ended it"
    UNANSWERED = "nobody had it"
    TRUE_ALARM = "a true alarm came"
    GONE = "the installation was changed"


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeBegan(Fact):
    """A person (id) sets off a call-out of a point for practice."""

    kind: ClassVar[str] = "practice-began"
    point: str
    boat: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeCalled(Fact):
    """One round of its list fell due. step: its place from 0; next_step: what comes next, equal to the number of steps
    once the list has been gone through. people: ids of those whose turn it is."""

    kind: ClassVar[str] = "practice-called"
    point: str
    step: int
    next_step: int
    people: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeEnded(Fact):
    """A practice is over. person: id of who had it or ended it."""

    kind: ClassVar[str] = "practice-ended"
    point: str
    because: PracticeEnd
    person: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """One that goes on. by: id of who set it off. began: instant from which the list's delays count. next_step: place
    in the list. told: ids of those whose turn has come, in order."""

    point: str
    boat: str
    by: str
    began: Ms
    next_step: int = 0
    told: tuple[str, ...] = ()

    def due_at(self, callout: CallOutList) -> Ms:
        """The instant of its next step, behind the last one that of its end."""
        if self.next_step < len(callout.steps):
            return self.began + callout.steps[self.next_step].after
        return self.ends_at(callout)

    def ends_at(self, callout: CallOutList) -> Ms:
        """The instant at which it is over if nobody has it."""
        return self.began + callout.steps[-1].after + ENDS_AFTER


@dataclass(slots=True)
class PracticeState:
    """on: the practices that go on, by point. begun: the instants of those of the last 24 h, by boat. taken: instant at
    which somebody last had one, by boat."""

    on: dict[str, Practice] = field(default_factory=dict)
    begun: dict[str, list[Ms]] = field(default_factory=dict)
    taken: dict[str, Ms] = field(default_factory=dict)

    def may_begin(self, boat: str, now: Ms) -> bool:
        """Whether the boat has had fewer than so many in the last 24 h."""
        return sum(now - at < DAY for at in self.begun.get(boat, ())) < MOST_A_DAY

    def last_taken(self, boats: Sequence[str]) -> Ms | None:
        """The instant since which somebody has had a practice on each of these boats; None where there was none on one
        of them: what is not tried counts."""
        known = [self.taken[boat] for boat in boats if boat in self.taken]
        return min(known, default=None) if len(known) == len(boats) else None

    def of_boat(self, boat: str) -> Practice | None:
        """The one of a boat; there is never more than one."""
        return next((one for one in self.on.values() if one.boat == boat), None)

    def apply(self, fact: PracticeBegan | PracticeCalled | PracticeEnded, now: Ms) -> None:
        """Fold one fact in. now: the entry's instant."""
        match fact:
            case PracticeBegan():
                recent = [at for at in self.begun.get(fact.boat, ()) if now - at < DAY]
                self.begun[fact.boat] = [*recent, now]
                self.on[fact.point] = Practice(point=fact.point, boat=fact.boat, by=fact.person, began=now)
            case PracticeCalled():
                known = self.on[fact.point]
                told = tuple(dict.fromkeys((*known.told, *fact.people)))
                self.on[fact.point] = replace(known, next_step=fact.next_step, told=told)
            case PracticeEnded():
                one = self.on.pop(fact.point, None)
                if one is not None and fact.because is PracticeEnd.TAKEN:
                    self.taken[one.boat] = now
