"""The whole intake, as a ratio to the barest reader in the same run.

Run it with ``python -m tests.benchmarks.whole_path``. Queued messages are drained through the real service: decoded,
judged, recorded (every reading; one in fifty makes an entry), committed with SQLite's FULL sync, acknowledged. The
yardstick is the bare drained reader of this folder, measured before and after; single figures wander on a machine that
is not idle, the ratio does so less.
"""

import asyncio
import json
import resource
import statistics
import tempfile
import time
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

from gateway.alarms.settings import Point
from gateway.boat.settings import Boat, Signal
from gateway.desk.bundle import Bundle
from gateway.doors import chance
from gateway.doors.bus import MqttBus
from gateway.doors.clock import SystemClock
from gateway.doors.faces import Batch, BrokerSettings, Loaded
from gateway.doors.store import open_store
from gateway.people.settings import Person, Role
from gateway.service.parts import Doors
from gateway.service.running import Service
from gateway.telling.settings import CallOutList, Pacing, Step
from gateway.vocabulary.moments import MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsNumber, Meaning, NotUnderstood, Than, Why
from tests.benchmarks.bare_reader import PublishSource, bare_rate

COUNT = 40_000
SIGNALS = 50
WINDOW = 500  # what the door tells the broker to send ahead


def bundle(boats: int = 1, meters: int = SIGNALS) -> Bundle:
    """So many boats with so many volt meters each, each with a point that needs ten minutes below its limit. The
    signals stand in the order meter by meter, so that neighbours in it are of different boats."""
    keys = ["bench", *(f"bench-{number}" for number in range(2, boats + 1))]
    signals: dict[str, Signal] = {}
    points: dict[str, Point] = {}
    for n, boat in ((n, boat) for n in range(meters) for boat in keys):
        key = f"volts-{n}"
        signals[f"{boat}/{key}"] = Signal(
            id=f"{boat}/{key}", boat=boat, key=key, topic=f"{boat}/dc/{n}", pointer="/value", unit="V"
        )
        low = IsNumber(signal=key, than=Than.BELOW, limit=Decimal("12.0"), unit="V", lasting=10 * MINUTE)
        high = IsNumber(signal=key, than=Than.ABOVE, limit=Decimal("12.2"), unit="V", lasting=60 * SECOND)
        points[f"{boat}/low-{n}"] = Point(
            id=f"{boat}/low-{n}",
            boat=boat,
            key=f"low-{n}",
            name=f"Low {n}",
            priority=Priority.WARNING,
            when=low,
            clears=high,
            callout="x",
        )
    person = Person(
        id="p1",
        key="ines",
        name="Ines Marlow",
        number="+447700900123",
        role=Role.OWNER,
        zone=ZoneInfo("UTC"),
        boats=tuple(keys),
    )

    def read(_text: str) -> Meaning:
        return NotUnderstood(why=Why.NOT_A_PHRASE)

    return Bundle(
        fingerprint="bench",
        boats={
            key: Boat(key=key, name=key.upper(), short_name=key, zone=ZoneInfo("UTC"), broker="b", carrier="c")
            for key in keys
        },
        signals=signals,
        points=points,
        people={"p1": person},
        callouts={"x": CallOutList(key="x", steps=(Step(after=0, tell=("p1",)),), repeat=None)},
        equipment={},
        pacing=Pacing(),
        read_text=read,
        phrase=lambda _language, _request: "",
        code_words=(),
    )


def payload(n: int) -> bytes:
    """One message in fifty crosses its point's limit, so it makes an entry (began to hold, no longer holds)."""
    low = n % SIGNALS == 0 and (n // SIGNALS) % 2 == 0
    return json.dumps({"value": 11.5 if low else 12.8, "unit": "V", "seq": n}).encode()


class CountedStore:
    """The real store, and how often it committed. spent: seconds of processor time of the process meanwhile."""

    def __init__(self, path: Path) -> None:
        self.inner = open_store(path)
        self.commits, self.entries, self.readings, self.spent = 0, 0, 0, 0.0

    def load(self, state_version: str) -> Loaded:
        return self.inner.load(state_version)

    def has_seen(self, messages: list[str]) -> frozenset[str]:
        return self.inner.has_seen(messages)

    def commit(self, batch: Batch) -> None:
        self.inner.commit(batch)
        self.commits += 1
        self.entries += len(batch.written)
        self.readings += len(batch.readings)

    def close(self) -> None:
        self.inner.close()


async def drain(source: PublishSource, path: Path, settings: Bundle | None = None) -> tuple[float, CountedStore, float]:
    """Messages a second from the first PUBLISH to the last acknowledgement; the store; seconds to the subscription."""
    store = CountedStore(path)
    settings = settings or bundle()
    services: list[Service] = []
    bus = MqttBus(
        BrokerSettings(name="b", host="127.0.0.1", port=source.port, client_id="bench"),
        lambda: services[0].wake(),  # noqa: PLW0108 - the service is made after the bus
    )
    topics = [signal.topic for signal in settings.signals.values()]
    doors = Doors(
        store=store,  # type: ignore[arg-type]
        clock=SystemClock(),
        buses={"b": bus},
        carriers={},
        draw=chance.draw,
        topics={"b": topics},
        client_ids={"b": "bench"},
        new_people=(("p1", "ines", "+447700900123"),),
    )
    service = Service(settings, doors)
    services.append(service)
    began = time.perf_counter()
    running = asyncio.create_task(service.run())
    while not bus.is_listening:
        await asyncio.sleep(0)
    subscribed = time.perf_counter() - began
    before = time.process_time()
    served = await asyncio.to_thread(source.served, 120.0)
    store.spent = time.process_time() - before
    service.stop()
    await running
    assert served.acknowledged == source.count
    assert store.readings == source.count, "every reading is recorded"
    return served.acknowledged / served.seconds, store, subscribed


def measure(count: int = COUNT) -> dict[str, float]:
    """One run; the figures by name."""
    before = bare_rate(count)
    with (
        tempfile.TemporaryDirectory() as folder,
        PublishSource(
            count, topics=[f"bench/dc/{n}" for n in range(SIGNALS)], payload=payload, window=WINDOW
        ) as source,
    ):
        path = Path(folder) / "store"
        rate, store, subscribed = asyncio.run(drain(source, path))
        size = sum(file.stat().st_size for file in Path(folder).rglob("*") if file.is_file())
    bare = statistics.mean([before, bare_rate(count)])
    return {
        "bare reader, messages/s": bare,
        "whole path, messages/s": rate,
        "ratio": rate / bare,
        "entries": store.entries,
        "commits": store.commits,
        "bytes on disk": size,
        "bytes a reading": size / count,
        "loop to subscribed, s": subscribed,
        "resident memory, MiB": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


def main() -> None:
    """Print one run."""
    for name, figure in measure().items():
        print(f"{name:<26} {figure:>12,.3f}" if figure < 100 else f"{name:<26} {figure:>12,.0f}")


if __name__ == "__main__":
    main()
