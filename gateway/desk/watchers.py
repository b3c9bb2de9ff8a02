"""The conditions of all points, indexed once for an installation: which signal matters to which, and who is silent."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from gateway.conditions.past import Need
from gateway.conditions.sight import need_of
from gateway.conditions.watching import RAISES, Watch, index_by_signal, watches_of
from gateway.desk.ahead import needs_of_sums
from gateway.desk.bank_ahead import needs_of
from gateway.desk.bundle import Bundle
from grammar.meanings import PastCondition, leaves_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Watchers:
    """by_id: every watch. place: its place among them, so that what falls together is decided in the order of the
    installation. by_signal: those that a value of this signal matters to; by_boat: those that any news of this boat
    matters to, beside silence. silences: the raising sides of points that watch for silence; silences_of: the same by
    what breaks them, a boat's key or a signal's id. needs: what must be kept of the past, by boat."""

    by_id: Mapping[str, Watch]
    place: Mapping[str, int]
    by_signal: Mapping[str, tuple[Watch, ...]]
    by_boat: Mapping[str, tuple[Watch, ...]]
    silences: tuple[Watch, ...]
    silences_of: Mapping[str, tuple[Watch, ...]]
    needs: Mapping[str, tuple[Need, ...]]


def watchers_of(bundle: Bundle) -> Watchers:
    """The index for these points."""
    watches = [
        watch
        for point in bundle.points.values()
        for watch in watches_of(point.id, point.boat, point.when, point.clears)
    ]
    silences = tuple(w for w in watches if w.side == RAISES and w.by_silence)
    broken: dict[str, list[Watch]] = {}
    for watch in silences:
        broken.setdefault(watch.signal or watch.boat, []).append(watch)
    by_boat: dict[str, list[Watch]] = {}
    for watch in watches:
        if watch.waits_for_boat and not watch.by_silence:
            by_boat.setdefault(watch.boat, []).append(watch)
    return Watchers(
        by_id={watch.id: watch for watch in watches},
        place={watch.id: place for place, watch in enumerate(watches)},
        by_signal=index_by_signal(watches),
        by_boat={key: tuple(some) for key, some in by_boat.items()},
        silences=silences,
        silences_of={key: tuple(some) for key, some in broken.items()},
        needs=_needs(bundle, watches),
    )


def _needs(bundle: Bundle, watches: Iterable[Watch]) -> Mapping[str, tuple[Need, ...]]:
    """What must be kept for all of them: of two windows of one kind the longer one."""
    found: dict[str, dict[str, Need]] = {}
    for watch in watches:
        for leaf in leaves_of(watch.condition):
            if isinstance(leaf, PastCondition):
                need = need_of(leaf, bundle.signals[f"{watch.boat}/{leaf.signal}"])
                of_boat = found.setdefault(watch.boat, {})
                known = of_boat.get(need.key)
                if known is None or known.amount < need.amount:
                    of_boat[need.key] = need
    wanted = [(boat.key, need) for boat in bundle.boats.values() for need in needs_of(boat, bundle)]
    for key, need in (*wanted, *needs_of_sums(bundle)):
        of_boat = found.setdefault(key, {})
        if need.key not in of_boat or of_boat[need.key].amount < need.amount:
            of_boat[need.key] = need
    return {boat: tuple(of_boat[key] for key in sorted(of_boat)) for boat, of_boat in found.items()}


def kept_of(needs: Iterable[Need]) -> frozenset[str]:
    """Needs to be compared whatever their order."""
    return frozenset(need.written for need in needs)
