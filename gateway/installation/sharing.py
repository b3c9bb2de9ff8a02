"""What boats have in common (link, shore supply, berth), and which alarms tell of it.

One fault there shows on every boat that shares it; those alarms are told together (handbook 2.3, aggregation).
"""

from collections.abc import Iterator

from gateway.boat.settings import Shared
from gateway.desk.bundle import Bundle
from gateway.installation.boat_files import AlarmTable, BoatFile
from gateway.installation.findings import Findings
from gateway.installation.nearest import did_you_mean
from gateway.installation.standards import Laid
from gateway.telling.gathering import name_said
from gateway.vocabulary.priority import Priority
from grammar.meanings import Condition, NoNews


def shares_of(file: BoatFile) -> tuple[tuple[Shared, str], ...]:
    """What a boat says that it shares, in the order of the kinds."""
    if file.shares is None:
        return ()
    said = ((Shared.LINK, file.shares.link), (Shared.SUPPLY, file.shares.supply), (Shared.BERTH, file.shares.berth))
    return tuple((kind, name) for kind, name in said if name is not None)


def shared_by(table: AlarmTable, when: Condition) -> Shared | None:
    """What an alarm's cause is shared by: what is written, else the link for silence of the whole boat. An emergency
    is never shared: it is told by itself."""
    if table.priority is Priority.EMERGENCY:
        return None
    if table.shared is None and isinstance(when, NoNews) and when.signal is None:
        return Shared.LINK
    return table.shared


def check_shared(table: AlarmTable, tables: Laid, path: tuple[str, str], findings: Findings) -> None:
    """An emergency must not be told as one of many (design rule 11)."""
    if table.shared is not None and table.priority is Priority.EMERGENCY:
        remedy = "leave it out: an emergency has a text of its own, whatever else is told at that moment"
        findings.mistake(tables, (*path, "shared"), "would tell an emergency as one of many", remedy)


def alone_with_it(bundle: Bundle) -> Iterator[str]:
    """Warnings: what only one boat says that it shares, which may be a slip in the name."""
    names: dict[tuple[Shared, str], list[str]] = {}
    for boat in bundle.boats.values():
        for kind, name in boat.shares:
            names.setdefault((kind, name_said(name)), []).append(boat.key)
    for (kind, name), boats in names.items():
        if len(boats) == 1:
            others = [other for of, other in names if of is kind and other != name]
            meant = f" ({did_you_mean(name, others)})" if others else ""
            yield f'boats/{boats[0]}/boat.toml: shares.{kind}: no other boat shares "{name}"{meant}'
