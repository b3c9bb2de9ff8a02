"""``python -m tests.faults --kills N --cuts N --seed S [--total FILE]``: attacks until the count is reached.

With --total what was done stands in that file, a run that was broken off goes on from there, and the count is that of
the file. Each attack has a store of its own; its seed is S and its number.
"""

import argparse
import json
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.faults.attack import Count, attacked

KILLS_EACH, CUTS_EACH = 40, 10
"""In one attack: its points last for so many, and a run that is broken off loses no more (our choice)."""


def main(words: list[str] | None = None) -> int:
    """0 when every rule held, 1 when one was broken."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description="Kills and cuts a gateway at work.")
    parser.add_argument("--kills", type=int, default=200, help="kill -9, half at tagged steps, half at any moment")
    parser.add_argument("--cuts", type=int, default=50, help="of the links to broker and carrier, at any byte")
    parser.add_argument("--seed", default="1")
    parser.add_argument("--total", type=Path, help="a file that keeps the count over several runs")
    wanted = parser.parse_args(words)
    total, attacks = _kept(wanted.total)
    breaches: list[str] = []
    while not breaches and (total.kills < wanted.kills or total.cuts < wanted.cuts):
        seed = f"{wanted.seed}.{attacks}"
        with tempfile.TemporaryDirectory(prefix="heavingline-struck-") as place:
            kills = min(KILLS_EACH, max(0, wanted.kills - total.kills))
            cuts = min(CUTS_EACH, max(0, wanted.cuts - total.cuts))
            count, breaches = attacked(Path(place), kills=kills, cuts=cuts, seed=seed)
        total.add(count)
        attacks += 1
        if wanted.total is not None and not breaches:
            kept = {"attacks": attacks, **vars(total)}
            wanted.total.write_text(json.dumps(kept, indent=1), encoding="utf-8")
        done = f"{count.kills} kills, {count.cuts} cuts, {count.alarms} alarms, {count.seconds:.0f} s"
        print(f"attack {attacks}, seed {seed}: {done}", flush=True)
    for breach in breaches:
        print(f"BROKEN: {breach}")
    print(total)
    return 1 if breaches else 0


def _kept(file: Path | None) -> tuple[Count, int]:
    if file is None or not file.exists():
        return Count(), 0
    said = json.loads(file.read_text(encoding="utf-8"))
    attacks = said.pop("attacks")
    return Count(**{**said, "steps": Counter(said["steps"])}), attacks


if __name__ == "__main__":
    sys.exit(main())
