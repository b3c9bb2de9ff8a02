"""A quay for the tests: a real broker, the carrier's stand-in over HTTP, an installation with its store on disk, the
real service in quick time, and the simulated boat between them. Services come and go on the same store.
"""

import asyncio
import hashlib
import re
from collections import Counter
from collections.abc import AsyncIterator, Callable, Coroutine, Mapping
from contextlib import asynccontextmanager
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Literal

from gateway.demo.boat import DemoBoat, Message
from gateway.demo.boat_link import FENCE_TO_GATEWAY, BoatLink, Received
from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn, SentText
from gateway.demo.director import Cue, Director
from gateway.demo.held_bus import HeldBus
from gateway.demo.quick_clock import QuickClock
from gateway.demo.relay_node import Obeyed
from gateway.doors.bus import MqttBus, Patience
from gateway.doors.carrier import TwilioCarrier
from gateway.doors.faces import BrokerSettings, CarrierSettings, Store
from gateway.doors.store import open_reader
from gateway.installation.starter import lay_down
from gateway.logbook.report import Report
from gateway.logbook.verify import verify
from gateway.service.parts import Habits
from gateway.service.running import Service
from gateway.service.starting import Woken, doors_of, open_installation
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import Happening
from gateway.vocabulary.moments import SECOND, Ms, from_rfc3339

ACCOUNT, TOKEN, OUR_NUMBER = "AC" + "0" * 32, "a token for tests", "+447700900321"
SECRETS = {"HEAVINGLINE_CARRIER_TOKEN": TOKEN}
CLIENT = "heavingline-test"
TROUBLE = f"heavingline/{CLIENT}/trouble"
HURRIED = Patience(first=0.02, longest=0.2, steady=60.0)
POLLED_EVERY = 30 * SECOND
WITHIN = 15.0  # seconds; a deadline, not a wait


async def until(met: Callable[[], bool], what: str) -> None:
    """Let the loop run until it is so; fails at the deadline."""
    try:
        async with asyncio.timeout(WITHIN):
            while not met():
                await asyncio.sleep(0.001)
    except TimeoutError:
        raise AssertionError(f"not within {WITHIN:g} s: {what}") from None


def at(clock: str) -> Ms:
    """An instant of the day on which everything here happens."""
    return from_rfc3339(f"2026-03-09T{clock}Z")


def without_consent(folder: Path) -> None:
    """Nobody has agreed to be texted yet, so that no first text, which goes by day, comes between the alarms."""
    people = folder / "people.toml"
    people.write_text(re.sub(r"(?m)^consent = .*\n", "", people.read_text(encoding="utf-8")), encoding="utf-8")


def lay(folder: Path, port: int, url: str) -> None:
    """The starter, with these links."""
    lay_down(folder, boats=("grey-wagtail",))
    without_consent(folder)
    (folder / "gateway.toml").write_text(
        f"""store = "store"

[broker.quay]
host = "127.0.0.1"
port = {port}
client_id = "{CLIENT}"

[carrier.main]
account = "{ACCOUNT}"
sender = "{OUR_NUMBER}"
base_url = "{url}"
token_from = {{ variable = "HEAVINGLINE_CARRIER_TOKEN" }}
""",
        encoding="utf-8",
    )


@dataclass
class Draws:  # one for all runs, so that no order's id comes again
    """Draws that differ from happening to happening and from run to run of the service."""

    count: Counter[str] = field(default_factory=Counter)

    def draw(self, happening: Happening) -> bytes:
        self.count["draw"] += 1
        return hashlib.sha256(f"{self.count['draw']} {happening!r}".encode()).digest()

    def person_id(self) -> str:
        self.count["person"] += 1
        return hashlib.sha256(f"person {self.count['person']}".encode()).hexdigest()[:24]


@dataclass
class Running:
    """One service that runs."""

    service: Service
    bus: HeldBus
    director: Director
    task: asyncio.Task[None]


class Watch(Director):
    """The demo's director, who also bears with a broker that is away: then no command can be on its way to the boat."""

    async def _commands(self) -> list[Received]:
        if self.bus.is_listening:
            return await super()._commands()
        self.commands_seen = self.bus.published
        return []


