"""The real clock: whoever moves the wall clock, the desk is still woken and its time does not move with it."""

import asyncio
import datetime
import time

import apscheduler.schedulers.base  # type: ignore[import-untyped]
import pytest

from gateway.doors import clock
from gateway.doors.clock import SystemClock
from gateway.vocabulary.moments import HOUR, SECOND
from tests.service.quay import until


class Wall:
    """The machine's wall clock, as `time` and as apscheduler read it, set by so many ms; the monotonic one goes on."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.moved = 0
        wall = self

        class Shown(datetime.datetime):
            @classmethod
            def now(cls, tz: datetime.tzinfo | None = None) -> "Shown":
                return cls.fromtimestamp(time.time() + wall.moved / SECOND, tz)

        class Time:
            monotonic_ns = staticmethod(time.monotonic_ns)

            @staticmethod
            def time_ns() -> int:
                return time.time_ns() + wall.moved * 1_000_000

        monkeypatch.setattr(clock, "time", Time)
        monkeypatch.setattr(apscheduler.schedulers.base, "datetime", Shown)


@pytest.mark.parametrize("moved", [HOUR, -HOUR], ids=["forward", "back"])
def test_a_step_of_the_wall_clock_is_told_once_and_does_not_move_our_time(
    moved: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    wall, one = Wall(monkeypatch), SystemClock()
    before = one.now()
    assert one.step() is None
    wall.moved = moved
    told = one.step()
    assert told is not None
    assert abs(told - moved) < SECOND
    assert one.step() is None, "told once"
    assert before <= one.now() < before + SECOND


def test_set_back_an_hour_it_still_wakes_at_the_moment_named_within_a_sweep(monkeypatch: pytest.MonkeyPatch) -> None:
    async def play() -> None:
        monkeypatch.setattr(clock, "SWEEP_SECONDS", 0.05)
        wall, one, woken = Wall(monkeypatch), SystemClock(), []
        one.start(lambda: woken.append(one.now()), None)
        due = one.now() + 200
        one.wake_at(due)
        wall.moved = -HOUR
        try:
            await until(lambda: any(at >= due for at in woken), "nobody was woken when it was due")
            assert one.now() < due + 2 * SECOND
        finally:
            one.close()

    asyncio.run(play())


def test_the_moment_named_last_counts_and_time_goes_on_from_what_was_recorded() -> None:
    async def play() -> None:
        one, woken = SystemClock(), []
        recorded = one.now() + HOUR
        one.start(lambda: woken.append(one.now()), recorded)
        try:
            assert one.now() > recorded, "a wall clock that is behind the record does not turn time back"
            woken.clear()
            first, second = one.now() + 20, one.now() + 120
            one.wake_at(first)
            one.wake_at(second)
            await until(lambda: bool(woken), "nobody was woken")
            assert woken[0] >= second - 1  # a timer's own rounding; who is woken too early sets it anew
            one.wake_at(one.now() - HOUR)
            woken.clear()
            await until(lambda: bool(woken), "what is overdue wakes at once")
            one.wake_at(None)
            woken.clear()
        finally:
            one.close()

    asyncio.run(play())
