"""The simulated boat's MQTT client, on each real broker that this machine can start."""

import json
import queue
import threading
from collections.abc import Iterator

import paho.mqtt.client as mqtt
import pytest
from paho.mqtt.enums import CallbackAPIVersion
from paho.mqtt.subscribeoptions import SubscribeOptions

from gateway.demo.boat import DemoBoat
from gateway.demo.boat_link import FENCE_TO_BOAT, FENCE_TO_GATEWAY, BoatLink, BoatLinkTrouble, Received
from gateway.demo.broker import HOST, EmbeddedBroker, Kind, kinds_here
from gateway.demo.relay_node import Ignored, Why
from gateway.vocabulary.moments import HOUR, Ms

WITHIN = 10.0  # seconds; answers take milliseconds, the rest is for a busy machine
T0: Ms = 1_000_000 * HOUR


@pytest.fixture(scope="module", params=kinds_here())
def broker(request: pytest.FixtureRequest) -> Iterator[EmbeddedBroker]:
    kind: Kind = request.param
    with EmbeddedBroker(kind) as running:
        yield running


class Shore:
    """The other end: a plain client with one filter a topic, as the gateway subscribes."""

    def __init__(self, port: int, *topics: str) -> None:
        self.came: queue.Queue[tuple[str, bytes, bool]] = queue.Queue()
        self._ready = threading.Event()
        self._client = mqtt.Client(CallbackAPIVersion.VERSION2, protocol=mqtt.MQTTv5)
        self._filters = [(topic, SubscribeOptions(qos=1)) for topic in topics]
        self._client.on_connect = self._subscribe
        self._client.on_subscribe = lambda *_: self._ready.set()
        self._client.on_message = lambda _c, _u, m: self.came.put((m.topic, bytes(m.payload), m.retain))
        self._client.connect(HOST, port, clean_start=True)
        self._client.loop_start()
        assert self._ready.wait(WITHIN)

    def _subscribe(self, *_: object) -> None:
        self._client.subscribe(self._filters)

    def publish(self, topic: str, payload: str, *, retain: bool = False) -> None:
        self._client.publish(topic, payload, qos=1, retain=retain).wait_for_publish(WITHIN)

    def up_to_fence(self, number: int) -> list[tuple[str, bytes, bool]]:
        """What came before fence `number`."""
        came = []
        while (message := self.came.get(timeout=WITHIN))[:2] != (FENCE_TO_GATEWAY, str(number).encode()):
            came.append(message)
        return came

    def __enter__(self) -> "Shore":
        return self

    def __exit__(self, *_: object) -> None:
        self._client.disconnect()
        self._client.loop_stop()


def test_what_a_boat_publishes_arrives_ashore_in_order_before_its_fence(broker: EmbeddedBroker) -> None:
    boat = DemoBoat("order")
    topics = [topic for topic, _, _ in DemoBoat("order").due(T0)]
    with Shore(broker.port, FENCE_TO_GATEWAY, *topics) as shore, BoatLink(HOST, broker.port, prefix="order") as link:
        for number in range(1, 31):
            said = boat.due(max(boat.next_due(), T0))
            link.publish_and_wait(said)
            link.publish_fence(number)
            came = shore.up_to_fence(number)
            # Order within one topic is promised by MQTT (5.0, 4.6); over topics all that counts is the fence.
            assert sorted((topic, payload) for topic, payload, _ in came) == sorted(
                (topic, payload.encode()) for topic, payload, _ in said
            )


def test_a_state_published_as_retained_stands_for_whoever_comes_later(broker: EmbeddedBroker) -> None:
    with BoatLink(HOST, broker.port, prefix="kept") as link:
        link.publish_and_wait([("kept/bilge/high", "on", True), ("kept/tank/fuel", "62.0", False)])
    with Shore(broker.port, "kept/bilge/high", "kept/tank/fuel") as shore:
        assert shore.came.get(timeout=WITHIN) == ("kept/bilge/high", b"on", True)
        shore.publish("kept/tank/fuel", "61.9")
        assert shore.came.get(timeout=WITHIN) == ("kept/tank/fuel", b"61.9", False)