class Quay:
    """Used inside `moored`, on the loop's thread."""

    def __init__(self, folder: Path, broker: EmbeddedBroker, carrier: CarrierStandIn, clock: QuickClock) -> None:
        self.folder, self.broker, self.carrier, self.clock = folder, broker, carrier, clock
        self.boat = DemoBoat()
        self.link = BoatLink("127.0.0.1", broker.port)
        self.obeyed: list[str] = []
        self.draws = Draws()
        self.running: Running | None = None
        self.fence = 0
        self.store = folder / "store"

    # ------------------------------------------------------------ the gateway comes and goes

    async def start(
        self,
        *,
        listening: bool = True,
        on_step: Callable[[str], None] = lambda _: None,
        carrier_timeout: float = 5.0,
        wrapped: Callable[[Store], Store] = lambda store: store,
    ) -> Service:
        """A service on this folder. listening: wait until it hears the broker and has taken in what lay there."""
        opened = open_installation(self.folder, environ=SECRETS, person_id=self.draws.person_id, now=self.clock.now)
        plan, woken = opened.installation, Woken()
        doors = doors_of(opened, self.clock, self.draws.draw, woken)
        (broker,) = plan.brokers
        bus = HeldBus(MqttBus(BrokerSettings(**asdict(broker)), woken, patience=HURRIED), FENCE_TO_GATEWAY)
        carriers = {c.name: TwilioCarrier(CarrierSettings(**asdict(c)), timeout=carrier_timeout) for c in plan.carriers}
        doors = replace(doors, buses={broker.name: bus}, carriers=carriers, store=wrapped(opened.store))
        apart: Mapping[str, Callable[[bytes], None]] = {FENCE_TO_GATEWAY: lambda _: None}
        service = woken.service(
            opened, doors, Habits(quiet_commit=0, poll_every=POLLED_EVERY, apart=apart, on_step=on_step)
        )
        task = asyncio.get_running_loop().create_task(service.run())
        director = Watch(service, bus, self.clock, self.boat, self.link, self.carrier, lambda _: None)
        director._fence = self.fence
        director.obeyed = self.obeyed
        self.running, self.store = Running(service, bus, director, task), plan.store
        if listening:
            await self._while_running(self.hear())
        return service

    async def hear(self) -> None:
        """Wait until the gateway hears the broker, and take in what lay there."""
        running = self.now_running
        await until(lambda: running.bus.is_listening, "the gateway did not reach the broker")
        running.director._fence += 1
        await asyncio.to_thread(self.link.publish_fence, running.director._fence)
        await until(self._fence_is_back, "what lay with the broker did not come")
        await running.director._moment(self.clock.now())

    def _fence_is_back(self) -> bool:
        running = self.now_running
        running.bus.look()
        return running.bus.fence_seen >= running.director._fence

    async def stop(self) -> None:
        """End the service in order."""
        running = self._leave()
        running.service.stop()
        await running.task

    async def crashed(self, play: Coroutine[object, object, object]) -> None:
        """Let time go on until the service falls over, as `on_step` made it; it must."""
        running = self.now_running
        playing = asyncio.ensure_future(play)
        await asyncio.wait({running.task, playing}, return_when=asyncio.FIRST_COMPLETED)
        await asyncio.gather(playing, return_exceptions=True)
        assert running.task.done(), "the service was to be struck, and was not"
        await self.crash()

    async def crash(self) -> None:
        """Abandon the service: nothing more is taken, committed, acknowledged or sent."""
        running = self._leave()
        running.task.cancel()
        await asyncio.gather(running.task, return_exceptions=True)

    def _leave(self) -> Running:
        running, self.running = self.now_running, None
        self.fence = running.director._fence
        return running

    @property
    def now_running(self) -> Running:
        assert self.running is not None, "no service runs"
        return self.running

    # ------------------------------------------------------------ links come and go

    async def boat_connects(self) -> None:
        """The boat's link is made, or made anew after the broker was away."""
        await asyncio.to_thread(self.link.close)
        self.link = BoatLink("127.0.0.1", self.broker.port)
        await asyncio.to_thread(self.link.connect)
        if self.running is not None:
            self.running.director.link = self.link

    def carrier_goes(self) -> None:
        """Nobody listens where the carrier was."""
        self.carrier.close()

    def carrier_comes(self) -> None:
        """It listens there again, with an empty memory."""
        port = int(self.carrier.url.rpartition(":")[2])
        self.carrier = CarrierStandIn(
            account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=self.clock.now, port=port
        )
        if self.running is not None:
            self.running.director.carrier = self.carrier

    # ------------------------------------------------------------ time

    async def play(self, until_when: Ms | str, *cues: Cue) -> None:
        """Let time go on up to an instant, with what somebody does meanwhile."""
        end = at(until_when) if isinstance(until_when, str) else until_when
        await self._while_running(self.now_running.director.play(cues, end))
        self.clock.jump(end)

    async def _while_running(self, work: object) -> None:
        """Not longer than the service: when that falls over, its error is ours."""
        running = self.now_running
        playing = asyncio.ensure_future(work)  # type: ignore[call-overload]
        await asyncio.wait({running.task, playing}, return_when=asyncio.FIRST_COMPLETED)
        if not playing.done():
            playing.cancel()
            await asyncio.gather(playing, return_exceptions=True)
            await running.task
        await playing

    async def alone(self, end: Ms) -> None:
        """Time goes on without the gateway: the boat talks to the broker."""
        while self.boat.next_due() <= end:
            when = max(self.boat.next_due(), self.clock.now())
            await self.say(self.boat.due(when))
            self.clock.jump(when)
        self.clock.jump(end)

    async def say(self, messages: list[Message]) -> None:
        await asyncio.to_thread(self.link.publish_and_wait, messages)

    async def obey(self) -> None:
        """Give what has come to the boat to its nodes: for commands that came while no director looked."""
        for command in self.link.commands():
            outcome = self.boat.command(command.topic, command.payload, command.retained, self.clock.now())
            if isinstance(outcome, Obeyed):
                self.obeyed.append(f"{command.topic.rpartition('/')[2]} {outcome.action}")

    # ------------------------------------------------------------ what is seen

    def writes(self, number: str, body: str) -> None:
        """A phone texts the gateway now."""
        self.carrier.text_in(number, body, self.clock.now())

    def cue(self, when: str | Ms, does: Callable[[Ms], object]) -> Cue:
        """Something that somebody does at an instant, or a time of the day."""
        instant = at(when) if isinstance(when, str) else when

        def doing() -> None:
            does(instant)

        return Cue(at=instant, does=doing)

    def text(self, when: str, number: str, body: str | Callable[[], str]) -> Cue:
        return self.cue(when, lambda now: self.carrier.text_in(number, body if isinstance(body, str) else body(), now))

    def aboard(self, when: str, name: str, value: bool | str | float) -> Cue:
        return self.cue(when, lambda now: self.boat.set(name, value, now))

    def to(self, number: str) -> list[SentText]:
        """Texts that the carrier has taken for this phone."""
        return [text for text in self.carrier.sent if text.number == number]

    def bodies(self, having: str = "") -> list[str]:
        """Words of all texts that the carrier has taken."""
        return [text.body for text in self.carrier.sent if having in text.body]

    def code(self, number: str) -> str:
        """The confirmation that the last text with a code asks for."""
        body = next(text.body for text in reversed(self.to(number)) if "GO " in text.body)
        first, second, *_ = body.split("GO ", 1)[1].split()
        return f"go {first} {second}".lower()

    def report(self) -> Report:
        """What a verification of the store says."""
        with open_reader(self.store) as reader:
            return verify(reader)

    def entries(self) -> list[Written]:
        """All entries on disk."""
        with open_reader(self.store) as reader:
            return list(reader.written())

    def kinds(self, kind: str) -> list[Mapping[str, object]]:
        """The bodies of all entries of one kind."""
        return [written.entry.body for written in self.entries() if written.entry.kind == kind]


@asynccontextmanager
async def moored(
    tmp_path: Path,
    *,
    begins: Ms | None = None,
    kind: Literal["any", "mosquitto", "iotcore"] = "any",
    keep: bool = True,
    boat: bool = True,
) -> AsyncIterator[Quay]:
    """A quay with its broker and carrier running and the boat connected; no service yet.

    keep: the broker, when it is mosquitto, keeps its memory over a kill. boat: False, and it is neither connected nor
    heard.
    """
    clock = QuickClock(at("03:00:00") if begins is None else begins)
    with (
        EmbeddedBroker(kind, keep=tmp_path / "broker" if keep and kind == "mosquitto" else None) as broker,
        CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=clock.now) as carrier,
    ):
        lay(tmp_path / "installation", broker.port, carrier.url)
        quay = Quay(tmp_path / "installation", broker, carrier, clock)
        if boat:
            await asyncio.to_thread(quay.link.connect)
        else:
            quay.boat.go_silent(clock.now())
        try:
            yield quay
        finally:
            if quay.running is not None:
                await quay.crash()
            await asyncio.to_thread(quay.link.close)
            quay.carrier.close()
