"""What brokers kept over an outage comes through the real broker, at once or for minutes, and never looks fresh: no
interlock is satisfied by it. One fault to tell it from would be enough to start something on a state an hour old."""

import asyncio
from pathlib import Path

import pytest

from gateway.demo.story import TOBIAS
from gateway.doors.store import open_reader
from gateway.vocabulary.moments import SECOND, Ms
from tests.service.quay import Quay, at, moored


def lates(quay: Quay, since: Ms) -> set[bool]:
    """Whether readings taken from an instant on are late: of those that carry no time of their own, found nowhere."""
    with open_reader(quay.store) as reader:
        rows = [(row.now, row.reading) for row in reader.readings()]
    return {one.late for now, one in rows if now >= since and one.own_time is None and not one.retained}


def hurry(quay: Quay, now: Ms) -> None:
    """The boat's own broker hands on one more report of everything."""
    quay.boat._numbers_next = quay.boat._contacts_next = now


@pytest.mark.long
def test_a_queue_let_go_at_once_and_then_for_minutes_lets_nothing_be_switched(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:03:00")
            assert lates(quay, 0) == {False}
            await quay.stop()
            await quay.alone(at("03:15:00"))
            await quay.start()
            await quay.play("03:15:10")
            back = quay.clock.now()
            burst = [quay.cue(at("03:15:10") + n * 2 * SECOND, lambda now: hurry(quay, now)) for n in range(75)]
            await quay.play("03:17:38", *burst, quay.text("03:16:45", TOBIAS, "deck lights on"))
            assert len(quay.bodies("deck lights NOT switched on")) == 1
            assert lates(quay, at("03:15:00")) == {True}, "two minutes of a queue, and nothing of it looks fresh"
            await quay.play("03:20:30", quay.text("03:19:50", TOBIAS, "deck lights on"))
            assert len(quay.bodies("switch deck lights on for")) == 1, "what comes in its own rhythm is believed"
            assert False in lates(quay, back)
            assert quay.report().ok

    asyncio.run(play())
