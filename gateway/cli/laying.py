"""`heavingline new` and `heavingline add-boat`."""

import os
from pathlib import Path

import click

from gateway.cli.counting import counted
from gateway.cli.shell import ShellVariables
from gateway.doors.clock import SystemClock
from gateway.installation.adding import NewBoat, NotAdded, add_boat
from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import FolderTaken, lay_down, whole_standard


def lay_starter(folder: Path, volts: str, battery: str) -> int:
    """Lay down the starter, its first boat with every alarm point for that voltage and battery; the exit code."""
    try:
        files = lay_down(folder, built_on=whole_standard(volts, battery))
    except FolderTaken as taken:
        click.echo(str(taken), err=True)
        return 2
    except OSError as trouble:
        click.echo(f"{folder}: {trouble.strerror or trouble}. Name a folder that you may write to.", err=True)
        return 1
    click.echo(
        f"{counted(len(files), 'file')} laid down in {folder}. Next: put in your people, links and boat, then "
        f"heavingline check {folder}"
    )
    return 0


def add_one_boat(folder: Path, wanted: NewBoat) -> int:
    """Make a boat's folder, and say what is still asked for; the exit code."""
    try:
        files = add_boat(folder, wanted)
    except NotAdded as refused:
        click.echo(str(refused), err=True)
        return 2
    key = files[0].split("/")[1]
    click.echo(
        f"{counted(len(files), 'file')} made in {folder / 'boats' / key}. Nothing differs from the standard yet."
    )
    for line in (
        "Next:",
        f'  1. people.toml: write "{key}" into the `boats` of everybody whose matter she is (owner, caretaker ...).',
        "  2. What this boat has otherwise than the standard: key by key in those files. They say how.",
        f"  3. Aboard: publish below {key}/ on the topics that the standard names.",
        f"  4. heavingline check {folder}",
    ):
        click.echo(line)
    try:
        load(folder, person_id=str, environ=ShellVariables(os.environ), now=SystemClock().now())
    except InstallationRefused as refused_yet:
        click.echo("     It asks now for:")
        for mistake in refused_yet.mistakes:
            click.echo(f"     {mistake}")
    return 0
