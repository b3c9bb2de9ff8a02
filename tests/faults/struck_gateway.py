"""Gateways that end themselves, as kill -9 would, at the n-th passing of one tagged step.

Run by attack.py: ``python struck_gateway.py FOLDER``. It reads lines, "STEP:N", or an empty one for a gateway that does
not strike itself; "@MS" behind either sets the gateway's clock so far ahead of this machine's. For each it starts one
gateway as a process of its own, says "started PID", and, when that has ended, "ended STATUS". The processes are forked
from this one, which has everything imported and nothing begun: a hundred starts would else be spent on imports.
"""

import asyncio
import ctypes
import os
import signal
import sys
import threading
import traceback
from collections.abc import Callable
from dataclasses import asdict, replace
from pathlib import Path
from typing import NoReturn

from gateway.doors import chance
from gateway.doors.bus import MqttBus, Patience
from gateway.doors.clock import SystemClock
from gateway.doors.faces import Batch, BrokerSettings, Store
from gateway.service.parts import Habits
from gateway.service.starting import Woken, doors_of, open_installation
from gateway.vocabulary.moments import SECOND, Ms

POLLED_EVERY = 200  # ms: ten texts a second of a real phone are not waited for
HURRIED = Patience(first=0.02, longest=0.2, steady=60.0)  # s between two connections, instead of up to half a minute


LEAD = 0.02  # s before a kill at a commit: what must not be done before it has time to be done, and to be seen
CHANGES = ("INSERT", "DELETE", "UPDATE", "REPLACE")


class HurriedClock(SystemClock):
    """Waits between two tries with the carrier (5 s and more) are a tenth as long; nothing else is."""

    async def sleep(self, length: Ms) -> None:
        await super().sleep(length // 10 if length >= 5 * SECOND else length)


class AheadClock(HurriedClock):
    """A clock that is set so far (ms) ahead of this machine's; it goes as fast."""

    def __init__(self, ahead: Ms) -> None:
        super().__init__()
        self._ahead = ahead

    def start(self, woken: Callable[[], None], not_before: Ms | None) -> None:
        super().start(woken, None if not_before is None else not_before - self._ahead)

    def now(self) -> Ms:
        return super().now() + self._ahead


class Strike:
    """Called at every tagged step."""

    def __init__(self, armed: str) -> None:
        self._step, _, passing = armed.rpartition(":")
        self._left = int(passing or 0)

    def __call__(self, name: str, *, lead: float = 0.0) -> None:
        if name == self._step:
            self._left -= 1
            if self._left == 0:
                threading.Event().wait(lead)
                os.kill(os.getpid(), signal.SIGKILL)


class StruckStore:
    """The store, struck before a commit that has an alarm's beginning, and within one that has entries, at the n-th
    row: there what is on disk is half a commit, if anything.

    Of the commits of a second one has the alarm, so that "before commit" hardly ever falls on it.
    """

    def __init__(self, store: Store, strike: Strike) -> None:
        self._store, self._strike = store, strike

    def __getattr__(self, name: str) -> object:
        return getattr(self._store, name)

    def commit(self, batch: Batch) -> None:
        steps = [written.entry.body for written in batch.written if written.entry.kind == "alarm-step"]
        if any(body["event"] == "raise" for body in steps):
            self._strike("alarm before commit", lead=LEAD)
        driver = self._store._connection().driver  # type: ignore[attr-defined]
        driver.set_trace_callback(self._row if batch.written else None)
        self._store.commit(batch)

    def _row(self, statement: str) -> None:
        if statement.startswith(CHANGES):
            self._strike("row of a commit")


async def run(folder: Path, armed: str) -> None:
    armed, _, ahead = armed.partition("@")
    opened = open_installation(folder, environ=os.environ, person_id=chance.person_id)
    woken = Woken()
    doors = doors_of(opened, AheadClock(int(ahead or 0)), chance.draw, woken)
    buses = {b.name: MqttBus(BrokerSettings(**asdict(b)), woken, patience=HURRIED) for b in opened.installation.brokers}
    strike = Strike(armed)
    doors = replace(doors, buses=buses, store=StruckStore(opened.store, strike))
    service = woken.service(
        opened, doors, Habits(quiet_commit=20, poll_every=POLLED_EVERY, snapshot_every=200, on_step=strike)
    )
    asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, service.stop)
    await service.run()


def gateway(folder: Path, armed: str) -> NoReturn:
    """The child: never comes back."""
    try:
        asyncio.run(run(folder, armed))
    except BaseException:
        traceback.print_exc()
        os._exit(1)
    os._exit(0)


def tied_to_parent() -> None:
    """Ask the kernel to kill this process when its parent dies (Linux, prctl(2), PR_SET_PDEATHSIG = 1)."""
    ctypes.CDLL(None).prctl(1, signal.SIGKILL)


def main(folder: Path) -> None:
    tied_to_parent()
    for line in iter(sys.stdin.readline, ""):
        child = os.fork()
        if child == 0:
            tied_to_parent()
            sys.stdin.close()
            gateway(folder, line.strip())
        print(f"started {child}", flush=True)
        _, status = os.waitpid(child, 0)
        print(f"ended {os.waitstatus_to_exitcode(status)}", flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
