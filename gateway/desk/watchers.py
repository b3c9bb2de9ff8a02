"""The conditions of all points, indexed once for an installation: which signal matters to which, and who is silent."""

from collections.abc import Mapping
from dataclasses import dataclass

from gateway.conditions.watching import RAISES, Watch, index_by_signal, watches_of
from gateway.desk.bundle import Bundle
from grammar.meanings import NoNews


@dataclass(frozen=True, slots=True, kw_only=True)
class Watchers:
    """by_id: every watch. by_signal: those that a value of this signal matters to. silences: the raising sides of
    points that watch for silence; silences_of: the same by what breaks them, a boat's key or a signal's id."""

    by_id: Mapping[str, Watch]
    by_signal: Mapping[str, tuple[Watch, ...]]
    silences: tuple[Watch, ...]
    silences_of: Mapping[str, tuple[Watch, ...]]


def watchers_of(bundle: Bundle) -> Watchers:
    """The index for these points."""
    watches = [
        watch
        for point in bundle.points.values()
        for watch in watches_of(point.id, point.boat, point.when, point.clears)
    ]
    silences = tuple(w for w in watches if w.side == RAISES and isinstance(w.condition, NoNews))
    broken: dict[str, list[Watch]] = {}
    for watch in silences:
        broken.setdefault(watch.signal or watch.boat, []).append(watch)
    return Watchers(
        by_id={watch.id: watch for watch in watches},
        by_signal=index_by_signal(watches),
        silences=silences,
        silences_of={key: tuple(some) for key, some in broken.items()},
    )
