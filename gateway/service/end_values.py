"""The end value of every chain, published outside: what shows later whether a chain was cut off or rewritten."""

import asyncio
import json
from collections.abc import Callable, Mapping

from gateway.doors.faces import Batch, Bus
from gateway.logbook.chains import Head

STOP_WAITS = 2.0
"""Seconds that the end of a run waits for a broker to take them (our choice: a stop must not hang on a dead link)."""


class EndValues:
    """`heavingline/<client_id>/end-values` on every broker, retained: a JSON object, for each chain ``PLACE:HASH`` as
    `logbook verify --end` takes it. Only of entries that are on disk. is_up: whether a broker is there."""

    def __init__(self, buses: Mapping[str, Bus], client_ids: Mapping[str, str], is_up: Callable[[str], bool]) -> None:
        self._buses, self._is_up = buses, is_up
        self._topics = {name: f"heavingline/{client_ids[name]}/end-values" for name in buses}
        self._ends: dict[str, str] = {}

    def found(self, chains: Mapping[str, Head]) -> None:
        """These chains stand in the store at the start."""
        self._ends = {chain: f"{head.place}:{head.digest}" for chain, head in chains.items()}

    def on_disk(self, batch: Batch) -> None:
        """This batch is on disk."""
        for written in batch.written:
            self._ends[written.entry.chain] = f"{written.entry.place}:{written.digest}"

    async def publish(self) -> None:
        """Publish them; a broker that is away gets them the next time."""
        payload = json.dumps(dict(sorted(self._ends.items())))
        await asyncio.gather(
            *(
                bus.publish(self._topics[name], payload, retain=True, expires_after=None)
                for name, bus in self._buses.items()
                if self._is_up(name)
            )
        )

    async def publish_last(self) -> None:
        """Publish them before the links are closed, without waiting for long."""
        try:
            async with asyncio.timeout(STOP_WAITS):
                await self.publish()
        except TimeoutError:
            pass
