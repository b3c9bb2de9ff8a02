"""Whatever bytes come, the bus lives: it hands the message on, or ends the connection, says so and comes back."""

import asyncio
import struct

import paho.mqtt.client as mqtt
import pytest

from gateway.doors.bus import MqttBus
from tests.benchmarks.bare_reader import PUBACK
from tests.doors.brokers import HOST, HURRIED, Outsider, ScriptedBroker, ear, raw_connect, raw_publish, settings, until
from tests.doors.conftest import Place

NO_UTF_8 = b"boat/\xff\xfe/alarm"


@pytest.mark.parametrize("version", [5, 3])
def test_a_topic_that_is_no_utf_8_comes_without_topic_and_can_be_acknowledged(version: int) -> None:
    async def run() -> None:
        async with ScriptedBroker(version) as broker, ear(broker.port, ["#"], client_id="gw", version=version) as one:
            broker.send(raw_publish(NO_UTF_8, b"1", 7, version) + raw_publish(b"boat/alarm", b"2", 8, version))
            await one.hear(2)
            assert [(m.topic, m.payload) for m in one.messages] == [(None, b"1"), ("boat/alarm", b"2")]
            one.bus.acknowledge(one.messages)
            await until(lambda: broker.count(PUBACK) == 2)
            acks = [body for _, kind, _, body in broker.packets if kind == PUBACK]
            assert acks == [struct.pack("!H", 7), struct.pack("!H", 8)]

    asyncio.run(run())


def test_a_topic_that_is_no_utf_8_sent_to_a_real_broker_harms_nobody_else(place: Place) -> None:
    # MQTT 5.0 and 3.1.1, 1.5.4 / 1.5.3: ill-formed UTF-8 closes the connection of the sender. Both brokers do.
    topic = f"{place.name}/alarm"

    async def run() -> None:
        async with ear(place.port, [f"{place.name}/#"], client_id=place.name, version=place.version) as one:
            reader, writer = await asyncio.open_connection(HOST, place.port)
            writer.write(raw_connect(b"odd-" + place.name.encode(), place.version))
            assert (await reader.read(1))[0] >> 4 == 2  # CONNACK
            writer.write(raw_publish(place.name.encode() + b"/\xff\xfe", b"odd", 1, place.version))
            async with asyncio.timeout(10):
                while await reader.read(1 << 16):
                    pass
            writer.close()
            with Outsider(place.port, place.version) as sender:
                sender.publish(topic, "afterwards")
            await one.hear(1)
            assert one.payloads == ["afterwards"]

    asyncio.run(run())


@pytest.mark.parametrize(
    "junk",
    [
        pytest.param(b"\x00\x00", id="a packet type that does not exist"),
        pytest.param(b"\x30\xff\xff\xff\xff\x7f", id="a length of five bytes"),
        pytest.param(b"\x32\x03\x00\x09a", id="a topic longer than its packet"),
        pytest.param(b"\x30\x01\x00", id="a PUBLISH of one byte"),
        pytest.param(b"\x32\x06\x00\x01a\x00\x01\x7f", id="properties longer than their packet"),
        pytest.param(b"\x20\x01\x00", id="a second CONNACK, cut short"),
        pytest.param(b"\xf0\x00", id="an AUTH that nobody asked for"),
    ],
)
def test_bytes_that_are_no_mqtt_end_the_connection_and_it_comes_back(junk: bytes) -> None:
    async def run() -> None:
        async with ScriptedBroker() as broker, ear(broker.port, ["#"], client_id="gw") as one:
            broker.send(junk)
            await one.told(up=False)
            await until(lambda: broker.connections == 2 and one.bus.is_listening)
            broker.send(raw_publish(b"alarm", b"heard", 1, 5))
            await one.hear(1)
            assert one.payloads == ["heard"]

    asyncio.run(run())


def test_an_error_of_the_one_woken_is_reported_and_kills_nothing() -> None:
    reported: list[object] = []

    def fails() -> None:
        raise RuntimeError("an error of the service's own")

    async def run() -> None:
        asyncio.get_running_loop().set_exception_handler(lambda _loop, context: reported.append(context["exception"]))
        async with ScriptedBroker() as broker:
            bus = MqttBus(settings(broker.port, client_id="gw"), fails, patience=HURRIED)
            await bus.open(["alarm"])
            await until(lambda: bus.is_listening)
            broker.send(raw_publish(b"alarm", b"a", 1, 5))
            await until(lambda: len(reported) == 2)  # woken for the welcome and for the message
            broker.cut()
            await until(lambda: broker.connections == 2 and bus.is_listening)
            broker.send(raw_publish(b"alarm", b"b", 1, 5))
            await until(lambda: len(reported) == 5)  # and for the loss, the welcome and the message
            messages, changes = bus.take()
            assert [message.payload for message in messages] == [b"a", b"b"]
            assert [change.up for change in changes] == [True, False, True]
            await bus.close()

    asyncio.run(run())
    assert {str(one) for one in reported} == {"an error of the service's own"}


def test_an_error_of_the_library_while_reading_ends_the_connection_and_no_more(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async def run() -> None:
        async with ScriptedBroker() as broker, ear(broker.port, ["#"], client_id="gw") as one:

            def fails(_client: mqtt.Client) -> None:
                monkeypatch.undo()
                raise IndexError("an error nobody foresaw")

            monkeypatch.setattr(mqtt.Client, "loop_read", fails)
            broker.send(raw_publish(b"alarm", b"lost", 1, 5))
            told = (await one.told(up=False)).detail
            assert "the MQTT library failed: IndexError in doors/test_bus_odd_input.py" in told
            assert "an error nobody foresaw" not in told, "its words may hold anything"
            await until(lambda: broker.connections == 2 and one.bus.is_listening)
            broker.send(raw_publish(b"alarm", b"heard", 1, 5))
            await one.hear(1)
            assert one.payloads == ["heard"]

    asyncio.run(run())


@pytest.mark.long
def test_an_inbox_that_nobody_empties_stops_growing_and_goes_on_when_emptied() -> None:
    # QoS 0 in a flood: no acknowledgement can hold it back, so reading stops instead.
    flood = 20_000

    async def run() -> None:
        async with ScriptedBroker() as broker:
            bus = MqttBus(settings(broker.port, client_id="gw"), lambda: None, patience=HURRIED)
            await bus.open(["#"])
            await until(lambda: bus.is_listening)
            broker.send(b"".join(b"\x30\x0a\x00\x01v\x00%06d" % n for n in range(flood)))
            came: list[bytes] = []
            most = 0
            while len(came) < flood:
                before = bus._intake.came  # a look at the inside, to see it stand still
                await until(lambda: bus._intake.is_full or bus._intake.came >= flood)
                messages, _ = bus.take()
                most = max(most, len(messages))
                came += [message.payload for message in messages]
                assert bus._intake.came >= before
            assert came == [b"%06d" % n for n in range(flood)]
            assert most < 2_000 + 8 * 32  # the bound and at most one reading more
            await bus.close()

    asyncio.run(run())
