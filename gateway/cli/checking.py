"""`heavingline check` and `heavingline new`."""

import os
from pathlib import Path

import click

from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import FolderTaken, lay_down
from gateway.service.starting import CARRIED_OUT


def check_folder(folder: Path) -> int:
    """Read an installation and name every mistake in it; the exit code."""
    try:
        found = load(folder, person_id=lambda key: key, carried_out=CARRIED_OUT, environ=os.environ)
    except InstallationRefused as refused:
        for mistake in refused.mistakes:
            click.echo(str(mistake))
        count = len(refused.mistakes)
        click.echo(f"{count} {'mistake' if count == 1 else 'mistakes'}. Nothing was started.")
        return 1
    for warning in found.warnings:
        click.echo(f"Look at: {warning}")
    bundle = found.bundle
    click.echo(
        f"No mistakes: {len(bundle.boats)} boats, {len(bundle.signals)} signals, {len(bundle.points)} alarm points, "
        f"{len(bundle.equipment)} pieces of equipment, {len(bundle.people)} persons. Nothing was started."
    )
    return 0


def lay_starter(folder: Path) -> int:
    """Lay down the starter; the exit code."""
    try:
        files = lay_down(folder)
    except FolderTaken as taken:
        click.echo(str(taken), err=True)
        return 2
    click.echo(f"{len(files)} files laid down in {folder}. Next: put in your people, links and boat, then check it.")
    return 0
