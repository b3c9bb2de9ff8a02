"""Which signals a topic carries. Built once for a set of signals."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from gateway.boat.settings import Signal


@dataclass(frozen=True, slots=True, kw_only=True)
class Directory:
    """Signals of one broker by topic. A topic that is not here is nobody's."""

    by_topic: Mapping[str, tuple[Signal, ...]]

    @property
    def topics(self) -> tuple[str, ...]:
        """What to subscribe to, each once, sorted."""
        return tuple(sorted(self.by_topic))


def directory_of(signals: Iterable[Signal]) -> Directory:
    """The directory of these signals."""
    gathered: dict[str, list[Signal]] = defaultdict(list)
    for signal in signals:
        gathered[signal.topic].append(signal)
    return Directory(by_topic={topic: tuple(found) for topic, found in gathered.items()})
