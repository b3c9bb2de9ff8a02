"""What is made of all boats of a folder together: the readers of their people's texts, and where everything stands."""

from collections.abc import Iterator, Mapping

from gateway.installation.boats import Fitted
from gateway.installation.findings import Findings
from gateway.installation.longest_cast import NOW
from gateway.installation.reading_texts import Speech, check_offers, make_speech
from gateway.people.settings import Person
from gateway.wording.scene import Scene


def speech_of(fleet: tuple[Fitted, ...], people: tuple[Person, ...], findings: Findings) -> Speech | None:
    """What may be texted to these boats; None without a boat."""
    if not fleet:
        return None
    equipment = {
        piece.id: (piece, boat.equipment_tables) for boat in fleet for piece in boat.equipment.values() if piece
    }
    files = {boat.boat.key: boat.file for boat in fleet}
    subjects = tuple(
        dict.fromkeys(
            name for boat in fleet for signal in boat.signals.values() if signal for name in signal.spoken_names
        )
    )
    boats = {boat.boat.key: boat.boat for boat in fleet}
    speech = make_speech(boats, equipment, files, subjects, people, findings)
    for boat in fleet:
        check_offers(speech.reader, boat.points, boat.equipment, boat.alarm_tables, findings)
    return speech


def scene_of(fleet: tuple[Fitted, ...], people: Mapping[str, Person]) -> Scene:
    """All that has a name, to try the installer's own wordings with."""
    return Scene(
        now=NOW,
        boats={boat.boat.key: boat.boat for boat in fleet},
        points={point.id: point for boat in fleet for point in boat.points.values()},
        people={person.id: person for person in people.values()},
        equipment={piece.id: piece for boat in fleet for piece in boat.equipment.values() if piece},
        signals={signal.id: signal for boat in fleet for signal in boat.signals.values() if signal},
    )


def dropped_by(boat: Fitted) -> tuple[str, ...]:
    """The ids that a boat's files drop from her standard, in order."""
    tables = (boat.signal_tables, boat.alarm_tables, boat.equipment_tables)
    return tuple(sorted(f"{boat.boat.key}/{key}" for each in tables for key in each.left_out))


def places_in(boat: Fitted) -> Iterator[tuple[tuple[str, str], str]]:
    """File and line of each alarm and piece of equipment, by its kind and id."""
    for kind, tables in (("alarm", boat.alarm_tables), ("equipment", boat.equipment_tables)):
        for key in tables.values[kind]:
            file, line = tables.place((kind, key))
            yield (kind, f"{boat.boat.key}/{key}"), file if line is None else f"{file}, line {line}"
