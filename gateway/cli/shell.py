"""The shell of whoever looks at files, seldom that of the service; and how a sentence counts things."""

from collections.abc import Iterator, Mapping


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


def counted(count: int, one: str, many: str | None = None) -> str:
    """ "1 boat", "3 boats". many: where it is more than an "s"."""
    return f"{count} {one if count == 1 else many or one + 's'}"
