"""What is wrong in an installation, in the installer's words."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake. file: its path below the installation's folder, with forward slashes. line: counted from 1, None
    when no line can be named (a missing file). key: the key's path in the file, joined by dots, "" for the whole file.
    problem: what is wrong. remedy: what to do."""

    file: str
    line: int | None
    key: str
    problem: str
    remedy: str

    def __str__(self) -> str:
        """One line: ``file, line N: key: problem; remedy``."""
        place = self.file if self.line is None else f"{self.file}, line {self.line}"
        return ": ".join(part for part in (place, self.key, f"{self.problem}; {self.remedy}") if part)


class InstallationRefused(Exception):
    """The installation's files hold mistakes; nothing of them was loaded. mistakes: all of them, by file and line."""

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        self.mistakes = in_order(mistakes)
        super().__init__("\n".join(str(mistake) for mistake in self.mistakes))


def in_order(mistakes: Iterable[Mistake]) -> tuple[Mistake, ...]:
    """By file, line and key, each once (a standard's mistake would else come once for every boat built on it)."""
    return tuple(
        sorted(set(mistakes), key=lambda mistake: (mistake.file, mistake.line or 0, mistake.key, mistake.problem))
    )
