"""One signal table that stands for many: ``for_each`` names the levels of its topic and what stands in each.

``[signal.tank-level]`` with ``topic = "{boat}/tank/{tank}"`` and ``for_each = { tank = ["port", "starboard"] }`` is the
same as two tables, ``tank-level-port`` and ``tank-level-starboard``. A table of that longer name lays differences over
the one it came from. So every signal is known by name before anything starts, which a wildcard of MQTT (MQTT 5, 4.7.1)
cannot give: it would also take in what nobody has named.
"""

import copy
import re
from itertools import product
from typing import Any

from gateway.installation.findings import Findings
from gateway.installation.standards import Laid, overlay

MOST = 200
"""Signals from one table (our choice: a boat has some dozen of one kind; more is a slip)."""

FILLED = ("topic", "pointer", "time_pointer", "latitude", "longitude")
"""Keys in which ``{name}`` is filled in."""

_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def spread(tables: Laid, findings: Findings) -> Laid:
    """The signal tables with each ``for_each`` carried out."""
    values: dict[str, Any] = {}
    places = dict(tables.places)
    own = dict(tables.values["signal"])
    for key, table in tables.values["signal"].items():
        if not isinstance(table, dict) or "for_each" not in table:
            values.setdefault(key, table)
            continue
        levels = _levels(key, table, tables, findings)
        plain = {name: value for name, value in table.items() if name != "for_each"}
        for chosen in product(*levels.values()):
            one = "-".join((key, *chosen))
            filled = _filled(plain, dict(zip(levels, chosen, strict=True)))
            if isinstance(own.get(one), dict):
                overlay(filled, own[one])
            values[one] = filled
            for path, place in tables.places.items():
                if path[:2] == ("signal", key):
                    places.setdefault(("signal", one, *path[2:]), place)
    return Laid(
        name=tables.name,
        values={"signal": values},
        places=places,
        left_out=tables.left_out,
        differing=tables.differing,
    )


def _filled(table: dict[str, Any], chosen: dict[str, str]) -> dict[str, Any]:
    made = copy.deepcopy(table)
    for key in FILLED:
        for name, word in chosen.items():
            if isinstance(made.get(key), str):
                made[key] = made[key].replace(f"{{{name}}}", word)
    return made


def _is_name(word: object) -> bool:
    return isinstance(word, str) and _NAME.fullmatch(word) is not None


def _levels(key: str, table: dict[str, Any], tables: Laid, findings: Findings) -> dict[str, list[str]]:
    """Names and what stands for each; empty when that is at fault, so that nothing is made of the table."""
    levels, path = table["for_each"], ("signal", key, "for_each")

    def refuse(problem: str, remedy: str) -> dict[str, list[str]]:
        findings.mistake(tables, path, problem, remedy)
        return {"": []}

    if not isinstance(levels, dict) or not levels:
        return refuse("names no level", 'write it like { tank = ["port", "starboard"] }')
    count = 1
    for name, words in levels.items():
        if (
            not isinstance(words, list)
            or not words
            or not all(isinstance(w, str) and _NAME.fullmatch(w) for w in words)
        ):
            return refuse(
                f'"{name}" is no list of names', 'write small letters, digits and hyphens, such as ["port", "2"]'
            )
        if len(set(words)) != len(words):
            return refuse(f'"{name}" names one thing twice', "write each once")
        if not any(f"{{{name}}}" in str(table.get(k, "")) for k in ("topic", "pointer")):
            return refuse(f'"{{{name}}}" stands neither in topic nor in pointer', "write it where the level stands")
        count *= len(words)
    if count > MOST:
        return refuse(f"makes {count} signals of one table", f"at most {MOST}: part it into several tables")
    return levels
