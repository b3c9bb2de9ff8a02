"""The bus waits for a broker, comes back to it, and says what happened."""

import asyncio
from pathlib import Path

import pytest

from gateway.demo.broker import EmbeddedBroker
from gateway.doors.bus import link
from tests.benchmarks.bare_reader import CONNACK, CONNECT, SUBACK, SUBSCRIBE, packet
from tests.doors.brokers import KINDS, Outsider, ScriptedBroker, ear, until
from tests.doors.conftest import Place

on_mosquitto = pytest.mark.skipif("mosquitto" not in KINDS, reason="the runner has asked for tests without mosquitto")


def test_a_broker_that_is_away_at_the_start_is_waited_for(own_place: Place) -> None:
    port = own_place.port
    own_place.broker.kill()

    async def run() -> None:
        async with ear(port, ["alarm"], client_id="gw", version=own_place.version, wait=False) as one:
            away = await one.told(up=False)
            assert f"127.0.0.1:{port}: Connection refused" in away.detail
            await asyncio.to_thread(own_place.broker.start)
            await one.listening()
            with Outsider(port, own_place.version) as sender:
                sender.publish("alarm", "heard")
            await one.hear(1)
            assert [change.up for change in one.changes] == [False, True]  # told once, not at every attempt

    asyncio.run(run())


def test_a_broker_killed_and_back_without_memory_is_reported_and_heard_again(own_place: Place) -> None:
    async def run() -> None:
        async with ear(own_place.port, ["alarm"], client_id="gw", version=own_place.version) as one:
            own_place.broker.kill()
            await one.told(up=False)
            assert await one.bus.publish("x", "y", retain=False, expires_after=None) is False
            await asyncio.to_thread(own_place.broker.start)
            back = await one.told(up=True, past=1)
            assert back.memory_kept is False
            assert "knows no session of ours" in back.detail
            await one.listening()
            with Outsider(own_place.port, own_place.version) as sender:
                sender.publish("alarm", "heard")
            await one.hear(1)

    asyncio.run(run())


@on_mosquitto
@pytest.mark.parametrize("version", [5, 3])
def test_a_broker_killed_and_back_with_its_memory_brings_what_was_not_acknowledged(
    version: int, tmp_path: Path
) -> None:
    async def run() -> None:
        with EmbeddedBroker("mosquitto", keep=tmp_path) as broker:
            async with ear(broker.port, ["alarm"], client_id="gw", version=version) as one:
                with Outsider(broker.port, version) as sender:
                    sender.publish("alarm", "first")
                    sender.publish("alarm", "second")
                one.bus.acknowledge((await one.hear(2))[:1])
                assert await one.bus.publish("fence", "", retain=False, expires_after=None)
                await until((tmp_path / "mosquitto.db").exists)
                broker.kill()
                await one.told(up=False)
                await asyncio.to_thread(broker.start)
                assert (await one.told(up=True, past=1)).memory_kept is True
                await until(lambda: "second" in one.payloads[2:])

    asyncio.run(run())


def test_a_broker_that_takes_the_connection_and_says_nothing_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(link, "ANSWER_WITHIN", 0.05)

    async def run() -> None:
        async with (
            ScriptedBroker(answer=lambda on, *_: b"" if on == 1 else None) as broker,
            ear(broker.port, ["alarm"], client_id="gw") as one,
        ):
            assert "no welcome" in (await one.told(up=False)).detail
            assert broker.connections == 2

    asyncio.run(run())


def test_a_broker_that_never_answers_the_subscription_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(link, "ANSWER_WITHIN", 0.05)

    async def run() -> None:
        async with (
            ScriptedBroker(answer=lambda on, kind, *_: b"" if on == 1 and kind == SUBSCRIBE else None) as broker,
            ear(broker.port, ["alarm"], client_id="gw") as one,
        ):
            assert "no answer to our subscription" in (await one.told(up=False)).detail

    asyncio.run(run())


@pytest.mark.parametrize(("version", "code", "words"), [(5, 0x87, "Not authorized"), (3, 5, "Not authorized")])
def test_a_broker_that_refuses_us_is_named_with_its_reason_and_tried_again(version: int, code: int, words: str) -> None:
    # MQTT 5.0, table 3-1: 0x87 not authorized. MQTT 3.1.1, table 3.1: 5 refused, not authorized.
    refusal = packet(CONNACK, 0, bytes([0, code]) + (b"\x00" if version == 5 else b""))

    async def run() -> None:
        async with (
            ScriptedBroker(version, lambda _on, kind, *_: refusal if kind == CONNECT else None) as broker,
            ear(broker.port, ["alarm"], client_id="gw", version=version, wait=False) as one,
        ):
            await until(lambda: broker.connections >= 3)
            assert [change.up for change in one.changes] == [False]
            assert words in one.changes[0].detail

    asyncio.run(run())


@pytest.mark.parametrize(("version", "code"), [(5, 0x87), (3, 0x80)])
def test_a_refused_filter_is_named_and_the_others_are_heard(version: int, code: int) -> None:
    # MQTT 5.0, 3.9.3: 0x87 not authorized. MQTT 3.1.1, 3.9.3: 0x80 failure.
    def answer(_on: int, kind: int, _flags: int, body: bytes) -> bytes | None:
        if kind != SUBSCRIBE:
            return None
        return packet(SUBACK, 0, body[:2] + (b"\x00" if version == 5 else b"") + bytes([1, code]))

    async def run() -> None:
        async with (
            ScriptedBroker(version, answer) as broker,
            ear(broker.port, ["mine/alarm", "theirs/alarm"], client_id="gw", version=version) as one,
        ):
            refused = await one.told(up=True, having="refused the filter 'theirs/alarm'")
            assert refused.memory_kept is True  # no loss of memory is told with it
            assert not [change for change in one.changes if "mine/alarm" in change.detail]
            assert one.bus.is_listening

    asyncio.run(run())


def test_a_filter_that_is_none_does_not_keep_the_others_from_being_heard(place: Place) -> None:
    topic = f"{place.name}/alarm"

    async def run() -> None:
        async with ear(place.port, ["a/#/b", topic], client_id=place.name, version=place.version) as one:
            await one.told(up=True, having="'a/#/b' is no MQTT topic filter")
            with Outsider(place.port, place.version) as sender:
                sender.publish(topic, "heard")
            await one.hear(1)

    asyncio.run(run())


def test_more_filters_than_go_into_one_packet_are_all_heard(place: Place) -> None:
    topics = [f"{place.name}/{n}" for n in range(250)]

    async def run() -> None:
        async with ear(place.port, topics, client_id=place.name, version=place.version) as one:
            with Outsider(place.port, place.version) as sender:
                for n in (0, 99, 100, 249):
                    sender.publish(topics[n], str(n))
            await one.hear(4)
            assert one.payloads == ["0", "99", "100", "249"]

    asyncio.run(run())


def test_a_name_that_cannot_be_found_is_told_and_closing_does_not_hang() -> None:
    async def run() -> None:
        async with ear(1, ["alarm"], client_id="gw", wait=False, ca_file="nowhere.pem") as one:
            assert "CA file nowhere.pem is not there" in (await one.told(up=False)).detail

    asyncio.run(run())
