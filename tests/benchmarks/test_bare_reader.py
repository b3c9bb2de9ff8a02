"""The yardstick itself works: what it counts is what was sent."""

import asyncio

import pytest

from gateway.doors.bus import MqttBus
from gateway.doors.faces import BrokerSettings
from tests.benchmarks.bare_reader import PublishSource, bare_rate, boat_topics, packet, small_payload, split_packets


def test_the_bare_reader_takes_every_message_and_has_a_rate() -> None:
    assert bare_rate(2_000) > 1_000  # messages/s; tens of thousands on any machine of today, a stall would be far less


@pytest.mark.parametrize("version", [5, 3])
@pytest.mark.parametrize("window", [None, 100])
def test_the_source_serves_the_door_and_counts_its_acknowledgements(version: int, window: int | None) -> None:
    count = 2_000

    async def take_all(port: int) -> tuple[list[bytes], int]:
        woken = asyncio.Event()
        settings = BrokerSettings(name="b", host="127.0.0.1", port=port, client_id="door", version=version)
        bus = MqttBus(settings, woken.set)
        await bus.open(["#"])
        payloads: list[bytes] = []
        most = 0
        async with asyncio.timeout(20):
            while len(payloads) < count:
                await woken.wait()
                woken.clear()
                messages, _ = bus.take()
                payloads += [message.payload for message in messages]
                most = max(most, len(messages))
                bus.acknowledge(messages)
            served = await asyncio.to_thread(source.served)
        assert served.acknowledged == count
        await bus.close()
        return payloads, most

    with PublishSource(count, topics=boat_topics(3), window=window, version=version) as source:
        payloads, most = asyncio.run(take_all(source.port))
    assert payloads == [small_payload(n) for n in range(count)]
    if window is not None:
        assert most <= window


def test_answers_of_the_source_do_not_fall_into_the_middle_of_a_message() -> None:
    # 8 MB fill every buffer on the way, and the door publishes its presence meanwhile, which is answered.
    def large(n: int) -> bytes:
        return small_payload(n).ljust(4096)

    async def take_all(port: int) -> list[bytes]:
        woken = asyncio.Event()
        bus = MqttBus(BrokerSettings(name="b", host="127.0.0.1", port=port, client_id="door"), woken.set)
        await bus.open(["#"])
        payloads: list[bytes] = []
        async with asyncio.timeout(20):
            while len(payloads) < 2_000:
                await woken.wait()
                woken.clear()
                messages, _ = bus.take()
                payloads += [message.payload for message in messages]
                bus.acknowledge(messages)
        await bus.close()
        return payloads

    with PublishSource(2_000, payload=large) as source:
        assert asyncio.run(take_all(source.port)) == [large(n) for n in range(2_000)]


@pytest.mark.parametrize("length", [0, 1, 127, 128, 16_383, 16_384, 2_097_151, 2_097_152])
def test_packets_are_split_where_they_were_joined_whatever_their_length(length: int) -> None:
    # The lengths are the edges of table 2.4 of MQTT 3.1.1: one to four bytes of remaining length.
    body = b"x" * length
    joined = packet(3, 2, body) + packet(12, 0, b"")
    assert split_packets(joined) == ([(3, 2, body), (12, 0, b"")], b"")
    assert split_packets(joined[:-1]) == ([(3, 2, body)], joined[-2:-1])
