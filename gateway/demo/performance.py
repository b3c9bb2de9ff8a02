"""The demo from end to end: a real broker, a carrier's stand-in over HTTP, the real service, a boat between them."""

import asyncio
import hashlib
import hmac
from collections import Counter
from collections.abc import Callable, Coroutine
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from zoneinfo import ZoneInfo

from gateway.demo.boat import DemoBoat
from gateway.demo.boat_link import FENCE_TO_GATEWAY, BoatLink
from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.director import Director
from gateway.demo.held_bus import HeldBus
from gateway.demo.phones import Phones
from gateway.demo.quick_clock import QuickClock
from gateway.demo.story import BEGIN, END, NAMES, story
from gateway.doors.bus import MqttBus
from gateway.doors.store import open_reader
from gateway.installation.starter import lay_down
from gateway.logbook.report import Report, sentences
from gateway.logbook.verify import verify
from gateway.service.parts import Habits
from gateway.service.starting import Woken, doors_of, open_installation
from gateway.vocabulary.happenings import Happening
from gateway.vocabulary.moments import SECOND

ACCOUNT, TOKEN, OUR_NUMBER = "AC" + "0" * 32, "demo-token", "+447700900321"
SEED = b"heavingline demo"
"""The demo draws from a fixed seed, so that two runs print the same. `run` has no such switch."""


@dataclass(slots=True)
class FixedChance:
    """Draws that depend on nothing but the seed, the moment and what happened."""

    clock: QuickClock
    _counts: Counter[str] = field(default_factory=Counter)

    def draw(self, happening: Happening) -> bytes:
        """32 bytes for one happening."""
        use = f"{self.clock.now()} {happening!r}"
        self._counts[use] += 1
        return hmac.new(SEED, f"{use} {self._counts[use]}".encode(), hashlib.sha256).digest()

    def person_id(self) -> str:
        """An id for the next person."""
        self._counts["person"] += 1
        return hmac.new(SEED, f"person {self._counts['person']}".encode(), hashlib.sha256).hexdigest()[:24]


def perform(show: Callable[[str], None], folder: Path) -> bool:
    """Play the demo. show: prints a line. folder: empty or missing; installation and store are laid in it.

    True when the logbook verifies and the boat was commanded exactly as it should have been. Raises BrokerMissing.
    """
    with ExitStack() as closing:
        clock = QuickClock(BEGIN)
        broker = closing.enter_context(EmbeddedBroker())
        carrier = closing.enter_context(
            CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=clock.now)
        )
        lay_down(folder, boats=("grey-wagtail",))
        (folder / "gateway.toml").write_text(links(broker.port, carrier.url), encoding="utf-8")
        show(f"The demo: 9 March 2026, boat time. Broker: {broker.kind}, on loopback. Nothing leaves this machine.")
        show("")
        return asyncio.run(_perform(show, folder, clock, broker.port, carrier))


async def _perform(
    show: Callable[[str], None], folder: Path, clock: QuickClock, port: int, carrier: CarrierStandIn
) -> bool:
    chance = FixedChance(clock)
    environ = {"HEAVINGLINE_CARRIER_TOKEN": TOKEN}
    opened = open_installation(folder, environ=environ, person_id=chance.person_id)
    held: list[HeldBus] = []

    def hold(bus: MqttBus) -> HeldBus:
        held.append(HeldBus(bus, FENCE_TO_GATEWAY))
        return held[-1]

    woken = Woken()
    doors = doors_of(opened, clock, chance.draw, woken, wrapped=hold)
    habits = Habits(quiet_commit=0, poll_every=30 * SECOND, apart={FENCE_TO_GATEWAY: lambda _: None})
    service = woken.service(opened, doors, habits)
    boat = DemoBoat()
    phones = Phones(carrier, NAMES, ZoneInfo("Europe/London"), show)
    running = asyncio.get_running_loop().create_task(service.run())
    link = await asyncio.to_thread(BoatLink("127.0.0.1", port).connect)
    director = Director(service, held[0], clock, boat, link, carrier, phones.moment_over)
    try:
        await _unless_ended(running, director.until_listening())
        await _unless_ended(running, director.play(story(boat, phones), END))
    finally:
        service.stop()
        await asyncio.wait({running})
        await asyncio.to_thread(link.close)
    await running  # a service that could not end in order is a demo that failed
    return _judged(show, opened.installation.store, director.obeyed)


async def _unless_ended(running: asyncio.Task[None], play: Coroutine[None, None, None]) -> None:
    """Play on, but not after the service has fallen over: then its error is ours."""
    playing = asyncio.ensure_future(play)
    await asyncio.wait({running, playing}, return_when=asyncio.FIRST_COMPLETED)
    if not playing.done():
        playing.cancel()
        await asyncio.gather(playing, return_exceptions=True)
        await running
    await playing


def _judged(show: Callable[[str], None], store: Path, obeyed: list[str]) -> bool:
    with open_reader(store) as reader:
        report: Report = verify(reader)
    show("")
    show(f"Commands that the boat obeyed: {', '.join(obeyed) or 'none'}.")
    show("Logbook: every chain is unbroken." if report.ok else "\n".join(sentences(report)))
    return report.ok and obeyed == ["generator start", "generator stop"]


def links(port: int, url: str) -> str:
    """gateway.toml for a broker and a carrier's stand-in on loopback: the broker's port, the carrier's address."""
    return f"""# Made for the demo: its own broker and its own pretend carrier, both on loopback.
store = "store"

[broker.quay]
host = "127.0.0.1"
port = {port}
client_id = "heavingline-demo"

[carrier.main]
account = "{ACCOUNT}"
sender = "{OUR_NUMBER}"
base_url = "{url}"
token_from = {{ variable = "HEAVINGLINE_CARRIER_TOKEN" }}
"""
