"""Listening to a broker beside the gateway, which must not notice."""

import asyncio
import threading
from collections.abc import Callable, Coroutine
from functools import wraps

import pytest

from gateway.doors.bus.listening import Listener, listener_id
from gateway.doors.faces import BrokerUnheard, Overheard
from tests.doors.brokers import Outsider, ScriptedBroker, ear, settings, until
from tests.doors.conftest import Place

SHORT = 300  # ms


def on_a_loop(test: Callable[..., Coroutine[None, None, None]]) -> Callable[..., None]:
    """A test that is a coroutine, run to its end."""

    @wraps(test)
    def run(*args: object, **more: object) -> None:
        asyncio.run(test(*args, **more))

    return run


class Listening:
    """A listener at work in its own thread."""

    def __init__(self, place: Place, client_id: str = "listening-00000001", length: int = SHORT) -> None:
        chosen = settings(place.port, client_id=f"{place.name}-gateway", version=place.version)
        self.heard: list[Overheard] = []
        self.listener = Listener(chosen, client_id)
        self.refused: tuple[str, ...] | None = None
        self._filters, self._length = [f"{place.name}/#"], length
        self.thread = threading.Thread(target=self._run)
        self.thread.start()

    def _run(self) -> None:
        self.refused = self.listener.hear(self._filters, self._length, self.heard.append)


@on_a_loop
async def test_it_hears_what_is_said_and_knows_what_was_kept(place: Place) -> None:
    with Outsider(place.port, place.version) as outsider:
        outsider.publish(f"{place.name}/kept", "12.4", retain=True)
        one = Listening(place, length=5_000)
        await until(lambda: bool(one.heard))
        outsider.publish(f"{place.name}/said", "on")
        await until(lambda: len(one.heard) == 2)
        one.listener.stop()
        await asyncio.to_thread(one.thread.join)
    assert [(m.topic, m.payload, m.retained) for m in one.heard] == [
        (f"{place.name}/kept", b"12.4", True),
        (f"{place.name}/said", b"on", False),
    ]
    assert one.refused == ()


@on_a_loop
async def test_the_gateway_keeps_its_link_its_session_and_every_message(place: Place) -> None:
    async with ear(
        place.port, [f"{place.name}/#"], client_id=f"{place.name}-gateway", version=place.version
    ) as gateway:
        before = list(gateway.changes)
        with Outsider(place.port, place.version) as outsider:
            one = Listening(place)
            outsider.publish_all(f"{place.name}/many", [str(n) for n in range(20)])
            await gateway.hear(20)
            await asyncio.to_thread(one.thread.join)
        assert gateway.changes == before
        assert gateway.payloads == [str(n) for n in range(20)]


@pytest.mark.parametrize("version", [5, 3])
@on_a_loop
async def test_it_comes_with_a_clean_start_and_says_nothing_but_what_it_wants_to_hear(version: int) -> None:
    async with ScriptedBroker(version) as broker:
        listener = Listener(settings(broker.port, client_id="gateway", version=version), "listening-00000002")
        await asyncio.to_thread(listener.hear, ["#"], 100, lambda _: None)
        await until(lambda: any(kind == 14 for _, kind, _, _ in broker.packets))
        kinds = [kind for _, kind, _, _ in broker.packets]
        assert sorted(set(kinds)) == [1, 8, 14]  # CONNECT, SUBSCRIBE, DISCONNECT; no PUBLISH (3), no PUBACK (4)
        connect = next(body for _, kind, _, body in broker.packets if kind == 1)
        assert b"listening-00000002" in connect
        assert connect[7] & 0b0000_0110 == 0b0000_0010  # clean start, no will (MQTT 3.1.1 and 5.0, 3.1.2)


def test_it_never_comes_under_the_gateways_own_name() -> None:
    with pytest.raises(ValueError, match="throw out"):
        Listener(settings(1, client_id="heavingline-quay"), "heavingline-quay")


def test_its_name_differs_from_time_to_time_and_is_short_enough_for_every_broker() -> None:
    assert listener_id(b"\x01\x02\x03\x04") == "listening-01020304"
    assert len(listener_id(b"\xff" * 4)) <= 23


def test_a_broker_that_is_away_is_named_with_what_to_do() -> None:
    with pytest.raises(BrokerUnheard, match=r"broker shore: 127\.0\.0\.1:1: .*refused.*See to host"):
        Listener(settings(1, client_id="x"), "listening-00000003").hear(["#"], SHORT, lambda _: None)


@on_a_loop
async def test_a_refused_user_is_named() -> None:
    async with ScriptedBroker(5, lambda _n, kind, _f, _b: b"\x20\x03\x00\x87\x00" if kind == 1 else None) as broker:
        listener = Listener(settings(broker.port, client_id="x"), "listening-00000004")
        with pytest.raises(BrokerUnheard, match="Not authorized"):
            await asyncio.to_thread(listener.hear, ["#"], SHORT, lambda _: None)


@on_a_loop
async def test_a_connection_that_breaks_is_told_and_not_taken_for_silence() -> None:
    async with ScriptedBroker(5) as broker:
        listener = Listener(settings(broker.port, client_id="x"), "listening-00000005")
        hearing = asyncio.ensure_future(asyncio.to_thread(listener.hear, ["#"], 10_000, lambda _: None))
        await until(lambda: broker.count(8) == 1)
        broker.cut()
        with pytest.raises(BrokerUnheard, match="connection"):
            await hearing
