"""Whether a condition holds at this moment, as an interlock may rely on it, and how values are said."""

from collections.abc import Mapping
from dataclasses import dataclass

from gateway.boat.latest import Latest, is_stale
from gateway.boat.settings import Signal
from gateway.conditions.sight import compared, unbelievable
from gateway.conditions.values import PLAIN, meets
from gateway.conditions.verdicts import Verdict, said_of, weighed
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.readings import Grade
from grammar.meanings import Condition, IsCompared, IsUnbelievable, ValueCondition, leaves_of

__all__ = ["Judged", "Verdict", "holds", "judge_strictly", "said"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A verdict and what it rests on. signal: id, "" for silence of a whole boat. measured: value with unit as it
    is said ("11.9 V"), "" when nothing is known. measured_at: instant of the value (ms UTC), None when never heard."""

    verdict: Verdict
    signal: str = ""
    measured: str = ""
    measured_at: Ms | None = None


def holds(condition: Condition, latest: Latest | None, taken: int = PLAIN) -> Verdict:
    """What one newest value says about one condition; None (never heard) and unreadable say nothing."""
    if not isinstance(condition, ValueCondition):
        raise TypeError(f"{type(condition).__name__} is not judged by one value (silence is judged by arrival)")
    value = latest.value if latest is not None else None
    return Verdict.UNKNOWN if value is None else said_of(meets(condition, value, taken))


def judge_strictly(
    condition: Condition,
    boat: str,
    latest: Mapping[str, Latest],
    signals: Mapping[str, Signal],
    now: Ms,
) -> Judged:
    """What an interlock may rely on: values that are neither stale nor late, retained, unreadable nor outside of what
    their signal can show; else unknown.

    The condition's own delay is not asked for: an interlock is about this moment (handbook G4, G6). Kinds that prove
    nothing about this moment are never known: silence, what was, how fast, how often, what could not be read. Of a
    joined sentence the part is told that decides against it, else the first.
    """

    def live(key: str) -> Latest | None:
        signal = signals[f"{boat}/{key}"]
        known = latest.get(signal.id)
        return known if known is not None and known.sure and not is_stale(known, signal, now) else None

    def single(leaf: Condition, taken: int) -> Verdict:
        if not isinstance(leaf, ValueCondition | IsCompared | IsUnbelievable):
            return Verdict.UNKNOWN
        known = live(leaf.signal)
        if known is None or known.value is None:
            return Verdict.UNKNOWN
        if isinstance(leaf, ValueCondition):
            if unbelievable(known, signals[f"{boat}/{leaf.signal}"]):
                return Verdict.UNKNOWN
            return said_of(meets(leaf, known.value, taken))
        if isinstance(leaf, IsCompared):
            return compared(leaf, known, live(leaf.other), taken)
        return said_of(unbelievable(known, signals[f"{boat}/{leaf.signal}"]))

    verdict = weighed(condition, single)
    leaves = leaves_of(condition)
    telling = next((leaf for leaf in leaves if single(leaf, PLAIN) is verdict), leaves[0])
    if telling.signal is None:
        return Judged(verdict=verdict)
    signal = signals[f"{boat}/{telling.signal}"]
    known = latest.get(signal.id)
    if known is None:
        return Judged(verdict=verdict, signal=signal.id)
    return Judged(verdict=verdict, signal=signal.id, measured=said(known, signal), measured_at=known.measured)


def said(latest: Latest, signal: Signal) -> str:
    """A value as it is said: "11.9 V", "on", "REMOTE", "50.0010, -5.0005", "unreadable"."""
    if latest.value is None:
        return "unreadable"
    if latest.reading.grade is Grade.POSITION:
        return latest.reading.text.replace(" ", ", ")
    return f"{latest.reading.text} {signal.unit}" if signal.unit else latest.reading.text
