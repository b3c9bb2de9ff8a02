"""Equipment that asks for a line from paper: whether the rule fits, and who has no list yet."""

from collections.abc import Collection, Iterable, Mapping

from gateway.installation.boats import Fitted
from gateway.installation.findings import Findings
from gateway.people.settings import Person


def check_papers(
    fleet: Iterable[Fitted], people: Mapping[str, Person], having: Collection[str], findings: Findings
) -> None:
    """Whoever may start such a thing and has no list is named, because the start is refused. people: by key. having:
    random ids of those with a list."""
    for boat in fleet:
        for key, piece in boat.equipment.items():
            if piece is None or not piece.paper_line:
                continue
            first = piece.pair[0]
            without = [one.key for one in people.values() if one.may(piece.boat, key, first) and one.id not in having]
            if without:
                findings.warn(
                    boat.equipment_tables,
                    ("equipment", key, "paper_line"),
                    f"{', '.join(without)}: no paper list yet, so {key} {first} is refused; print one for each with "
                    "heavingline paper-list FOLDER PERSON",
                )
