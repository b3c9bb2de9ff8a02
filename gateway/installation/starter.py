"""Where the starter lies: a complete installation to copy, to show and to test with."""

from pathlib import Path


def starter() -> Path:
    """The starter's folder: inside the installed package, else ``config`` at the top of the checkout."""
    packed = Path(__file__).parent / "starter"
    return packed if packed.is_dir() else Path(__file__).parents[2] / "config"


class FolderTaken(Exception):
    """The starter is not laid down over files that are there already. The text says what to do."""


def lay_down(folder: Path) -> tuple[str, ...]:
    """Copy the starter into an empty or missing folder; the files' names. Raises FolderTaken, OSError."""
    if folder.exists() and any(folder.iterdir()):
        raise FolderTaken(f"{folder}: there are files in it already. Name an empty or a new folder.")
    source = starter()
    files = sorted(path for path in source.rglob("*.toml"))
    for file in files:
        target = folder / file.relative_to(source)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(file.read_bytes())
    return tuple(str(file.relative_to(source)) for file in files)