def test_commands_come_with_their_marks_and_wake_whoever_waits(broker: EmbeddedBroker) -> None:
    woken = threading.Semaphore(0)
    with Shore(broker.port, "x") as shore:
        with BoatLink(HOST, broker.port, prefix="cmd", woken=woken.release) as link:
            shore.publish("cmd/command/generator", '{"id":"c-1"}')
            shore.publish("other/command/generator", '{"id":"c-2"}')
            shore.publish("cmd/command/deck-lights", "\N{DEGREE SIGN}")
            shore.publish(FENCE_TO_BOAT, "7")
            assert link.wait_for_fence(7, WITHIN)
            assert link.fence_seen == 7
            assert link.commands() == [
                Received(topic="cmd/command/generator", payload=b'{"id":"c-1"}', retained=False),
                Received(topic="cmd/command/deck-lights", payload=b"\xc2\xb0", retained=False),
            ]
            assert link.commands() == []
        assert all(woken.acquire(timeout=WITHIN) for _ in range(3))


def test_a_retained_command_is_marked_so_and_the_node_refuses_it(broker: EmbeddedBroker) -> None:
    order = {
        "id": "c-1",
        "do": "on",
        "issued_at": "2026-03-01T02:00:00Z",
        "valid_until": "2026-03-01T02:01:00Z",
        "seen": 1,
    }
    topic = "ghost/command/deck-lights"
    came = threading.Event()
    with Shore(broker.port, "x") as shore:
        shore.publish(topic, json.dumps(order), retain=True)
        with BoatLink(HOST, broker.port, prefix="ghost", woken=came.set) as link:
            assert came.wait(WITHIN)
            (message,) = link.commands()
        shore.publish(topic, "", retain=True)
    boat = DemoBoat("ghost")
    boat.due(T0)
    assert boat.command(message.topic, message.payload, message.retained, T0) == Ignored(why=Why.RETAINED)


def test_a_command_sent_while_the_boat_is_away_never_reaches_it(broker: EmbeddedBroker) -> None:
    with Shore(broker.port, "x") as shore:
        link = BoatLink(HOST, broker.port, prefix="away")
        with link:
            pass
        shore.publish("away/command/generator", "{}")
        with link:
            shore.publish(FENCE_TO_BOAT, "9")
            assert link.wait_for_fence(9, WITHIN)
            assert link.commands() == []


def test_junk_on_the_fence_topic_is_no_fence_and_stops_nothing(broker: EmbeddedBroker) -> None:
    with Shore(broker.port, "x") as shore, BoatLink(HOST, broker.port, prefix="junk") as link:
        shore.publish(FENCE_TO_BOAT, "soon")
        shore.publish(FENCE_TO_BOAT, "3")
        assert link.wait_for_fence(3, WITHIN)


def test_a_fence_that_does_not_come_is_not_waited_for_beyond_the_time_given(broker: EmbeddedBroker) -> None:
    with BoatLink(HOST, broker.port, prefix="late") as link:
        assert not link.wait_for_fence(1, 0.01)


def test_no_broker_is_said_with_its_address() -> None:
    with EmbeddedBroker() as gone:
        port = gone.port
    with pytest.raises(BoatLinkTrouble, match=rf"127\.0\.0\.1:{port}.*Is the broker running"):
        BoatLink(HOST, port).connect()


def test_after_closing_no_thread_of_it_is_left_and_publishing_says_so(broker: EmbeddedBroker) -> None:
    before = threading.active_count()
    link = BoatLink(HOST, broker.port, prefix="closed").connect()
    link.close()
    link.close()
    assert threading.active_count() == before
    with pytest.raises(BoatLinkTrouble, match="Is the broker running"):
        link.publish_and_wait([("closed/tank/fuel", "62.0", False)])
