"""The settings that the starter gives for mosquitto, run for real: who may write and hear what, and the bridge from
boat to shore. Only paths, ports and the password are replaced."""

import asyncio
import os
import re
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from gateway.demo.broker import EmbeddedBroker, mosquitto_program
from gateway.doors.bus import MqttBus
from gateway.installation.starter import starter
from tests.doors.brokers import HURRIED, KINDS, Outsider, ear, settings, until
from tests.doors.secured import CA, CERTIFICATES

EXAMPLES = starter() / "mosquitto"
PASSWORDS = {"gateway": "quay side", "grey-wagtail": "reed bed", "salt-harrier": "salt marsh"}
GATEWAY = "heavingline-quay"
IN_TIME = "before the fence behind it"

pytestmark = pytest.mark.skipif("mosquitto" not in KINDS, reason="the runner has asked for tests without mosquitto")


class Example(EmbeddedBroker):
    """mosquitto with one of the example files, its paths and ports replaced."""

    def __init__(self, name: str, folder: Path, replaced: dict[str, str]) -> None:
        super().__init__("mosquitto")
        self._lines, self._where = (EXAMPLES / name).read_text(encoding="utf-8"), folder / name
        self._data = folder / f"{name}-data"
        self._data.mkdir()
        for old, new in replaced.items():
            assert old in self._lines, f"{name} does not hold {old}"
            self._lines = self._lines.replace(old, new)

    def _command(self, _folder: Path, ports: tuple[int, int]) -> list[str]:
        lines = re.sub(r"^listener \d+", f"listener {ports[0]} 127.0.0.1", self._lines, flags=re.MULTILINE)
        lines = lines.replace("/var/lib/mosquitto/", f"{self._data}/")
        if os.getuid() == 0:
            lines += "user root\n"
        self._where.write_text(lines, encoding="utf-8")
        program = mosquitto_program()
        assert program is not None
        return [program, "-c", str(self._where)]


class User(Outsider):
    """An independent client at the shore broker, by name. A clean session, a client id of the broker's choice."""

    def __init__(self, broker: EmbeddedBroker, name: str, hears: str | None = None, version: int = 5) -> None:
        super().__init__(broker.port, version, hears)
        self._client.tls_set(ca_certs=CA)
        self._client.username_pw_set(name, PASSWORDS[name])


@pytest.fixture
def shore(tmp_path: Path) -> Iterator[Example]:
    passwords = tmp_path / "passwords"
    passwords.touch()
    for name, password in PASSWORDS.items():
        subprocess.run(["mosquitto_passwd", "-b", str(passwords), name, password], check=True, capture_output=True)
    replaced = {
        "/etc/mosquitto/certs/shore.pem": str(CERTIFICATES / "broker.pem"),
        "/etc/mosquitto/certs/shore.key": str(CERTIFICATES / "broker.key"),
        "/etc/mosquitto/passwords": str(passwords),
        "/etc/mosquitto/acl": str(EXAMPLES / "acl.example"),
    }
    with Example("shore.conf", tmp_path, replaced) as broker:
        yield broker


def keys(name: str) -> dict[str, object]:
    return {"user": name, "password": PASSWORDS[name], "ca_file": CA}


async def came(hearer: User, sender: User, topic: str, payload: str, fence: str) -> bool:
    """Whether what this one writes comes to that one, before a message that may come and was written behind it."""
    await asyncio.to_thread(sender.publish, topic, payload)  # the broker takes it, whatever becomes of it
    mark = f"{payload} {IN_TIME}"
    await asyncio.to_thread(sender.publish, fence, mark)
    await until(lambda: mark in hearer.saw(fence))
    return payload in hearer.saw(topic)


