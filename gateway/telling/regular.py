"""Texts that come regularly: when each is due, and the cautions that wait for a digest. Facts, and their part of the
state."""

from dataclasses import dataclass, field, replace
from typing import ClassVar

from gateway.people.regular import Regular
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class RegularPlanned(Fact):
    """When a person's regular text comes next (instant); None when the person no longer wishes it."""

    kind: ClassVar[str] = "regular-planned"
    person: str
    what: Regular
    at: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DigestGathered(Fact):
    """A caution, or that one has gone (instant), waits for a person's digest instead of being told by itself."""

    kind: ClassVar[str] = "digest-gathered"
    person: str
    number: int
    point: str
    since: Ms
    gone: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DigestEmptied(Fact):
    """What waited for a person's digest has been told, or was held back with its reason."""

    kind: ClassVar[str] = "digest-emptied"
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WelcomePlanned(Fact):
    """When a person's first text goes (instant); None when it goes now, or not at all."""

    kind: ClassVar[str] = "welcome-planned"
    person: str
    at: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StrangersWait(Fact):
    """Texts of strangers wait for the end of a person's quiet hours (instant) to be told of; None: they no longer do.
    count: how many. No number stands here."""

    kind: ClassVar[str] = "strangers-wait"
    person: str
    at: Ms | None
    count: int = 0


@dataclass(slots=True)
class RegularState:
    """due: by "what person", the instant. welcomes: by person, when the first text goes. strangers: by person, what of
    strangers waits. waiting: by person, the newest word of each caution, oldest first."""

    due: dict[str, Ms] = field(default_factory=dict)
    welcomes: dict[str, Ms] = field(default_factory=dict)
    strangers: dict[str, StrangersWait] = field(default_factory=dict)
    waiting: dict[str, tuple[DigestGathered, ...]] = field(default_factory=dict)

    def apply(self, fact: RegularPlanned | DigestGathered | DigestEmptied | WelcomePlanned | StrangersWait) -> None:
        """Fold one fact in."""
        match fact:
            case RegularPlanned(at=None):
                self.due.pop(f"{fact.what} {fact.person}", None)
            case RegularPlanned(at=int() as at):
                self.due[f"{fact.what} {fact.person}"] = at
            case WelcomePlanned(at=None):
                self.welcomes.pop(fact.person, None)
            case WelcomePlanned(at=int() as at):
                self.welcomes[fact.person] = at
            case StrangersWait(at=None):
                self.strangers.pop(fact.person, None)
            case StrangersWait():
                self.strangers[fact.person] = fact
            case DigestGathered():
                others = (one for one in self.waiting.get(fact.person, ()) if one.number != fact.number)
                self.waiting[fact.person] = (*others, fact)
            case DigestEmptied():
                self.waiting.pop(fact.person, None)

    def clock_moved(self, by: Ms) -> None:
        """The wall clock was moved (ms, positive forward): clock times come so much sooner."""
        self.due = {key: at - by for key, at in self.due.items()}
        self.welcomes = {person: at - by for person, at in self.welcomes.items()}
        self.strangers = {
            person: replace(one, at=None if one.at is None else one.at - by) for person, one in self.strangers.items()
        }
