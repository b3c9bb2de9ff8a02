"""What the arguments of several commands must be."""

from pathlib import Path

import click

FOLDER = click.Path(path_type=Path, file_okay=False)


def is_there(_context: click.Context, _parameter: click.Parameter, folder: Path | None) -> Path | None:
    """A folder that is there."""
    if folder is not None and not folder.is_dir():
        raise click.BadParameter(
            f"there is no folder {folder}. Name the one that holds gateway.toml, "
            f"or lay a new one down: heavingline new {folder}"
        )
    return folder
