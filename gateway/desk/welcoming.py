"""The first text to a person: planned by day, and tried again on another day where it did not arrive."""

from gateway.desk.turn import Recorder
from gateway.people.regular import next_by_day, next_morning
from gateway.people.settings import Person, Role
from gateway.telling.call import WELCOME
from gateway.telling.facts import HeldBack
from gateway.telling.regular import WelcomePlanned
from gateway.telling.regular_notices import WelcomeTold
from gateway.telling.welcoming import MOST_TRIES
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.moments import Ms

NO_CONSENT = "no consent to be texted is written down"
"""Why a digest, a round or a first text is not sent; an emergency, an alarm or a warning is (design 4, and handbook
6.3)."""

GIVEN_UP = f"it did not arrive {MOST_TRIES} times"


def plan_welcomes(rec: Recorder) -> None:
    """Whoever has not had it yet, and whoever has another number, gets one text that says which boats, what comes and
    what STOP does, by day; without a consent it is held back until one is written down."""
    for person in rec.bundle.people.values():
        _plan(rec, person)


def _plan(rec: Recorder, person: Person) -> None:
    if not person.boats or not rec.state.telling.welcomes.needs(person.id):
        return
    if not person.consent:
        rec.note(INSTALLATION, HeldBack(person=person.id, about=WELCOME, because=NO_CONSENT))
        return
    planned = rec.state.regular.welcomes.get(person.id)
    if planned is not None and rec.state.telling.welcomes.tries.get(person.id):
        return  # it was tried already: the next time is the next morning
    at = next_by_day(rec.now, person.zone, rec.state.clock_offset)
    if planned != at:
        rec.note(INSTALLATION, WelcomePlanned(person=person.id, at=at))


def due_welcomes(rec: Recorder) -> bool:
    """Those that are due by day go; where the gateway did not run meanwhile and it is night now, they are put off. True
    when there was any."""
    due_now = [person for person, at in rec.state.regular.welcomes.items() if at <= rec.now]
    for person in due_now:
        known = rec.bundle.people.get(person)
        at = next_by_day(rec.now, known.zone, rec.state.clock_offset) if known is not None else rec.now
        rec.note(INSTALLATION, WelcomePlanned(person=person, at=None if at <= rec.now else at))
        if at <= rec.now:
            _welcome(rec, person)
    return bool(due_now)


def _welcome(rec: Recorder, person_id: str) -> None:
    """The first text, if it is still to go: the files may have changed since it was planned."""
    person = rec.bundle.people.get(person_id)
    if person is None or not person.boats or not person.consent or not rec.state.telling.welcomes.needs(person_id):
        return
    installers = [who for boat in person.boats for who in rec.bundle.concerned(boat, Role.INSTALLER)]
    who = next((who for who in installers if who != person.id), None)
    rec.tell(WelcomeTold(person=person.id, boats=person.boats, who=who))


def did_not_arrive(rec: Recorder, person_id: str) -> bool:
    """The carrier did not take the first text, or says that it did not arrive: it goes again the next morning. True
    when that has been tried often enough, and whoever can help should ring. A phone that has opted out gets it once
    texts arrive there again (`reachable`)."""
    person, welcomes = rec.bundle.people.get(person_id), rec.state.telling.welcomes
    if person is None or person_id in rec.state.telling.opted_out:
        return False
    if welcomes.given_up(person_id):
        rec.note(INSTALLATION, HeldBack(person=person_id, about=WELCOME, because=GIVEN_UP))
        return True
    if welcomes.needs(person_id):
        rec.note(INSTALLATION, WelcomePlanned(person=person_id, at=_next_morning(rec, person)))
    return False


def reachable(rec: Recorder, person: Person) -> None:
    """Texts arrive at the phone again: the first one goes, if it has not yet."""
    _plan(rec, person)


def _next_morning(rec: Recorder, person: Person) -> Ms:
    return next_morning(rec.now, person.zone, rec.state.clock_offset)
