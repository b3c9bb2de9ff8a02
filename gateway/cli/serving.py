"""`heavingline run`."""

import asyncio
import os
import signal
from pathlib import Path

import click

from gateway.cli.switched import switched_by_text
from gateway.doors import chance
from gateway.doors.clock import SystemClock
from gateway.doors.faces import DoorTrouble
from gateway.installation.mistakes import InstallationRefused
from gateway.service.faults import log
from gateway.service.starting import Opened, Woken, doors_of, open_installation


def serve(folder: Path) -> int:
    """Run until SIGTERM or SIGINT; the exit code. Wrong files: every mistake is named and nothing is started."""
    try:
        opened = open_installation(folder, environ=os.environ, person_id=chance.person_id, now=SystemClock().now)
    except InstallationRefused as refused:
        click.echo(str(refused), err=True)
        click.echo("Nothing was started.", err=True)
        return 1
    except DoorTrouble as trouble:
        click.echo(str(trouble), err=True)
        return 1
    for warning in opened.installation.warnings:
        click.echo(f"Look at: {warning}")
    for line in switched_by_text(opened.installation.bundle.equipment):
        click.echo(line)
    try:
        asyncio.run(_run(opened))
    except DoorTrouble as trouble:
        click.echo(str(trouble), err=True)
        return 1
    except Exception as fault:  # ours; whoever starts it again finds in the log what it was
        log(fault)
        return 1
    return 0


async def _run(opened: Opened) -> None:
    woken = Woken()
    doors = doors_of(opened, SystemClock(), chance.draw, woken)
    service = woken.service(opened, doors)
    loop = asyncio.get_running_loop()
    for name in (signal.SIGTERM, signal.SIGINT):
        loop.add_signal_handler(name, service.stop)
    click.echo("Running. Stop with SIGTERM or Ctrl-C.")
    await service.run()
    click.echo("Stopped in order.")
