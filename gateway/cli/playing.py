"""`heavingline demo`."""

import shutil
import tempfile
from pathlib import Path

import click

from gateway.demo.broker import BrokerMissing
from gateway.demo.performance import perform


def play(keep: Path | None) -> int:
    """Play the demo; the exit code."""
    if keep is not None and keep.exists() and any(keep.iterdir()):
        click.echo(f"{keep}: there are files in it already. Name an empty or a new folder.", err=True)
        return 2
    folder = Path(tempfile.mkdtemp(prefix="heavingline-")) if keep is None else keep
    try:
        well = perform(click.echo, folder)
    except BrokerMissing as missing:
        click.echo(str(missing), err=True)
        return 1
    finally:
        if keep is None:
            shutil.rmtree(folder, ignore_errors=True)
    if keep is not None:
        click.echo(f"Kept: {keep}")
    return 0 if well else 1
