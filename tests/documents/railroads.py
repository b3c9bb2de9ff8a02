"""Railroad diagrams of the text language in plain text, drawn from the grammar as Lark read it.

A track is read from left to right; where it forks, any one branch may be taken. Words stand in quotes, other rules in
``<angle brackets>`` under their names in the file, names and numbers in capitals.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from lark import Token, Tree

from grammar.texts import _PARSER

_NAMED_BY_HAND = {"_HER": '"boat"'}
"""A word that the grammar must name by hand is drawn as the word."""


@dataclass(frozen=True, slots=True)
class Track:
    """Lines of equal width. It is entered and left on the first line."""

    lines: tuple[str, ...]

    @property
    def width(self) -> int:
        return len(self.lines[0])


def railroads() -> str:
    """Every rule of the text language, in the order of its file, in one fenced block."""
    drawn = []
    for name, _, tree, _ in _PARSER.grammar.rule_defs:
        drawn += [f"{name}:", *(f"  {line.rstrip()}" for line in _track(tree).lines), ""]
    return "\n".join(["```text", *drawn[:-1], "```"])


def rules_drawn() -> list[str]:
    """The names of the rules, in the order in which they are drawn."""
    return [str(name) for name, *_ in _PARSER.grammar.rule_defs]


def _track(tree: Any) -> Track:
    """Raises ValueError for a form of rule that no diagram is known for."""
    if isinstance(tree, Token):
        return _station(str(tree).strip('"').join('""') if tree.type == "STRING" else str(tree))
    if not isinstance(tree, Tree):
        name = str(tree.name)
        return _station(_NAMED_BY_HAND.get(name, name if name.isupper() else f"<{name}>"))
    match str(tree.data), tree.children:
        case "expansions", branches:
            return _fork([_track(branch) for branch in branches])
        case "expansion", parts:
            return _row([_track(part) for part in parts])
        case "expr", [part, Token(value="?")]:
            return _fork([Track(("─",)), _track(part)])
        case "value" | "literal" | "alias", [part, *_]:
            return _track(part)
        case form, _:
            raise ValueError(f"{form}: no diagram is known for this form of rule; add it to railroads.py")


def _station(text: str) -> Track:
    return Track((text,))


def _row(parts: list[Track]) -> Track:
    """One behind the other, joined on the first line."""
    made = parts[0]
    for part in parts[1:]:
        lines = zip_longest(made.lines, part.lines)
        joined = [
            f"{before or ' ' * made.width}{' ─ ' if place == 0 else '   '}{after or ' ' * part.width}"
            for place, (before, after) in enumerate(lines)
        ]
        made = Track(tuple(joined))
    return made


def _fork(branches: list[Track]) -> Track:
    """One below the other, with a fork in front and a joint behind."""
    if len(branches) == 1:
        return branches[0]
    width = max(branch.width for branch in branches)
    lines: list[str] = []
    for place, branch in enumerate(branches):
        last = place == len(branches) - 1
        lines += _branch(branch, width, first=place == 0, last=last)
    return Track(tuple(lines))


def _branch(branch: Track, width: int, *, first: bool, last: bool) -> Iterable[str]:
    fork, joint = ("┬", "┬") if first else ("└", "┘") if last else ("├", "┤")
    for place, line in enumerate(branch.lines):
        if place == 0:
            gap = "" if line.endswith("─") and not line.strip("─") else " "
            rail = "─" * (width - branch.width)
            yield f"{fork}─{gap or '─'}{line}{gap or '─'}{rail}─{joint}"
        else:
            side = " " if last else "│"
            yield f"{side}  {line}{' ' * (width - branch.width)}  {side}"
