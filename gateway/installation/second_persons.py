"""The second persons that equipment names: whether they are there and may give their word."""

from collections.abc import Collection, Iterable, Mapping

from gateway.installation.boats import Fitted
from gateway.installation.findings import Findings
from gateway.installation.nearest import did_you_mean
from gateway.people.settings import Person
from gateway.requests.settings import GRAVE, Equipment


def check_second_persons(fleet: Iterable[Fitted], people: Mapping[str, Person], findings: Findings) -> None:
    """Every one named must be in people.toml with the right to that action; people: by key."""
    for boat in fleet:
        for piece in boat.equipment.values():
            if piece is None:
                continue
            for action in piece.second_persons:
                _check(boat, piece, action, people, findings)


def _check(boat: Fitted, piece: Equipment, action: str, people: Mapping[str, Person], findings: Findings) -> None:
    path = ("equipment", piece.key, "second_persons", action)
    if action not in piece.actions:
        problem = f'"{action}" is none of its actions'
        findings.mistake(boat.equipment_tables, path, problem, did_you_mean(action, piece.actions))
        return
    if action == piece.pair[1] and piece.sort in GRAVE:
        findings.mistake(
            boat.equipment_tables, path, f"{action} would wait for somebody", "leave it out: a stop waits for nobody"
        )
        return
    named = piece.second_persons[action]
    for number, key in enumerate(named):
        place = (*path, number)
        if key not in people:
            cure = did_you_mean(key, tuple(people))
            findings.mistake(boat.equipment_tables, place, f'nobody has the key "{key}" in people.toml', cure)
        elif not people[key].may(piece.boat, piece.key, action):
            findings.mistake(
                boat.equipment_tables,
                place,
                f'"{key}" has no right to {piece.key} {action}',
                "give that right in people.toml, or name somebody who has it",
            )
    for alone in _alone(named, people.values(), piece, action):
        findings.warn(
            boat.equipment_tables, path, f"{alone} cannot ask for it: nobody else is named to give the second word"
        )


def _alone(named: Collection[str], people: Iterable[Person], piece: Equipment, action: str) -> list[str]:
    may = [person.key for person in people if person.may(piece.boat, piece.key, action)]
    return [key for key in may if not set(named) - {key}]
