"""The parts of DEVELOPERS.md that come from the code. ``python -m tests.documents.diagrams`` writes them anew.

A part stands between ``<!-- from the code: NAME -->`` and ``<!-- end -->``.
"""

import ast
import re
import tomllib
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields
from enum import StrEnum
from pathlib import Path
from typing import Any, get_args

from gateway.alarms import in_words
from gateway.alarms import life as alarm_life
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.desk.kinds import FACTS
from gateway.logbook.chains import REFERENCE, REFERENCE_VERSION
from gateway.requests import life as request_life
from gateway.requests.life import RequestState
from gateway.vocabulary.happenings import Happening
from gateway.vocabulary.orders import Order
from tests.documents import hazards
from tests.documents.railroads import railroads

TOP = Path(__file__).parents[2]
DEVELOPERS = TOP / "DEVELOPERS.md"

_PART = re.compile(r"(<!-- from the code: (?P<name>[a-z ]+) -->\n).*?(<!-- end -->)", re.DOTALL)

Steps = Mapping[Any, Mapping[Any, Any]]


def rewritten(text: str) -> str:
    """The document with every marked part as the code gives it now. Raises KeyError for a part of unknown name."""
    return _PART.sub(lambda found: f"{found[1]}{PARTS[found['name']]()}\n{found[3]}", text)


def parts_in(text: str) -> list[str]:
    """The names of the marked parts, in order."""
    return [found["name"] for found in _PART.finditer(text)]


# ---------------------------------------------------------------- lives


def alarm_diagram(*, latching: bool = False, needs_no_take: bool = False) -> str:
    """The life of an alarm while it is told; what puts it aside is a table of its own."""
    table = alarm_life.table_of(latching=latching, needs_no_take=needs_no_take)
    live = {state: row for state, row in table.items() if state not in alarm_life.ASIDE}
    told = {
        state: {event: after for event, after in row.items() if after not in alarm_life.ASIDE}
        for state, row in live.items()
    }
    return _mermaid(told, AlarmState.NORMAL, ends=())


def alarm_manual() -> str:
    """Each state in plain words: what leads in, what leads out, who is told. By the three tables together."""
    tables = (alarm_life.STEPS, alarm_life.LATCHING_STEPS, alarm_life.SELF_TAKEN_STEPS)
    rows = []
    for state in AlarmState:
        into: dict[str, None] = {}
        out: dict[str, None] = {}
        for table in tables:
            for before, row in table.items():
                for event, after in row.items():
                    if after is state and before is not state:
                        into[in_words.HAPPENS[event]] = None
                    if before is state and after is not state:
                        out[in_words.HAPPENS[event]] = None
        rows.append((state, in_words.MEANS[state], "; ".join(into), "; ".join(out), in_words.TOLD[state]))
    return _table(("state", "what it means", "what leads in", "what leads out", "who is told"), rows)


def alarm_aside() -> str:
    """What puts an alarm aside and what it comes back as, for a latching point, by the table's own `step`."""
    rows = []
    everywhere = _common(alarm_life.LATCHING_STEPS[s] for s in alarm_life.LATCHING_STEPS if s not in alarm_life.ASIDE)
    rows += [("any state that is told", event, after) for event, after in everywhere.items()]
    for state in alarm_life.LATCHING_STEPS:
        if state not in alarm_life.ASIDE:
            continue
        for event in alarm_life.LATCHING_STEPS[state]:
            rows += [(state, event, after) for after in _leads_to(state, event)]
    return _table(("state", "event", "next state"), rows)


def _common(rows: Iterable[Mapping[Any, Any]]) -> dict[Any, Any]:
    all_rows = list(rows)
    return {e: after for e, after in all_rows[0].items() if all(row.get(e) == after for row in all_rows)}


def _leads_to(state: AlarmState, event: AlarmEvent) -> list[str]:
    found: dict[AlarmState, str] = {}
    for says, active, latched in (
        ("the condition holds", True, False),
        ("it does not, a latch stood before", False, True),
        ("it does not", False, False),
    ):
        after = alarm_life.step(state, event, latching=True, active=active, latch_pending=latched)
        if after is not None:
            found.setdefault(after, says)
    if len(found) == 1:
        return [str(next(iter(found)))]
    return [f"{after}, when {says}" for after, says in found.items()]


def request_diagram() -> str:
    """The life of a request, from its table."""
    return _mermaid(request_life.STEPS, RequestState.NEW, ends=request_life.ENDS)


