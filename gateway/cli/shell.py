"""The shell of whoever looks at files, seldom that of the service."""

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
