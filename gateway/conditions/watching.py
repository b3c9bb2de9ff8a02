"""Delays: since when a condition has held, and whether that is long enough.

Each alarm point is watched on one side at a time: for `when` while it is not active, for `clears` while it is. That a
condition with a delay begins or ends to hold is a fact; so a restart knows since when.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from gateway.boat.latest import BoatsSeen, Latest, is_stale
from gateway.boat.settings import Signal
from gateway.conditions.facts import ConditionBegan, ConditionEnded
from gateway.conditions.judging import holds, said
from gateway.conditions.values import PLAIN, WIDER
from gateway.conditions.verdicts import Verdict, inverted
from gateway.vocabulary.moments import Ms
from grammar.meanings import Condition, Gone, NoNews, ValueCondition, leaves_of, signals_of

RAISES = "when"
CLEARS = "clears"


@dataclass(frozen=True, slots=True, kw_only=True)
class Watch:
    """One side of one point.

    id: ``boat/point when`` or ``boat/point clears``. signal: the id of the one that it is told by, None for silence of
    the whole boat. signals: ids of all that it names. opposite: it is met when the condition does NOT hold, its
    deadband crossed (a point without `clears`, or with `gone`); gone_for: for how long (ms). by_value: the newest
    value of one signal decides, along that signal's own times. by_silence: it is silence and nothing else, which only
    time brings and only news ends.
    """

    id: str
    point: str
    boat: str
    side: str
    condition: Condition
    signal: str | None
    signals: tuple[str, ...] = ()
    opposite: bool = False
    gone_for: Ms = 0
    by_value: bool = field(init=False, repr=False, compare=False)
    by_silence: bool = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Both are asked for with every message."""
        object.__setattr__(self, "by_value", isinstance(self.condition, ValueCondition))
        object.__setattr__(self, "by_silence", isinstance(self.condition, NoNews))

    @property
    def lasting(self) -> Ms:
        """How long it must hold without a break."""
        return self.gone_for if self.opposite else self.condition.lasting

    @property
    def waits_for_boat(self) -> bool:
        """Any news of the boat matters to it."""
        return any(isinstance(leaf, NoNews) and leaf.signal is None for leaf in leaves_of(self.condition))


@dataclass(slots=True)
class Held:
    """Since when watches have held (instants, ms UTC), by watch id. Only those that hold now are in it."""

    since: dict[str, Ms] = field(default_factory=dict)

    def apply(self, fact: ConditionBegan | ConditionEnded) -> None:
        """Fold one fact in."""
        if isinstance(fact, ConditionBegan):
            self.since[fact.watch] = fact.since
        else:
            self.since.pop(fact.watch, None)


def watches_of(point: str, boat: str, when: Condition, clears: Condition | Gone | None) -> tuple[Watch, Watch]:
    """Both sides of a point, raising first."""

    def watch(side: str, condition: Condition, opposite: bool = False, gone_for: Ms = 0) -> Watch:
        named = condition.signal
        signal = None if named is None else f"{boat}/{named}"
        return Watch(
            id=f"{point} {side}",
            point=point,
            boat=boat,
            side=side,
            condition=condition,
            signal=signal,
            signals=tuple(f"{boat}/{key}" for key in signals_of(condition)),
            opposite=opposite,
            gone_for=gone_for,
        )

    if clears is None or isinstance(clears, Gone):
        return watch(RAISES, when), watch(CLEARS, when, True, clears.lasting if clears is not None else 0)
    return watch(RAISES, when), watch(CLEARS, clears)


def verdict(watch: Watch, latest: Latest | None) -> Verdict:
    """What the newest value says about this side of the point, its delay left aside. For values, not for silence."""
    if watch.side == CLEARS and (latest is None or not latest.sure):
        return Verdict.UNKNOWN  # late, retained or unreadable values never clear
    found = holds(watch.condition, latest, WIDER if watch.opposite else PLAIN)
    return inverted(found) if watch.opposite else found


def follow(
    watch: Watch, held: Held, before: Latest | None, latest: Latest, signal: Signal, now: Ms
) -> ConditionBegan | ConditionEnded | None:
    """What a new value changes about a watch with a delay. before: the signal's newest until then.

    An off-delay starts again behind a gap in which the signal was stale, and behind a reconnection (a value of unknown
    age): nobody saw what happened meanwhile. An on-delay goes on if the first value behind the gap still agrees, as it
    does behind a restart (design rule 3).
    """
    found = verdict(watch, latest)
    holding = watch.id in held.since
    if watch.side == CLEARS and before is not None:
        unseen = not before.sure or latest.arrived - before.arrived > signal.stale_after
        holding = holding and not unseen
    if found is Verdict.HOLDS and not holding:
        return ConditionBegan(watch=watch.id, since=latest.measured, measured=said(latest, signal))
    if watch.id in held.since and (found is Verdict.DOES_NOT or (found is Verdict.UNKNOWN and watch.side == CLEARS)):
        return ConditionEnded(
            watch=watch.id, at=max(latest.measured, min(now, held.since[watch.id])), measured=said(latest, signal)
        )
    return None


def is_ripe(watch: Watch, since: Ms, latest: Latest | None, signal: Signal, started: Ms, now: Ms) -> bool:
    """Whether a watch has held for its delay, without a break, as far as anybody can know."""
    due = ripe_at(watch, since, latest, signal, started)
    return due is not None and due <= now


def ripe_at(watch: Watch, since: Ms, latest: Latest | None, signal: Signal, started: Ms) -> Ms | None:
    """The instant at which a watch has held for its delay if nothing more comes; None when only a new reading can say.

    Counted along the signal's own times, and beyond the newest value only while that is fresh. The newest value
    itself must agree: an unreadable one neither breaks an on-delay nor completes it. A value from before the start of
    the service proves nothing about the time since: the first reading afterwards must agree.
    """
    if latest is None or latest.arrived < started or verdict(watch, latest) is not Verdict.HOLDS:
        return None
    due = since + watch.lasting
    if latest.measured >= due:
        return min(due, latest.arrived)
    return None if is_stale(latest, signal, max(due, latest.arrived)) else due


def silent_since(watch: Watch, seen: BoatsSeen, started: Ms, link_up_since: Ms | None) -> Ms | None:
    """Since when nothing has come (instant, by arrival); None while the broker's link is down: then it is we who do
    not hear. Counted at the earliest from our start and from the link's coming up, so that everyone has a full
    interval to report."""
    if link_up_since is None:
        return None
    last = seen.heard.get(watch.boat) if watch.signal is None else seen.arrived.get(watch.signal)
    return max(started, link_up_since, last if last is not None else 0)


def silence_ripe_at(condition: Condition, since: Ms) -> Ms:
    """When a silence is longer than allowed: one millisecond after the length has passed."""
    return since + condition.lasting + 1


def index_by_signal(watches: Iterable[Watch]) -> Mapping[str, tuple[Watch, ...]]:
    """Which watches a signal's value matters to. Silence is not among them: it is watched by time."""
    found: dict[str, list[Watch]] = {}
    for watch in watches:
        if watch.by_silence:
            continue
        for signal in watch.signals:
            found.setdefault(signal, []).append(watch)
    return {signal: tuple(some) for signal, some in found.items()}
