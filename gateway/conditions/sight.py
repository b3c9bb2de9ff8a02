"""All that is seen of one boat at a moment, and what it says about any condition."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from gateway.boat.latest import BoatsSeen, Latest, is_stale
from gateway.boat.settings import Signal
from gateway.conditions.looking_back import (
    MOST_STARTS,
    changed,
    fixes_away,
    growth_turns,
    mean_turns_after,
    moves,
    ran,
    ran_enough_at,
    started,
    starts_grow,
)
from gateway.conditions.past import Keeps, Need, Past, Pasts
from gateway.conditions.values import NARROWER, PLAIN, WIDER, meets, stands
from gateway.conditions.verdicts import Verdict, said_of, weighed
from gateway.vocabulary.moments import Ms
from grammar.meanings import (
    Condition,
    FixesAway,
    HasChanged,
    IsCompared,
    IsMoving,
    IsUnbelievable,
    IsUnreadable,
    NoNews,
    PastCondition,
    RanLonger,
    StartedOften,
    StartsGrow,
    Than,
    ValueCondition,
    leaves_of,
)

_KEEPS: Mapping[type, Keeps] = {
    RanLonger: Keeps.RUNS,
    StartedOften: Keeps.STARTS,
    StartsGrow: Keeps.STARTS,
    HasChanged: Keeps.CHANGES,
    IsMoving: Keeps.SAMPLES,
    FixesAway: Keeps.FIXES,
}


def need_of(leaf: PastCondition, signal: Signal) -> Need:
    """What must be kept of the signal's past for this condition."""
    match leaf:
        case RanLonger(window=amount) | IsMoving(window=amount):
            pass
        case StartedOften(mean_of=mean_of) if mean_of:
            amount = MOST_STARTS
        case StartsGrow():
            amount = MOST_STARTS
        case StartedOften(more_than=more_than):
            amount = more_than + 1  # the one too many decides
        case FixesAway(of=amount):
            pass
        case HasChanged():
            amount = 1
    return Need(signal.id, _KEEPS[type(leaf)], amount, signal.stale_after)


