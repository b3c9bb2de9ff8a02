"""From a register of a real Modbus TCP server over a poller and a real broker to a text, in real time."""

import asyncio
import json
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pymodbus.client import ModbusTcpClient
from pymodbus.server import ModbusTcpServer
from pymodbus.simulator import DataType, SimData, SimDevice

from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.story import TOBIAS
from tests.doors.brokers import Outsider
from tests.service.quay import ACCOUNT, CLIENT, OUR_NUMBER, SECRETS, TOKEN, WITHIN, lay

REGISTER, NOT_AVAILABLE, TENTHS = 7, 0x8000, 10
TOPIC = "grey-wagtail/engine-room"
SIGNALS = """[signal.engine-room]
topic = "{boat}/engine-room"
pointer = "/celsius"
unit = "C"
report_interval = "10 s"
"""
ALARMS = """[alarm.engine-hot]
name = "Engine room hot"
priority = "alarm"
when = "engine-room above 60 C"
clears = "engine-room below 55 C"
callout = "urgent"
means = "Something burns or a hose has gone."
do = "Look from outside first."
"""


@pytest.fixture
def modbus() -> Iterator[ModbusTcpClient]:
    """A server with ten registers, its loop in a thread of its own, and a client at it."""
    loop, ready, found = asyncio.new_event_loop(), threading.Event(), list[ModbusTcpServer]()

    async def serve() -> None:
        device = SimDevice(1, simdata=[SimData(0, count=10, values=0, datatype=DataType.REGISTERS)])
        server = ModbusTcpServer(device, address=("127.0.0.1", 0))
        await server.serve_forever(background=True)
        found.append(server)
        ready.set()

    thread = threading.Thread(target=loop.run_forever)
    thread.start()
    asyncio.run_coroutine_threadsafe(serve(), loop)
    assert ready.wait(WITHIN)
    port = found[0].transport.sockets[0].getsockname()[1]
    client = ModbusTcpClient("127.0.0.1", port=port)
    assert client.connect()
    yield client
    client.close()
    asyncio.run_coroutine_threadsafe(found[0].shutdown(), loop).result(WITHIN)
    loop.call_soon_threadsafe(loop.stop)
    thread.join()
    loop.close()


def poll(modbus: ModbusTcpClient, mqtt: Outsider) -> bool:
    """One round of the poller of the README; False when there was nothing to publish."""
    reply = modbus.read_holding_registers(REGISTER, count=1)
    if reply.isError() or reply.registers[0] == NOT_AVAILABLE:
        return False
    signed = reply.registers[0] - 0x10000 * (reply.registers[0] > 0x7FFF)
    mqtt.publish(TOPIC, json.dumps({"celsius": signed / TENTHS}), qos=1, retain=True)
    return True


def wait(what: str, met: Callable[[], bool]) -> None:
    end, pause = time.monotonic() + WITHIN, threading.Event()
    while not met():
        assert time.monotonic() < end, f"not within {WITHIN:g} s: {what}"
        pause.wait(0.002)


@pytest.mark.long
def test_a_hot_register_wakes_the_caretaker_and_one_that_is_not_available_wakes_nobody(
    tmp_path: Path, modbus: ModbusTcpClient
) -> None:
    carrier = CarrierStandIn(
        account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=lambda: time.time_ns() // 1_000_000
    )
    folder = tmp_path / "installation"
    with EmbeddedBroker() as broker, carrier, Outsider(broker.port, hears="#") as mqtt:
        lay(folder, broker.port, carrier.url)
        (folder / "boats/grey-wagtail/signals.toml").write_text(SIGNALS, encoding="utf-8")
        (folder / "boats/grey-wagtail/alarms.toml").write_text(ALARMS, encoding="utf-8")
        gateway = subprocess.Popen(
            [sys.executable, "-m", "gateway", "run", str(folder)],
            env={**os.environ, **SECRETS, "PYTHONPATH": os.pathsep.join(sys.path)},
            stdout=subprocess.DEVNULL,
        )
        try:
            wait("the gateway is here", lambda: bool(mqtt.saw(f"heavingline/{CLIENT}/presence")))
            wait("it hears", lambda: any("carrier:main" in w for w in mqtt.saw(f"heavingline/{CLIENT}/trouble")))
            written = (600, 0xFF9C, NOT_AVAILABLE, 655)  # at the limit, below zero, none, above it
            published = [poll(modbus, mqtt) for value in written if modbus.write_register(REGISTER, value)]
            wait("it is told", lambda: bool(carrier.sent))
        finally:
            gateway.terminate()
            gateway.wait(WITHIN)
        heard = [json.loads(payload)["celsius"] for payload in mqtt.saw(TOPIC)]
    assert published == [True, True, False, True]
    assert heard == [60.0, -10.0, 65.5]
    told = [each for each in carrier.sent if "engine room hot" in each.body.casefold()]
    assert len(told) == 1, carrier.sent
    text = told[0]
    assert text.number == TOBIAS
    assert "65.5 C" in text.body
    assert "60 C" in text.body
