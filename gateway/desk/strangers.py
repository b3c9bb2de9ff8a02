"""A number that is nobody's wrote: it gets no answer and no hint, and who is told of it (CHK-43)."""

from gateway.desk.turn import Recorder
from gateway.people.numbers import masked
from gateway.people.settings import Role
from gateway.telling.facts import StrangersTold
from gateway.telling.regular import StrangersWait
from gateway.telling.trouble_notices import StrangerWrote
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import HOUR
from grammar.meanings import Confirm, Meaning, ProveNumber, Switch, Understood, Withdraw


def strangers(rec: Recorder, number: str, meaning: Meaning) -> None:
    """The installer hears of it, and the owners of a boat that it gives an order or a code to; each at most once an
    hour. Owners are not troubled with what anybody may write by mistake, and nobody is woken for it: what is neither
    order nor code waits for the end of quiet hours. An order or a code does not wait, for then somebody has seen texts
    of ours or tries, and a phone may be lost (our choice)."""
    boats = _ordered(rec, meaning)
    installers = rec.bundle.with_role(Role.INSTALLER)
    if not boats:
        installers = tuple(person for person in installers if not _waits(rec, person))
    told = rec.state.telling.strangers_told
    owners = (owner for boat in boats for owner in rec.bundle.concerned(boat, Role.OWNER))
    people = tuple(
        person
        for person in dict.fromkeys((*owners, *installers))
        if person not in told or rec.now - told[person] >= HOUR
    )
    if not people:
        return
    count = rec.state.telling.strangers
    rec.note(INSTALLATION, StrangersTold(count=count, people=people))
    for person in people:
        rec.tell(StrangerWrote(person=person, number=masked(number), count=count))


def strangers_of_the_night(rec: Recorder) -> bool:
    """Quiet hours have ended: what waited is told in one text. True when there was any."""
    found = [one for one in rec.state.regular.strangers.values() if one.at is not None and one.at <= rec.now]
    for one in found:
        rec.note(INSTALLATION, StrangersWait(person=one.person, at=None))
        if one.person in rec.bundle.people:
            rec.note(INSTALLATION, StrangersTold(count=one.count, people=(one.person,)))
            rec.tell(StrangerWrote(person=one.person, number="", count=one.count))
    return bool(found)


def _waits(rec: Recorder, person: str) -> bool:
    """Count one more text for a person whose quiet hours hold; False when they do not."""
    known = rec.bundle.people.get(person)
    until = None
    if known is not None and known.quiet is not None:
        until = known.quiet.until(rec.now, known.zone, rec.state.clock_offset)
    if until is None:
        return False
    before = rec.state.regular.strangers.get(person)
    count = 1 if before is None else before.count + 1
    rec.note(INSTALLATION, StrangersWait(person=person, at=until, count=count))
    return True


def _ordered(rec: Recorder, meaning: Meaning) -> tuple[str, ...]:
    """The boats that a stranger's text would command: the one that it names, else those with an open code or, in an
    installation of one boat, that one. Of a text that is no order or code, none."""
    if not isinstance(meaning, Understood) or not isinstance(
        meaning.request, Switch | Confirm | Withdraw | ProveNumber
    ):
        return ()
    if meaning.boat is not None:
        return (meaning.boat,) if meaning.boat in rec.bundle.boats else ()
    open_codes = tuple(dict.fromkeys(request.boat for request in rec.state.requests.open.values()))
    return open_codes or (tuple(rec.bundle.boats) if len(rec.bundle.boats) == 1 else ())
