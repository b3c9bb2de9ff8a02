"""The whole intake with 1, 100 and 1,000 boats: a message costs the same, to within a fifth.

Run it with ``python -m tests.benchmarks.whole_path_of_fleets``. Queued messages, each of another boat than the one
before where there are several, are drained through the real service and committed (`whole_path`). The sizes are run in
turn, several times over, and the best of each is taken: what else the machine does only ever slows a run down.
"""

import asyncio
import json
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.bare_reader import PublishSource, bare_rate
from tests.benchmarks.whole_path import WINDOW, bundle, drain

SIZES = (1, 100, 1_000)
METERS = 10  # of a boat
COUNT, TURNS = 20_000, 3
WITHIN = 1.2  # as promised


def payload(n: int) -> bytes:
    """A value that never crosses a limit: what an entry costs is no matter of how many boats there are."""
    return json.dumps({"value": 12.8, "unit": "V", "seq": n}).encode()


def once(boats: int, count: int) -> tuple[float, float, int]:
    """Microseconds a message on the wall and of this process's processor time, and commits."""
    settings = bundle(boats, METERS)
    topics = [signal.topic for signal in settings.signals.values()]
    with (
        tempfile.TemporaryDirectory() as folder,
        PublishSource(count, topics=topics, payload=payload, window=WINDOW) as source,
    ):
        rate, store, _ = asyncio.run(drain(source, Path(folder) / "store", settings))
    return 1e6 / rate, store.spent * 1e6 / count, store.commits


def main(count: int = COUNT) -> None:
    """Print the best of several turns."""
    best = dict.fromkeys(SIZES, (1000000000.0, 1000000000.0))
    commits = dict.fromkeys(SIZES, 0)
    for _ in range(TURNS):
        for boats in SIZES:
            wall, own, commits[boats] = once(boats, count)
            best[boats] = min(best[boats][0], wall), min(best[boats][1], own)
    bare = 1e6 / bare_rate(count)
    print(f"bare reader: {bare:.1f} microseconds a message")
    for boats, (wall, own) in best.items():
        print(
            f"{boats:5} boats: {wall:6.1f} microseconds a message ({bare / wall:.2f} of the bare reader, "
            f"{wall / best[1][0]:.2f} of one boat), {own:6.1f} of own time "
            f"({own / best[1][1]:.2f}; promised {WITHIN}), {commits[boats]} commits"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if sys.argv[1:] else COUNT)
