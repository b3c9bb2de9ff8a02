"""Every way in which a carrier or a marina's network may answer a text, over and over, and the floods that phones make.

Seen to fail: with polls of the newest 200 texts alone the answer among ten thousand texts of a stranger is never read;
without the hour between two words on strangers the gateway does not come to rest.
"""

import asyncio
import itertools
from pathlib import Path

import pytest

from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.story import INES, RUTH, TOBIAS
from gateway.vocabulary.moments import SECOND
from tests.faults.after import CO, struck

pytestmark = pytest.mark.struck
OFFICE = "the marina"
IMPATIENT = 0.3  # seconds for an answer, instead of ten
REFUSALS = {Misbehaviour.HELD, Misbehaviour.FAILED_AT_ONCE}
"""The carrier's own word that a text does not go: then the next step of the list is due at once."""


@pytest.mark.parametrize("odd", [odd for odd in Misbehaviour if odd not in REFUSALS])
def test_an_alarm_gets_through_a_carrier_that_answers_wrongly_again_and_again(
    tmp_path: Path, odd: Misbehaviour
) -> None:
    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            await quay.start(carrier_timeout=IMPATIENT)
            await quay.play("03:00:45")
            quay.carrier.next_answers.extend([odd] * 3)
            quay.carrier.next_look_answers.extend([None, odd] * 2)
            it.raised.append(CO)
            await quay.play("03:02:55", quay.aboard("03:01:00", "co", True))
            assert it.told() == {"Ines": 1, "Tobias": 1}
            await it.rules_hold()

    asyncio.run(play())


def test_texts_put_off_until_morning_are_withdrawn_and_everyone_else_on_the_list_is_told_at_once(
    tmp_path: Path,
) -> None:
    """Seen to fail: with the put-off text not withdrawn; with it taken as one that goes; with no next person for it."""

    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            await quay.start()
            await quay.play("03:00:45")
            quay.carrier.answers_to |= dict.fromkeys((INES, TOBIAS), Misbehaviour.HELD)
            it.raised.append(CO)
            await quay.play("03:01:30", quay.aboard("03:01:00", "co", True))
            assert it.told("Reply HAVE IT") == {"Ines": 1, "Tobias": 1, OFFICE: 1}
            put_off = [text.status for text in quay.carrier._texts.kept if not text.inbound and text.sent is None]
            assert put_off.count("canceled") == 2, "nobody gets it at breakfast"
            assert len([text for text in quay.to(RUTH) if "NOT taken by the carrier" in text.body]) == 2
            await it.rules_hold()

    asyncio.run(play())


def test_texts_that_fail_at_once_go_a_minute_later_and_the_next_on_the_list_is_told_meanwhile(tmp_path: Path) -> None:
    """Seen to fail: with no second try for "the queue is full"; with no next person for it; with the failed text taken
    as one that goes."""

    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            await quay.start()
            await quay.play("03:00:45")
            quay.carrier.answers_to |= dict.fromkeys((INES, TOBIAS), Misbehaviour.FAILED_AT_ONCE)
            it.raised.append(CO)
            await quay.play("03:01:30", quay.aboard("03:01:00", "co", True))
            assert it.told() == {OFFICE: 1}
            await quay.play("03:02:30")
            assert it.told() == {"Ines": 1, "Tobias": 1, OFFICE: 1}
            await it.rules_hold()

    asyncio.run(play())


def test_an_answer_that_the_carrier_gives_twice_is_one_text_and_one_command(tmp_path: Path) -> None:
    """The carrier lists the same text in every poll, and the person sends the same confirmation twice."""

    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            await quay.start()
            await quay.play("03:01:30", quay.text("03:01:00", TOBIAS, "deck lights on"))
            code = quay.code(TOBIAS)
            twice = [quay.text("03:02:00", TOBIAS, code), quay.text("03:02:00", TOBIAS, code)]
            await quay.play("03:03:00", *twice)
            await quay.crash()
            await quay.start()
            await quay.play("03:04:00")
            assert quay.obeyed == ["deck-lights on"]
            assert len(it.commands) == 1
            await it.rules_hold()

    asyncio.run(play())


def test_ten_thousand_texts_of_a_stranger_drown_no_answer_and_wake_nobody(tmp_path: Path) -> None:
    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            await quay.start()
            it.raised.append(CO)
            await quay.play("03:01:20", quay.aboard("03:01:00", "co", True))
            now = quay.clock.now()
            for n in range(10_000):
                quay.carrier.text_in("+447700900999", f"win a prize {n}", now)
                if n == 5_000:
                    quay.carrier.text_in(TOBIAS, "have it 1", now)
            await quay.play("03:03:00")
            assert sum("alarm 1 is yours" in text.body for text in quay.to(TOBIAS)) == 1
            strangers = [text for text in quay.carrier.sent if "on no list" in text.body]
            assert len(strangers) == 1, "the installer, once"
            assert not quay.to("+447700900999")
            assert len(quay.kinds("text-received")) == 10_001
            assert it.told() == {"Ines": 1, "Tobias": 1}
            await it.rules_hold()

    asyncio.run(play())


def test_two_machines_that_answer_each_other_fall_silent(tmp_path: Path) -> None:
    """A phone that answers every text, and we, who answer texts that we do not understand."""

    async def play() -> None:
        async with struck(tmp_path) as it:
            quay = it.quay
            await quay.start()
            count = itertools.count()
            quay.carrier.on_sent(
                lambda text: (
                    quay.carrier.text_in(text.number, f"I am driving, I will ring you back {next(count)}", text.at)
                    and None
                )
            )
            it.raised.append(CO)
            await quay.play(
                "03:30:00",
                quay.text("03:00:30", INES, "who is this"),
                quay.aboard("03:20:00", "co", True),
                quay.text("03:21:00", TOBIAS, "have it 1"),
            )
            to_ines = [text for text in quay.to(INES) if text.at < quay.clock.now() - 600 * SECOND]
            assert len(to_ines) <= 4, "at most 4 answers in 10 min to texts that are not understood"
            assert it.told()["Ines"] == 1, "and alarms are not held back by it"
            await it.rules_hold()

    asyncio.run(play())
