"""Keys of boats, signals, alarms, equipment, persons and lists."""

import re
from collections.abc import Iterable, Sequence

from gateway.installation.findings import Findings, Placed

_KEY = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


def check_keys(keys: Iterable[str], placed: Placed, path: Sequence[str | int], findings: Findings) -> None:
    """Lower-case words joined by hyphens: they are one word in a condition, and part of a topic and of an id."""
    for key in keys:
        if not _KEY.fullmatch(key):
            findings.mistake(
                placed,
                (*path, key),
                "is no name",
                "use small letters and digits, words joined by -, such as house-volts",
            )


def check_once(said: Iterable[tuple[str, Sequence[str | int]]], placed: Placed, what: str, findings: Findings) -> None:
    """No two of the (name, path) alike, capitals aside."""
    seen: dict[str, Sequence[str | int]] = {}
    for name, path in said:
        first = seen.setdefault(plain(name), path)
        if first != path:
            file, line = placed.place(first)
            findings.mistake(
                placed, path, f'{what} "{name}" is used twice (also {file}, line {line})', "give one of them another"
            )


def as_texted(name: str) -> tuple[str, ...]:
    """The name as it is compared, and with its hyphens where it has some: both are texted ("SEA-BIRD STATUS")."""
    return tuple(dict.fromkeys((plain(name), " ".join(name.casefold().split()))))


def plain(name: str) -> str:
    """A name as it is compared: small letters, single spaces, hyphens as spaces."""
    return " ".join(name.casefold().replace("-", " ").split())
