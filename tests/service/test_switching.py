"""Switching for real, from the text that asks to what was measured: the running service, a real broker, the carrier
over HTTP and the reference relay node, in quick time. What goes wrong here is what goes wrong at boats.
"""

import asyncio
import json
from pathlib import Path
from typing import Literal

import pytest

from gateway.cli.paper_list import paper_of
from gateway.demo.broker import kinds_here
from gateway.demo.generating_set import Phase
from gateway.demo.relay_node import Obeyed
from gateway.demo.story import INES, RUTH, TOBIAS
from gateway.installation.paper_file import PAPER_FILE, written
from gateway.requests.life import ENDS, RequestState
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import MINUTE, Ms, as_utc, rfc3339
from tests.service.quay import Quay, at, moored, until

KEEPING: Literal["any", "mosquitto"] = "mosquitto" if "mosquitto" in kinds_here() else "any"
"""A broker that remembers over its death what it was to deliver: what it might deliver too late."""

MORNING = at("09:00:00")  # within the hours that the marina permits
DIFFERENCES = Path("boats/grey-wagtail/equipment.toml")


class PowerCut(Exception):
    """Stands for the end of the process."""


async def empty(quay: Quay) -> None:
    """The service runs, and somebody has said that nobody is aboard."""
    await quay.start()
    await quay.play("09:01:30", quay.text("09:01:00", TOBIAS, "visit over"))


