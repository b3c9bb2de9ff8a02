"""One signal table that stands for many: ``for_each`` names the levels of its topic and what stands in each.

``[signal.tank-level]`` with ``topic = "{boat}/tank/{tank}"`` and ``for_each = { tank = ["port", "starboard"] }`` is the
same as two tables, ``tank-level-port`` and ``tank-level-starboard``. A table of that longer name lays differences over
the one it came from. So every signal is known by name before anything starts.

``topic = "{boat}/tank/+tank"`` makes the same signals and listens with the wildcard of one level: what comes for a name
that nobody has written is no signal, and stands in the record as an unknown topic (`named_levels`). Where the bus
spells a name otherwise, ``for_each = { tank = { port = "TANK_1" } }`` says how.
"""

import copy
from collections.abc import Mapping
from itertools import product
from typing import Any

from gateway.installation.findings import Findings
from gateway.installation.named_levels import filter_of, levels_of, place_of
from gateway.installation.standards import Laid, overlay

FILLED = ("topic", "pointer", "time_pointer", "latitude", "longitude")
"""Keys in which ``{name}`` is filled in."""


def spread(tables: Laid, findings: Findings) -> Laid:
    """The signal tables with each ``for_each`` carried out."""
    values: dict[str, Any] = {}
    places = dict(tables.places)
    filters: dict[str, str] = {}
    own = dict(tables.values["signal"])
    for key, table in tables.values["signal"].items():
        if not isinstance(table, dict) or "for_each" not in table:
            values.setdefault(key, table)
            continue
        levels = levels_of(key, table, tables, findings)
        plain = {name: value for name, value in table.items() if name != "for_each"}
        for chosen in product(*(words.items() for words in levels.values())):
            one = "-".join((key, *(name for name, _ in chosen)))
            words = {level: word for level, (_, word) in zip(levels, chosen, strict=True)}
            filled = _filled(plain, words)
            if isinstance(filled.get("topic"), str):
                wild = filter_of(filled["topic"])
                filled["topic"] = place_of(filled["topic"], words)
                if wild is not None:
                    filters[one] = wild
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
        filters=filters,
    )


def _filled(table: dict[str, Any], words: Mapping[str, str]) -> dict[str, Any]:
    made = copy.deepcopy(table)
    for key in FILLED:
        for name, word in words.items():
            if isinstance(made.get(key), str):
                made[key] = made[key].replace(f"{{{name}}}", word)
    return made
