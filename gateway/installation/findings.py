"""What the checks have found so far."""

from collections.abc import Iterable, Sequence
from typing import Protocol

from gateway.installation.documents import Table
from gateway.installation.mistakes import Mistake
from gateway.installation.slips import Slip


class Placed(Protocol):
    """Values of the files, of which each path can be traced to its file and line."""

    @property
    def values(self) -> Table:
        """The values, nested as in the file."""
        ...

    def place(self, path: Sequence[str | int]) -> tuple[str, int | None]:
        """The file and the line of a path, or of the nearest one above it."""
        ...


class Findings:
    """Gathers mistakes and warnings, so that all are shown at once."""

    def __init__(self) -> None:
        self.mistakes: list[Mistake] = []
        self.warnings: list[str] = []
        self.set_right: set[tuple[str, str]] = set()

    def mistake(self, placed: Placed, path: Sequence[str | int], problem: str, remedy: str) -> None:
        """One mistake at a path, unless what stands there is a stand-in for another one."""
        file, line = placed.place(path)
        key = spelt_path(path)
        if (file, key) not in self.set_right:
            self.mistakes.append(Mistake(file, line, key, problem, remedy))

    def look_on(self, placed: Placed, paths: Iterable[Sequence[str | int]]) -> None:
        """The mistakes at these paths are noted, and stand-ins take their place: nothing more is said of them."""
        self.set_right |= {(placed.place(path)[0], spelt_path(path)) for path in paths}

    def slip(self, placed: Placed, path: Sequence[str | int], slip: Slip) -> None:
        """One value's fault at a path."""
        self.mistake(placed, path, slip.problem, slip.remedy)

    def warn(self, placed: Placed, path: Sequence[str | int], text: str) -> None:
        """Something that deserves a second look, but loads."""
        file, line = placed.place(path)
        where = file if line is None else f"{file}, line {line}"
        self.warnings.append(f"{where}: {spelt_path(path)}: {text}" if path else f"{where}: {text}")


def spelt_path(path: Sequence[str | int]) -> str:
    """``list.danger.steps (item 2).after``; items are counted from 1."""
    spelt = ""
    for part in path:
        if isinstance(part, int):
            spelt += f" (item {part + 1})"
        else:
            spelt += f".{part}" if spelt else part
    return spelt
