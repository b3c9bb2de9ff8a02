"""Boats on two brokers in one installation, on the real clock: each is heard and commanded on her own, and the trouble
of one broker is no trouble of the other's."""

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from gateway.demo.broker import EmbeddedBroker, kinds_here
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.doors import chance
from gateway.doors.bus import MqttBus
from gateway.doors.clock import SystemClock
from gateway.doors.faces import BrokerSettings
from gateway.doors.store import open_reader
from gateway.installation.starter import lay_down
from gateway.service.parts import Habits
from gateway.service.running import Service
from gateway.service.starting import Woken, doors_of, open_installation
from gateway.vocabulary.moments import SECOND
from tests.doors.brokers import HURRIED, Ear, Outsider, settings, until
from tests.service.quay import ACCOUNT, OUR_NUMBER, SECRETS, TOKEN, without_consent

TOBIAS, RUTH = "+447700900456", "+447700900789"


@dataclass
class TwoQuays:
    """A service on two brokers. here: GREY WAGTAIL's broker. there: SALT HARRIER's."""

    service: Service
    here: EmbeddedBroker
    there: EmbeddedBroker
    carrier: CarrierStandIn
    store: Path
    clock: SystemClock

    def to(self, number: str, having: str = "") -> list[str]:
        return [text.body for text in self.carrier.sent if text.number == number and having in text.body]

    def writes(self, number: str, body: str) -> None:
        self.carrier.text_in(number, body, self.clock.now())

    async def sends_back(self, wanted: str, behind: str) -> None:
        """Tobias asks for it, and sends the two words back that stand behind GO or PROVE in the answer."""
        self.writes(TOBIAS, wanted)
        await until(lambda: bool(self.to(TOBIAS, f"{behind} ")), lambda: f"{self.to(TOBIAS)}")
        first, second, *_ = self.to(TOBIAS, f"{behind} ")[-1].split(f"{behind} ", 1)[1].replace(",", "").split()
        before = len(self.to(TOBIAS))
        self.writes(TOBIAS, f"{behind} {first} {second}".lower())
        await until(lambda: len(self.to(TOBIAS)) > before or behind == "GO", lambda: f"{self.to(TOBIAS)}")

    def steps(self, link: str) -> list[tuple[bool, str]]:
        """Comings and goings of a link, as they are on disk."""
        with open_reader(self.store) as reader:
            bodies = [w.entry.body for w in reader.written() if w.entry.kind == "link-step"]
        return [(bool(body["up"]), str(body["detail"])) for body in bodies if body["link"] == link]


