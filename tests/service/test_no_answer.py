"""A send without an answer is of unknown outcome: it is looked up before it is repeated, and nobody gets it twice."""

import asyncio
from pathlib import Path

import pytest

from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.story import INES, TOBIAS
from tests.effort import some_of
from tests.service.quay import Quay, at, moored

M = Misbehaviour
UNKNOWN = [
    M.SILENT,
    M.SILENT_AFTER_ACTING,
    M.CUT,
    M.CUT_AFTER_ACTING,
    M.LOGIN_PAGE,
    M.PORTAL_REFUSAL,
    M.ODD_JSON,
    M.SERVER_ERROR,
    M.SERVER_ERROR_AFTER_ACTING,
    M.BAD_GATEWAY,
]
IMPATIENT = 0.3  # seconds for an answer, instead of ten


def steps_for(quay: Quay, number: str) -> list[str]:
    """Sends to this phone, and looks for what went to it, in their order."""
    texts = [call for call in quay.carrier.calls if "/Messages" in call.path]
    return [call.method for call in texts if call.fields and call.fields.get("To") == [number]]


@pytest.mark.parametrize("odd", some_of(UNKNOWN, 5))
def test_each_gets_the_alarm_once_whatever_became_of_the_first_answer(odd: Misbehaviour, tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start(carrier_timeout=IMPATIENT)
            await quay.play("03:00:30")
            quay.carrier.next_answers.extend([odd, odd])
            await quay.play("03:02:30", quay.aboard("03:01:00", "co", True))
            for number in (INES, TOBIAS):
                assert len(quay.to(number)) == 1, quay.bodies()
                sent, looked, *again = steps_for(quay, number)
                assert [sent, looked] == ["POST", "GET"], "looked before anything is repeated"
                acted = odd.endswith("after acting")
                assert again.count("POST") == (0 if acted else 1)
            answered = quay.kinds("text-answered")
            assert [one["accepted"] for one in answered] == [True, True]
            assert all(one["found"] is odd.endswith("after acting") for one in answered)

    asyncio.run(play())


def test_while_it_cannot_be_looked_up_either_it_is_not_repeated(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start(carrier_timeout=IMPATIENT)
            await quay.play("03:00:30")
            quay.carrier.next_answers.extend([M.CUT_AFTER_ACTING] * 2)
            quay.carrier.next_look_answers.extend([M.LOGIN_PAGE] * 8)  # both looks, thrice, and two polls
            await quay.play("03:02:50", quay.aboard("03:01:00", "co", True))
            assert [len(quay.to(number)) for number in (INES, TOBIAS)] == [1, 1]
            assert steps_for(quay, INES).count("POST") == 1
            assert [one["found"] for one in quay.kinds("text-answered")].count(True) == 2, (
                "the calls beside them were answered"
            )

    asyncio.run(play())


def test_a_phone_that_has_opted_out_gets_nothing_and_hastens_the_next_step_of_the_list(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            quay.carrier.text_in(INES, "STOP", quay.clock.now())  # the carrier blocks her number from now on
            await quay.play("03:02:00", quay.aboard("03:01:00", "co", True))
            assert quay.to(INES) == []
            assert all(one["accepted"] for one in quay.kinds("text-answered")), "not even tried: she has asked for it"
            held = [one for one in quay.kinds("held-back") if one["about"] != "welcome"]
            assert [one["unreachable"] for one in held][:1] == [True]
            told = [(text.at, text.number) for text in quay.carrier.sent if "CARBON MONOXIDE since" in text.body]
            assert (at("03:01:00"), TOBIAS) in told

    asyncio.run(play())


def test_too_many_requests_are_tried_again_and_the_text_goes_once(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:00:30")
            quay.carrier.next_answers.extend([M.TOO_MANY, M.TOO_MANY])
            await quay.play("03:02:00", quay.aboard("03:01:00", "co", True))
            assert [len(quay.to(number)) for number in (INES, TOBIAS)] == [1, 1]
            assert [one["accepted"] for one in quay.kinds("text-answered")] == [True, True]

    asyncio.run(play())
