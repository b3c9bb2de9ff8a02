"""How long `heavingline run` takes from its start to being subscribed, and the memory it then holds.

Run it with ``python -m tests.benchmarks.starting``. The starter runs against a real broker and the carrier's stand-in;
"subscribed" is when a message published by somebody else has been acknowledged into the record, which is more than the
broker's word. The yardstick beside it is the bare interpreter's start on the same machine.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from gateway.demo.boat_link import BoatLink
from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.performance import ACCOUNT, OUR_NUMBER, TOKEN, links
from gateway.doors.faces import StoreUnreadable
from gateway.doors.store import open_reader
from gateway.installation.starter import lay_down

RUNS = 5
PATIENCE = 30.0  # seconds


def bare_start() -> float:
    """Seconds that an interpreter takes which does nothing."""
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", "pass"], check=True)
    return time.perf_counter() - began


def one_run(folder: Path) -> tuple[float, float]:
    """(seconds to the first recorded reading, MiB resident then)."""
    with (
        EmbeddedBroker() as broker,
        CarrierStandIn(
            account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=lambda: time.time_ns() // 1_000_000
        ) as carrier,
        BoatLink("127.0.0.1", broker.port) as boat,
    ):
        lay_down(folder)
        (folder / "gateway.toml").write_text(links(broker.port, carrier.url), encoding="utf-8")
        boat.publish_and_wait([("grey-wagtail/ac/shore", "on", True)])
        began = time.perf_counter()
        running = subprocess.Popen(
            [sys.executable, "-m", "gateway", "run", str(folder)],
            env=os.environ | {"HEAVINGLINE_CARRIER_TOKEN": TOKEN},
            stdout=subprocess.DEVNULL,
        )
        try:
            while not _has_readings(folder / "store"):
                assert time.perf_counter() - began < PATIENCE, "the service recorded nothing"
                time.sleep(0.005)
            seconds = time.perf_counter() - began
            status = Path(f"/proc/{running.pid}/status").read_text(encoding="ascii")
            resident = next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmRSS"))
        finally:
            running.terminate()
            running.wait()
    return seconds, resident / 1024


def _has_readings(store: Path) -> bool:
    if not store.exists():
        return False
    try:
        with open_reader(store) as reader:
            return any(True for _ in reader.blocks())
    except StoreUnreadable:
        return False  # not laid out yet


def main() -> None:
    """Print the medians of some runs."""
    figures = []
    for _ in range(RUNS):
        with tempfile.TemporaryDirectory() as folder:
            figures.append(one_run(Path(folder) / "boats"))
    bare = statistics.median(bare_start() for _ in range(RUNS))
    seconds = statistics.median(one for one, _ in figures)
    ratio = seconds / bare
    print(
        f"start to the first reading on disk  {seconds:.2f} s ({ratio:.0f} times the bare interpreter's {bare:.3f} s)"
    )
    print(f"resident memory then                {statistics.median(memory for _, memory in figures):.0f} MiB")


if __name__ == "__main__":
    main()
