"""Whether the people whom an alarm is told can do anything with it."""

from collections.abc import Iterable, Mapping

from gateway.installation.boats import Fitted
from gateway.installation.findings import Findings
from gateway.installation.standards import Whole
from gateway.people.settings import Person
from gateway.telling.settings import CallOutList
from gateway.vocabulary.priority import Priority


def check_told(
    fleet: Iterable[Fitted],
    callouts: Mapping[str, CallOutList],
    people: Mapping[str, Person],
    lists: Whole,
    findings: Findings,
) -> None:
    """Everyone on a list must have the boat among theirs, or their answer would be refused. An emergency wants two
    persons at least and a repeat (handbook 2.3)."""
    by_id = {person.id: person for person in people.values()}
    used: set[str] = set()
    for boat in fleet:
        for point in boat.points.values():
            told = callouts.get(point.callout)
            if told is None:
                continue
            used.add(told.key)
            for identity in told.everyone:
                if boat.boat.key not in by_id[identity].boats:
                    findings.mistake(
                        lists,
                        ("list", told.key, "steps"),
                        f'"{by_id[identity].key}" is told of {boat.boat.key}, which is not among their boats',
                        "add the boat to the person in people.toml, or take the person off the list",
                    )
            if point.priority is Priority.EMERGENCY:
                _grave(told, lists, findings)
    for key in callouts:
        if key not in used:
            findings.warn(lists, ("list", key), "no alarm uses this list")


def _grave(told: CallOutList, lists: Whole, findings: Findings) -> None:
    path = ("list", told.key)
    if len(told.everyone) < 2:
        findings.warn(lists, path, "only one person is told of an emergency")
    if told.repeat is None:
        findings.warn(lists, path, "an emergency is not repeated after the last round")
