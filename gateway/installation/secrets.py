"""Fetching a secret from where the installation says it lies."""

import re
import stat
from collections.abc import Mapping
from pathlib import Path

from gateway.installation.gateway_file import SecretTable
from gateway.installation.slips import Slip

_NAME = re.compile(r"[A-Z_][A-Z0-9_]*")
"""Names of variables that programs share (POSIX.1-2017, 8.1). Anything else may be the secret itself, written where its
name belongs: it is not repeated."""


def secret(table: SecretTable, folder: Path, environ: Mapping[str, str]) -> str:
    """The secret itself. Raises Slip when it is not there or lies open; never says what it is.

    A file's name is taken from the installation's folder. The file's last line end does not belong to the secret.
    """
    if table.variable is not None:
        return _from_variable(table.variable, environ)
    return _from_file(folder / (table.file or ""))


def _from_variable(name: str, environ: Mapping[str, str]) -> str:
    if _NAME.fullmatch(name) is None:
        raise Slip(
            "names no variable; is it the secret itself",
            "write the variable's name, in capital letters, digits and _, and take the secret out of the file",
        )
    found = environ.get(name, "")
    if not found:
        raise Slip(f"the variable {name} is not set", "set it where the program is started")
    try:
        found.encode()
    except UnicodeEncodeError:  # bytes that are no text stand in it as half characters; that error repeats all of it
        raise Slip(f"the variable {name} holds bytes that are no text (UTF-8)", "set it anew") from None
    return found


def _from_file(path: Path) -> str:
    try:
        mode = path.stat().st_mode
        if mode & (stat.S_IRWXG | stat.S_IRWXO):
            raise Slip(f"{path.name} can be read by others", f"run: chmod 600 {path.name}")
        found = path.read_text(encoding="utf-8").rstrip("\r\n")
    except FileNotFoundError:
        raise Slip(f"there is no file {path.name}", "make it, readable by its owner alone (chmod 600)") from None
    except (OSError, UnicodeDecodeError):
        raise Slip(f"{path.name} cannot be read", "mend the file or the right to read it") from None
    if not found:
        raise Slip(f"{path.name} is empty", "write the secret into it, on one line")
    return found
