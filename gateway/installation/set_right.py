"""A faulty table as it might have been meant, so that the rest of it and all that names it are still looked at.

Only for looking on: the mistakes have been noted before, and an installation with a mistake is never loaded. What a
stand-in value would find fault with at the same place is not noted twice (Findings.mistake).
"""

from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from typing import Any

Fault = Mapping[str, Any]
"""One error of pydantic: ``loc``, the path below the table, and ``type``."""

STAND_INS: Mapping[str, Callable[[str], object]] = {
    "zone": lambda _: "UTC",
    "report_interval": lambda _: "1 s",
    "priority": lambda _: "warning",
    "role": lambda _: "owner",
    "no_gas_aboard": lambda _: "nobody: to be corrected",
    "exception": lambda _: "nobody: to be corrected",
    "topic": lambda place: f"faulty/{place}",
}
"""Values that no rule finds fault with, for keys that must stand there or whose absence another rule would miss. Each
topic is another one, so that no two meet."""

ITEM_STAND_INS: Mapping[str, str] = {"days": "Mon", "dates": "2026-01-01"}
"""The same for one item of a list, which keeps its place, so that the lines of the others stay right. A list that lost
its only day would be said to name none."""


def set_right(values: Any, faults: Sequence[Fault], place: str) -> Any | None:
    """The values without their faults: an unknown key taken out, a faulty one left to its default or to a stand-in.

    place: tells this table from any other. None when something else is faulty in it.
    """
    mended = deepcopy(values)
    for fault in faults:
        *way, last = fault["loc"] or ("",)
        table = _at(mended, way)
        if isinstance(table, list) and isinstance(last, int) and way[-1] in ITEM_STAND_INS:
            table[last] = ITEM_STAND_INS[way[-1]]
            continue
        if not last or not isinstance(table, dict):
            return None
        table.pop(last, None)
        if last in STAND_INS and fault["type"] != "extra_forbidden":
            table[last] = STAND_INS[last]("/".join((place, *map(str, way))))
    return mended


def _at(values: Any, way: Sequence[str | int]) -> Any | None:
    """What stands at the end of the way, None when it leads nowhere."""
    try:
        for part in way:
            values = values[part]
    except (KeyError, IndexError, TypeError):
        return None
    return values
