"""The small installation beside this file, copied, changed and read."""

import shutil
from pathlib import Path

from gateway.installation.load import Installation, load

SMALL = Path(__file__).parent / "small"


def laid(folder: Path) -> Path:
    """A copy of the small installation."""
    return Path(shutil.copytree(SMALL, folder))


def loaded(folder: Path) -> Installation:
    """The installation; a person's id is the key, as in `check`."""
    environ = {"TOKEN": "a secret", "HEAVINGLINE_CARRIER_TOKEN": "a secret"}
    return load(folder, person_id=lambda key: key, environ=environ)


def change(folder: Path, file: str, old: str, new: str, *, everywhere: bool = False) -> None:
    """Replace the first of `old` in a file, or all of them."""
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text, f"{file} does not hold {old!r}"
    (folder / file).write_text(text.replace(old, new, -1 if everywhere else 1), encoding="utf-8")


def append(folder: Path, file: str, text: str) -> None:
    """Write more at the end of a file; the file may be new."""
    path = folder / file
    before = path.read_text(encoding="utf-8") if path.exists() else ""
    path.write_text(f"{before}\n{text}\n", encoding="utf-8")


def without_generator(folder: Path) -> None:
    """Nothing is left that may be switched."""
    (folder / "boats/little-stint/equipment.toml").write_text('leave_out = ["generator"]', encoding="utf-8")
    change(folder, "people.toml", 'equipment = "generator", actions = ["stop"]', 'equipment = "*"')
