"""What is left on the carrier's account is asked once a day, also over a restart, and kept."""

import asyncio
from pathlib import Path

import pytest

from tests.service.quay import at, moored


def test_the_account_is_asked_an_hour_after_the_start_and_not_again_the_same_day(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, begins=at("09:00:00")) as quay:
            quay.carrier.funds["balance"] = "8.40"
            await quay.start()
            await quay.play("10:00:30")
            await quay.stop()
            await quay.start()
            await quay.play("11:30:00")
            assert [(one["amount"], one["currency"]) for one in quay.kinds("balance-read")] == [("8.40", "GBP")]
            assert [text.number for text in quay.carrier.sent if "Fill it up" in text.body] == ["+447700900789"]

    asyncio.run(play())


@pytest.mark.long
def test_a_carrier_that_does_not_say_is_asked_again_an_hour_later(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:30:00")
            quay.carrier.funds["balance"] = None
            await quay.play("04:30:00")
            assert quay.kinds("balance-read") == []
            quay.carrier.funds["balance"] = "250.00"
            await quay.play("05:30:00")
            assert len(quay.kinds("balance-read")) == 1

    asyncio.run(play())
