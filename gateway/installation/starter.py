"""Where the starter lies: a complete installation to copy, to show and to test with."""

from pathlib import Path


def starter() -> Path:
    """The starter's folder: inside the installed package, else ``config`` at the top of the checkout."""
    packed = Path(__file__).parent / "starter"
    return packed if packed.is_dir() else Path(__file__).parents[2] / "config"