def _mermaid(table: Steps, first: StrEnum, ends: Iterable[StrEnum]) -> str:
    reached = _reached(table, first)
    lines = ["```mermaid", "stateDiagram-v2"]
    lines += [f'    state "{state}" as {state.name.lower()}' for state in table if state in reached]
    lines.append(f"    [*] --> {first.name.lower()}")
    for state, row in table.items():
        if state not in reached:
            continue
        labels: dict[Any, list[str]] = defaultdict(list)
        for event, after in row.items():
            labels[after].append(str(event))
        for after, events in labels.items():
            lines.append(f"    {state.name.lower()} --> {after.name.lower()} : {', '.join(events)}")
        if state in ends:
            lines.append(f"    {state.name.lower()} --> [*]")
    return "\n".join([*lines, "```"])


def _reached(table: Steps, first: Any) -> set[Any]:
    reached, waiting = set(), [first]
    while waiting:
        state = waiting.pop()
        if state not in reached:
            reached.add(state)
            waiting += table[state].values()
    return reached


# ---------------------------------------------------------------- rooms


def layers() -> list[list[str]]:
    """The rooms by layer, uppermost first, from the import contract. A name in brackets may be missing."""
    rule = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
    [found] = [c for c in rule["contracts"] if c["type"] == "layers" and c["containers"] == ["gateway"]]
    rows = [[name.strip(" ()") for name in re.split(r"[|:]", line)] for line in found["layers"]]
    there = [[name for name in row if _home(f"gateway/{name}") is not None] for row in rows]
    return [row for row in there if row]


def rooms() -> str:
    """Every room with what its own first line says, layer by layer."""
    rows = [
        (str(number), f"[`{name}`](gateway/{name}{'' if (TOP / 'gateway' / name).is_dir() else '.py'})", _says(name))
        for number, row in enumerate(layers(), 1)
        for name in row
    ]
    return _table(("layer", "room", "what it is for"), rows)


def _home(name: str) -> Path | None:
    for path in (TOP / name / "__init__.py", TOP / f"{name}.py"):
        if path.is_file():
            return path
    return None


def _says(name: str) -> str:
    home = _home(f"gateway/{name}")
    assert home is not None
    return _first_lines(ast.get_docstring(ast.parse(home.read_text(encoding="utf-8"))))


def _first_lines(doc: str | None) -> str:
    return " ".join((doc or "").split("\n\n")[0].split())


# ---------------------------------------------------------------- values


def entry_kinds() -> str:
    """Every kind of entry, with its version, its fields, and the module that declares it."""
    rows = [
        (
            f"`{fact.kind}`",
            str(fact.version),
            ", ".join(field.name for field in fields(fact)) or "none",
            f"[`{fact.__name__}`]({fact.__module__.replace('.', '/')}.py)",
        )
        for fact in FACTS
    ]
    rows.append((f"`{REFERENCE}`", str(REFERENCE_VERSION), "n, digest", "[`refer`](gateway/logbook/chains.py)"))
    return _table(("kind", "version", "fields", "declared in"), rows)


def happenings() -> str:
    """What the desk takes."""
    return _values(get_args(Happening))


def orders() -> str:
    """What the desk orders."""
    return _values(get_args(Order))


def _values(kinds: Iterable[type]) -> str:
    rows = [(f"[`{k.__name__}`]({k.__module__.replace('.', '/')}.py)", _first_sentence(k.__doc__)) for k in kinds]
    return _table(("value", "what it says"), rows)


def _first_sentence(doc: str | None) -> str:
    return re.split(r"(?<=\.)\s", _first_lines(doc))[0]


def _table(heads: Iterable[str], rows: Iterable[Iterable[Any]]) -> str:
    names = list(heads)
    lines = [names, ["---"] * len(names), *([str(cell).replace("|", "\\|") for cell in row] for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


PARTS: Mapping[str, Callable[[], str]] = {
    "rooms": rooms,
    "life of an alarm": lambda: alarm_diagram(latching=False),
    "life of a latching alarm": lambda: alarm_diagram(latching=True),
    "life of a caution": lambda: alarm_diagram(needs_no_take=True),
    "states of an alarm": alarm_manual,
    "alarms put aside": alarm_aside,
    "life of a request": request_diagram,
    "hazards": lambda: _table(
        ("equipment", "cause", "harm", "wired barrier", "software barrier", "its test"), hazards.rows()
    ),
    "happenings": happenings,
    "orders": orders,
    "kinds of entry": entry_kinds,
    "texts as railroads": railroads,
}


if __name__ == "__main__":
    DEVELOPERS.write_text(rewritten(DEVELOPERS.read_text(encoding="utf-8")), encoding="utf-8")
