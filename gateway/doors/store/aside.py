"""Putting a store's file aside, under a name that says when and why. Nothing is ever thrown away here."""

import os
import re
from pathlib import Path

from gateway.doors.store.trouble import as_trouble
from gateway.vocabulary.moments import Ms, rfc3339

SIDE_FILES = ("-wal", "-shm")
"""SQLite's own beside the file: the first one holds what is committed and not yet in the file."""


def put_aside(path: Path, why: str, now: Ms) -> Path:
    """Rename the file, with its side files, to ``NAME.WHY-INSTANT`` in its folder. Gives back its new path.

    why: one word. now: instant, ms UTC. The holder of the store calls this, with no connection open. Raises
    StoreTrouble.
    """
    stamp = re.sub(r"[^0-9TZ]", "", rfc3339(now - now % 1000))
    aside = path.with_name(f"{path.name}.{why}-{stamp}")
    number = 1
    while any(aside.with_name(aside.name + end).exists() for end in ("", *SIDE_FILES)):
        number += 1
        aside = path.with_name(f"{path.name}.{why}-{stamp}-{number}")
    try:
        # The file first: an empty file that was made in its place would not take up the side file of another.
        for end in ("", *SIDE_FILES):
            beside = path.with_name(path.name + end)
            if beside.exists():
                os.rename(beside, aside.with_name(aside.name + end))
        sync_folder(path.parent)
    except OSError as error:
        raise as_trouble(path, error) from error
    return aside


def sync_folder(folder: Path) -> None:
    """Put the names in a folder on disk. Raises OSError."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
