"""A quay that is struck, and what must hold of it afterwards."""

import asyncio
import json
from collections import Counter
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from gateway.demo.relay_node import Outcome
from gateway.demo.story import INES, NAMES, TOBIAS
from gateway.desk.bundle import Bundle
from gateway.doors.store import open_reader
from gateway.installation.load import load
from gateway.vocabulary.moments import Ms
from tests.faults.judging import Seen, judged
from tests.service.quay import SECRETS, Quay, moored

CO = "grey-wagtail/co"


class Struck:
    """A quay with a count of what reached the boat. raised: signals whose "on" the broker has taken."""

    def __init__(self, quay: Quay) -> None:
        self.quay = quay
        self.commands: Counter[str] = Counter()
        self.raised: list[str] = []
        self._carry_out = quay.boat.command
        quay.boat.command = self._command  # type: ignore[method-assign]

    def _command(self, topic: str, payload: bytes, retained: bool, now: Ms) -> Outcome | None:
        self.commands[json.loads(payload)["id"]] += 1
        return self._carry_out(topic, payload, retained, now)

    def told(self, words: str = "Reply HAVE IT 1") -> Counter[str]:
        """How often each person was told that it began, and asked to take it."""
        return Counter(NAMES[text.number] for text in self.quay.carrier.sent if words in text.body)

    async def rules_hold(self) -> None:
        """End the service in order and look at everything; each was told the alarm at least once."""
        if self.quay.running is not None:
            await self.quay.stop()
        assert not (broken := self.breaches()), broken
        if CO in self.raised:
            told = self.told("Reply HAVE IT")
            assert told.keys() >= {NAMES[INES], NAMES[TOBIAS]}, "an alarm was not told"

    def breaches(self) -> list[str]:
        """Every rule that did not hold, in words."""
        return judged(self.quay.store, *self.seen())

    def seen(self) -> tuple[Bundle, Seen]:
        """The installation, and what the world saw."""
        quay = self.quay
        with open_reader(quay.store) as reader:
            ids = {key: found for found, key, _ in reader.load("").people}
        bundle = load(quay.folder, person_id=ids.__getitem__, environ=SECRETS).bundle
        seen = Seen(
            sent=quay.carrier.sent,
            commands=self.commands,
            raised=self.raised,
            told=Counter(),
            texted=(),
            installer=ids["ruth"],
            rang=[call.id for call in quay.carrier.rung],
        )
        return bundle, seen


@asynccontextmanager
async def struck(place: Path, **more: Any) -> AsyncIterator[Struck]:
    """A moored quay, its boat connected, no service yet."""
    async with moored(place, **more) as quay:
        yield Struck(quay)


async def broker_dies(quay: Quay, *, forgets: Path | None = None) -> None:
    """Kill the broker and start it again on its port. forgets: the folder of its memory, which is emptied."""
    await asyncio.to_thread(quay.broker.kill)
    for file in forgets.iterdir() if forgets is not None else ():
        file.unlink()
    await asyncio.to_thread(quay.broker.start)
