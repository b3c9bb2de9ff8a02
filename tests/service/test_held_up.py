"""What a slow or failing disk holds up: a command is then not sent, and a fault of ours beside it ends nothing."""

import asyncio
from pathlib import Path
from typing import Any

import pytest

from gateway.demo.story import INES, TOBIAS
from gateway.desk import rounds
from gateway.desk.hub import Desk
from gateway.desk.turn import Recorder, Turn
from gateway.doors.faces import Batch, Store, StoreTrouble
from gateway.telling.rounds import Round
from gateway.vocabulary.happenings import Happening, TextCame
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from tests.service.quay import Quay, moored
from tests.service.test_failed_commits import Locked


class Slow:
    """A disk that takes so long (ms) to write a command down."""

    def __init__(self, quay: Quay, takes: Ms) -> None:
        self._quay, self._takes = quay, takes

    def wrapped(self, store: Store) -> Store:
        self._store = store
        return self  # type: ignore[return-value]

    def __getattr__(self, name: str) -> Any:
        return getattr(self._store, name)

    def commit(self, batch: Batch) -> None:
        self._store.commit(batch)
        if batch.commands:
            self._quay.clock._now += self._takes


class Refusing(Slow):
    """A disk that cannot write a command down."""

    def commit(self, batch: Batch) -> None:
        if batch.commands:
            raise StoreTrouble(where="store", problem="the disk is full", remedy="Free some space")
        self._store.commit(batch)


def test_a_command_that_cannot_be_written_down_is_not_sent_and_is_asked_for_again(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start(wrapped=Refusing(quay, 0).wrapped)
            await quay.play("03:01:30", quay.text("03:01:00", TOBIAS, "deck lights on"))
            await quay.play("03:04:00", quay.text("03:02:00", TOBIAS, quay.code(TOBIAS)))
            assert quay.obeyed == []
            assert len(quay.kinds("store-gap")) == 1, "the commit with the command failed"
            assert "Send it again" in quay.to(TOBIAS)[-1].body
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.parametrize(("takes", "obeyed"), [(9 * SECOND, ["deck-lights on"]), (11 * SECOND, [])])
def test_a_command_that_the_disk_held_up_for_more_than_ten_seconds_is_told_and_not_sent(
    takes: Ms, obeyed: list[str], tmp_path: Path
) -> None:
    """The interlocks were looked at before the disk took its time."""

    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start(wrapped=Slow(quay, takes).wrapped)
            await quay.play("03:01:30", quay.text("03:01:00", TOBIAS, "deck lights on"))
            await quay.play("03:06:00", quay.text("03:02:00", TOBIAS, quay.code(TOBIAS)))
            assert quay.obeyed == obeyed
            assert any("the order could not leave" in text.body for text in quay.to(TOBIAS)) is (obeyed == [])
            assert quay.report().ok

    asyncio.run(play())


def told(quay: Quay) -> list[int]:
    return [len([t for t in quay.to(number) if "CARBON MONOXIDE since" in t.body]) for number in (INES, TOBIAS)]


def aside(quay: Quay) -> list[str]:
    return [str(body["detail"]).partition(":")[0] for body in quay.kinds("link-step") if body["link"] == "gateway"]


def test_what_was_left_alone_for_a_fault_is_left_alone_too_when_the_record_can_be_kept_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = rounds._tell_one

    def faulty(rec: Recorder, person: str, together: list[Round]) -> None:
        if any("bilge" in one.call.point for one in together):
            raise RuntimeError("a fault of ours")
        whole(rec, person, together)

    monkeypatch.setattr(rounds, "_tell_one", faulty)

    async def play() -> None:
        async with moored(tmp_path) as quay:
            locked = Locked()
            await quay.start(wrapped=locked.wrapped)
            await quay.play(
                "03:05:00",
                quay.aboard("03:01:00", "bilge-high", True),
                quay.cue("03:02:00", lambda _: locked.set(on=True)),
                quay.aboard("03:02:30", "co", True),
                quay.cue("03:03:30", lambda _: locked.set(on=False)),
            )
            assert told(quay) == [1, 1], "from memory, and not again"
            assert len(quay.kinds("store-gap")) == 1
            assert aside(quay) == ["the call-out of grey-wagtail/bilge-high"]
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.long
def test_a_fault_that_shows_only_when_all_is_taken_again_is_set_aside_and_the_rest_comes_into_the_record(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = Desk.take

    def faulty(desk: Desk, happening: Happening, now: Ms, draw: bytes) -> Turn:
        turn = whole(desk, happening, now, draw)
        if isinstance(happening, TextCame) and happening.age is None:  # of a text that is taken again
            raise RuntimeError("a fault of ours")
        return turn

    monkeypatch.setattr(Desk, "take", faulty)

    async def play() -> None:
        async with moored(tmp_path) as quay:
            locked = Locked()
            await quay.start(wrapped=locked.wrapped)
            await quay.play(
                "03:05:00",
                quay.cue("03:01:50", lambda _: locked.set(on=True)),
                quay.text("03:02:00", TOBIAS, "status"),
                quay.aboard("03:02:40", "co", True),
                quay.cue("03:03:30", lambda _: locked.set(on=False)),
            )
            assert told(quay) == [1, 1]
            assert aside(quay) == ["TextCame"]
            assert [step["event"] for step in quay.kinds("alarm-step")] == ["raise"]
            await quay.stop()
            await quay.start()
            await quay.play(quay.clock.now() + 2 * MINUTE)
            assert aside(quay) == ["TextCame"], "the text is known, and not taken a third time"
            assert quay.report().ok

    asyncio.run(play())
