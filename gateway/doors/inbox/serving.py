"""uvicorn as the web hook needs it: on a loop that is not its own, and no line kept by whoever says nothing."""

import asyncio
import socket
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from uvicorn import Config, Server
from uvicorn.protocols.http.h11_impl import H11Protocol

SILENT_FOR = 5.0
"""Seconds after which a line without a call on it is looked at once more and then hung up. uvicorn waits for ever for
the first call on a line (read in its source), so a stranger with as many lines as there is room for would keep the
carrier out for good; between two calls it waits 5 s, and this is the same. Our choice."""


class OnOurLoop(Server):
    """No signals (the service has them), one tick a second for the Date line instead of ten, and an end without waiting
    for the next tick."""

    def __init__(self, config: Config) -> None:
        super().__init__(config)
        self.up, self.leave = asyncio.Event(), asyncio.Event()

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self.up.set()

    async def main_loop(self) -> None:
        while not await self.on_tick(0):
            with suppress(TimeoutError):
                await asyncio.wait_for(self.leave.wait(), 1.0)
                return


class ShortOfPatience(H11Protocol):
    """One line. Looked at every so often: one that has had no whole call since the last look is hung up."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self._heard = self.cycle
        self._look = self.loop.call_later(SILENT_FOR, self._look_at)

    def connection_lost(self, exc: Exception | None) -> None:
        self._look.cancel()
        super().connection_lost(exc)

    def _look_at(self) -> None:
        at_work = self.cycle is not None and not self.cycle.response_complete
        if not at_work and self.cycle is self._heard:
            self.transport.close()
            return
        self._heard = self.cycle
        self._look = self.loop.call_later(SILENT_FOR, self._look_at)
