"""What is told regularly, as values."""

from dataclasses import dataclass
from typing import TypeAlias

from gateway.telling.situation import Situation
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class BoatInRound:
    """One boat of a round. situations: all that is open or put aside, worst first. silent_since: instant, None while
    she is heard. heard: instant of her last sign of life, None for never."""

    boat: str
    situations: tuple[Situation, ...]
    silent_since: Ms | None
    heard: Ms | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundTold:
    """All boats of a person, the worst first."""

    person: str
    boats: tuple[BoatInRound, ...]
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeeklyTold:
    """The weekly word. watched: how many alarm points. practised: instant since which a practice alarm has been
    taken on each of the boats, None where one has had none on record."""

    person: str
    boats: tuple[BoatInRound, ...]
    watched: int
    practised: Ms | None
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DigestTold:
    """The cautions since the last digest; a situation that has gone came and went meanwhile."""

    person: str
    situations: tuple[Situation, ...]
    boat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WelcomeTold:
    """The first text to a new person. boats: keys of those that are the person's matter. who: id of an installer, whom
    to ask; None where there is none."""

    person: str
    boats: tuple[str, ...]
    who: str | None
    boat: str = ""


RegularNotice: TypeAlias = RoundTold | WeeklyTold | DigestTold | WelcomeTold
