"""Who is on duty by a person's word, and who was asked to be. Facts, and their part of the state.

The roster of the files is the ground; a person's word lies over it until its end, then the roster holds again.
"""

from dataclasses import dataclass, field, replace
from typing import ClassVar

from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyTaken(Fact):
    """A person is on duty for these boats (keys) from now on, by his or her own word. until: instant from which the
    roster holds again, None when it names nobody else. asked_by: who had asked for it."""

    kind: ClassVar[str] = "duty-taken"
    person: str
    boats: tuple[str, ...]
    until: Ms | None
    asked_by: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyAsked(Fact):
    """A person was asked to be on duty for these boats. Until the answer everything stays as it is. lapses: instant
    until which there is time to answer."""

    kind: ClassVar[str] = "duty-asked"
    person: str
    boats: tuple[str, ...]
    until: Ms | None
    asked_by: str
    lapses: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyAskEnded(Fact):
    """The one who was asked will not be on duty, and why."""

    kind: ClassVar[str] = "duty-ask-ended"
    person: str
    boats: tuple[str, ...]
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyEnded(Fact):
    """The end that was said of a person's duty has come; the roster holds again. following: id of whom it names for
    these boats, None for nobody."""

    kind: ClassVar[str] = "duty-ended"
    person: str
    boats: tuple[str, ...]
    following: str | None


@dataclass(frozen=True, slots=True)
class OnDuty:
    """A person on duty for one boat. until: instant, None for no end that is known."""

    person: str
    until: Ms | None


@dataclass(frozen=True, slots=True)
class Asked:
    """Somebody who was asked. by: who asked. lapses: instant."""

    person: str
    until: Ms | None
    by: str
    lapses: Ms


@dataclass(slots=True)
class DutyState:
    """By boat's key: said: by a person's word, perhaps over by now. asked: who has not answered yet."""

    said: dict[str, OnDuty] = field(default_factory=dict)
    asked: dict[str, Asked] = field(default_factory=dict)

    def apply(self, fact: DutyTaken | DutyAsked | DutyAskEnded | DutyEnded) -> None:
        """Fold one fact in. Whoever takes it has answered for everybody who was asked."""
        for boat in fact.boats:
            match fact:
                case DutyTaken():
                    self.said[boat] = OnDuty(fact.person, fact.until)
                    self.asked.pop(boat, None)
                case DutyAsked():
                    self.asked[boat] = Asked(fact.person, fact.until, fact.asked_by, fact.lapses)
                case DutyAskEnded():
                    self.asked.pop(boat, None)
                case DutyEnded():
                    self.said.pop(boat, None)

    def clock_moved(self, by: Ms) -> None:
        """The wall clock was moved (ms, positive forward): what ends at a clock time ends so much sooner."""
        self.said = {boat: replace(one, until=_moved(one.until, by)) for boat, one in self.said.items()}
        self.asked = {boat: replace(one, until=_moved(one.until, by)) for boat, one in self.asked.items()}


def _moved(until: Ms | None, by: Ms) -> Ms | None:
    return None if until is None else until - by