@pytest.mark.parametrize("version", [5, 3])
def test_a_boat_is_heard_below_her_own_name_and_dropped_without_a_word_everywhere_else(
    shore: Example, version: int
) -> None:
    async def run() -> None:
        with User(shore, "gateway", "#", version) as gateway, User(shore, "grey-wagtail", version=version) as boat:
            fence = "grey-wagtail/link/fence"
            assert await came(gateway, boat, "grey-wagtail/bilge/high", "water", fence)
            for topic in (
                "salt-harrier/bilge/high",  # another boat's prefix
                "grey-wagtail/command/generator",  # a command to herself
                "salt-harrier/command/generator",
                f"heavingline/{GATEWAY}/presence",  # the gateway's own
                "grey-wagtail2/bilge/high",  # a name that begins like hers
                "bilge/high",
            ):
                assert not await came(gateway, boat, topic, f"forbidden on {topic}", fence), topic

    asyncio.run(run())


def test_a_boat_hears_her_own_commands_and_nothing_else_whatever_she_asks_for(shore: Example) -> None:
    async def run() -> None:
        with (
            User(shore, "grey-wagtail", "#") as boat,
            User(shore, "salt-harrier") as other,
            User(shore, "gateway") as gateway,
        ):
            other.publish("salt-harrier/bilge/high", "water")
            gateway.publish("salt-harrier/command/generator", "start")
            boat.publish("grey-wagtail/bilge/high", "dry")
            gateway.publish("grey-wagtail/command/generator", "start")
            await until(lambda: bool(boat.heard))
            gateway.publish("grey-wagtail/command/fence", "end")
            await until(lambda: boat.saw("grey-wagtail/command/fence") == ["end"])
            heard = [(message.topic, message.payload) for message in boat.heard]
            assert heard == [("grey-wagtail/command/generator", b"start"), ("grey-wagtail/command/fence", b"end")]

    asyncio.run(run())


@pytest.mark.parametrize("version", [5, 3])
def test_the_gateways_door_hears_every_boat_commands_them_and_says_nothing_in_their_name(
    shore: Example, version: int
) -> None:
    async def run() -> None:
        topics = ["grey-wagtail/bilge/high", "salt-harrier/bilge/high", f"heavingline/{GATEWAY}/presence"]
        with User(shore, "grey-wagtail", "grey-wagtail/command/#") as boat, User(shore, "salt-harrier") as other:
            async with ear(shore.port, topics, client_id=GATEWAY, version=version, **keys("gateway")) as one:
                boat.publish(topics[0], "water")
                other.publish(topics[1], "water")
                await one.hear(3)
                assert sorted(m.topic or "" for m in one.messages) == sorted(topics)  # its own presence among them
                assert await one.bus.publish("grey-wagtail/command/generator", "start", retain=False, expires_after=5)
                await until(lambda: boat.saw("grey-wagtail/command/generator") == ["start"])
                # In a boat's name: the broker drops it, and says so to MQTT 5 only. Else it is found by reading back.
                taken = await one.bus.publish(topics[0], "forged", retain=False, expires_after=None)
                assert taken is (version == 3)
                assert await one.bus.publish(topics[2], "read back", retain=True, expires_after=None)
                await until(lambda: "read back" in one.payloads)
                assert "forged" not in one.payloads

    asyncio.run(run())


def test_nobody_comes_in_without_a_name_and_its_password(shore: Example) -> None:
    async def run() -> None:
        for wrong in ({}, {"user": "gateway", "password": "wrong"}, {"user": "little-stint", "password": "reed bed"}):
            async with ear(shore.port, ["#"], client_id="gw", wait=False, ca_file=CA, **wrong) as one:
                assert "Not authorized" in (await one.told(up=False)).detail

    asyncio.run(run())


# ---------------------------------------------------------------- the bridge


