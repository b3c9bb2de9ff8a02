"""What the bus publishes goes out now or never."""

import asyncio
import struct

import pytest

from gateway.doors.bus import link
from tests.benchmarks.bare_reader import CONNACK, CONNECT, PUBACK, PUBLISH, packet
from tests.doors.brokers import Cable, Outsider, ScriptedBroker, ear, until
from tests.doors.conftest import Place


def test_a_published_message_is_taken_by_the_broker_and_heard(place: Place) -> None:
    topic = f"{place.name}/command"

    async def run() -> None:
        with Outsider(place.port, place.version, topic) as hearer:
            async with ear(place.port, [], client_id=place.name, version=place.version) as one:
                assert await one.bus.publish(topic, "start", retain=False, expires_after=None) is True
                await until(lambda: hearer.saw(topic) == ["start"])
                assert hearer.heard[0].retain is False

    asyncio.run(run())


def test_many_at_once_are_all_taken_however_few_the_broker_allows_in_flight(place: Place) -> None:
    topic = f"{place.name}/notice"

    async def run() -> None:
        with Outsider(place.port, place.version, topic) as hearer:
            async with ear(place.port, [], client_id=place.name, version=place.version) as one:
                sends = [one.bus.publish(topic, str(n), retain=False, expires_after=None) for n in range(100)]
                assert await asyncio.gather(*sends) == [True] * 100
                await until(lambda: len(hearer.saw(topic)) >= 100)
                assert sorted(hearer.saw(topic), key=int) == [str(n) for n in range(100)]

    asyncio.run(run())


def test_the_receive_maximum_of_the_broker_is_kept() -> None:
    # MQTT 5.0, 3.2.2.3.3: property 0x21, two bytes. Here 2: never more than two unanswered.
    welcome = packet(CONNACK, 0, b"\x00\x00\x03\x21\x00\x02")

    def answer(_on: int, kind: int, _flags: int, body: bytes) -> bytes | None:
        if kind == CONNECT:
            return welcome
        return b"" if kind == PUBLISH and b"limited" in body else None

    async def run() -> None:
        async with ScriptedBroker(answer=answer) as broker, ear(broker.port, [], client_id="gw") as one:
            await until(lambda: broker.count(PUBLISH, b"presence") == 1)
            sends = [
                asyncio.ensure_future(one.bus.publish("limited", str(n), retain=False, expires_after=None))
                for n in range(6)
            ]
            for answered in range(6):
                await until(lambda: broker.count(PUBLISH, b"limited") >= min(6, answered + 1))  # noqa: B023
                assert broker.count(PUBLISH, b"limited") <= answered + 2
                at = [body for _, kind, _, body in broker.packets if kind == PUBLISH and b"limited" in body][answered]
                broker.send(packet(PUBACK, 0, at[9:11]))  # two bytes of length, "limited", packet id
            assert await asyncio.gather(*sends) == [True] * 6

    asyncio.run(run())


def test_nothing_published_while_away_goes_out_after_the_connection_is_back(own_place: Place) -> None:
    async def run() -> None:
        async with ear(own_place.port, [], client_id="gw", version=own_place.version) as one:
            own_place.broker.kill()
            await one.told(up=False)
            for _ in range(3):
                assert await one.bus.publish("command", "start", retain=False, expires_after=None) is False
            await asyncio.to_thread(own_place.broker.start)
            with Outsider(own_place.port, own_place.version, "command") as hearer:
                await one.listening()
                assert await one.bus.publish("command", "fence", retain=False, expires_after=None) is True
                await until(lambda: "fence" in hearer.saw("command"))
                assert hearer.saw("command") == ["fence"]

    asyncio.run(run())


@pytest.mark.parametrize("version", [5, 3])
def test_a_message_whose_answer_was_lost_with_the_connection_is_not_sent_again(version: int) -> None:
    def answer(on: int, kind: int, _flags: int, body: bytes) -> bytes | None:
        return b"" if on == 1 and kind == PUBLISH and b"command" in body else None

    async def run() -> None:
        async with (
            ScriptedBroker(version, answer) as broker,
            ear(broker.port, [], client_id="gw", version=version) as one,
        ):
            sending = asyncio.ensure_future(one.bus.publish("command", "start", retain=False, expires_after=None))
            await until(lambda: broker.count(PUBLISH, b"start") == 1)
            broker.cut()
            assert await sending is False
            await until(lambda: broker.connections == 2 and one.bus.is_listening)
            assert await one.bus.publish("command", "fence", retain=False, expires_after=None) is True
            assert broker.count(PUBLISH, b"start") == 1

    asyncio.run(run())


