"""Named levels of a topic: ``+tank`` is any one level, as the wildcard ``+`` of MQTT is (MQTT 5, 4.7.1.3), with a name,
and ``for_each`` says which words may stand there. All else that comes through it is an unknown topic.

Our own form: a bare ``+`` could not say which of two levels is the tank and which the side.
"""

import re
from collections.abc import Mapping
from typing import Any

from gateway.installation.findings import Findings
from gateway.installation.standards import Laid

MOST = 200
"""Signals from one table (our choice: a boat has some dozen of one kind; more is a slip)."""

_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_NO_WORD = re.compile(r"[+#/~{}\x00]")
"""What cannot stand in one level of a topic (MQTT 5, 4.7.1), or would have to be escaped in a pointer (RFC 6901, 3)."""

SHOWN = 'write small letters, digits and hyphens, such as ["port", "2"], or { port = "TANK_1" }'

Levels = dict[str, dict[str, str]]
"""By level: the names that the installer gives, each with the word that stands for it on the bus."""


def name_of(level: str) -> str | None:
    """The name of a named level ("+tank": "tank"); None for any other."""
    return level[1:] if level.startswith("+") and _NAME.fullmatch(level[1:]) else None


def place_of(topic: str, chosen: Mapping[str, str]) -> str:
    """The topic with each named level filled in, as far as it is chosen."""
    return "/".join(chosen.get(name_of(level) or "", level) for level in topic.split("/"))


def filter_of(topic: str) -> str | None:
    """What to subscribe to for a topic with named levels; None where it has none."""
    levels = topic.split("/")
    if not any(map(name_of, levels)):
        return None
    return "/".join("+" if name_of(level) else level for level in levels)


def lets_in(wild: str, topic: str) -> bool:
    """Whether a filter lets a topic in (MQTT 5, 4.7). `+` is the only wildcard here."""
    theirs, ours = topic.split("/"), wild.split("/")
    return len(theirs) == len(ours) and all(one in ("+", other) for one, other in zip(ours, theirs, strict=True))


def meet(one: str, other: str) -> bool:
    """Whether some topic is let in by both filters."""
    left, right = one.split("/"), other.split("/")
    return len(left) == len(right) and all(a == b or "+" in (a, b) for a, b in zip(left, right, strict=True))


def levels_of(key: str, table: Mapping[str, Any], tables: Laid, findings: Findings) -> Levels:
    """What ``for_each`` says; one level without a word when that is at fault, so that nothing is made of the table."""
    found, path = table["for_each"], ("signal", key, "for_each")

    def refuse(problem: str, remedy: str) -> Levels:
        findings.mistake(tables, path, problem, remedy)
        return {"": {}}

    if not isinstance(found, dict) or not found:
        return refuse("names no level", 'write it like { tank = ["port", "starboard"] }')
    levels: Levels = {}
    count = 1
    for name, written in found.items():
        if isinstance(written, list) and all(_is_name(word) for word in written) and len(set(written)) != len(written):
            return refuse(f'"{name}" names one thing twice', "write each once")
        words = _words(written)
        if not words:
            return refuse(f'"{name}" is no list of names', SHOWN)
        for one, word in words.items():
            if not word or _NO_WORD.search(word):
                return refuse(f'"{one}" is "{word}" on the bus, which is no single level', "write what stands there")
        if not _stands(name, table):
            return refuse(
                f'"{{{name}}}" stands neither in topic nor in pointer', f"write it where the level stands, or +{name}"
            )
        levels[name] = words
        count *= len(words)
    if count > MOST:
        return refuse(f"makes {count} signals of one table", f"at most {MOST}: part it into several tables")
    return levels


def _is_name(word: object) -> bool:
    return isinstance(word, str) and _NAME.fullmatch(word) is not None


def _words(written: object) -> dict[str, str]:
    """Words by name, from a list of names or a table; nothing when it is neither."""
    if isinstance(written, list):
        return {word: word for word in written} if all(map(_is_name, written)) else {}
    if isinstance(written, dict) and all(map(_is_name, written)) and all(isinstance(w, str) for w in written.values()):
        return dict(written)
    return {}


def _stands(name: str, table: Mapping[str, Any]) -> bool:
    topic = str(table.get("topic", ""))
    in_braces = any(f"{{{name}}}" in str(table.get(key, "")) for key in ("topic", "pointer"))
    return in_braces or any(name_of(level) == name for level in topic.split("/"))
