"""Who waits for what to be on disk: a carrier's call is answered only then."""

import asyncio
from collections.abc import Iterable

from gateway.vocabulary.happenings import DeliveryReported, Happening, TextCame


class Kept:
    """Used on the loop's thread."""

    def __init__(self) -> None:
        self._waiting: dict[str, set[asyncio.Future[None]]] = {}

    def text(self, message: str) -> asyncio.Future[None]:
        """Done when the text with this id of the carrier's is on disk. Must be let go again."""
        return self._waiter(f"text {message}")

    def word(self, report: DeliveryReported) -> asyncio.Future[None]:
        """Done when this report has been taken in and what followed is on disk. Must be let go again."""
        return self._waiter(_report(report))

    def _waiter(self, key: str) -> asyncio.Future[None]:
        waiter: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self._waiting.setdefault(key, set()).add(waiter)
        return waiter

    def let_go(self, waiter: asyncio.Future[None]) -> None:
        """Nobody waits for this any more."""
        for key, waiting in list(self._waiting.items()):
            waiting.discard(waiter)
            if not waiting:
                del self._waiting[key]

    def on_disk(self, happenings: Iterable[Happening], texts: Iterable[str]) -> None:
        """These are. texts: ids of texts, passed over or taken."""
        if not self._waiting:
            return
        keys = [f"text {message}" for message in texts]
        for happening in happenings:
            if isinstance(happening, DeliveryReported):
                keys.append(_report(happening))
            elif isinstance(happening, TextCame):
                keys.append(f"text {happening.message}")
        for key in keys:
            for waiter in self._waiting.get(key, ()):
                if not waiter.done():
                    waiter.set_result(None)


def _report(report: DeliveryReported) -> str:
    return f"word {report.order} {report.status} {report.code}"
