"""The whole contract of the bus over every link: both kinds of broker, both versions of MQTT, TLS on and off, with a
password and without. Everything is real; nothing is left out for any of the sixteen."""

import asyncio
from collections.abc import Iterator
from itertools import count, product

import pytest

from gateway.demo.broker import BrokerMissing
from gateway.doors.bus import Patience
from tests.doors.brokers import KINDS, WITHOUT_MOSQUITTO, Cable, Ear, settings, until
from tests.doors.secured import CERTIFICATES, USER, Link, SecuredBroker
from tests.effort import first_of

WAYS = [*product(KINDS, (5, 3), (True, False), (True, False))]
_numbers = count(1)


def _spelt(way: tuple[str, int, bool, bool]) -> str:
    kind, version, tls, password = way
    return f"{kind}-{version}-{'tls' if tls else 'plain'}-{'password' if password else 'open'}"


@pytest.fixture(scope="module")
def brokers(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[tuple[str, bool, bool], SecuredBroker]]:
    running: dict[tuple[str, bool, bool], SecuredBroker] = {}
    keep = tmp_path_factory.mktemp("secured")
    for kind, tls, password in product(KINDS, (True, False), (True, False)):
        try:
            broker = SecuredBroker(kind, tls=tls, password=password, keep=keep)
        except (BrokerMissing, FileNotFoundError) as trouble:
            pytest.fail(f"{trouble} To run without mosquitto on purpose, set {WITHOUT_MOSQUITTO}=1.", pytrace=False)
        running[kind, tls, password] = broker
        broker.start()
    yield running
    for broker in running.values():
        broker.stop()


@pytest.fixture(params=first_of(WAYS, lambda way: way[0] == KINDS[0] and way[2] == way[3]), ids=_spelt)
def link(request: pytest.FixtureRequest, brokers: dict[tuple[str, bool, bool], SecuredBroker]) -> Link:
    kind, version, tls, password = request.param
    return Link(brokers[kind, tls, password], version, f"link{next(_numbers)}")


def test_what_was_acknowledged_stays_away_and_what_was_not_comes_again_in_order(link: Link) -> None:
    topic = f"{link.name}/alarm"

    async def run() -> None:
        async with Cable(link.port) as cable, link.ear([topic], port=cable.port) as one:
            with link.outsider() as sender:
                for n in range(10):
                    sender.publish(topic, str(n))
            one.bus.acknowledge((await one.hear(10))[:4])
            assert await one.bus.publish(f"{link.name}/fence", "", retain=False, expires_after=None)
            cable.cut()
            await one.hear(16)
            assert one.payloads == [*map(str, range(10)), *map(str, range(4, 10))]
            one.bus.acknowledge(one.messages[10:])

    asyncio.run(run())


def test_what_came_while_we_were_away_is_kept_and_the_memory_is_told(link: Link) -> None:
    topic = f"{link.name}/alarm"

    async def run() -> None:
        async with link.ear([topic]) as one:
            assert (await one.told(up=True)).memory_kept is False
        with link.outsider() as sender:
            for n in range(5):
                sender.publish(topic, str(n))
        async with link.ear([topic]) as one:
            assert (await one.told(up=True)).memory_kept is True
            one.bus.acknowledge(await one.hear(5))
            assert one.payloads == ["0", "1", "2", "3", "4"]

    asyncio.run(run())


def test_a_command_goes_out_unretained_and_a_word_of_our_own_stands_retained(link: Link) -> None:
    command, trouble = f"{link.name}/command", f"{link.name}/trouble"

    async def run() -> None:
        with link.outsider(hears=f"{link.name}/#") as hearer:
            async with link.ear([f"{link.name}/none"]) as one:
                assert await one.bus.publish(command, "on", retain=False, expires_after=30)
                assert await one.bus.publish(trouble, "none", retain=True, expires_after=None)
                await until(lambda: len(hearer.heard) == 2)
                assert (hearer.saw(command), hearer.saw(trouble)) == (["on"], ["none"])
        async with link.ear([command, trouble], client_id=f"{link.name}-late") as late:
            await late.hear(1)
            assert [(m.topic, m.payload, m.retained) for m in late.messages] == [(trouble, b"none", True)]

    asyncio.run(run())


def test_our_presence_stands_while_we_are_there_and_the_last_will_when_we_vanish(link: Link) -> None:
    topic = f"heavingline/{link.name}/presence"

    async def run() -> None:
        with link.outsider(hears=topic) as hearer:
            async with Cable(link.port) as cable, link.ear(["none"], port=cable.port, patience=Patience(first=600.0)):
                await until(lambda: hearer.saw(topic) == ['{"state":"here"}'])
                cable.cut()
                await until(lambda: hearer.saw(topic)[1:] == ['{"state":"away"}'])
        async with link.ear([topic], client_id=f"{link.name}-late") as late:
            (message,) = await late.hear(1)
            assert (message.payload, message.retained) == (b'{"state":"away"}', True)

    asyncio.run(run())


def test_the_same_client_id_twice_is_said_by_both(link: Link) -> None:
    async def run() -> None:
        chosen = settings(link.port, client_id=link.name, version=link.version, **link.keys)
        one, other = (Ear(chosen, Patience(first=0.01, longest=0.05)) for _ in range(2))
        await one.bus.open(["alarm"])
        await other.bus.open(["alarm"])
        for each in (one, other):
            assert (
                "give every gateway a client_id of its own"
                in (await each.told(up=False, having=f"client id '{link.name}'")).detail
            )
        await one.bus.close()
        await other.bus.close()

    asyncio.run(run())


def test_without_a_connection_nothing_is_queued_for_later(link: Link) -> None:
    command = f"{link.name}/command"

    async def run() -> None:
        with link.outsider(hears=f"{link.name}/#") as hearer:
            patience = Patience(first=0.1)  # long enough to publish in
            async with Cable(link.port) as cable, link.ear(["none"], port=cable.port, patience=patience) as one:
                cable.cut()
                await one.told(up=False)
                assert await one.bus.publish(command, "late", retain=False, expires_after=None) is False
                await one.told(up=True, past=1)
                await one.listening()
                assert await one.bus.publish(command, "fresh", retain=False, expires_after=None)
                await until(lambda: bool(hearer.saw(command)))
                assert hearer.saw(command) == ["fresh"]

    asyncio.run(run())


def test_wrong_keys_do_not_let_us_in_and_that_is_told(link: Link) -> None:
    wrong: list[dict[str, object]] = []
    if link.broker.password:
        wrong += [{"user": USER, "password": "wrong"}, {"user": None, "password": None}, {"user": "somebody"}]
    if link.broker.tls:
        wrong += [{"ca_file": None}, {"ca_file": str(CERTIFICATES / "expired.pem")}]
    else:
        wrong += [{"ca_file": str(CERTIFICATES / "broker.pem")}]

    async def run() -> None:
        for keys in wrong:
            async with link.ear(["alarm"], wait=False, **keys) as one:
                change = await one.told(up=False)
                assert change.detail
                assert "sesame" not in change.detail
                assert not one.bus.is_listening
                assert not [told for told in one.changes if told.up]

    asyncio.run(run())
