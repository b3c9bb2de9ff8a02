"""kill -9 of the gateway exactly at each of four steps, often, under steady traffic over a real broker.

After each: the logbook verifies and its fold has every entry. At the end: no alarm untold, no text that the carrier
accepted sent again, no command twice. Seen to fail with the commit put behind the send: alarms came twice.
"""

import itertools
import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Self

import pytest

from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.state import STATE_VERSION
from gateway.doors.store import open_reader
from gateway.installation.load import load
from gateway.logbook.verify import verify
from gateway.service.starting import CARRIED_OUT
from tests.faults.traffic import POINTS, Traffic, lay_points, now
from tests.service.quay import ACCOUNT, OUR_NUMBER, SECRETS, TOKEN, lay

RUNNER = Path(__file__).with_name("struck_gateway.py")
STEPS = {
    "before commit": "before commit",
    "commit to acknowledge": "committed",
    "commit to send": "before send",
    "send to answer": "carrier answered",
}
"""What is struck, and the tag at which it is."""

MOST_PASSINGS = {"before commit": 20, "commit to acknowledge": 20, "commit to send": 10, "send to answer": 10}
"""At which passing it is struck, at the most: a start alone makes some, so that most fall into the traffic."""

TIMES = 20
"""Each step is struck at least so often (the check before a release)."""

SEED = 20260309
WITHIN = 45.0  # seconds for one gateway to come to its end; it takes one or two


class Attack:
    """Gateways one after the other on one store, and what was seen between them."""

    def __init__(self, folder: Path, traffic: Traffic, bundle: Bundle) -> None:
        self.folder, self.traffic, self.bundle = folder, traffic, bundle
        self.store, self.complaints = folder / "store", folder.with_name("complaints")
        self.struck: Counter[str] = Counter()
        self.entries = self.running = 0

    def __enter__(self) -> Self:
        env = {**os.environ, **SECRETS, "PYTHONPATH": os.pathsep.join(sys.path)}
        with self.complaints.open("wb") as sink:
            self.starter = subprocess.Popen(
                [sys.executable, str(RUNNER), str(self.folder)],
                env=env,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=sink,
                text=True,
                bufsize=1,
            )
        return self

    def __exit__(self, *_: object) -> None:
        if self.running:
            os.kill(self.running, signal.SIGKILL)
        self.starter.communicate()

    def gateway(self, armed: str = "") -> None:
        """Start one."""
        assert self.starter.stdin is not None
        self.starter.stdin.write(f"{armed}\n")
        self.running = self._said("started")

    def ended(self) -> int:
        """Wait until it has ended; how."""
        watch = threading.Timer(WITHIN, os.kill, (self.running, signal.SIGABRT))
        watch.start()
        status = self._said("ended")
        watch.cancel()
        watch.join()
        self.running = 0
        return status

    def _said(self, what: str) -> int:
        assert self.starter.stdout is not None
        word, number = self.starter.stdout.readline().split()
        assert word == what
        return int(number)

    def stop(self) -> None:
        """End it in order."""
        os.kill(self.running, signal.SIGTERM)
        status = self.ended()
        assert status == 0, f"{status}: {self.complaints.read_text()}"

    def has_no_open_text(self) -> bool:
        """Whether every text's end is on disk."""
        with open_reader(self.store) as reader:
            return not reader.load(STATE_VERSION).open_texts

    def strike(self, step: str, passing: int) -> None:
        """One gateway until it is struck; then what it left is looked at."""
        self.gateway(f"{STEPS[step]}:{passing}")
        status = self.ended()
        assert status == -signal.SIGKILL, f"{step}: it ended with {status}: {self.complaints.read_text()}"
        self.struck[step] += 1
        self.look(whole=sum(self.struck.values()) % 10 == 0)

    def look(self, *, whole: bool) -> None:
        """The logbook verifies, nothing was taken out of it, and what a start folds ends at its last entry. whole:
        folded from the first entry on as well."""
        with open_reader(self.store) as reader:
            report = verify(reader)
            assert report.ok, report
            assert report.entries >= self.entries
            self.entries = report.entries
            for version in (STATE_VERSION, "") if whole else (STATE_VERSION,):
                loaded = reader.load(version)
                rows = ((row.happening, row.now, row.reading) for row in loaded.readings)
                data = loaded.snapshot.data if loaded.snapshot is not None else None
                assert rebuilt(self.bundle, data, loaded.entries, rows).state.heads.n == report.entries


