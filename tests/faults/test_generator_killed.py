"""kill -9 of the real gateway while it switches the generator: between order and proof, and between a stop that is due
and its sending (design 4, rule 2). What has gone out is never sent a second time; the stop is sent.

The gateway is a process of its own on a real broker and the carrier's stand-in. Between two of its lives the clock of
everybody (gateway, carrier, boat) is set ahead, so that nobody waits for the end of a run. That the end is told once it
is proved is looked at in tests/service: after such a leap nothing the boat says counts as live for some minutes.

Seen to fail with: a command that is out at a start neither unproven nor told, a stop that was noted taken for sent, an
end that is due never sent. Some of the runs failed, too, before an end waited for what lay with the broker.
"""

import json
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
from pathlib import Path

import pytest

from gateway.demo.boat import DemoBoat
from gateway.demo.boat_link import BoatLink
from gateway.demo.broker import EmbeddedBroker
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.story import TOBIAS
from gateway.doors.store import open_reader
from gateway.logbook.verify import verify
from gateway.requests.life import ENDS, RequestState
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from tests.faults.attack import RUNNER
from tests.service.quay import ACCOUNT, OUR_NUMBER, SECRETS, TOKEN, at, lay

MORNING = at("09:00:00")  # within the hours that the marina permits
WITHIN = 45.0  # seconds; a deadline, not a wait
MOMENT = "any moment"
RUN = 5 * MINUTE
SAYS_ALL_EVERY = SECOND
"""A node takes a command whose sender had heard its last state or the one before: not so often that both are passed."""


class Wharf:
    """The boat, a phone and one gateway after the other. Made by `wharf`."""

    def __init__(self, folder: Path, port: int, starter: "subprocess.Popen[str]", ahead: Ms) -> None:
        self.folder, self.starter, self.ahead = folder, starter, ahead
        self.boat, self.link = DemoBoat(), BoatLink("127.0.0.1", port)
        self.commands: list[tuple[str, str]] = []  # id and action of all that reached the boat
        self.carrier: CarrierStandIn
        self.running = 0
        self._said_at: Ms = 0

    def now(self) -> Ms:
        return time.time_ns() // 1_000_000 + self.ahead

    # ------------------------------------------------------------ the gateway

    def begin(self, armed: str = "") -> None:
        assert self.starter.stdin is not None
        self.starter.stdin.write(f"{armed}@{self.ahead}\n")
        self.running = self._said("started")
        calls = len(self.carrier.calls)
        self.until("it listens", lambda: len(self.carrier.calls) > calls, silent=True)
        self._said_at = 0

    def is_killed(self) -> None:
        """Wait until it has struck itself; the boat lives on meanwhile."""
        ended: list[int] = []
        watch = threading.Thread(target=lambda: ended.append(self._said("ended")))
        watch.start()
        self.until("it is killed", lambda: bool(ended))
        watch.join()
        assert ended == [-signal.SIGKILL]
        self.running = 0
        with open_reader(self.folder / "store") as reader:
            assert verify(reader).ok

    def kill(self) -> None:
        os.kill(self.running, signal.SIGKILL)
        self.is_killed()

    def end(self) -> None:
        os.kill(self.running, signal.SIGTERM)
        assert self._said("ended") == 0
        self.running = 0

    def _said(self, what: str) -> int:
        assert self.starter.stdout is not None
        word, number = self.starter.stdout.readline().split()
        assert word == what
        return int(number)

    # ------------------------------------------------------------ boat and phone

    def takes(self) -> None:
        """The boat takes the commands that have come."""
        for command in self.link.commands():
            said = json.loads(command.payload)
            self.commands.append((said["id"], said["do"]))
            self.boat.command(command.topic, command.payload, command.retained, self.now())

    def says(self) -> None:
        """She says all she knows, again and again: only what is live counts for a switch."""
        now = self.now()
        if now >= self._said_at:
            self._said_at = now + SAYS_ALL_EVERY
            self.boat.come_back(now)
            self.link.publish_and_wait(self.boat.due(now))

    def until(self, what: str, met: Callable[[], bool], *, silent: bool = False) -> None:
        """Until it is so, or a deadline. silent: what the boat said now would only lie with the broker."""
        end, pause = time.monotonic() + WITHIN, threading.Event()
        while not met():
            assert time.monotonic() < end, f"not within {WITHIN:g} s: {what}; {self.told()[-3:]}"
            self.takes()
            if not silent:
                self.says()
            pause.wait(0.01)

    def told(self) -> list[str]:
        return [text.body for text in self.carrier.sent if text.number == TOBIAS]

    def writes(self, body: str) -> None:
        self.carrier.text_in(TOBIAS, body, self.now())

    def hears(self, *words: str) -> str:
        """A text to the phone that has one of these words, newer than the last that was waited for."""
        before = len(self.told())
        self.until(f"told {words}", lambda: any(word in body for body in self.told()[before:] for word in words))
        return next(body for body in reversed(self.told()) if any(word in body for word in words))

    def asks(self, body: str, *words: str) -> str:
        self.writes(body)
        return self.hears(*words)

    # ------------------------------------------------------------ what is seen

    def sent(self) -> Counter[str]:
        """How often each action came to the boat; no id ever came twice."""
        ids = Counter(id_ for id_, _ in self.commands)
        assert set(ids.values()) <= {1}, ids
        return Counter(action for _, action in self.commands)

    def ends(self) -> list[str]:
        with open_reader(self.folder / "store") as reader:
            assert verify(reader).ok
            steps = [one.entry.body for one in reader.written() if one.entry.kind == "request-step"]
        return [str(step["after"]) for step in steps if step["after"] in ENDS]


