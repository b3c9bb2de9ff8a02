"""What a start has to say before anything else is taken in, in this order."""

from gateway.desk.bundle import Bundle
from gateway.doors.faces import Loaded
from gateway.people.settings import Person
from gateway.vocabulary.happenings import DamageFound, Happening, InstallationCame, RestoreFound, Started


def first_happenings(loaded: Loaded, bundle: Bundle, fingerprint: str) -> list[Happening]:
    """That the store was put in the place of a damaged one, or restored; that the installation's files are others;
    that the service runs. fingerprint: of the files in use before."""
    found: list[Happening] = []
    marks = loaded.marks
    if marks.replaced is not None:
        found.append(DamageFound(kept_as=marks.replaced.kept_as, problem=marks.replaced.problem))
    if marks.restored is not None:
        found.append(RestoreFound(backup_at=marks.restored.backup_at, backup_n=marks.restored.backup_n))
    if fingerprint != bundle.fingerprint:
        people = tuple(p.id for p in sorted(bundle.people.values(), key=lambda p: p.key))
        renumbered = tuple(person for person in people if _has_another_number(loaded, bundle.people[person]))
        found.append(InstallationCame(fingerprint=bundle.fingerprint, people=people, renumbered=renumbered))
    return [*found, Started(stopped_at=loaded.last_now)]


def _has_another_number(loaded: Loaded, person: Person) -> bool:
    """Whether the store knows the person by another number; of rows that hold none nothing can be said."""
    return any(found == person.id and number not in ("", person.number) for found, _, number in loaded.people)
