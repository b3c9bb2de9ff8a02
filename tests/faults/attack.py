"""Kills and cuts of a gateway under steady traffic: one store, one gateway after the other, and what each left."""

import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Self

from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.desk.bundle import Bundle
from gateway.desk.state import STATE_VERSION
from gateway.doors.store import open_reader
from gateway.installation.load import load
from gateway.logbook.verify import verify
from tests.faults.judging import Seen, fold, judged
from tests.faults.relay import Relay
from tests.faults.traffic import Traffic, lay_points, now, prove_numbers
from tests.service.quay import ACCOUNT, OUR_NUMBER, SECRETS, TOKEN, lay

RUNNER = Path(__file__).with_name("struck_gateway.py")
STEPS = {
    "before commit": "before commit",
    "an alarm taken, to commit": "alarm before commit",
    "within commit": "row of a commit",
    "commit to acknowledge": "committed",
    "acknowledge to act": "acknowledged",
    "commit to send": "before send",
    "send to answer": "carrier answered",
    "commit to publish": "before publish",
    "publish to answer": "published",
}
"""What is struck, and the tag at which it is."""

MOST_PASSINGS = {
    "before commit": 20,
    "commit to acknowledge": 20,
    "acknowledge to act": 20,
    "an alarm taken, to commit": 2,
    "within commit": 150,
    "commit to publish": 1,
    "publish to answer": 1,
}
"""At which passing it is struck, at the most: a start alone makes some, so that most fall into the traffic. 10 else."""

MOMENT = "a random moment"
LONGEST_LIFE = 2.0  # seconds to a random moment: from before the start is through to the midst of the traffic

CUT = {
    "broker": b"",
    "broker, within what the gateway says": b"heavingline-test",
    "broker, about the end of a command": b'"seen":',
    "carrier": b"",
    "carrier, within a text": b"POST /",
    "carrier, within its answer to a text": b"HTTP/1.1 201",
}
"""Which link is cut, and behind which words of either side the bytes are counted."""

FURTHEST = {
    "broker": 3_000,
    "broker, within what the gateway says": 400,
    "broker, about the end of a command": 6,
    "carrier": 30_000,
}
"""Bytes after which it is cut, at the most; 600 else: the length of a text's call or answer. Behind "seen": a command
has two to four, then come the four of the broker's answer: about half of these cuts leave a command without one."""

WITHIN = 45.0  # seconds for one gateway to come to its end; it takes one or two


class Breach(AssertionError):
    """A rule did not hold while the attack went on, in words."""