def test_a_message_that_is_not_answered_in_time_is_given_up_and_the_connection_with_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def answer(_on: int, kind: int, _flags: int, body: bytes) -> bytes | None:
        return b"" if kind == PUBLISH and b"start" in body else None

    async def run() -> None:
        async with ScriptedBroker(answer=answer) as broker, ear(broker.port, [], client_id="gw") as one:
            await until(lambda: broker.count(PUBLISH, b"presence") == 1)
            monkeypatch.setattr(link, "ANSWER_WITHIN", 0.05)
            assert await one.bus.publish("command", "start", retain=False, expires_after=None) is False
            monkeypatch.undo()
            assert "no answer (PUBACK) to a message on 'command'" in (await one.told(up=False)).detail
            await until(lambda: broker.connections == 2 and one.bus.is_listening)
            assert await one.bus.publish("command", "fence", retain=False, expires_after=None) is True
            assert broker.count(PUBLISH, b"start") == 1

    asyncio.run(run())


def test_a_message_that_the_broker_refuses_is_not_taken_and_is_told() -> None:
    # MQTT 5.0, 3.4.2.1: 0x87 not authorized. 3.1.1 has no such answer.
    def answer(_on: int, kind: int, _flags: int, body: bytes) -> bytes | None:
        return packet(PUBACK, 0, body[9:11] + b"\x87") if kind == PUBLISH and b"command" in body else None

    async def run() -> None:
        async with ScriptedBroker(answer=answer) as broker, ear(broker.port, [], client_id="gw") as one:
            assert await one.bus.publish("command", "start", retain=False, expires_after=None) is False
            await one.told(up=True, having="refused our message on 'command'")

    asyncio.run(run())


@pytest.mark.parametrize("topic", ["", "boat/+/command", "boat/#"])
def test_a_topic_on_which_nothing_can_be_published_is_told_and_harms_nothing(place: Place, topic: str) -> None:
    async def run() -> None:
        async with ear(place.port, [], client_id=place.name, version=place.version) as one:
            assert await one.bus.publish(topic, "start", retain=False, expires_after=None) is False
            await one.told(up=True, having=f"nothing can be published on '{topic}'")
            assert await one.bus.publish(f"{place.name}/fence", "", retain=False, expires_after=None) is True

    asyncio.run(run())


def test_the_expiry_goes_out_with_the_message_in_version_5(place: Place) -> None:
    topic = f"{place.name}/command"

    async def run() -> None:
        with Outsider(place.port, place.version, topic) as hearer:
            async with ear(place.port, [], client_id=place.name, version=place.version) as one:
                assert await one.bus.publish(topic, "start", retain=False, expires_after=120) is True
                await until(lambda: bool(hearer.heard))
                if place.version == 5:
                    left = hearer.heard[0].properties.MessageExpiryInterval  # type: ignore[union-attr]
                    assert 110 <= left <= 120
                else:  # 3.1.1 has none; the message goes out all the same
                    assert hearer.heard[0].properties is None

    asyncio.run(run())


def test_the_expiry_is_the_property_of_the_standard_on_the_wire() -> None:
    # MQTT 5.0, 3.3.2.3.3: identifier 2, four bytes, seconds.
    async def run() -> None:
        async with ScriptedBroker() as broker, ear(broker.port, [], client_id="gw") as one:
            assert await one.bus.publish("c", "start", retain=False, expires_after=300) is True
            body = next(body for _, kind, _, body in broker.packets if kind == PUBLISH and b"start" in body)
            assert body[5:] == b"\x05\x02" + struct.pack("!I", 300) + b"start"

    asyncio.run(run())


def test_our_presence_stands_retained_and_the_last_will_takes_it_back(place: Place) -> None:
    topic = f"heavingline/{place.name}/presence"

    async def run() -> None:
        with Outsider(place.port, place.version, topic) as hearer:
            async with Cable(place.port) as cable:
                async with ear(cable.port, [], client_id=place.name, version=place.version) as one:
                    await until(lambda: hearer.saw(topic) == ['{"state":"here"}'])
                    cable.cut()
                    await one.told(up=True, past=1)
                    await until(lambda: hearer.saw(topic)[-1] == '{"state":"here"}' and len(hearer.saw(topic)) > 1)
                    assert hearer.saw(topic)[1] == '{"state":"away"}'
                await until(lambda: hearer.saw(topic)[-1] == '{"state":"away"}')
        with Outsider(place.port, place.version, topic) as late:
            await until(lambda: late.saw(topic) == ['{"state":"away"}'])
            assert late.heard[0].retain is True

    asyncio.run(run())
