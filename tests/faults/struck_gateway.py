"""Gateways that end themselves, as kill -9 would, at the n-th passing of one tagged step.

Run by test_kills.py: ``python struck_gateway.py FOLDER``. It reads lines, "STEP:N", or an empty one for a gateway that
is not struck. For each it starts one gateway as a process of its own, says "started PID", and, when that has ended,
"ended STATUS". The processes are forked from this one, which has everything imported and nothing begun: a hundred
starts would else be spent on imports.
"""

import asyncio
import os
import signal
import sys
import traceback
from pathlib import Path
from typing import NoReturn

from gateway.doors import chance
from gateway.doors.clock import SystemClock
from gateway.service.parts import Habits
from gateway.service.starting import CARRIED_OUT, Woken, doors_of, open_installation

POLLED_EVERY = 200  # ms: ten texts a second of a real phone are not waited for


class Strike:
    """Called at every tagged step."""

    def __init__(self, armed: str) -> None:
        self._step, _, passing = armed.rpartition(":")
        self._left = int(passing or 0)

    def __call__(self, name: str) -> None:
        if name == self._step:
            self._left -= 1
            if self._left == 0:
                os.kill(os.getpid(), signal.SIGKILL)


async def run(folder: Path, armed: str) -> None:
    opened = open_installation(folder, carried_out=CARRIED_OUT, environ=os.environ, person_id=chance.person_id)
    woken = Woken()
    doors = doors_of(opened, SystemClock(), chance.draw, woken)
    service = woken.service(
        opened, doors, Habits(quiet_commit=20, poll_every=POLLED_EVERY, snapshot_every=200, on_step=Strike(armed))
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


def main(folder: Path) -> None:
    for line in iter(sys.stdin.readline, ""):
        child = os.fork()
        if child == 0:
            sys.stdin.close()
            gateway(folder, line.strip())
        print(f"started {child}", flush=True)
        _, status = os.waitpid(child, 0)
        print(f"ended {os.waitstatus_to_exitcode(status)}", flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
