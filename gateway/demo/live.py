"""The demo at the pace of the clock: the same broker, carrier's stand-in, boat and service, moved by what is typed.

One line is done with before the next is taken, so that lines may also come from a file or a pipe: the text has been
fetched and answered, or what the boat said has been taken in. What has a delay of its own is not waited for.
"""

import asyncio
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from zoneinfo import ZoneInfo

from gateway.demo.boat import DemoBoat
from gateway.demo.boat_link import BoatLink
from gateway.demo.broker import HOST, EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn, SentText
from gateway.demo.director import NeverStill
from gateway.demo.live_words import (
    LinkBreaks,
    LinkMended,
    Moves,
    Quits,
    Typed,
    Unclear,
    WantsHelp,
    Writes,
    help_lines,
    typed,
)
from gateway.demo.performance import ACCOUNT, OUR_NUMBER, TOKEN, links
from gateway.demo.phones import Phones
from gateway.demo.relay_node import Obeyed
from gateway.demo.story import NAMES, STRANGER
from gateway.doors import chance
from gateway.doors.bus import MqttBus
from gateway.doors.clock import SystemClock
from gateway.doors.store import open_reader
from gateway.installation.starter import lay_down
from gateway.logbook.report import sentences
from gateway.logbook.verify import verify
from gateway.service.parts import Habits
from gateway.service.running import Service
from gateway.service.starting import Woken, doors_of, open_installation
from gateway.vocabulary.happenings import Happening, TextCame
from gateway.vocabulary.moments import SECOND, Ms

POLL_EVERY: Ms = SECOND // 2
"""Between two polls of the stand-in: nobody pays for them, and whoever types does not want to wait (our choice)."""

STILL_FOR = 0.2
"""Seconds for which nothing may move before a line counts as done with; loopback takes some ms (our choice)."""

DONE_WITHIN = 5.0
"""Seconds after which the next line is taken all the same (our choice: then something is being waited for)."""

READY_WITHIN = 20.0
"""Seconds that the start may take (our choice: on loopback it takes less than one)."""

LOOK_EVERY = 0.02  # seconds between two looks; our choice

Lines = asyncio.Queue[str | None]
"""What was typed, line by line; None when nothing more will be."""


@dataclass(slots=True)
class Stage:
    """Broker and carrier's stand-in, up and waiting."""

    show: Callable[[str], None]
    folder: Path
    clock: SystemClock
    broker: EmbeddedBroker
    carrier: CarrierStandIn

    async def play(self, lines: Lines) -> bool:
        """Run until `quit`, or until no more lines come and all is done with. Whether the logbook verifies."""
        boat_time = ZoneInfo("Europe/London")
        phones = Phones(self.carrier, NAMES, boat_time, self.show)
        playing = Playing(self, phones)
        await playing.run(lines)
        with open_reader(playing.store) as reader:
            report = verify(reader)
        self.show("Logbook: every chain is unbroken." if report.ok else "\n".join(sentences(report)))
        return report.ok


@contextmanager
def stage(show: Callable[[str], None], folder: Path) -> Iterator[Stage]:
    """Set the stage in an empty or missing folder. show: prints a line. Raises BrokerMissing, FolderTaken, OSError."""
    with ExitStack() as closing:
        clock = SystemClock()
        broker = closing.enter_context(EmbeddedBroker())
        carrier = closing.enter_context(
            CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=clock.now)
        )
        lay_down(folder, boats=("grey-wagtail",))
        (folder / "gateway.toml").write_text(links(broker.port, carrier.url), encoding="utf-8")
        show(f"The demo, live. Broker: {broker.kind}, on loopback. Nothing leaves this machine.")
        yield Stage(show, folder, clock, broker, carrier)


