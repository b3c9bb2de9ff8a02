"""One boat's tables: the firm's standard with the boat's own differences laid over it.

Key by key; a list is taken whole; ``leave_out = [...]`` at the top of a boat's file drops whole tables of the
standard. ``{boat}`` in a topic becomes the boat's key.
"""

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from gateway.installation.documents import Document, Table
from gateway.installation.findings import Findings
from gateway.installation.nearest import did_you_mean
from gateway.installation.places import KeyPath


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """One document by itself, traced to its lines."""

    document: Document

    @property
    def values(self) -> Table:
        """As in the file."""
        return self.document.values

    def place(self, path: Sequence[str | int]) -> tuple[str, int | None]:
        """File and line of a path."""
        return self.document.name, self.document.line(path)


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Tables of one kind after the differences were laid over the standard. name: the boat's own file.

    places: file and line of every path. left_out: names that the boat's file drops. differing: names that it touches.
    filters: by key of a signal whose topic has named levels, what is subscribed to for it.
    """

    name: str
    values: Table
    places: Mapping[KeyPath, tuple[str, int | None]]
    left_out: frozenset[str] = frozenset()
    differing: frozenset[str] = frozenset()
    filters: Mapping[str, str] = field(default_factory=dict)

    def place(self, path: Sequence[str | int]) -> tuple[str, int | None]:
        """File and line of a path or of the nearest one above it."""
        for depth in range(len(path), 0, -1):
            found = self.places.get(tuple(path[:depth]))
            if found is not None:
                return found
        return self.name, None


def laid(
    kind: str, boat: str, name: str, standards: Sequence[Document], differences: Document | None, findings: Findings
) -> Laid:
    """The tables ``[kind.KEY]`` of a boat. kind: signal, alarm, equipment or sum. name: the boat's file for that kind.
    standards: each laid over the one before."""
    values: dict[str, Any] = {}
    places: dict[KeyPath, tuple[str, int | None]] = {}
    for standard in standards:
        for key in left_out_of(standard):
            values.pop(key, None)
        overlay(values, _tables(standard, kind, findings))
        _trace(standard, kind, places)
    dropped: list[str] = []
    differing: frozenset[str] = frozenset()
    if differences is not None:
        _known_at_top(differences, (kind, "leave_out"), findings)
        own = _tables(differences, kind, findings)
        dropped = _left_out(differences, kind, values, own, findings)
        overlay(values, own)
        _trace(differences, kind, places)
        differing = frozenset(own)
    for table in values.values():
        if isinstance(table, dict) and isinstance(table.get("topic"), str):
            table["topic"] = table["topic"].replace("{boat}", boat)
    return Laid(name=name, values={kind: values}, places=places, left_out=frozenset(dropped), differing=differing)


KINDS = ("signal", "alarm", "equipment", "sum")


def left_out_of(standard: Document) -> list[str]:
    """What a standard drops of those that it is built on, of any kind; nothing where it is written wrongly."""
    names = standard.values.get("leave_out", [])
    return [name for name in names if isinstance(name, str)] if isinstance(names, list) else []


def check_standard(chain: Sequence[Document], findings: Findings) -> None:
    """What can be said of a standard without any boat: its top-level names, and what it drops. chain: it and those
    that it is built on, itself last."""
    standard, whole = chain[-1], Whole(document=chain[-1])
    _known_at_top(standard, (*KINDS, "built_on", "leave_out"), findings)
    below = {key for each in chain[:-1] for kind in KINDS for key in _keys(each, kind)}
    own = {key for kind in KINDS for key in _keys(standard, kind)}
    names = standard.values.get("leave_out", [])
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        findings.mistake(whole, ("leave_out",), "is no list of names", 'write leave_out = ["one", "two"]')
        return
    for number, name in enumerate(names):
        if name not in below:
            findings.mistake(
                whole, ("leave_out", number), f'"{name}" is not in what this is built on', did_you_mean(name, below)
            )
        elif name in own:
            findings.mistake(
                whole, ("leave_out", number), f'"{name}" is left out here and changed below', "keep one of the two"
            )


def _keys(document: Document, kind: str) -> list[str]:
    tables = document.values.get(kind)
    return list(tables) if isinstance(tables, dict) else []


def _known_at_top(document: Document, known: Sequence[str], findings: Findings) -> None:
    for name in document.values:
        if name not in known:
            findings.mistake(Whole(document=document), (name,), "is not a known key", did_you_mean(name, known))


def _tables(document: Document, kind: str, findings: Findings) -> dict[str, Any]:
    tables = document.values.get(kind, {})
    if not isinstance(tables, dict):
        findings.mistake(Whole(document=document), (kind,), "is no table", f"write [{kind}.NAME] and its keys below")
        return {}
    kept = {}
    for key, table in tables.items():
        if isinstance(table, dict):
            kept[key] = copy.deepcopy(table)
        else:
            findings.mistake(
                Whole(document=document), (kind, key), "is no table", f"write [{kind}.{key}] and its keys below"
            )
    return kept


def _left_out(
    document: Document, kind: str, values: dict[str, Any], own: dict[str, Any], findings: Findings
) -> list[str]:
    """Drop what the boat's file leaves out of the standard."""
    names = document.values.get("leave_out", [])
    whole = Whole(document=document)
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        findings.mistake(whole, ("leave_out",), "is no list of names", 'write leave_out = ["one", "two"]')
        return []
    for number, name in enumerate(names):
        if name not in values:
            findings.mistake(
                whole, ("leave_out", number), f'"{name}" is not in the standard', did_you_mean(name, values)
            )
        elif name in own:
            findings.mistake(
                whole, (kind, name), "is left out at the top of this file and changed here", "keep one of the two"
            )
            del own[name]
        values.pop(name, None)
    return names


def overlay(below: dict[str, Any], above: Table) -> None:
    """Lay one table over another, key by key, a list whole."""
    for key, value in above.items():
        if isinstance(value, dict) and isinstance(below.get(key), dict):
            overlay(below[key], value)
        else:
            below[key] = value


def _trace(document: Document, kind: str, places: dict[KeyPath, tuple[str, int | None]]) -> None:
    """Remember where each path of the document stands; a later document hides an earlier one, a list whole."""
    for path, line in document.lines.items():
        if path[0] == kind:
            places[path] = (document.name, line)
