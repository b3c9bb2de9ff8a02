"""A store that cannot commit for a while: delays go on from their first taking, and nothing is told twice."""

import asyncio
import json
from pathlib import Path

import pytest

from gateway.demo.story import INES, TOBIAS
from gateway.doors.faces import Store
from gateway.doors.store import SqliteStore
from tests.doors.brokers import Outsider
from tests.effort import some_of
from tests.service.quay import TROUBLE, at, moored, until


class Locked:
    """Makes the store's file read-only for its own connection (SQLITE_READONLY), and writable again."""

    def __init__(self) -> None:
        self.store: SqliteStore | None = None

    def wrapped(self, store: Store) -> Store:
        assert isinstance(store, SqliteStore)
        self.store = store
        return store

    def set(self, *, on: bool) -> None:
        assert self.store is not None
        self.store._connection().driver.execute(f"PRAGMA query_only = {'ON' if on else 'OFF'}").fetchall()


@pytest.mark.parametrize(
    "again", some_of(["03:04:20", "03:04:10"], 2), ids=["after it was told from memory", "before it is ripe"]
)
def test_a_failed_commit_keeps_an_on_delay_going(again: str, tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            locked = Locked()
            await quay.start(wrapped=locked.wrapped)
            await quay.play(
                "03:06:00",
                quay.cue("03:03:50", lambda _: locked.set(on=True)),
                quay.aboard("03:04:00", "bilge-high", True),
                quay.cue(again, lambda _: locked.set(on=False)),
            )
            told = [(text.number, text.at // 1000) for text in quay.carrier.sent if "BILGE" in text.body]
            assert sorted(told) == sorted((number, at("03:04:15") // 1000) for number in (INES, TOBIAS)), (
                "once, in time"
            )
            (began,) = [one for one in quay.kinds("condition-began") if one["watch"] == "grey-wagtail/bilge-high when"]
            assert at("03:04:00") <= int(str(began["since"])) < at("03:04:01")
            (gap,) = quay.kinds("store-gap")
            assert len(gap["told"]) == (0 if again == "03:04:10" else 2)  # type: ignore[arg-type]
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.long
def test_who_takes_an_alarm_told_from_memory_is_not_told_again_and_has_it_afterwards(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            locked = Locked()
            await quay.start(wrapped=locked.wrapped)
            await quay.play(
                "03:14:50",  # 10 min after the first text, and before a silent holder is asked
                quay.cue("03:03:50", lambda _: locked.set(on=True)),
                quay.aboard("03:04:00", "co", True),
                quay.text("03:05:00", TOBIAS, "have it"),
                quay.cue("03:14:40", lambda _: locked.set(on=False)),
            )
            alarms = [text for text in quay.carrier.sent if "HAVE IT 1" in text.body]
            assert len(alarms) == 2, "no reminder, and nothing again after 10 min"
            assert any("alarm 1 is yours" in text.body for text in quay.to(TOBIAS))
            assert quay.report().ok

    asyncio.run(play())


def test_the_trouble_topic_shows_the_store_while_it_cannot_commit(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            locked = Locked()
            await quay.start(wrapped=locked.wrapped)
            with Outsider(quay.broker.port, hears=TROUBLE) as outsider:
                await quay.play("03:01:10", quay.cue("03:00:50", lambda _: locked.set(on=True)))
                await until(lambda: "store" in outsider.saw(TROUBLE)[-1], "the store on the topic")
                assert "read-only" in json.loads(outsider.saw(TROUBLE)[-1])["store"]
                locked.set(on=False)
                await quay.play("03:02:00")
                await until(lambda: json.loads(outsider.saw(TROUBLE)[-1])["store"] == "up", "the store is up again")

    asyncio.run(play())


def test_what_the_store_could_not_commit_was_never_acknowledged_and_comes_again_from_the_broker(tmp_path: Path) -> None:
    """The boat says it once, not retained, and is silent from then on: only the broker still has it."""

    async def play() -> None:
        async with moored(tmp_path) as quay:
            locked = Locked()
            await quay.start(wrapped=locked.wrapped)

            await quay.play("03:02:00", quay.cue("03:01:50", lambda _: locked.set(on=True)))
            quay.boat.go_silent(quay.clock.now())
            await quay.say([("grey-wagtail/detector/co", "on", False)])
            await quay.hear()
            await quay.play("03:02:30")  # the store is tried several times meanwhile
            assert len(quay.bodies("CARBON MONOXIDE")) == 2, "told from memory"
            await quay.crash()
            assert quay.kinds("alarm-step") == []
            await quay.start()
            await quay.play("03:03:30")
            assert [step["event"] for step in quay.kinds("alarm-step") if step["number"] == 1] == ["raise"]
            assert quay.report().ok

    asyncio.run(play())
