"""What the logbook keeps of conditions."""

from dataclasses import dataclass
from typing import ClassVar

from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionBegan(Fact):
    """A condition with a delay began to hold. watch: ``boat/point when`` or ``boat/point clears``.
    since: instant, by the boat's own time where it gives one. measured: as said."""

    kind: ClassVar[str] = "condition-began"
    watch: str
    since: Ms
    measured: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionEnded(Fact):
    """It no longer holds (or is no longer known to hold, for one that would clear an alarm)."""

    kind: ClassVar[str] = "condition-ended"
    watch: str
    at: Ms
    measured: str
    because: str = "it no longer holds"


@dataclass(frozen=True, slots=True, kw_only=True)
class SignalUnreadable(Fact):
    """A signal's payloads cannot be read: the first in a row, and once more when it has lasted."""

    kind: ClassVar[str] = "signal-unreadable"
    signal: str
    in_a_row: int
    sample: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SignalReadable(Fact):
    """A signal that could not be read can be read again."""

    kind: ClassVar[str] = "signal-readable"
    signal: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SignalTimeless(Fact):
    """The times that come with a signal's values cannot be used, and that has lasted."""

    kind: ClassVar[str] = "signal-timeless"
    signal: str
    in_a_row: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SignalTimed(Fact):
    """They can be used again."""

    kind: ClassVar[str] = "signal-timed"
    signal: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PastKept(Fact):
    """From now on this much of a boat's past is kept, because conditions look back upon it. needs: of each
    the signal's id, what, how much (ms or a count) and after how many ms without news it is stale, spaces between."""

    kind: ClassVar[str] = "past-kept"
    boat: str
    needs: tuple[str, ...]
