"""The wall clock is set, through the clock's own door; both nights of the year on which boat time jumps; a loop that
stands still for five seconds.

Seen to fail: with `now` taken from the wall clock in SystemClock; with a step added to the time that delays go by.
"""

import asyncio
import time
from pathlib import Path

import pytest

from gateway.demo.story import INES, TOBIAS
from gateway.doors.clock import SystemClock
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms, from_rfc3339
from tests.faults.after import CO, struck
from tests.service.quay import until

pytestmark = pytest.mark.struck


@pytest.mark.parametrize("by", [2 * HOUR, -2 * HOUR, 40 * MINUTE, -3 * SECOND], ids=lambda by: f"{by // SECOND} s")
def test_a_step_of_the_wall_clock_ends_no_delay_loses_no_alarm_and_is_recorded(tmp_path: Path, by: Ms) -> None:
    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            moved: list[Ms] = []
            quay.clock.step = lambda: moved.pop() if moved else None  # type: ignore[method-assign]
            await quay.start()
            await quay.play(
                "03:03:00",
                quay.aboard("03:01:00", "bilge-high", True),  # on for 15 s
                quay.cue("03:01:05", lambda _: moved.append(by)),
                quay.aboard("03:02:00", "co", True),
            )
            it.raised.append(CO)
            bilge = [text.at for text in quay.carrier.sent if "BILGE" in text.body and text.number == INES]
            assert bilge[:1] == [from_rfc3339("2026-03-09T03:01:15Z")]
            assert [body["by"] for body in quay.kinds("clock-stepped")] == [by]
            assert it.told("Reply HAVE IT 2") == {"Ines": 1, "Tobias": 1}
            await it.rules_hold()

    asyncio.run(play())


@pytest.mark.parametrize("by", [3600, -3600])
def test_the_clocks_own_door_goes_on_over_a_step_and_tells_it_once(monkeypatch: pytest.MonkeyPatch, by: int) -> None:
    clock = SystemClock()
    before, wall = clock.now(), time.time_ns
    monkeypatch.setattr(time, "time_ns", lambda: wall() + by * 1_000_000_000)
    assert 0 <= clock.now() - before < 5 * SECOND
    moved = clock.step()
    assert moved is not None
    assert abs(moved - by * SECOND) < SECOND
    assert clock.step() is None


@pytest.mark.parametrize(
    ("begins", "shown"),
    [("2026-03-29T00:40:00Z", "02:1"), ("2026-10-25T00:40:00Z", "01:1")],
    ids=["clocks go forward", "clocks go back"],
)
def test_on_the_nights_when_boat_time_jumps_alarms_and_delays_go_by_what_has_passed(
    tmp_path: Path, begins: str, shown: str
) -> None:
    async def play() -> None:
        start = from_rfc3339(begins)
        async with struck(tmp_path, begins=start) as it:
            quay = it.quay
            await quay.start()
            await quay.play(start + 10 * MINUTE)
            jump = start + 20 * MINUTE  # 01:00 UTC
            await quay.play(
                jump + 40 * MINUTE,
                quay.cue(jump - 7 * SECOND, lambda now: quay.boat.set("bilge-high", True, now)),
                quay.cue(jump + 30 * MINUTE, lambda now: quay.boat.set("co", True, now)),
                quay.cue(jump + 31 * MINUTE, lambda _: quay.writes(TOBIAS, "have it 2")),
            )
            it.raised.append(CO)
            bilge = [text.at for text in quay.carrier.sent if "BILGE" in text.body and text.number == INES]
            assert bilge[0] == jump + 8 * SECOND, "on for 15 s, over the jump"
            alarms = [text.body for text in quay.carrier.sent if "Reply HAVE IT 2" in text.body]
            assert len(alarms) == 2
            assert all(f"since {shown}" in body or f"since {shown[:3]}30" in body for body in alarms), alarms
            await it.rules_hold()

    asyncio.run(play())


def test_a_loop_that_stood_still_for_five_seconds_does_everything_afterwards_and_nothing_twice(tmp_path: Path) -> None:
    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            stalls = []

            def stall(step: str) -> None:
                if step == "committed" and stalls and stalls[0]:
                    stalls[0] = False
                    quay.clock._now += 5 * SECOND  # the loop's own thread is here, so nothing else has run meanwhile

            await quay.start(on_step=stall)
            await quay.play("03:01:30", quay.text("03:01:00", TOBIAS, "deck lights on"))
            stalls.append(True)
            it.raised.append(CO)
            code = quay.code(TOBIAS)
            await quay.play(
                "03:03:00",
                quay.text("03:01:59", TOBIAS, code),
                quay.aboard("03:02:45", "co", True),  # later: nothing is switched while it stands
            )
            await until(lambda: stalls == [False], "it stalled")
            assert it.told() == {"Ines": 1, "Tobias": 1}
            assert quay.obeyed == ["deck-lights on"]
            await it.rules_hold()

    asyncio.run(play())