async def asks(quay: Quay, when: str, number: str, body: str) -> str:
    """What this phone is told within the half minute after it has asked."""
    heard = len(quay.to(number))
    await quay.play(at(when) + MINUTE // 2, quay.text(when, number, body))
    return "\n".join(text.body for text in quay.to(number)[heard:])


def ends(quay: Quay) -> list[str]:
    """How the requests ended, in order."""
    return [str(one["after"]) for one in quay.kinds("request-step") if one["after"] in ENDS]


@pytest.mark.long
def test_a_set_that_does_not_start_is_asked_three_times_and_then_by_nobody_ashore(tmp_path: Path) -> None:
    """Handbook 5.2 and CHK-35: at most three attempts, a rest between them, then a person at the set."""

    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            quay.boat.generator.catches = False
            await empty(quay)
            for minute in (12, 26, 40):
                question = await asks(quay, f"09:{minute}:00", TOBIAS, "generator start for 5 min")
                assert "CO KILLS" in question, question
                await asks(quay, f"09:{minute + 1}:00", TOBIAS, quay.code(TOBIAS))
                assert quay.boat.generator.phase is Phase.SOUNDING
                await quay.play(f"09:{minute + 3}:00")
                assert "no proof that it started" in quay.to(TOBIAS)[-1].body
                assert quay.boat.generator.phase is Phase.GIVEN_UP
                assert "NOT started" in await asks(quay, f"09:{minute + 4}:00", TOBIAS, "generator start for 5 min")
            for hour in ("09:55:00", "10:20:00"):
                refusal = await asks(quay, hour, TOBIAS, "generator start for 5 min")
                assert "3 failed in a row" in refusal, refusal
                assert "at the boat" in refusal
                assert "Reply GO" not in refusal
            assert quay.obeyed.count("generator start") == 3
            assert quay.boat.generator.phase is Phase.STANDING, "each attempt was ended"
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.long
def test_a_set_that_turns_and_delivers_nothing_is_not_told_as_running(tmp_path: Path) -> None:
    """Contact and volts come in one message; 0 V is no proof of a start, whatever the contact says."""

    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            quay.boat.generator.volts = lambda _: 0  # type: ignore[method-assign]  # its breaker is open
            await empty(quay)
            await asks(quay, "09:12:00", TOBIAS, "generator start for 5 min")
            await asks(quay, "09:13:00", TOBIAS, quay.code(TOBIAS))
            await quay.play("09:15:00")
            assert quay.boat.generator.is_running
            assert "no proof that it started" in quay.to(TOBIAS)[-1].body
            assert "it shows on, 0 V" in quay.to(TOBIAS)[-1].body
            assert not quay.bodies("generator running")
            await quay.play("09:25:00")
            assert quay.obeyed == ["generator start", "generator stop"], "its end stays due"

    asyncio.run(play())


@pytest.mark.long
def test_a_stop_is_told_when_the_voltage_is_gone_and_not_while_the_set_cools_down_without_load(tmp_path: Path) -> None:
    """Handbook 5.2 and CHK-42: the set's own controller drops the load and runs it on for 3 to 5 min; then it stops."""

    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            quay.boat.generator.cools = True
            await empty(quay)
            await asks(quay, "09:12:00", TOBIAS, "generator start for 1 h")
            await asks(quay, "09:13:00", TOBIAS, quay.code(TOBIAS))
            await quay.play("09:15:00")
            assert quay.boat.generator.carries_load
            assert "Stops after cool-down, about 5 min." in await asks(quay, "09:16:00", TOBIAS, "generator stop")
            heard = len(quay.to(TOBIAS))
            await quay.play("09:19:55", quay.text("09:17:00", TOBIAS, quay.code(TOBIAS)))
            assert quay.boat.generator.phase is Phase.COOLING, "unloaded at once"
            assert len(quay.to(TOBIAS)) == heard, "and nothing is told before it has stopped"
            await quay.play("09:21:00")
            (told,) = quay.to(TOBIAS)[heard:]
            assert "generator stopped, 0 V" in told.body
            assert quay.obeyed == ["generator start", "generator stop"], "one order, whose steps are the controller's"

    asyncio.run(play())


@pytest.mark.long
def test_a_hatch_that_opens_between_the_question_and_the_code_keeps_the_set_still(tmp_path: Path) -> None:
    """Handbook 5.5, CHK-33: refused at the confirmation, nothing switched, the code used up."""

    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            await empty(quay)
            assert "Reply GO" in await asks(quay, "09:12:00", TOBIAS, "generator start for 5 min")
            await quay.play("09:12:45", quay.aboard("09:12:40", "hatch", True))
            refusal = await asks(quay, "09:13:00", TOBIAS, code := quay.code(TOBIAS))
            assert "generator NOT started" in refusal
            assert "empty" in refusal
            await quay.play("09:13:45", quay.aboard("09:13:40", "hatch", False))
            assert "visit over" in await asks(quay, "09:14:00", TOBIAS, "visit over")
            assert "used already" in await asks(quay, "09:15:00", TOBIAS, code), "also when nothing stands against it"
            assert quay.obeyed == []
            assert ends(quay) == [RequestState.REFUSED]
            assert "Reply GO" in await asks(quay, "09:16:00", TOBIAS, "generator start for 5 min"), "it was the hatch"

    asyncio.run(play())


@pytest.mark.long
def test_a_key_of_the_boats_panel_is_a_sign_of_a_person_and_its_own_button_ends_the_visit(tmp_path: Path) -> None:
    """Handbook 5.1, G2: occupied from the first sign until a named person, or the panel, ends it."""

    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            await empty(quay)
            press = [quay.aboard(f"09:12:0{second}", "panel-in-use", second == 0) for second in (0, 2)]
            await quay.play("09:12:30", *press)
            refusal = await asks(quay, "09:13:00", TOBIAS, "generator start for 5 min")
            assert "generator NOT started" in refusal
            assert "empty" in refusal
            left = [quay.aboard(f"09:14:0{second}", "visit-over", second == 0) for second in (0, 2)]
            await quay.play("09:14:30", *left)
            assert "Reply GO" in await asks(quay, "09:15:00", TOBIAS, "generator start for 5 min")

    asyncio.run(play())


@pytest.mark.long
def test_with_the_broker_gone_when_the_code_comes_nothing_goes_out_then_or_when_it_is_back(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, begins=MORNING, kind=KEEPING) as quay:
            await empty(quay)
            assert "Reply GO" in await asks(quay, "09:12:00", TOBIAS, "generator start for 5 min")
            await asyncio.to_thread(quay.broker.kill)
            await until(lambda: not quay.now_running.bus.is_listening, "the gateway has noticed")
            quay.boat.go_silent(quay.clock.now())
            refusal = await asks(quay, "09:13:00", TOBIAS, quay.code(TOBIAS))
            assert "generator NOT started" in refusal
            assert "Nothing was switched" in refusal
            await back(quay)
            await quay.play("09:20:00")
            assert quay.obeyed == []
            assert ends(quay) == [RequestState.REFUSED]

    asyncio.run(play())


@pytest.mark.long
def test_a_broker_that_dies_as_the_command_goes_out_is_told_and_the_command_is_never_sent_later(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, begins=MORNING, kind=KEEPING) as quay:

            def dies(step: str) -> None:
                if step == "before publish":
                    quay.broker.kill()
                    quay.boat.go_silent(quay.clock.now())

            await quay.start(on_step=dies)
            await quay.play("09:01:30", quay.text("09:01:00", TOBIAS, "visit over"))
            assert "Reply GO" in await asks(quay, "09:12:00", TOBIAS, "generator start for 5 min")
            told = await asks(quay, "09:13:00", TOBIAS, quay.code(TOBIAS))
            await back(quay)
            await quay.play("09:20:00")
            assert "the order could not leave" in told
            assert "not sent again" in told
            assert ends(quay) == [RequestState.NOT_SENT]
            assert quay.obeyed == []
            assert "Reply GO" in await asks(quay, "09:21:00", TOBIAS, "generator start for 5 min"), (
                "it may be asked anew"
            )

    asyncio.run(play())


@pytest.mark.parametrize("step", ["published", "before publish"])
@pytest.mark.long
def test_a_power_cut_between_sent_and_proof_is_told_and_the_start_is_never_sent_again(
    tmp_path: Path, step: str
) -> None:
    """Design 4.2: unproven, told, never sent again; but a stop that is due is carried out. The process that is really
    killed at these steps stands in tests/faults."""

    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            cut: list[str] = []

            def power(at_step: str) -> None:
                if at_step == step and not cut:
                    cut.append(step)
                    if step == "before publish":
                        raise PowerCut
                    quay.now_running.task.cancel()  # it is not in the loop's own task

            await quay.start(on_step=power)
            await quay.play("09:01:30", quay.text("09:01:00", TOBIAS, "visit over"))
            assert "Reply GO" in await asks(quay, "09:12:00", TOBIAS, "generator start for 5 min")
            code = quay.code(TOBIAS)
            await quay.crashed(quay.play("09:13:30", quay.text("09:13:00", TOBIAS, code)))
            await quay.obey()
            await quay.start()
            await quay.play("09:14:00")
            assert "no proof that it started" in quay.to(TOBIAS)[-1].body
            assert "Not sent again" in quay.to(TOBIAS)[-1].body
            assert "used already" in await asks(quay, "09:14:30", TOBIAS, code)
            await quay.play("09:40:00")
            assert quay.obeyed.count("generator start") == (step == "published")
            assert not quay.boat.generator.is_running
            assert ends(quay) == [RequestState.UNPROVEN]
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.parametrize("first", [TOBIAS, INES])
@pytest.mark.long
def test_two_people_who_confirm_opposite_things_at_once_get_one_thing_and_the_other_is_told(
    tmp_path: Path, first: str
) -> None:
    """Handbook G5. Both questions were in order when they were put: somebody switched at the boat in between."""

    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            await empty(quay)
            assert "Reply GO" in await asks(quay, "09:12:00", INES, "refrigeration off")
            await quay.play("09:12:45", quay.cue("09:12:40", lambda now: by_hand(quay, "refrigeration", "off", now)))
            assert "Reply GO" in await asks(quay, "09:19:00", TOBIAS, "refrigeration on")
            codes = {number: quay.code(number) for number in (INES, TOBIAS)}
            second = INES if first == TOBIAS else TOBIAS
            await quay.play("09:21:00", *(quay.text("09:20:00", who, codes[who]) for who in (first, second)))
            assert quay.obeyed == ["refrigeration on"]
            assert "refrigeration NOT switched off" in quay.to(INES)[-1].body
            assert ("n is under way" if first == TOBIAS else "off already") in quay.to(INES)[-1].body
            assert "refrigeration on" in quay.to(TOBIAS)[-1].body
            assert sorted(ends(quay)) == [RequestState.PROVED, RequestState.REFUSED]

    asyncio.run(play())


@pytest.mark.long
def test_where_two_persons_are_asked_for_one_word_alone_starts_nothing(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            differences = quay.folder / DIFFERENCES
            named = '[equipment.generator]\nsecond_persons = { start = ["ines"] }\n'
            differences.write_text(named + differences.read_text(encoding="utf-8"), encoding="utf-8")
            await empty(quay)
            await asks(quay, "09:12:00", TOBIAS, "generator start for 10 min")
            waits = await asks(quay, "09:13:00", TOBIAS, quay.code(TOBIAS))
            assert "Ines must send GO too, by 09:23" in waits
            assert "Tobias asks" in quay.to(INES)[-1].body
            assert "CO KILLS" in quay.to(INES)[-1].body
            await asks(quay, "09:14:00", RUTH, quay.code(INES))  # words are bound to their person
            await quay.crash()
            await quay.start()
            assert quay.obeyed == []
            await asks(quay, "09:15:00", INES, quay.code(INES))
            await quay.play("09:17:00")
            assert quay.obeyed == ["generator start"]
            for number in (TOBIAS, INES):
                assert "generator running, 231 V" in quay.to(number)[-1].body
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.long
def test_where_a_line_from_paper_is_asked_for_the_code_alone_starts_nothing(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            differences = quay.folder / DIFFERENCES
            named = "[equipment.generator]\npaper_line = true\n"
            differences.write_text(named + differences.read_text(encoding="utf-8"), encoding="utf-8")
            await empty(quay)
            assert "You have no paper list" in await asks(quay, "09:12:00", TOBIAS, "generator start for 10 min")
            await quay.stop()
            pairs = [("lantern", "piccolo"), ("salad", "violin")]
            kept = quay.folder / PAPER_FILE
            kept.write_text(written({"tobias": (as_utc(MORNING), paper_of(Draws(bytes(32)), pairs))}), encoding="utf-8")
            kept.chmod(0o600)
            await quay.start()
            asked = await asks(quay, "09:24:00", TOBIAS, "generator start for 10 min")
            assert "CO KILLS" in asked
            assert "list line 1 by" in asked
            code = quay.code(TOBIAS)
            assert "line 1 of your paper list is needed too" in await asks(quay, "09:25:00", TOBIAS, code)
            await quay.crash()
            await quay.start()
            assert quay.obeyed == []
            whole = f"{code} 1 lantern piccolo"
            await asks(quay, "09:26:00", TOBIAS, whole)
            await quay.play("09:28:00")
            assert "generator running, 231 V" in quay.to(TOBIAS)[-1].body
            assert "used already" in await asks(quay, "09:29:00", TOBIAS, whole)
            await quay.play("09:50:00")
            assert quay.obeyed == ["generator start", "generator stop"]
            assert [one["line"] for one in quay.kinds("paper-line-used")] == [1]
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.long
def test_a_new_installation_without_the_set_still_stops_a_run_that_is_on(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, begins=MORNING) as quay:
            await empty(quay)
            await asks(quay, "09:12:00", TOBIAS, "generator start for 10 min")
            await asks(quay, "09:13:00", TOBIAS, quay.code(TOBIAS))
            await quay.play("09:15:00")
            assert quay.boat.generator.is_running
            await quay.stop()
            (quay.folder / DIFFERENCES).write_text('leave_out = ["generator"]\n', encoding="utf-8")
            await quay.start()
            assert "not understood" in await asks(quay, "09:16:00", TOBIAS, "generator stop")
            await quay.play("09:30:00")
            assert quay.obeyed == ["generator start", "generator stop"]
            assert not quay.boat.generator.is_running
            assert "generator stopped at the end of its time" in quay.to(TOBIAS)[-1].body
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


def by_hand(quay: Quay, name: str, does: str, now: Ms) -> None:
    """Somebody switches at the boat: its node has a button, and no gateway hears more of it than the contact."""
    node, minute = quay.boat.nodes[name], rfc3339(now + MINUTE)
    pressed = {"id": f"button {now}", "do": does, "issued_at": rfc3339(now), "valid_until": minute, "seen": node.count}
    outcome = quay.boat.command(f"grey-wagtail/command/{name}", json.dumps(pressed).encode(), retained=False, now=now)
    assert isinstance(outcome, Obeyed)


async def back(quay: Quay) -> None:
    """The broker is there again, with its memory, and the boat is heard."""
    await asyncio.to_thread(quay.broker.start)
    await quay.boat_connects()
    quay.boat.come_back(quay.clock.now())
    await quay.hear()
