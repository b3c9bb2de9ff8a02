"""The brokers that the tests of the bus run against: each kind, each version of MQTT."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, product

import pytest

from gateway.demo.broker import BrokerMissing, EmbeddedBroker, Kind, kinds_here
from tests.doors.brokers import KINDS, WITHOUT_MOSQUITTO
from tests.effort import first_of

EACH = first_of(product(KINDS, (5, 3)), lambda one: one[0] == KINDS[0])
"""Kind and version; the second kind of broker in the long run only."""


@dataclass(frozen=True)
class Place:
    """A running broker of one kind, spoken to in one version, with names that no other test uses."""

    broker: EmbeddedBroker
    kind: Kind
    version: int
    name: str

    @property
    def port(self) -> int:
        return self.broker.port_for(self.version)


_numbers = count(1)


def started(kind: Kind) -> EmbeddedBroker:
    """A broker, or a failure that says what to do; never a skip."""
    try:
        return EmbeddedBroker(kind).start()
    except BrokerMissing as trouble:
        pytest.fail(f"{trouble} To run without mosquitto on purpose, set {WITHOUT_MOSQUITTO}=1.", pytrace=False)


@pytest.fixture(scope="session")
def standing_brokers() -> Iterator[dict[str, EmbeddedBroker]]:
    """One broker of each kind for all tests that do not end it, started when first wanted."""
    running: dict[str, EmbeddedBroker] = {}
    yield running
    for broker in running.values():
        broker.stop()


@pytest.fixture(params=EACH, ids=lambda one: f"{one[0]}-{one[1]}")
def place(request: pytest.FixtureRequest, standing_brokers: dict[str, EmbeddedBroker]) -> Place:
    """A broker that other tests use as well."""
    kind, version = request.param
    if kind not in standing_brokers:
        standing_brokers[kind] = started(kind)
    return Place(standing_brokers[kind], kind, version, f"n{next(_numbers)}")


@pytest.fixture(params=EACH, ids=lambda one: f"{one[0]}-{one[1]}")
def own_place(request: pytest.FixtureRequest) -> Iterator[Place]:
    """A broker of this test alone, which may kill it."""
    kind, version = request.param
    broker = started(kind)
    yield Place(broker, kind, version, f"n{next(_numbers)}")
    broker.stop()


def pytest_report_header() -> str:
    return f"brokers here: {', '.join(kinds_here()) or 'none'}; tested: {', '.join(KINDS)}"
