"""What can be said of a condition at one moment, and how the parts of a joined one are weighed together."""

from collections.abc import Callable, Iterable
from enum import Enum

from gateway.conditions.values import PLAIN
from grammar.meanings import Both, Condition, Either, IsNot, While


class Verdict(Enum):
    """Unknown is never taken for "does not hold"."""

    HOLDS = "holds"
    DOES_NOT = "does not hold"
    UNKNOWN = "unknown"


def said_of(met: bool) -> Verdict:
    """A plain yes or no."""
    return Verdict.HOLDS if met else Verdict.DOES_NOT


def inverted(verdict: Verdict) -> Verdict:
    """`not`: what is not known stays so."""
    match verdict:
        case Verdict.HOLDS:
            return Verdict.DOES_NOT
        case Verdict.DOES_NOT:
            return Verdict.HOLDS
    return Verdict.UNKNOWN


def weighed(condition: Condition, judge: Callable[[Condition, int], Verdict], taken: int = PLAIN) -> Verdict:
    """The verdict over a sentence from those over its single conditions (Kleene's three values: one part that does not
    hold settles an `and`, one that holds an `or`, whatever is not known of the others).

    judge: the verdict over a single one, and how its limits are taken; `not` turns wider into narrower.
    """
    match condition:
        case Both(parts=parts):
            return _all(weighed(part, judge, taken) for part in parts)
        case While(part=part, also=also):
            return _all(weighed(each, judge, taken) for each in (part, also))
        case Either(parts=parts):
            return inverted(_all(inverted(weighed(part, judge, taken)) for part in parts))
        case IsNot(part=part):
            return inverted(weighed(part, judge, -taken))
    return judge(condition, taken)


def _all(found: Iterable[Verdict]) -> Verdict:
    verdicts = set(found)
    if Verdict.DOES_NOT in verdicts:
        return Verdict.DOES_NOT
    return Verdict.UNKNOWN if Verdict.UNKNOWN in verdicts else Verdict.HOLDS
