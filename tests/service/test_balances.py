"""What is left on the carrier's account is asked once a day, also over a restart, and kept."""

import asyncio
from pathlib import Path

import pytest

from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.quick_clock import QuickClock
from gateway.desk.state import Account, State
from gateway.doors.carrier import TwilioCarrier
from gateway.doors.faces import CarrierSettings
from gateway.service.balances import AFTER_START, AGAIN_AFTER, Balances
from gateway.vocabulary.happenings import BalanceSeen
from gateway.vocabulary.moments import DAY
from tests.service.quay import ACCOUNT, OUR_NUMBER, TOKEN, at, moored, until


def test_an_account_is_asked_after_the_start_a_day_later_and_an_hour_later_where_the_carrier_does_not_say() -> None:
    async def run() -> None:
        clock, came, state = QuickClock(at("09:00:00")), list[BalanceSeen](), State()
        began = clock.now()
        with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=clock.now) as stand_in:
            settings = CarrierSettings(
                name="main", account=ACCOUNT, token=TOKEN, sender=OUR_NUMBER, base_url=stand_in.url
            )
            one = Balances({"main": TwilioCarrier(settings)}, clock, state=lambda: state, came=came.append)
            one.start()

            async def asked_at(when: int) -> int:
                """How often it was asked by then, with the time moved on to there."""
                await until(lambda: clock.next_moment() is not None, "it waits")
                calls = len(stand_in.calls)
                clock.jump(when - 1)
                assert len(stand_in.calls) == calls, "no sooner"
                clock.jump(when)
                await until(lambda: len(stand_in.calls) > calls and one.is_still, "it asks")
                return len(came)

            stand_in.funds["balance"] = "8.40"
            assert await asked_at(began + AFTER_START) == 1
            stand_in.funds["balance"] = None
            assert await asked_at(began + AFTER_START + DAY) == 1
            stand_in.funds["balance"] = "7.10"
            assert await asked_at(began + AFTER_START + DAY + AGAIN_AFTER) == 2
            assert [(seen.amount, seen.currency) for seen in came] == [("8.40", "GBP"), ("7.10", "GBP")]
            await one.stop()
            state.accounts["main"] = Account("7.10", "GBP", at=clock.now(), tell_at=None)
            known = clock.now()
            one.start()
            assert await asked_at(known + DAY) == 3, "after a restart a day after it was last asked"
            await one.stop()
            one.close()

    asyncio.run(run())


@pytest.mark.long
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
