"""How often a carrier is polled: often while an answer is to be expected, seldom otherwise."""

import asyncio
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.service.pace import ALONE, BESIDE_A_HOOK, FAST_FOR, Pace, pace_of, poll_every
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND
from tests.service import quay as quays
from tests.service.quay import Quay, moored, until

NOW = 1_000 * DAY
TOBIAS = "+447700900456"
MOMENTS = st.none() | st.integers(NOW - 2 * DAY, NOW)


@pytest.mark.parametrize(
    ("last_alarm_text", "waits", "every"),
    [
        (None, False, ALONE.idle),
        (NOW, False, ALONE.fast),
        (NOW - FAST_FOR + 1, False, ALONE.fast),
        (NOW - FAST_FOR, False, ALONE.idle),
        (NOW - DAY, False, ALONE.idle),
        (None, True, ALONE.fast),
        (NOW - DAY, True, ALONE.fast),
    ],
)
def test_it_is_fast_for_a_quarter_of_an_hour_after_an_alarm_text_and_while_something_waits(
    last_alarm_text: int | None, waits: bool, every: int
) -> None:
    assert poll_every(ALONE, now=NOW, last_alarm_text=last_alarm_text, waits=waits) == every


def test_the_usual_paces_are_those_of_a_metered_link_and_of_one_beside_a_hook() -> None:
    assert pace_of(None, None, hook=False) == Pace(idle=2 * MINUTE, fast=15 * SECOND)
    assert pace_of(None, None, hook=True) == Pace(idle=10 * MINUTE, fast=2 * MINUTE)


def test_a_command_lost_by_the_hook_is_found_young_enough() -> None:
    assert BESIDE_A_HOOK.fast < 5 * MINUTE  # the oldest text that may command


@given(st.none() | st.integers(SECOND, HOUR), st.none() | st.integers(SECOND, HOUR), st.booleans())
def test_fast_is_never_slower_than_idle_whatever_the_installer_leaves_out(
    idle: int | None, fast: int | None, hook: bool
) -> None:
    pace = pace_of(idle, fast, hook=hook)
    assert pace.fast <= pace.idle
    if idle is not None:
        assert pace.idle == idle
    if fast is not None and fast <= pace.idle:
        assert pace.fast == fast


@given(MOMENTS, st.booleans(), st.integers(0, DAY))
def test_time_going_by_only_ever_slows_it_down(last: int | None, waits: bool, later: int) -> None:
    before = poll_every(ALONE, now=NOW, last_alarm_text=last, waits=waits)
    after = poll_every(ALONE, now=NOW + later, last_alarm_text=last, waits=waits)
    assert before <= after


# ---------------------------------------------------------------- through the service


def polls(quay: Quay) -> int:
    """Lists asked for; a look at one text is no poll."""
    return sum(call.method == "GET" and call.path.endswith("/Messages.json") for call in quay.carrier.calls)


async def polls_until(quay: Quay, when: str) -> int:
    """Polls from now to that time of the day."""
    before = polls(quay)
    await quay.play(when)
    return polls(quay) - before


def test_an_alarm_text_hastens_a_poll_that_was_still_far_off_and_the_hurry_ends(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The boat is silent from the start; that is told 10 min later, and again 30 min after that (see the starter).
    monkeypatch.setattr(quays, "POLLED_EVERY", None)

    async def run() -> None:
        async with moored(tmp_path, boat=False) as quay:
            await quay.boat_connects()
            await quay.start()
            assert await polls_until(quay, "03:09:59") == 4
            assert quay.bodies("boat silent") == []
            await quay.play("03:10:01")
            told = quay.bodies("boat silent")
            assert told
            assert await polls_until(quay, "03:15:01") == 20
            assert await polls_until(quay, "03:25:01") == 40
            assert await polls_until(quay, "03:39:01") == 7
            assert quay.bodies("boat silent") == told

    asyncio.run(run())


@pytest.mark.long
def test_an_open_code_keeps_it_fast_until_it_has_expired(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(quays, "POLLED_EVERY", None)

    async def run() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:04:30")  # it must have been on for 3 min
            quay.writes(TOBIAS, "refrigeration off")
            await quay.play("03:06:30")
            assert "GO " in quay.to(TOBIAS)[-1].body
            assert await polls_until(quay, "03:09:00") == 10
            await quay.play("03:30:00")
            assert await polls_until(quay, "03:40:00") == 5

    asyncio.run(run())


def test_an_installation_may_set_its_own_pace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(quays, "POLLED_EVERY", None)

    async def run() -> None:
        async with moored(tmp_path, boat=False) as quay:
            with (quay.folder / "gateway.toml").open("a", encoding="utf-8") as file:
                file.write('\n[carrier.main.poll]\nidle = "30 s"\nfast = "10 s"\n')
            await quay.boat_connects()
            await quay.start()
            await until(lambda: polls(quay) == 1, "no first poll")
            assert await polls_until(quay, "03:05:00") == 10
            await quay.play("03:10:01")
            assert await polls_until(quay, "03:11:01") == 6

    asyncio.run(run())
