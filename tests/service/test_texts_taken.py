"""A text is taken once, whichever way it comes and however often."""

import asyncio
from collections.abc import Sequence

from gateway.service.texts_taken import TextsTaken


def test_a_text_that_is_on_its_way_to_disk_is_not_taken_a_second_time() -> None:
    disk: set[str] = set()

    async def has_seen(messages: Sequence[str]) -> frozenset[str]:
        return frozenset(messages) & disk

    async def run() -> None:
        texts = TextsTaken(has_seen)
        assert await texts.unseen(["m1", "m2"]) == {"m1", "m2"}
        assert texts.take("m1") is True  # a poll brings it
        assert texts.take("m1") is False  # and a web hook, which had asked before
        assert texts.is_on_its_way("m1")
        assert await texts.unseen(["m1", "m2"]) == {"m2"}
        disk.add("m1")
        texts.on_disk([("m1", 1)])
        assert not texts.is_on_its_way("m1")
        assert await texts.unseen(["m1", "m2"]) == {"m2"}

    asyncio.run(run())
