"""Brokers and carriers that are away at the start or go away later: waited for, recovered from, told, and shown."""

import asyncio
import json
from pathlib import Path

from gateway.demo.story import INES, RUTH, TOBIAS
from tests.doors.brokers import Outsider
from tests.service.quay import TROUBLE, Quay, at, moored, until


def steps(quay: Quay, link: str) -> list[object]:
    """The comings (True) and goings of a link, as recorded."""
    return [step["up"] for step in quay.kinds("link-step") if step["link"] == link]


def test_a_broker_that_is_away_at_the_start_is_waited_for_told_after_ten_minutes_and_recovered_from(
    tmp_path: Path,
) -> None:
    async def play() -> None:
        async with moored(tmp_path, boat=False) as quay:
            quay.broker.stop()
            await quay.start(listening=False)
            await quay.play("03:09:59")
            assert not quay.carrier.sent
            await quay.play("03:10:30")
            assert [text.number for text in quay.carrier.sent] == [RUTH]
            assert 'link "broker:quay" down since 03:00' in quay.to(RUTH)[0].body
            quay.broker.start()
            await quay.boat_connects()
            await quay.hear()
            quay.boat.come_back(quay.clock.now())
            await quay.play("03:13:00", quay.aboard("03:11:00", "co", True))
            assert [len(quay.to(number)) for number in (INES, TOBIAS)] == [1, 1]
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


def test_a_carrier_that_is_away_at_the_start_is_waited_for_and_the_alarm_is_told_once_it_is_back(
    tmp_path: Path,
) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            quay.carrier_goes()
            await quay.start()
            await quay.play("03:02:00", quay.aboard("03:01:00", "co", True))
            quay.carrier_comes()
            await quay.play("03:03:30")
            first = [text for text in quay.carrier.sent if text.at < at("03:03:30")]
            assert sorted(text.number for text in first) == sorted([INES, TOBIAS]), "each once, however often tried"
            assert "CARBON MONOXIDE since 03:01" in first[0].body
            quay.writes(TOBIAS, "have it")
            await quay.play("03:04:30")
            # A reminder of the same moment goes by the worker for emergencies, so either may come first.
            assert any("alarm 1 is yours" in text.body for text in quay.to(TOBIAS)[-2:])
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


def test_a_broker_that_lost_its_memory_is_told_to_the_installer_at_once(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, keep=False) as quay:
            await quay.start()
            await quay.play("03:02:00")
            quay.broker.kill()
            quay.broker.start()
            await quay.boat_connects()
            await until(lambda: len(steps(quay, "broker:quay")) == 3, "up, down and up again")
            await quay.hear()
            assert [text.number for text in quay.carrier.sent] == [RUTH]
            assert "lost what it had kept" in quay.to(RUTH)[0].body
            await quay.play("03:05:00", quay.aboard("03:03:00", "co", True))
            assert [len(quay.to(number)) for number in (INES, TOBIAS)] == [1, 1]

    asyncio.run(play())


def test_trouble_with_broker_and_carrier_stands_retained_on_a_topic_of_our_own(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            with Outsider(quay.broker.port, hears=TROUBLE) as outsider:

                def shown() -> dict[str, str]:
                    words: dict[str, str] = json.loads(outsider.saw(TROUBLE)[-1]) if outsider.heard else {}
                    return words

                quay.carrier_goes()
                await quay.start()
                await until(lambda: len(shown()) == 2, "both links on the topic")
                assert shown()["broker:quay"] == "up"
                assert shown()["carrier:main"].startswith("down: ")
                quay.carrier_comes()
                await quay.play("03:01:00")
                await until(lambda: shown() == {"broker:quay": "up", "carrier:main": "up"}, "both are up")
            with Outsider(quay.broker.port, hears=TROUBLE) as late:
                await until(lambda: bool(late.heard), "it was not retained")
                assert late.heard[0].retain

    asyncio.run(play())


def test_a_link_that_is_down_for_less_than_ten_minutes_is_kept_for_the_record_alone(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:01:00")
            quay.carrier_goes()
            await quay.play("03:10:00")
            quay.carrier_comes()
            await quay.play("03:11:00")
            assert quay.carrier.sent == ()
            assert steps(quay, "carrier:main") == [True, False, True]

    asyncio.run(play())
