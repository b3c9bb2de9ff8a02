"""`heavingline demo --live`: lines come from the terminal, a pipe or a file."""

import asyncio
import os
import shutil
import signal
import stat
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from gateway.demo.boat_link import BoatLinkTrouble
from gateway.demo.broker import BrokerMissing
from gateway.demo.director import NeverStill
from gateway.demo.live import Lines, Stage, stage
from gateway.doors.faces import DoorTrouble
from gateway.installation.starter import FolderTaken

CHUNK = 65536  # bytes read at a time; our choice


def play_live(keep: Path | None) -> int:
    """Run the demo at the pace of the clock until `quit`; the exit code."""
    folder = Path(tempfile.mkdtemp(prefix="heavingline-")) if keep is None else keep
    try:
        with stage(_print, folder) as set_up:
            well = asyncio.run(_play(set_up))
    except FolderTaken as taken:
        click.echo(str(taken), err=True)
        return 2
    except (BrokerMissing, BoatLinkTrouble, NeverStill, DoorTrouble, OSError) as trouble:
        click.echo(str(trouble), err=True)
        return 1
    finally:
        if keep is None:
            shutil.rmtree(folder, ignore_errors=True)
    if keep is not None:
        click.echo(f"Kept: {keep}")
    return 0 if well else 1


def _print(line: str) -> None:
    """At once, also into a pipe."""
    click.echo(line)
    sys.stdout.flush()


async def _play(set_up: Stage) -> bool:
    lines = Lines()
    loop = asyncio.get_running_loop()
    for name in (signal.SIGTERM, signal.SIGINT):
        loop.add_signal_handler(name, lines.put_nowait, "quit")
    with _typed_into(lines):
        return await set_up.play(lines)


@contextmanager
def _typed_into(lines: Lines) -> Iterator[None]:
    """Put every line of standard input into the queue, and None at its end.

    The loop watches the input itself: a thread that reads cannot be stopped while it waits for somebody to type, and
    a pipe set to be read without waiting would change the terminal that the output goes to as well.
    """
    loop, source = asyncio.get_running_loop(), sys.stdin.fileno()
    rest = bytearray()

    def more() -> bool:
        chunk = os.read(source, CHUNK)
        rest.extend(chunk)
        *whole, last = rest.split(b"\n")
        rest[:] = last
        for line in whole if chunk else [*whole, last]:
            lines.put_nowait(line.decode(errors="replace"))
        if not chunk:
            lines.put_nowait(None)
        return bool(chunk)

    def ready() -> None:
        if not more():
            loop.remove_reader(source)

    kind = os.fstat(source).st_mode
    if os.isatty(source) or stat.S_ISFIFO(kind) or stat.S_ISSOCK(kind):
        loop.add_reader(source, ready)
    else:  # a plain file (or the empty device) never makes anybody wait, and cannot be watched
        while more():
            pass
    try:
        yield
    finally:
        loop.remove_reader(source)
