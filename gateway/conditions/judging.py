"""Whether a condition holds at this moment, its delay left aside."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from gateway.boat.latest import Latest, is_stale
from gateway.boat.settings import Signal
from gateway.vocabulary.moments import Ms
from grammar.meanings import Condition, IsContact, IsNumber, IsWord, NoNews, Than


class Verdict(Enum):
    """What can be said. Unknown is never taken for "does not hold"."""

    HOLDS = "holds"
    DOES_NOT = "does not hold"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A verdict and what it rests on. signal: id, "" for silence of a whole boat. measured: value with unit as it
    is said ("11.9 V"), "" when nothing is known. measured_at: instant of the value (ms UTC), None when never heard."""

    verdict: Verdict
    signal: str = ""
    measured: str = ""
    measured_at: Ms | None = None


def holds(condition: Condition, latest: Latest | None) -> Verdict:
    """What one newest value says about one condition; None (never heard) and unreadable say nothing."""
    if isinstance(condition, NoNews):
        raise TypeError("silence is judged by arrival, not by a value")
    value = latest.value if latest is not None else None
    if value is None:
        return Verdict.UNKNOWN
    met: bool
    if isinstance(condition, IsContact):
        met = value is condition.wanted
    elif isinstance(condition, IsWord):
        met = value == condition.word
    else:
        met = _compares(condition, value) if isinstance(value, Decimal) else False
    return Verdict.HOLDS if met else Verdict.DOES_NOT


def _compares(condition: IsNumber, value: Decimal) -> bool:
    match condition.than:
        case Than.ABOVE:
            return value > condition.limit
        case Than.BELOW:
            return value < condition.limit
        case Than.AT_LEAST:
            return value >= condition.limit
        case Than.AT_MOST:
            return value <= condition.limit


def judge_strictly(
    condition: IsContact | IsNumber | IsWord,
    boat: str,
    latest: Mapping[str, Latest],
    signals: Mapping[str, Signal],
    now: Ms,
) -> Judged:
    """What an interlock may rely on: a value that is neither stale nor late, retained or unreadable; else unknown.

    The condition's own delay is not asked for: an interlock is about this moment (handbook G4, G6).
    """
    signal = signals[f"{boat}/{condition.signal}"]
    known = latest.get(signal.id)
    if known is None:
        return Judged(verdict=Verdict.UNKNOWN, signal=signal.id)
    sure = known.sure and not is_stale(known, signal, now)
    return Judged(
        verdict=holds(condition, known) if sure else Verdict.UNKNOWN,
        signal=signal.id,
        measured=said(known, signal),
        measured_at=known.measured,
    )


def said(latest: Latest, signal: Signal) -> str:
    """A value as it is said: "11.9 V", "on", "REMOTE", "unreadable"."""
    if latest.value is None:
        return "unreadable"
    return f"{latest.reading.text} {signal.unit}" if signal.unit else latest.reading.text
