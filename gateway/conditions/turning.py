"""Watches whose condition more than one newest value decides: several signals, their past, silence among other things.

They are judged along the time of arrival, because several signals have no time of their own in common. What they say
may turn by time alone, so each has an instant at which it must be looked at again.
"""

from gateway.boat.latest import Latest
from gateway.conditions.judging import holds
from gateway.conditions.sight import Sight
from gateway.conditions.values import WIDER
from gateway.conditions.verdicts import Verdict, inverted
from gateway.conditions.watching import CLEARS, RAISES, Watch
from gateway.vocabulary.moments import Ms
from grammar.meanings import Condition, Either, ValueCondition


def side_verdict(watch: Watch, sight: Sight, at: Ms) -> Verdict:
    """What is seen says about this side of the point at an instant, its delay left aside."""
    if watch.side == RAISES:
        return sight.weigh(watch.condition, at)
    if watch.opposite:
        return inverted(sight.weigh(watch.condition, at, surely=True, taken=WIDER))
    return sight.weigh(watch.condition, at, surely=True)


def late_verdict(condition: Condition, key: str, late: Latest) -> Verdict:
    """What a value older than its signal's newest, or one that came late, says: of one signal by itself, or as one of
    several of which each is enough. With anything else it has no time in common. key: the signal's."""
    if isinstance(condition, Either):
        found = {late_verdict(part, key, late) for part in condition.parts}
        return Verdict.HOLDS if Verdict.HOLDS in found else Verdict.UNKNOWN
    if isinstance(condition, ValueCondition) and condition.signal == key:
        return holds(condition, late)
    return Verdict.UNKNOWN


def due_at(watch: Watch, sight: Sight, since: Ms | None, now: Ms) -> Ms | None:
    """The next instant, `now` or later, at which something must be decided if nothing more comes; None when only a new
    reading can. since: since when it has held (instant), None when it does not.

    A side that does not hold yet may begin to by time alone; one that holds may become ripe, or cease.
    """
    if since is None:
        return _first(watch, sight, Verdict.HOLDS, now) if watch.side == RAISES else None
    instants = (ripe(watch, sight, since, now), _first(watch, sight, Verdict.DOES_NOT, now))
    return min((at for at in instants if at is not None), default=None)


def ripe(watch: Watch, sight: Sight, since: Ms, now: Ms) -> Ms | None:
    """The instant, `now` or later, at which it will have held for its delay; None when that cannot be known: its values
    must still be fresh then, and from since the service's start."""
    due = max(since + watch.lasting, now)
    return due if side_verdict(watch, sight, due) is Verdict.HOLDS else None


def _first(watch: Watch, sight: Sight, wanted: Verdict, now: Ms) -> Ms | None:
    """The first instant, `now` or later, at which this side says so."""
    for at in (now, *sight.turns_after(watch.condition, now)):
        if side_verdict(watch, sight, at) is wanted:
            return at
    return None


def unseen(watch: Watch, before: Latest | None, latest: Latest, stale_after: Ms) -> bool:
    """Whether an off-delay must start again: nobody saw what happened before this value."""
    if watch.side != CLEARS or before is None:
        return False
    return not before.sure or latest.arrived - before.arrived > stale_after
