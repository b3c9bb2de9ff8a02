"""Somebody aboard by text: a visit begins, a visit is over."""

from gateway.alarms.aboard import BY_TEXT
from gateway.alarms.facts import PersonSeen, VisitEnded
from gateway.desk.holding import still_his
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.requests.answers import CodeAnswer, CodeTrouble
from gateway.requests.codes import LATEST
from gateway.telling.notices import VisitAnswer
from gateway.vocabulary.happenings import TextCame


def visit_begins(rec: Recorder, person: Person, boat: str) -> None:
    """Counts as somebody aboard from here on, until a named person ends the visit (handbook G2)."""
    rec.note(boat, PersonSeen(boat=boat, by=BY_TEXT, at=rec.now, person=person.id))
    rec.tell(VisitAnswer(person=person.id, boat=boat, begun=True))
    still_his(rec, person, boat)


def visit_over(rec: Recorder, person: Person, boat: str, text: TextCame) -> None:
    """Ends the visit: what keeps engines from being started is lifted by this, so it must be as fresh as a command."""
    if text.age is None or text.age > LATEST:
        rec.tell(CodeAnswer(person=person.id, trouble=CodeTrouble.TOO_OLD, boat=boat, age=text.age))
        return
    standing = rec.state.standing
    before, own = standing.occupancy(boat), standing.visit_of(person.id, boat)
    elsewhere = next(iter(own_visits(rec, person)), "") if own is None else ""
    there = standing.occupancy(elsewhere) if elsewhere else None
    rec.note(boat, VisitEnded(boat=boat, by=BY_TEXT, at=rec.now, person=person.id))
    rec.tell(
        VisitAnswer(
            person=person.id,
            boat=boat,
            begun=False,
            since=before.since if before is not None else None,
            elsewhere=elsewhere,
            elsewhere_since=there.since if there is not None else None,
        )
    )


def own_visits(rec: Recorder, person: Person) -> tuple[str, ...]:
    """The boats where this person announced a visit that nobody has ended."""
    return tuple(boat for boat in person.boats if rec.state.standing.visit_of(person.id, boat) is not None)