@dataclass(frozen=True, slots=True)
class Sight:
    """What is seen of a boat. signals: by id. started: instant of the service's start: a value from before it says
    nothing about the time since. link_up_since: instant, None while the boat's broker is not connected."""

    boat: str
    signals: Mapping[str, Signal]
    seen: BoatsSeen
    pasts: Pasts
    started: Ms
    link_up_since: Ms | None

    def weigh(self, condition: Condition, at: Ms, *, surely: bool = False, taken: int = PLAIN) -> Verdict:
        """The verdict at an instant (ms UTC), the condition's own delay left aside. A stale value is not known.

        surely: as it takes to let an alarm go: late, retained and unreadable values are not known either. taken:
        how the limits are taken.
        """
        return weighed(condition, lambda leaf, how: self._single(leaf, at, surely, how), taken)

    def value_of(self, key: str, at: Ms, surely: bool = False) -> Latest | None:
        """The newest value of a signal (key) as far as it says something about the instant."""
        signal = self.signals[f"{self.boat}/{key}"]
        latest = self.seen.latest.get(signal.id)
        if latest is None or latest.arrived < self.started or is_stale(latest, signal, at):
            return None
        return None if latest.value is None or (surely and not latest.sure) else latest

    def past_of(self, leaf: PastCondition) -> tuple[Need, Past]:
        """What is kept for this condition; nothing yet when it has just been written."""
        need = need_of(leaf, self.signals[f"{self.boat}/{leaf.signal}"])
        return need, self.pasts.past.get(need.key, Past())

    def silent_since(self, leaf: NoNews) -> Ms | None:
        """Since when nothing has come (instant, by arrival), counted at the earliest from our start and from the link's
        coming up; None while the link is down."""
        if self.link_up_since is None:
            return None
        heard = self.seen.heard.get(self.boat) if leaf.signal is None else None
        last = heard if leaf.signal is None else self.seen.arrived.get(f"{self.boat}/{leaf.signal}")
        return max(self.started, self.link_up_since, last if last is not None else 0)

    def turns_after(self, condition: Condition, after: Ms) -> list[Ms]:
        """The instants later than `after`, in order, at which a part of it may turn by time alone."""
        return sorted({at for leaf in leaves_of(condition) for at in self._turns(leaf, after) if at > after})

    def _single(self, leaf: Condition, at: Ms, surely: bool, taken: int) -> Verdict:
        if isinstance(leaf, NoNews):
            since = self.silent_since(leaf)
            return Verdict.UNKNOWN if since is None else said_of(at - since > leaf.lasting)
        if isinstance(leaf, IsUnreadable):
            return self._unreadable(leaf, at, surely)
        if isinstance(leaf, PastCondition):
            return self._past(leaf, at, surely, taken)
        latest = self.value_of(leaf.signal or "", at, surely)
        if latest is None:
            return Verdict.UNKNOWN
        if isinstance(leaf, ValueCondition):
            return said_of(meets(leaf, latest.value, taken))
        if isinstance(leaf, IsUnbelievable):
            return said_of(unbelievable(latest, self.signals[f"{self.boat}/{leaf.signal}"]))
        if isinstance(leaf, IsCompared):
            return compared(leaf, latest, self.value_of(leaf.other, at, surely), taken)
        raise TypeError(f"{type(leaf).__name__} cannot be judged yet; do it here")

    def _unreadable(self, leaf: IsUnreadable, at: Ms, surely: bool) -> Verdict:
        if self.seen.unreadable.get(f"{self.boat}/{leaf.signal}", 0) >= leaf.times:
            return Verdict.HOLDS
        return Verdict.UNKNOWN if self.value_of(leaf.signal, at, surely) is None else Verdict.DOES_NOT

    def _past(self, leaf: PastCondition, at: Ms, surely: bool, taken: int) -> Verdict:
        """What has certainly been holds without the present; that it was not needs a present that is known."""
        need, past = self.past_of(leaf)
        signal = self.signals[need.signal]
        known = self.value_of(leaf.signal, at, surely) is not None
        match leaf:
            case RanLonger():
                found = ran(leaf, past, need, at)
            case StartedOften():
                found = started(leaf, past, at)
            case StartsGrow():
                found = starts_grow(leaf, past, at)
            case HasChanged():
                found = changed(leaf, past, at)
            case IsMoving():
                found = moves(leaf, past, signal)
            case FixesAway():
                count = {PLAIN: leaf.count, WIDER: 1, NARROWER: leaf.of}[taken]
                found = fixes_away(leaf, past, signal, count)
        now_only = isinstance(leaf, IsMoving | StartsGrow) or (isinstance(leaf, HasChanged) and not leaf.window)
        certain = found is Verdict.HOLDS and not surely and not now_only
        return found if known or certain else Verdict.UNKNOWN

    def _turns(self, leaf: Condition, after: Ms) -> list[Ms]:
        if isinstance(leaf, NoNews):
            since = self.silent_since(leaf)
            return [] if since is None else [since + leaf.lasting + 1]
        if isinstance(leaf, RanLonger):
            need, past = self.past_of(leaf)
            crossed = ran_enough_at(leaf, past, need, after)
            return [] if crossed is None else [crossed]
        if isinstance(leaf, StartedOften) and leaf.mean_of:
            return mean_turns_after(leaf, self.past_of(leaf)[1], after)
        if isinstance(leaf, StartsGrow):
            need, past = self.past_of(leaf)
            return growth_turns(leaf, past, need)
        if isinstance(leaf, StartedOften | HasChanged) and leaf.window:
            _, past = self.past_of(leaf)
            count = leaf.more_than + 1 if isinstance(leaf, StartedOften) else 1
            instants = [past.known_since, past.instants[-count] if len(past.instants) >= count else None]
            return [at + leaf.window for at in instants if at is not None]
        return []


def unbelievable(latest: Latest, signal: Signal) -> bool:
    """Whether a value lies outside the range that the signal gives."""
    value = latest.value
    if not isinstance(value, Decimal):
        return False
    low = signal.lowest is not None and value < signal.lowest
    return low or (signal.highest is not None and value > signal.highest)


def compared(leaf: IsCompared, one: Latest, other: Latest | None, taken: int = PLAIN) -> Verdict:
    """How two values stand to each other."""
    if other is None:
        return Verdict.UNKNOWN
    value, against = one.value, other.value
    if not isinstance(value, Decimal) or not isinstance(against, Decimal):
        return Verdict.DOES_NOT
    by = leaf.by or Decimal(0)
    limit = against + by if leaf.than in (Than.ABOVE, Than.AT_LEAST) else against - by
    return said_of(stands(value, leaf.than, limit, leaf.deadband, taken))