def wait(what: str, met: Callable[[], bool]) -> None:
    end, pause = time.monotonic() + WITHIN, threading.Event()
    while not met():
        assert time.monotonic() < end, f"not within {WITHIN:g} s: {what}"
        pause.wait(0.02)


def carried_out(attack: Attack) -> dict[str, Counter[str]]:
    """What the record says: how often each of the carrier's texts, and each command, was claimed."""
    found: dict[str, Counter[str]] = {"messages": Counter(), "confirmed": Counter()}
    with open_reader(attack.store) as reader:
        for written in reader.written():
            body = written.entry.body
            if written.entry.kind == "text-answered" and body["accepted"]:
                found["messages"][str(body["message"])] += 1
            elif written.entry.kind == "request-step" and body["event"] == "send":
                found["confirmed"][str(body["order"])] += 1
    return found


@pytest.mark.struck
@pytest.mark.timeout(900)
def test_no_alarm_is_lost_and_nothing_goes_twice_however_the_gateway_is_killed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, dice, began = tmp_path / "installation", random.Random(SEED), time.monotonic()
    carrier = CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=now)
    with EmbeddedBroker("mosquitto") as broker, carrier:
        lay(folder, broker.port, carrier.url)
        lay_points(folder)
        plan = load(folder, person_id=lambda key: f"id-of-{key}", carried_out=CARRIED_OUT, environ=SECRETS)
        traffic = Traffic(broker.port, carrier)
        with Attack(folder, traffic, plan.bundle) as attack:
            attack.gateway()
            wait("the first gateway listens", lambda: bool(carrier.calls))
            attack.stop()
            traffic.begin()
            try:
                for step in itertools.chain.from_iterable([STEPS] * TIMES):
                    attack.strike(step, dice.randint(1, MOST_PASSINGS[step]))
                raised = traffic.calm()
                attack.gateway()
                wait("every alarm is told", lambda: traffic.told().keys() >= set(raised))
                # A text that was struck before its answer is looked for a moment after the start: let it be claimed.
                wait("every text has its end", attack.has_no_open_text)
                attack.stop()
            finally:
                traffic.end()
        attack.look(whole=True)
        sent, recorded = carrier.sent, carried_out(attack)
        with capsys.disabled():
            print(
                f"\n[struck {dict(attack.struck)}; {len(traffic.raised)} of {POINTS} alarms, {len(sent)} texts, "
                f"{traffic.asked} switches asked, {traffic.confirmed} confirmed, {sum(traffic.commands.values())} "
                f"commands, {attack.entries} entries, {time.monotonic() - began:.0f} s]"
            )
        assert all(attack.struck[step] >= TIMES for step in STEPS), "a step was not struck often enough"
        assert len(raised) > TIMES, "there was no traffic to speak of"
        assert set(traffic.told().values()) == {1}, "an alarm was told more than once"
        unclaimed = [f"{text.number} {text.body}" for text in sent if text.message not in recorded["messages"]]
        assert not unclaimed, "texts that no order accounts for: they went twice"
        assert {text.message for text in sent} == set(recorded["messages"]), "an order for a text that never was"
        assert set(recorded["messages"].values()) == {1}, "two orders account for one text"
        assert set(traffic.commands.values()) <= {1}, "a command came twice"
        assert set(traffic.commands) <= set(recorded["confirmed"]), "a command that nobody confirmed"
        assert len(recorded["confirmed"]) <= traffic.confirmed