@dataclass(slots=True)
class Playing:
    """One live run. Everything is done on the loop's thread but what blocks."""

    stage: Stage
    phones: Phones
    people: Mapping[str, str] = field(default_factory=dict)
    store: Path = Path()
    _boat: DemoBoat = field(default_factory=DemoBoat)
    _heard: asyncio.Event = field(default_factory=asyncio.Event)
    _stir: asyncio.Event = field(default_factory=asyncio.Event)
    _says: bool = True
    _written: int = 0
    _fetched: int = 0

    async def run(self, lines: Lines) -> None:
        """Start the service and the boat, do what is typed, stop both in order."""
        environ = {"HEAVINGLINE_CARRIER_TOKEN": TOKEN}
        opened = open_installation(self.stage.folder, environ=environ, person_id=chance.person_id)
        bundle = opened.installation.bundle
        self.store = opened.installation.store
        self.people = {person.key: person.number for person in bundle.people.values()} | {"stranger": STRANGER}
        buses: list[MqttBus] = []

        def kept(bus: MqttBus) -> MqttBus:
            buses.append(bus)
            return bus

        woken = Woken()
        doors = doors_of(opened, self.stage.clock, self._draw, woken, wrapped=kept)
        service = woken.service(opened, doors, Habits(poll_every=POLL_EVERY))
        loop = asyncio.get_running_loop()

        def text_went_out(_: SentText) -> None:
            loop.call_soon_threadsafe(self._print)

        def command_came() -> None:
            loop.call_soon_threadsafe(self._stir.set)

        self.stage.carrier.on_sent(text_went_out)
        running = loop.create_task(service.run())
        link = BoatLink(HOST, self.stage.broker.port, woken=command_came)
        await asyncio.to_thread(link.connect)
        sailing = loop.create_task(self._sail(link))
        typing = loop.create_task(self._do_lines(lines, service, buses))
        try:
            done, _ = await asyncio.wait({running, sailing, typing}, return_when=asyncio.FIRST_COMPLETED)
            for ended in done:
                ended.result()  # whatever fell over is told as it fell
        finally:
            service.stop()
            for task in (sailing, typing):
                task.cancel()
            await asyncio.gather(running, sailing, typing, return_exceptions=True)
            await asyncio.to_thread(link.close)

    def _draw(self, happening: Happening) -> bytes:
        self._fetched += isinstance(happening, TextCame)
        return chance.draw(happening)

    def _print(self) -> None:
        self.phones.moment_over(self.stage.clock.now())

    # ------------------------------------------------------------ the boat

    async def _sail(self, link: BoatLink) -> None:
        """Have the boat say what it has to say, when it has to, and obey what reaches it. It begins when the gateway
        listens: what it says only once in 30 s should not be lost at the start."""
        await self._heard.wait()
        while True:
            self._stir.clear()
            now = self.stage.clock.now()
            for command in link.commands():
                outcome = self._boat.command(command.topic, command.payload, command.retained, now)
                if isinstance(outcome, Obeyed):
                    self.phones.happens(f"{command.topic.rpartition('/')[2]} node obeys: {outcome.action}", now)
                    self._print()
            if messages := self._boat.due(now):
                await asyncio.to_thread(link.publish_and_wait, messages)
            self._says = self._stir.is_set()
            pause = max(0, self._boat.next_due() - self.stage.clock.now()) / SECOND
            alarm_clock = asyncio.get_running_loop().call_later(pause, self._stir.set)
            await self._stir.wait()  # not wait_for: in Python 3.11 that may swallow the end of this task (seen)
            alarm_clock.cancel()

    # ------------------------------------------------------------ what is typed

    async def _do_lines(self, lines: Lines, service: Service, buses: list[MqttBus]) -> None:
        await self._ready(service, buses)
        self._heard.set()
        await self._done_with(service)
        self._do(WantsHelp())
        while (line := await lines.get()) is not None:
            if not line.strip():
                continue
            wanted = typed(line, self.people)
            if isinstance(wanted, Quits):
                return
            self._do(wanted)
            await self._done_with(service)

    def _do(self, wanted: Typed) -> None:
        now = self.stage.clock.now()
        match wanted:
            case Writes(number=number, body=body):
                self.phones.writes(number, body, now)
                self._written += 1
            case Moves(name=name, value=value):
                shown = ("on" if value else "off") if isinstance(value, bool) else value
                self.phones.happens(f"{name} {shown}", now)
                self._boat.set(name, value, now)
            case LinkBreaks():
                self.phones.happens("the link to the boat breaks", now)
                self._boat.go_silent(now)
            case LinkMended():
                self.phones.happens("the boat's link is back", now)
                self._boat.come_back(now)
            case WantsHelp():
                for each in help_lines(self.people):
                    self.stage.show(each)
            case Unclear(why=why):
                self.stage.show(f"{why}.")
            case Quits():
                return
        self._says = not isinstance(wanted, Writes | WantsHelp | Unclear)
        self._stir.set()
        self._print()

    async def _ready(self, service: Service, buses: list[MqttBus]) -> None:
        """Wait until the gateway hears broker and carrier: what is texted before the first answer is passed over."""
        carriers = [f"carrier:{boat.carrier}" for boat in service.desk.bundle.boats.values()]

        def ready() -> bool:
            known = [service.desk.state.links.get(link) for link in carriers]
            return (
                all(bus.is_listening for bus in buses)
                and all(link is not None and link.up_since is not None for link in known)
                and service.is_still
            )

        if not await self._until(ready, READY_WITHIN):
            raise NeverStill("the gateway did not reach broker and carrier")

    async def _done_with(self, service: Service) -> None:
        """Wait until what the last line led to at once is over."""
        await self._until(
            lambda: (
                self._fetched >= self._written and not self._says and service.is_still and self.stage.carrier.quiet()
            ),
            DONE_WITHIN,
        )

    async def _until(self, met: Callable[[], bool], within: float) -> bool:
        """Wait until it has been met for as long as counts as stillness; False when that took too long."""
        loop = asyncio.get_running_loop()
        end, since = loop.time() + within, loop.time()
        while loop.time() < end:
            if not met():
                since = loop.time()
            elif loop.time() - since >= STILL_FOR:
                return True
            await asyncio.sleep(LOOK_EVERY)
        return False
