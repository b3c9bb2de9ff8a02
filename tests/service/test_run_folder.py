"""`heavingline run` as a process of its own, in real time, on a real broker and the carrier's stand-in."""

import asyncio
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.story import INES, TOBIAS
from gateway.doors.store import open_reader
from gateway.logbook.verify import verify
from tests.doors.brokers import Outsider
from tests.service.quay import ACCOUNT, CLIENT, OUR_NUMBER, SECRETS, TOKEN, WITHIN, lay, moored, until

PRESENCE = f"heavingline/{CLIENT}/presence"


@dataclass
class Shore:
    """Broker and carrier for a gateway that runs in real time."""

    folder: Path
    broker: EmbeddedBroker
    carrier: CarrierStandIn
    outsider: Outsider

    def run(self) -> "subprocess.Popen[str]":
        env = {**os.environ, **SECRETS, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONUNBUFFERED": "1"}
        return subprocess.Popen(
            [sys.executable, "-m", "gateway", "run", str(self.folder)],
            env=env,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    @property
    def is_intact(self) -> bool:
        with open_reader(self.folder / "store") as reader:
            return verify(reader).ok


@pytest.fixture
def shore(tmp_path: Path) -> Iterator[Shore]:
    carrier = CarrierStandIn(
        account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=lambda: time.time_ns() // 1_000_000
    )
    with EmbeddedBroker() as broker, carrier, Outsider(broker.port, hears="heavingline/#") as outsider:
        lay(tmp_path / "installation", broker.port, carrier.url)
        yield Shore(tmp_path / "installation", broker, carrier, outsider)


@contextmanager
def ended(process: "subprocess.Popen[str]") -> Iterator["subprocess.Popen[str]"]:
    try:
        yield process
    finally:
        process.kill()
        process.communicate()


def wait(shore: Shore, what: str, met: Callable[[], bool]) -> None:
    """Until it is so, or a deadline; other threads hear and answer meanwhile."""
    end, pause = time.monotonic() + WITHIN, threading.Event()
    while not met():
        assert time.monotonic() < end, f"not within {WITHIN:g} s: {what}; {[m.topic for m in shore.outsider.heard]}"
        pause.wait(0.002)


@pytest.mark.long
def test_sigterm_stops_it_in_order_and_the_alarm_is_told_before_and_not_again_after(shore: Shore) -> None:
    with ended(shore.run()) as process:
        wait(shore, "the gateway is here", lambda: bool(shore.outsider.saw(PRESENCE)))
        wait(shore, "it hears", lambda: any("carrier:main" in w for w in shore.outsider.saw(trouble())))
        shore.outsider.publish("grey-wagtail/detector/co", "on", retain=True)
        wait(shore, "both are told", lambda: len(shore.carrier.sent) == 2)
        process.send_signal(signal.SIGTERM)
        said, complaints = process.communicate(timeout=WITHIN)
        assert (process.returncode, complaints) == (0, "")
        assert said.splitlines()[-1] == "Stopped in order."
    assert sorted(text.number for text in shore.carrier.sent) == sorted([INES, TOBIAS])
    assert shore.is_intact
    away = shore.outsider.saw(PRESENCE)[-1]
    assert away != shore.outsider.saw(PRESENCE)[0], "it says that it is away"
    with ended(shore.run()) as process:
        wait(shore, "it is here again", lambda: shore.outsider.saw(PRESENCE)[-1] != away)
        wait(shore, "the restart is told", lambda: len(shore.carrier.sent) >= 5)
        process.send_signal(signal.SIGTERM)
        assert process.wait(WITHIN) == 0
    assert sum("CARBON MONOXIDE since" in text.body for text in shore.carrier.sent) == 2
    assert shore.is_intact


def trouble() -> str:
    return f"heavingline/{CLIENT}/trouble"


@pytest.mark.long
def test_wrong_files_start_nothing_and_every_mistake_is_named(shore: Shore) -> None:
    people = shore.folder / "people.toml"
    people.write_text(people.read_text().replace('role = "owner"', 'role = "admiral"'))
    callout = shore.folder / "callout.toml"
    callout.write_text(callout.read_text().replace('"3 min"', '"three minutes"'))
    with ended(shore.run()) as process:
        said, complaints = process.communicate(timeout=WITHIN)
    assert process.returncode == 1
    assert said == ""
    assert "people.toml, line" in complaints
    assert "callout.toml, line" in complaints
    assert complaints.splitlines()[-1] == "Nothing was started."
    assert not (shore.folder / "store").exists()
    assert shore.outsider.heard == []
    assert shore.carrier.calls == ()


@pytest.mark.long
def test_a_second_gateway_on_the_same_store_is_refused_and_the_first_goes_on(shore: Shore) -> None:
    with ended(shore.run()) as first:
        wait(shore, "it hears", lambda: any("carrier:main" in w for w in shore.outsider.saw(trouble())))
        with ended(shore.run()) as second:
            said, complaints = second.communicate(timeout=WITHIN)
        assert second.returncode == 1
        assert "another gateway is running on it" in complaints
        assert "Running" not in said
        shore.outsider.publish("grey-wagtail/detector/co", "on")
        wait(shore, "the first one tells", lambda: len(shore.carrier.sent) == 2)
        first.send_signal(signal.SIGTERM)
        assert first.wait(WITHIN) == 0


@pytest.mark.long
def test_what_may_hurt_somebody_is_named_with_its_caution_at_each_start(shore: Shore) -> None:
    with ended(shore.run()) as process:
        wait(shore, "the gateway is here", lambda: bool(shore.outsider.saw(PRESENCE)))
        process.send_signal(signal.SIGTERM)
        said, _ = process.communicate(timeout=WITHIN)
    assert "  grey-wagtail/generator: CO KILLS. Only if you KNOW nobody is aboard" in said
    assert said.index("CO KILLS") < said.index("Running.")


@pytest.mark.long
def test_run_commands_the_generator_as_well_as_refrigeration_and_lights(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            quay.clock.jump(quay.clock.now() + 6 * 3_600_000)  # 09:00, when the marina permits a generator
            await quay.start()
            await quay.play(
                "09:11:00",
                quay.text("09:01:00", TOBIAS, "visit over"),
                quay.text("09:10:30", TOBIAS, "generator start for 10 min"),
            )
            assert "CO KILLS" in quay.to(TOBIAS)[-1].body
            await quay.play("09:12:30", quay.text("09:11:30", TOBIAS, quay.code(TOBIAS)))
            assert "generator running, 231 V" in quay.to(TOBIAS)[-1].body
            for minute, asks in ((13, "refrigeration off"), (15, "cabin lights on"), (17, "deck lights on")):
                await quay.play(f"09:{minute}:30", quay.text(f"09:{minute}:00", TOBIAS, asks))
                await quay.play(f"09:{minute + 1}:30", quay.text(f"09:{minute + 1}:00", TOBIAS, quay.code(TOBIAS)))
            await quay.play("09:30:00")
            began = ["generator start", "refrigeration off", "cabin-lights on", "deck-lights on"]
            assert quay.obeyed == [*began, "generator stop"]
            assert not quay.boat.generator.is_running

    asyncio.run(play())


def test_a_command_goes_out_with_an_expiry_and_not_retained_and_one_that_lies_retained_moves_nothing(
    tmp_path: Path,
) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            topic = "grey-wagtail/command/deck-lights"
            with Outsider(quay.broker.port, hears=topic) as outsider:
                await quay.start()
                await quay.play("03:01:30", quay.text("03:01:00", TOBIAS, "deck lights on"))
                await quay.play("03:02:30", quay.text("03:02:00", TOBIAS, quay.code(TOBIAS)))
                await until(lambda: bool(outsider.heard), "the command with whoever listens beside the boat")
                (command,) = [message for message in outsider.heard if message.topic == topic]
                assert not command.retain
                assert command.properties is not None
                assert 0 < command.properties.json()["MessageExpiryInterval"] <= 60  # type: ignore[no-untyped-call]
                assert quay.obeyed == ["deck-lights on"]
                with Outsider(quay.broker.port, hears="#") as late:  # it is handed what is kept first
                    late.publish("behind/all/that/is/kept", "x")
                    await until(lambda: bool(late.saw("behind/all/that/is/kept")), "what was kept")
                    assert PRESENCE in {message.topic for message in late.heard if message.retain}
                    assert topic not in {message.topic for message in late.heard}, "the broker has kept no command"
                outsider.publish(topic, bytes(command.payload), retain=True)
            count = quay.boat.nodes["deck-lights"].count
            await quay.boat_connects()
            await quay.play("03:04:00")
            await quay.obey()
            assert quay.obeyed == ["deck-lights on"], "the node takes no command of unknown age"
            assert quay.boat.nodes["deck-lights"].count > count, "and goes on"
            assert quay.report().ok

    asyncio.run(play())