@pytest.fixture(params=["mqttv50", "mqttv311"])
def aboard(request: pytest.FixtureRequest, tmp_path: Path, shore: Example) -> Iterator[Example]:
    """The boat's broker. With 3.1.1 what the shore broker keeps for the bridge outlives an outage ashore, so that no
    command may wait in it."""
    replaced = {
        "bridge_protocol_version mqttv50": f"bridge_protocol_version {request.param}",
        "shore.example.org:8883": f"127.0.0.1:{shore.port}",
        "/etc/mosquitto/certs/shore-ca.pem": CA,
        "replace-this": PASSWORDS["grey-wagtail"],
        "restart_timeout 2 30": "restart_timeout 1",
    }
    with Example("boat.conf", tmp_path, replaced) as broker:
        yield broker


async def bridged(hearer: User) -> None:
    """Wait until the bridge says ashore that it stands."""
    await until(lambda: hearer.saw("grey-wagtail/link/bridge")[-1:] == ["1"])


def test_what_a_node_says_aboard_is_heard_ashore_and_what_is_not_named_stays_aboard(
    shore: Example, aboard: Example
) -> None:
    async def run() -> None:
        with User(shore, "gateway", "#") as gateway, Outsider(aboard.port) as node:
            await bridged(gateway)
            for topic in ("bilge/high", "dc/house", "link/heartbeat", "galley/recipes"):
                node.publish(f"grey-wagtail/{topic}", "1")
            node.publish("grey-wagtail/hatch/main", "end")
            await until(lambda: gateway.saw("grey-wagtail/hatch/main") == ["end"])
            heard = {message.topic for message in gateway.heard if not message.topic.startswith("grey-wagtail/link/b")}
            assert heard == {
                "grey-wagtail/bilge/high",
                "grey-wagtail/dc/house",
                "grey-wagtail/link/heartbeat",
                "grey-wagtail/hatch/main",
            }

    asyncio.run(run())


def test_a_command_goes_aboard_over_the_bridge_and_one_given_while_it_was_down_never_does(
    shore: Example, aboard: Example
) -> None:
    command = "grey-wagtail/command/generator"

    async def run() -> None:
        with User(shore, "gateway", "grey-wagtail/link/#") as gateway:
            # A node for which the broker keeps messages: it would get whatever came aboard while it was away.
            async with ear(aboard.port, [command], client_id="node") as node:
                await bridged(gateway)
                gateway.publish(command, "in time")
                node.bus.acknowledge(await node.hear(1))
                assert await node.bus.publish("fence", "", retain=False, expires_after=None)
                aboard.stop()
                await until(lambda: gateway.saw("grey-wagtail/link/bridge")[-1:] == ["0"])
                gateway.publish(command, "hours ago")
                await node.told(up=False)
                await asyncio.to_thread(aboard.start)
                await bridged(gateway)
                await node.told(up=True, past=1)
                await node.listening()
                gateway.publish(command, "afresh")
                await until(lambda: "afresh" in node.payloads)
                assert node.payloads == ["in time", "afresh"]

    asyncio.run(run())


def test_alarms_of_an_outage_are_kept_aboard_even_over_a_power_cut_and_come_when_the_shore_is_back(
    shore: Example, aboard: Example
) -> None:
    topic = "grey-wagtail/bilge/high"

    async def run() -> None:
        with User(shore, "gateway", "#") as gateway:
            await bridged(gateway)
        shore.kill()
        with Outsider(aboard.port) as node:
            for n in range(10):
                node.publish(topic, str(n))
            node.publish("grey-wagtail/fence", "saved")
        aboard.kill()
        bus = settings(shore.port, client_id=GATEWAY, **keys("gateway"))
        came: list[str] = []

        def woken() -> None:
            came.extend(message.payload.decode() for message in door.take()[0] if message.topic == topic)

        door = MqttBus(bus, woken, patience=HURRIED)
        await door.open([topic])
        await asyncio.to_thread(shore.start)
        await until(lambda: door.is_listening)
        await asyncio.to_thread(aboard.start)
        await until(_has(came, 9))  # the last one or so is the price of a power cut (measured)
        await door.close()
        assert came[:9] == [str(n) for n in range(9)]

    asyncio.run(run())


def _has(came: list[str], least: int) -> Callable[[], bool]:
    return lambda: len(came) >= least