@dataclass
class Count:
    """What was done and seen. steps: kills by what was struck, and cuts by link."""

    kills: int = 0
    cuts: int = 0
    alarms: int = 0
    texts: int = 0
    commands: int = 0
    entries: int = 0
    seconds: float = 0.0
    steps: Counter[str] = field(default_factory=Counter)

    def add(self, other: "Count") -> None:
        """What another attack did on top."""
        for name in ("kills", "cuts", "alarms", "texts", "commands", "entries", "seconds"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.steps.update(other.steps)

    def __str__(self) -> str:
        struck = "\n".join(f"  {count:6} {step}" for step, count in sorted(self.steps.items()))
        return (
            f"{self.kills} kills, {self.cuts} cuts; {self.alarms} alarms, {self.texts} texts, "
            f"{self.commands} commands, {self.entries} entries, {self.seconds:.0f} s\n{struck}"
        )


class Attack:
    """One gateway after the other on one store. Made by `attack`."""

    def __init__(self, folder: Path, traffic: Traffic, bundle: Bundle, broker: Relay, carrier: Relay) -> None:
        self.folder, self.traffic, self.bundle = folder, traffic, bundle
        self.relays = {"broker": broker, "carrier": carrier}
        self.store, self.complaints = folder / "store", folder.with_name("complaints")
        self.count = Count()
        self.running = 0
        self._entries = 0

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

    # ------------------------------------------------------------ gateways come and go

    def gateway(self, armed: str = "") -> None:
        """Start one."""
        assert self.starter.stdin is not None
        self.starter.stdin.write(f"{armed}\n")
        self.running = self._said("started")

    def ended(self, *, after: float = WITHIN, by: signal.Signals = signal.SIGABRT) -> int:
        """Wait until it has ended, if need be by this signal after so many seconds; how."""
        watch = threading.Timer(after, os.kill, (self.running, by))
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
        if status != 0:
            raise Breach(f"it ended with {status}: {self.complaints.read_text()}")

    # ------------------------------------------------------------ kills

    def strike(self, step: str, dice: random.Random) -> None:
        """One gateway until it is killed; then what it left is looked at."""
        self.traffic.allow_more()
        if step == MOMENT:
            self.gateway()
            status = self.ended(after=dice.uniform(0, LONGEST_LIFE), by=signal.SIGKILL)
        else:
            self.gateway(f"{STEPS[step]}:{dice.randint(1, MOST_PASSINGS.get(step, 10))}")
            status = self.ended()
        if status == -signal.SIGABRT:
            raise Breach(f"'{step}' was not reached within {WITHIN:g} s; {self.untold()}")
        if status != -signal.SIGKILL:
            raise Breach(f"'{step}': it ended with {status}: {self.complaints.read_text()}")
        self.count.steps[f"kill: {step}"] += 1
        self.count.kills += 1
        self._look()

    def _look(self) -> None:
        """The logbook verifies, nothing was taken out of it, and what a start folds ends at its last entry."""
        if not self.store.exists():
            return
        with open_reader(self.store) as reader:
            report = verify(reader)
            if not report.ok:
                raise Breach(f"after a kill the logbook does not verify: {report}")
            if report.entries < self._entries:
                raise Breach(f"after a kill {self._entries - report.entries} entries are gone")
            self._entries = report.entries
            if fold(reader, self.bundle, STATE_VERSION).heads.n != report.entries:
                raise Breach("after a kill the fold does not end at the last entry")

    # ------------------------------------------------------------ cuts

    def cut(self, link: str, dice: random.Random) -> None:
        """One cut of a running gateway's link, and something told or heard through it afterwards."""
        self.traffic.allow_more()
        relay = self.relays[link.partition(",")[0]]
        hard = dice.random() < 0.5
        relay.cut_after(dice.randint(0, FURTHEST.get(link, 600)), hard=hard, saying=CUT[link])
        wait(f"a cut: {link}", lambda: not relay.is_armed)
        self.count.steps[f"cut: {link}, {'by a reset' if hard else 'as if closed'}"] += 1
        self.count.cuts += 1

    # ------------------------------------------------------------ what is left

    def untold(self) -> str:
        """Alarms that nobody was told of, in words."""
        points = [point for point in self.traffic.raised if not self.traffic.told()[point]]
        return f"points that the broker had taken and nobody was told of: {points}"

    def has_no_open_text(self) -> bool:
        """Whether every text's end is on disk."""
        with open_reader(self.store) as reader:
            return not reader.load(STATE_VERSION).open_texts

    def has_every_text(self) -> bool:
        """Whether all that the phones wrote is on disk."""
        with open_reader(self.store) as reader:
            kept = {one.entry.body["message"] for one in reader.written() if one.entry.kind == "text-received"}
        return kept >= set(self.traffic.texted)

    def come_to_rest(self) -> None:
        """No more is raised or asked; a gateway that is left alone does what is still to be done, and ends."""
        raised = self.traffic.calm()
        if not self.running:
            self.gateway()
        wait("every alarm is told", lambda: self.traffic.told().keys() >= set(raised), self.untold)
        self.traffic.pens_down()
        wait("all that was written is taken in", self.has_every_text)
        # A text that was struck before its answer is looked for a moment after the start: let it be claimed.
        wait("every text has its end", self.has_no_open_text)
        self.stop()

    def breaches(self) -> list[str]:
        """What did not hold, over everything so far."""
        traffic, told = self.traffic, self.traffic.told()
        installer = next(person.id for person in self.bundle.people.values() if person.key == "ruth")
        seen = Seen(
            sent=traffic.carrier.sent,
            commands=traffic.commands,
            raised=[f"grey-wagtail/point-{point}" for point in traffic.raised],
            told=Counter({f"grey-wagtail/point-{point}": count for point, count in told.items()}),
            texted=traffic.texted,
            installer=installer,
            rang=[call.id for call in traffic.carrier.rung],
        )
        found = judged(self.store, self.bundle, seen)
        if len(seen.commands) > traffic.confirmed:
            found.append(f"{len(seen.commands)} commands came of {traffic.confirmed} confirmations")
        with open_reader(self.store) as reader:
            self.count.entries = verify(reader).entries
        self.count.alarms, self.count.texts = len(seen.raised), len(seen.sent)
        self.count.commands = sum(seen.commands.values())
        return found


def wait(what: str, met: Callable[[], bool], instead: Callable[[], str] = lambda: "") -> None:
    """Until it is so, or a deadline, with what is there instead; other threads and processes go on meanwhile."""
    end, pause = time.monotonic() + WITHIN, threading.Event()
    while not met():
        if time.monotonic() > end:
            raise Breach(f"not within {WITHIN:g} s: {what}; {instead()}")
        pause.wait(0.02)


@contextmanager
def attack(place: Path) -> Iterator[Attack]:
    """A broker, a carrier, cables to both, an installation, its traffic, and the first gateway of all come and gone."""
    folder = place / "installation"
    carrier = CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=now)
    with EmbeddedBroker("mosquitto") as broker, carrier:
        port = int(carrier.url.rpartition(":")[2])
        with Relay(broker.port) as to_broker, Relay(port) as to_carrier:
            lay(folder, to_broker.port, f"http://127.0.0.1:{to_carrier.port}")
            lay_points(folder)
            prove_numbers(folder)
            traffic = Traffic(broker.port, carrier)
            plan = load(folder, person_id=lambda key: key, environ=SECRETS)
            with Attack(folder, traffic, plan.bundle, to_broker, to_carrier) as one:
                one.gateway()
                wait("the first gateway listens", lambda: bool(carrier.calls))
                one.stop()
                one.bundle = with_ids(folder)
                traffic.begin()
                try:
                    yield one
                finally:
                    traffic.end()


def with_ids(folder: Path) -> Bundle:
    """The installation with the persons' ids that the store gave them."""
    with open_reader(folder / "store") as reader:
        ids = {key: found for found, key, _ in reader.load("").people}
    return load(folder, person_id=ids.__getitem__, environ=SECRETS).bundle


def attacked(place: Path, *, kills: int, cuts: int, seed: str) -> tuple[Count, list[str]]:
    """One attack from beginning to end, on a folder of its own; its count, and every breach of the rules."""
    dice, began = random.Random(seed), time.monotonic()
    with attack(place) as one:
        try:
            for number in range(kills):
                one.strike(MOMENT if number % 2 else [*STEPS][number // 2 % len(STEPS)], dice)
            if cuts:
                one.gateway()
                for number in range(cuts):
                    one.cut([*CUT][number % len(CUT)], dice)
            one.come_to_rest()
            breaches = one.breaches()
        except Breach as breach:
            breaches = [str(breach)]
            one.count.alarms = len(one.traffic.raised)
    one.count.seconds = time.monotonic() - began
    return one.count, breaches
