"""The service falls over at each of its steps: alarms are still told, texts and commands never go twice."""

import asyncio
from dataclasses import dataclass
from pathlib import Path

import pytest

from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.carrier_stand_in import SentText
from gateway.demo.story import INES, TOBIAS
from gateway.doors.store import open_reader
from gateway.requests.life import RequestState
from tests.effort import some_of
from tests.service.quay import Quay, moored


class Struck(Exception):
    """Stands for the end of the process."""


@dataclass
class Strike:
    """Ends the service at the next passing of a step, once it is armed."""

    quay: Quay
    step: str
    armed: bool = False

    def arm(self) -> None:
        self.armed = True

    def __call__(self, name: str) -> None:
        if self.armed and name == self.step:
            self.armed = False
            if name in ("carrier answered", "published"):  # not in the loop's own task
                self.quay.now_running.task.cancel()
            else:
                raise Struck(name)


@pytest.mark.parametrize(
    "step", some_of(["before commit", "committed", "carrier answered", "before send", "acknowledged"], 2)
)
def test_an_alarm_is_told_once_to_each_whatever_the_step_at_which_the_gateway_ended(step: str, tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            strike = Strike(quay, step)
            await quay.start(on_step=strike)
            arms = quay.cue("03:01:30", lambda _: strike.arm())
            await quay.crashed(quay.play("03:02:00", arms, quay.aboard("03:01:30", "co", True)))
            await quay.start()
            await quay.play("03:02:30")
            for number in (INES, TOBIAS):
                told = [text for text in quay.to(number) if "CARBON MONOXIDE" in text.body]
                assert len(told) == 1, quay.bodies()
            await quay.stop()
            assert quay.report().ok
            found = [one["found"] for one in quay.kinds("text-answered") if one["accepted"]]
            assert any(found) is (step == "carrier answered"), "looked up, and not sent again"

    asyncio.run(play())


@pytest.mark.parametrize(("step", "obeys"), some_of([("published", ["deck-lights on"]), ("before publish", [])], 2))
def test_a_command_of_an_earlier_run_is_never_sent_again_and_is_told_as_unproven(
    step: str, obeys: list[str], tmp_path: Path
) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            strike = Strike(quay, step)
            await quay.start(on_step=strike)
            await quay.play("03:01:40", quay.text("03:01:00", TOBIAS, "deck lights on"))
            confirm = quay.text("03:02:00", TOBIAS, lambda: quay.code(TOBIAS))
            strike.arm()
            await quay.crashed(quay.play("03:02:30", confirm))
            await quay.obey()
            await quay.start()
            assert "no proof that it went on" in quay.to(TOBIAS)[-1].body
            assert "Not sent again" in quay.to(TOBIAS)[-1].body
            await quay.play("03:05:00")
            assert quay.obeyed == obeys
            ends = [one["after"] for one in quay.kinds("request-step")]
            assert ends[-1] == RequestState.UNPROVEN
            await quay.crash()
            await quay.start()
            await quay.play("03:08:00")
            assert quay.obeyed == obeys, "nor by the run after that"
            await quay.stop()
            with open_reader(quay.store) as reader:
                assert reader.load("").open_commands == [], "and none of them is found waiting for ever"
            assert quay.report().ok

    asyncio.run(play())


def test_a_stop_waits_for_the_answers_that_are_under_way_and_nothing_is_looked_up_afterwards(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            service, loop = await quay.start(), asyncio.get_running_loop()
            await quay.play("03:01:00")
            quay.carrier.next_answers.extend([Misbehaviour.SLOW] * 2)

            def stops(_: SentText) -> None:  # before the answer has come
                loop.call_soon_threadsafe(service.stop)

            quay.carrier.on_sent(stops)
            await quay.crashed(quay.play("03:02:00", quay.aboard("03:01:30", "co", True)))
            sent = [text.message for text in quay.carrier.sent]
            assert sent
            assert [one["message"] for one in quay.kinds("text-answered")] == sent, "what was under way is recorded"
            await quay.start()
            await quay.play("03:02:30")
            assert [len([t for t in quay.to(n) if "CARBON MONOXIDE" in t.body]) for n in (INES, TOBIAS)] == [1, 1]
            assert not any(one["found"] for one in quay.kinds("text-answered"))

    asyncio.run(play())


def test_a_code_that_was_asked_for_before_a_crash_is_good_after_it_and_only_once(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:01:30", quay.text("03:01:00", TOBIAS, "deck lights on"))
            await quay.crash()
            await quay.start()
            confirm = quay.code(TOBIAS)
            await quay.play("03:04:00", *(quay.text(when, TOBIAS, confirm) for when in ("03:02:30", "03:03:30")))
            assert quay.obeyed == ["deck-lights on"]
            assert "used already" in quay.to(TOBIAS)[-1].body

    asyncio.run(play())


def test_texts_that_lay_with_the_carrier_before_the_first_start_ever_are_known_and_nothing_more(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            quay.carrier.text_in(TOBIAS, "status", quay.clock.now() + 90_000)  # by a clock that is ahead of ours
            await quay.start()
            await quay.play("03:02:00")
            assert quay.to(TOBIAS) == []
            await quay.play("03:03:00", quay.text("03:02:30", TOBIAS, "status"))
            assert len(quay.to(TOBIAS)) == 1
            await quay.stop()
            await quay.start()
            await quay.play("03:04:00")
            assert len(quay.to(TOBIAS)) == 1, "neither of them is taken again"

    asyncio.run(play())


def test_a_text_that_came_while_the_gateway_did_not_run_tells_but_does_not_command_when_it_is_old(
    tmp_path: Path,
) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:01:30", quay.aboard("03:01:00", "co", True))
            await quay.stop()
            quay.writes(TOBIAS, "have it")
            quay.writes(INES, "deck lights on")
            await quay.alone(quay.clock.now() + 6 * 60_000)
            await quay.start()
            await quay.play("03:09:00")
            assert any("alarm 1 is yours" in text.body for text in quay.to(TOBIAS))
            assert any("deck lights NOT switched on" in text.body for text in quay.to(INES))
            assert not any("Reply GO" in text.body for text in quay.to(INES))

    asyncio.run(play())
