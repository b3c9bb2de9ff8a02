"""Which boat a text means, and which thing aboard: never guessed, nothing is pending while it is asked (design 5)."""

from gateway.desk.not_understood import not_understood
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.requests.settings import Equipment
from gateway.telling.notices import NotRead, WhichBoat
from gateway.telling.pacing import may_answer
from grammar.meanings import NotUnderstood, Request, Why


def piece_meant(rec: Recorder, person: Person, named: str | None, key: str, request: Request) -> Equipment | None:
    """The equipment that is meant, else what is wrong has been told. A person with several boats who named none is
    asked, even if one boat alone has such a thing: which boat is never guessed (design 5), and nothing is pending."""
    having = tuple(boat for boat in person.boats if f"{boat}/{key}" in rec.bundle.equipment)
    if not having or (named is not None and named not in person.boats):
        not_understood(rec, person, NotUnderstood(why=Why.NOT_A_PHRASE))
        return None
    if named is None and len(person.boats) > 1:
        _ask_which(rec, person, having, request)
        return None
    boat = named or having[0]
    if boat not in having:
        _not_fitted(rec, person, boat, f"{having[0]}/{key}")
        return None
    return rec.bundle.equipment[f"{boat}/{key}"]


def _not_fitted(rec: Recorder, person: Person, boat: str, elsewhere: str) -> None:
    """elsewhere: id of the thing on another boat of the person's, for its name."""
    if may_answer(rec.state.telling.sent_to(person.id), rec.bundle.pacing, rec.now):
        rec.tell(NotRead(person=person.id, boat=boat, why=str(Why.NOT_FITTED), nearest=(), equipment=elsewhere))


def one_boat(
    rec: Recorder, person: Person, named: str | None, request: Request, first: tuple[str, ...] = ()
) -> str | None:
    """The boat meant; a person with several who named none is asked (never guessed). first: those to be named first."""
    if named is not None:
        if named in person.boats:
            return named
        not_understood(rec, person, NotUnderstood(why=Why.NOT_A_PHRASE))
        return None
    if len(person.boats) == 1:
        return person.boats[0]
    _ask_which(rec, person, tuple(dict.fromkeys((*first, *person.boats))), request)
    return None


def _ask_which(rec: Recorder, person: Person, boats: tuple[str, ...], request: Request) -> None:
    """The example that is sent back is the whole of what was asked, with its time, as it is printed in the person's
    language, with the first boat's name before it."""
    first = f"{rec.bundle.boats[boats[0]].name} " if boats else ""
    example = f"{first}{rec.bundle.phrase(person.language, request)}"
    rec.tell(WhichBoat(person=person.id, boats=boats, example=example))