@asynccontextmanager
async def two_quays(tmp_path: Path) -> AsyncIterator[TwoQuays]:
    folder, clock = tmp_path / "installation", SystemClock()
    with (
        EmbeddedBroker() as here,
        EmbeddedBroker(kinds_here()[-1]) as there,
        CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=clock.now) as carrier,
    ):
        lay_down(folder, boats=("grey-wagtail", "salt-harrier"))
        without_consent(folder)
        boat = folder / "boats" / "salt-harrier" / "boat.toml"
        boat.write_text(boat.read_text(encoding="utf-8").replace('broker = "quay"', 'broker = "mooring"'), "utf-8")
        (folder / "gateway.toml").write_text(
            f"""[broker.quay]
host = "127.0.0.1"
port = {here.port}
client_id = "gw"

[broker.mooring]
host = "127.0.0.1"
port = {there.port_for(3)}
client_id = "gw"
version = 3

[carrier.main]
account = "{ACCOUNT}"
sender = "{OUR_NUMBER}"
base_url = "{carrier.url}"
token_from = {{ variable = "HEAVINGLINE_CARRIER_TOKEN" }}
""",
            encoding="utf-8",
        )
        opened = open_installation(folder, environ=SECRETS, person_id=chance.person_id)
        woken = Woken()
        plan = opened.installation
        doors = doors_of(opened, clock, chance.draw, woken)
        buses = {b.name: MqttBus(BrokerSettings(**asdict(b)), woken, patience=HURRIED) for b in plan.brokers}
        service = woken.service(opened, replace(doors, buses=buses), Habits(quiet_commit=0, poll_every=SECOND // 50))
        running = asyncio.get_running_loop().create_task(service.run())
        try:
            await until(lambda: all(bus.is_listening for bus in buses.values()), lambda: "both brokers hear us")
            yield TwoQuays(service, here, there, carrier, plan.store, clock)
        finally:
            service.stop()
            await running


def test_an_alarm_comes_from_each_boat_by_her_own_broker_and_only_by_that(tmp_path: Path) -> None:
    async def run() -> None:
        async with two_quays(tmp_path) as one:
            with Outsider(one.here.port) as here, Outsider(one.there.port_for(3), 3) as there:
                here.publish("salt-harrier/detector/co", "ON")  # on the wrong broker: nobody's signal there
                here.publish("grey-wagtail/detector/co", "ON")
                await until(lambda: bool(one.to(TOBIAS, "CARBON MONOXIDE")))
                assert all("GREY WAGTAIL" in body for body in one.to(TOBIAS))
                there.publish("salt-harrier/detector/co", "ON")
                await until(lambda: bool(one.to(TOBIAS, "SALT HARRIER")))

    asyncio.run(run())


def test_a_command_goes_to_the_boats_own_broker_and_to_no_other(tmp_path: Path) -> None:
    command = "salt-harrier/command/deck-lights"

    async def run() -> None:
        async with two_quays(tmp_path) as one:
            with (
                Outsider(one.here.port, hears="#") as here,
                Outsider(one.there.port_for(3), 3, hears="salt-harrier/command/#") as there,
            ):
                for contact in ("detector/co", "detector/fire", "detector/gas", "panel/lock-out", "hatch/main"):
                    there.publish(f"salt-harrier/{contact}", "OFF")
                there.publish("salt-harrier/node/deck-lights/state", json.dumps({"running": False, "count": 1}))
                there.publish("salt-harrier/link/heartbeat", "1")
                await until(lambda: "salt-harrier/heartbeat" in one.service.desk.state.seen.latest)
                wanted = "salt harrier deck lights on for 20 min"
                await one.sends_back(wanted, "PROVE")  # by the clock of today the number was proved long ago
                await one.sends_back(wanted, "GO")
                await until(lambda: bool(there.saw(command)), lambda: f"{one.to(TOBIAS)}")
                assert json.loads(there.saw(command)[0])["do"] == "on"
                assert here.saw(command) == []

    asyncio.run(run())


def test_a_broker_that_is_away_is_named_and_the_other_boat_goes_on_being_watched(tmp_path: Path) -> None:
    async def run() -> None:
        async with two_quays(tmp_path) as one:
            one.there.kill()
            await until(lambda: [up for up, _ in one.steps("broker:mooring")][:2] == [True, False])
            with Outsider(one.here.port) as here:
                here.publish("grey-wagtail/detector/co", "ON")
                await until(lambda: bool(one.to(TOBIAS, "GREY WAGTAIL")))
            assert [up for up, _ in one.steps("broker:quay")] == [True]
            await asyncio.to_thread(one.there.start)
            await until(lambda: bool(one.to(RUTH, 'link "broker:mooring"')))  # it came back without its memory
            assert "lost what it had kept" in one.to(RUTH, "mooring")[0]

    asyncio.run(run())


def test_another_client_with_our_id_is_said_in_the_record_and_on_the_topic_of_trouble_of_both_brokers(
    tmp_path: Path,
) -> None:
    async def run() -> None:
        async with two_quays(tmp_path) as one:
            with Outsider(one.here.port, hears="heavingline/gw/trouble") as hearer:
                other = Ear(settings(one.there.port_for(3), client_id="gw", version=3), HURRIED)
                await other.bus.open(["none"])

                def said(words: list[str]) -> bool:
                    return any("give every gateway a client_id of its own" in word for word in words)

                await until(lambda: said([detail for _, detail in one.steps("broker:mooring")]))
                await until(lambda: said(hearer.saw("heavingline/gw/trouble")))
                await other.bus.close()
            assert [up for up, _ in one.steps("broker:quay")] == [True]

    asyncio.run(run())
