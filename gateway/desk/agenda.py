"""Which watch must be looked at next by time alone.

A cache over the state, thrown away and refilled at will: an instant for each watch, in a heap. An instant that has
become later since (a silence broken by news) is put right when it comes to the top; one that has become earlier must be
told by `touch`. So a message costs what its own watches cost, however many boats there are.
"""

from collections.abc import Callable, Iterable
from heapq import heapify, heappop, heappush

from gateway.conditions.watching import Watch
from gateway.vocabulary.moments import Ms

MOST_LEFT_BEHIND = 64
"""Instants in the heap that stand no longer, at most, beside as many as there are watches (our choice)."""


class Agenda:
    """due_of: the instant of one watch by the present state, None for none."""

    def __init__(self, due_of: Callable[[Watch], Ms | None]) -> None:
        self._due_of = due_of
        self._watches: dict[str, Watch] = {}
        self._stands: dict[str, Ms] = {}
        self._heap: list[tuple[Ms, str]] = []

    def refill(self, watches: Iterable[Watch]) -> None:
        """Begin anew with these watches."""
        self._watches = {watch.id: watch for watch in watches}
        dues = ((self._due_of(watch), watch.id) for watch in self._watches.values())
        self._stands = {watch: due for due, watch in dues if due is not None}
        self._heap = [(due, watch) for watch, due in self._stands.items()]
        heapify(self._heap)

    def touch(self, watch: Watch) -> None:
        """Something has changed that matters to this watch."""
        self._watches[watch.id] = watch
        due = self._due_of(watch)
        if due is None:
            self._stands.pop(watch.id, None)
        elif self._stands.get(watch.id) != due:
            self._stands[watch.id] = due
            heappush(self._heap, (due, watch.id))
            if len(self._heap) > MOST_LEFT_BEHIND + 2 * len(self._stands):
                self._heap = [(due, watch_id) for watch_id, due in self._stands.items()]
                heapify(self._heap)

    def first(self) -> Ms | None:
        """The next instant at which some watch must be looked at."""
        while self._heap:
            due, watch = self._heap[0]
            if self._stands.get(watch) == due:
                now_due = self._due_of(self._watches[watch])
                if now_due == due:
                    return due
                self._stands.pop(watch)
                heappop(self._heap)
                if now_due is not None:
                    self._stands[watch] = now_due
                    heappush(self._heap, (now_due, watch))
            else:
                heappop(self._heap)
        return None

    def due(self, until: Ms) -> list[tuple[Ms, Watch]]:
        """All that must be looked at up to an instant, each with its own. They stay on the agenda."""
        found: list[tuple[Ms, str]] = []
        while (at := self.first()) is not None and at <= until:
            found.append(heappop(self._heap))
        for item in found:
            heappush(self._heap, item)
        return [(at, self._watches[watch]) for at, watch in dict.fromkeys(found)]