@contextmanager
def wharf(place: Path) -> Iterator[Wharf]:
    folder, ahead = place / "installation", MORNING - time.time_ns() // 1_000_000
    env = {**os.environ, **SECRETS, "PYTHONPATH": os.pathsep.join(sys.path)}
    words = [sys.executable, str(RUNNER), str(folder)]
    with (
        subprocess.Popen(
            words, env=env, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
        ) as starter,
        EmbeddedBroker() as broker,
    ):
        one = Wharf(folder, broker.port, starter, ahead)
        with CarrierStandIn(account=ACCOUNT, token=TOKEN, own_number=OUR_NUMBER, now=one.now) as carrier:
            one.carrier = carrier
            lay(folder, broker.port, carrier.url)
            differences = folder / "boats/grey-wagtail/equipment.toml"  # its rest before a start is no matter here
            differences.write_text(f'[equipment.generator]\nminimum_off = "0 s"\n{differences.read_text()}')
            one.link.connect()
            try:
                yield one
            finally:
                if one.running:
                    os.kill(one.running, signal.SIGKILL)
                assert starter.stdin is not None
                starter.stdin.close()
                one.link.close()


def confirms(one: Wharf) -> list[str]:
    """Ask for a start of 5 min and send its words back. Returns the words."""
    answer = one.asks("generator start for 5 min", "Reply GO", "NOT")
    while "Reply GO " not in answer:  # the boat has not been heard yet
        answer = one.asks("generator start for 5 min", "Reply GO", "NOT")
    code = answer.split("Reply GO ", 1)[1].split()[:2]
    one.writes(f"go {code[0]} {code[1]}")
    return code


def killed_twice(one: Wharf, start: str, stop: str, dice: random.Random) -> None:
    """Struck when the start goes out, and struck again when its end is due."""
    one.begin("" if start == MOMENT else f"{start}:1")
    one.asks("visit over", "Noted", "aboard", "visit")
    code = confirms(one)
    if start == MOMENT:
        threading.Event().wait(dice.uniform(0, 0.6))
        one.kill()
    else:
        one.is_killed()
    one.takes()
    began = one.sent()["start"]
    assert began <= 1
    if start != MOMENT:
        assert began == (start == "published")

    told_before = len(one.told())
    one.begin()
    # Else the GO had not been read: it starts the set now, or is refused because nothing was heard of the boat yet.
    unproven, refused = "no proof that it started", "NOT started"

    def known() -> str:
        said = " ".join(one.told()[told_before:])
        return "sent" if one.sent()["start"] else next((each for each in (unproven, refused) if each in said), "")

    one.until("it is known", lambda: bool(known()))
    if known() == refused:
        assert start == MOMENT
        confirms(one)
        one.until("it is asked of the boat", lambda: bool(one.sent()["start"]))
    if start != MOMENT:
        one.until("it is told", lambda: any("Not sent again" in body for body in one.told()))
        assert "used already" in one.asks(f"go {code[0]} {code[1]}", "used already")
    one.end()
    one.takes()
    assert one.sent()["start"] <= 1

    one.ahead += RUN + 30 * SECOND  # the end is due; the node's own timer has minutes left
    one.begin("" if stop == MOMENT else f"{stop}:1")
    if stop == MOMENT:
        threading.Event().wait(dice.uniform(0.2, 1.2))
        one.kill()
    else:
        one.is_killed()
    one.takes()
    before = one.sent()["stop"]
    if stop != MOMENT:
        assert before == (stop == "published")

    one.ahead += 61 * SECOND  # a stop that is not proved is due again after a minute
    one.begin()
    one.until("the stop reaches the boat", lambda: one.sent()["stop"] >= 1 and not one.boat.generator.is_running)
    one.end()
    one.takes()
    assert one.sent()["start"] <= 1


@pytest.mark.struck
@pytest.mark.timeout(300)
def test_a_kill_before_the_proof_and_a_kill_before_the_stop_cost_neither_the_truth_nor_the_stop(tmp_path: Path) -> None:
    with wharf(tmp_path) as one:
        killed_twice(one, "published", "before publish", random.Random(1))
        assert one.sent() == Counter(start=1, stop=1)
        assert one.ends()[-1] == RequestState.UNPROVEN
        assert RequestState.PROVED not in one.ends()


@pytest.mark.struck
@pytest.mark.timeout(300)
@pytest.mark.parametrize("stop", ["before publish", "published", MOMENT])
@pytest.mark.parametrize("start", ["before publish", "published", MOMENT])
def test_wherever_it_is_killed_no_start_goes_out_twice_and_the_stop_that_is_due_is_sent(
    tmp_path: Path, start: str, stop: str
) -> None:
    with wharf(tmp_path) as one:
        killed_twice(one, start, stop, random.Random(f"{start} {stop}"))
