"""`heavingline check` and `heavingline new`."""

import os
from collections.abc import Iterator, Mapping
from pathlib import Path

import click

from gateway.installation.load import load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import FolderTaken, lay_down
from gateway.requests.settings import Equipment
from gateway.service.starting import CARRIED_OUT


class ShellVariables(Mapping[str, str]):
    """The variables of this shell, where one that is missing counts as set, and is remembered.

    Whoever checks files sits in another shell, often on another machine, than the service that will run with them:
    a secret's variable that is not set here is no mistake in the files.
    """

    def __init__(self, environ: Mapping[str, str]) -> None:
        self._environ = environ
        self.missing: list[str] = []

    def __getitem__(self, name: str) -> str:
        found = self._environ.get(name, "")
        if not found:
            self.missing.append(name)
        return found or "not set here"

    def __iter__(self) -> Iterator[str]:
        return iter(self._environ)

    def __len__(self) -> int:
        return len(self._environ)


def check_folder(folder: Path) -> int:
    """Read an installation and name every mistake in it; the exit code."""
    shell = ShellVariables(os.environ)
    try:
        found = load(folder, person_id=lambda key: key, carried_out=CARRIED_OUT, environ=shell)
    except InstallationRefused as refused:
        for mistake in refused.mistakes:
            click.echo(str(mistake))
        click.echo(f"{_counted(len(refused.mistakes), 'mistake')}. Nothing was started.")
        return 1
    for warning in found.warnings:
        click.echo(f"Look at: {warning}")
    for name in dict.fromkeys(shell.missing):
        click.echo(f"Look at: the variable {name} is not set in this shell; `run` does not start without it.")
    bundle = found.bundle
    click.echo(not_carried_out(bundle.equipment))
    counts = (
        _counted(len(bundle.boats), "boat"),
        _counted(len(bundle.signals), "signal"),
        _counted(len(bundle.points), "alarm point"),
        _counted(len(bundle.equipment), "piece of equipment", "pieces of equipment"),
        _counted(len(bundle.people), "person"),
    )
    click.echo(f"No mistakes: {', '.join(counts)}. Nothing was started.")
    return 0


def not_carried_out(equipment: Mapping[str, Equipment]) -> str:
    """One line: whose commands `run` refuses in this version, whatever the files allow."""
    refused = [piece.id for piece in equipment.values() if piece.sort not in CARRIED_OUT]
    if not refused:
        return "`run` carries out the commands of everything that may be switched here."
    return (
        f"`run` does NOT carry out commands to: {', '.join(refused)}. They are asked for, refused and explained; "
        f"it commands {' and '.join(sorted(CARRIED_OUT))} only."
    )


def lay_starter(folder: Path) -> int:
    """Lay down the starter; the exit code."""
    try:
        files = lay_down(folder)
    except FolderTaken as taken:
        click.echo(str(taken), err=True)
        return 2
    except OSError as trouble:
        click.echo(f"{folder}: {trouble.strerror or trouble}. Name a folder that you may write to.", err=True)
        return 1
    click.echo(
        f"{_counted(len(files), 'file')} laid down in {folder}. Next: put in your people, links and boat, then "
        f"heavingline check {folder}"
    )
    return 0


def _counted(count: int, one: str, many: str | None = None) -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"
