"""A text that is not exactly understood: nothing is done, and the answer makes the second try work (design rule 7)."""

from gateway.desk.duty import nobody_known
from gateway.desk.opting import opted
from gateway.desk.phrases import may_text
from gateway.desk.taking import not_taken
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.requests.settings import Equipment
from gateway.telling.notices import NotRead
from gateway.telling.pacing import may_answer
from grammar.meanings import NotUnderstood, Why


def not_understood(rec: Recorder, person: Person, meaning: NotUnderstood) -> None:
    """Answer what can be answered; what carriers read as opting out or in, and mere answers, have their own rules."""
    if meaning.why in (Why.OPT_OUT, Why.OPT_IN):
        opted(rec, person, out=meaning.why is Why.OPT_OUT)
        if meaning.why is Why.OPT_IN and person.id not in rec.state.telling.opted_out:
            not_taken(rec, person)  # "yes" to an alarm takes it as little as "ok" does, and whoever wrote it sleeps on
        return
    if meaning.why in (Why.MERE_ANSWER, Why.REACTION):
        not_taken(rec, person, meaning.alarm, meaning.boat)
        return
    if may_answer(rec.state.telling.sent_to(person.id), rec.bundle.pacing, rec.now):
        if meaning.why is Why.NOBODY_KNOWN and (meaning.boat is None or meaning.boat in person.boats):
            nobody_known(rec, person, person.boats if meaning.boat is None else (meaning.boat,))
            return
        named = meaning.boat if meaning.boat in person.boats else None
        equipment = _thing(rec, person, named, meaning.equipment) if meaning.equipment else None
        rec.tell(
            NotRead(
                person=person.id,
                boat=named or (person.boats[0] if len(person.boats) == 1 else ""),
                why=str(_why(rec, person, meaning.why)),
                nearest=tuple(phrase for phrase in meaning.nearest if may_text(rec.bundle, person, phrase)),
                equipment=equipment.id if equipment is not None else None,
                named=named is not None and len(person.boats) > 1,
            )
        )


def _why(rec: Recorder, person: Person, why: Why) -> Why:
    """Two words that could be a code are told from any others only while this person has some to send back; which they
    are is not looked at."""
    if why is Why.NOBODY_KNOWN:
        return Why.NOT_A_PHRASE
    if why is not Why.CODE_ALONE or rec.state.requests.codes_of(person.id):
        return why
    return Why.PROOF_ALONE if person.id in rec.state.requests.numbers.asked else Why.NOT_A_PHRASE


def _thing(rec: Recorder, person: Person, boat: str | None, key: str) -> Equipment | None:
    """The first of the person's things of that key."""
    boats = person.boats if boat is None else (boat,) if boat in person.boats else ()
    found = [rec.bundle.equipment[f"{b}/{key}"] for b in boats if f"{b}/{key}" in rec.bundle.equipment]
    return found[0] if found else None
