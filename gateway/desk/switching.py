"""Requests to switch: the stages decide, this writes down what they decided and passes it on."""

from collections.abc import Sequence

from gateway.desk.moment import Moment
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.requests.asking import ask
from gateway.requests.authority import proved_again
from gateway.requests.carrying_out import published
from gateway.requests.confirming import confirm
from gateway.requests.decision import Decision
from gateway.requests.falling_due import fall_due
from gateway.requests.falling_due import restarted as unproven_after_restart
from gateway.requests.lost_phones import report_lost
from gateway.requests.paper_lists import lists_in_files
from gateway.requests.proof import readings_changed
from gateway.requests.proving_numbers import fell_silent, numbers_in_files, prove
from gateway.requests.settings import Equipment
from gateway.requests.withdrawing import withdraw
from gateway.vocabulary.moments import Ms
from grammar.meanings import Confirm, Switch


def carry(rec: Recorder, decision: Decision) -> bool:
    """Note the facts, queue the answers, keep the orders for after the commit. True when there was anything."""
    for noted in decision.notes:
        rec.note(noted.chain, noted.fact, noted.sealed)
    for answer in decision.answers:
        rec.tell(answer)
    rec.orders.extend(decision.orders)
    return bool(decision.notes or decision.answers or decision.orders)


def moment(rec: Recorder) -> Moment:
    """The present moment."""
    return Moment(rec.state, rec.bundle, rec.now)


def asked(rec: Recorder, person: Person, equipment: Equipment, switch: Switch, age: Ms | None) -> None:
    """A person asks for a switch."""
    bundle = rec.bundle
    carry(
        rec,
        ask(
            rec.state.requests,
            equipment,
            person,
            switch,
            age,
            moment(rec),
            rec.draws,
            bundle.code_words,
            bundle.people,
            bundle.paper_lists,
        ),
    )


def confirmed(rec: Recorder, person: Person, said: Confirm, age: Ms | None) -> None:
    """A person sends code words back, with a line from paper or without."""
    bundle = rec.bundle
    carry(
        rec,
        confirm(
            rec.state.requests,
            person,
            said,
            age,
            bundle.equipment,
            bundle.people,
            bundle.paper_lists,
            moment(rec),
            rec.draws,
            bundle.code_words,
        ),
    )


def withdrawn(rec: Recorder, person: Person, words: tuple[str, str], age: Ms | None) -> None:
    """A person withdraws a request."""
    carry(rec, withdraw(rec.state.requests, person, words, age, moment(rec)))


def seen(rec: Recorder, signals: frozenset[str]) -> None:
    """These signals have new values: some may be the proof of a command."""
    carry(rec, readings_changed(rec.state.requests, signals, rec.bundle.equipment, moment(rec)))


def handed_over(rec: Recorder, order: str, taken: bool) -> None:
    """The broker took a command, or did not."""
    carry(rec, published(rec.state.requests, order, taken, rec.bundle.equipment, moment(rec)))


def proves(rec: Recorder, person: Person, words: tuple[str, str], age: Ms | None) -> None:
    """A person sends back the words that prove the number."""
    carry(rec, prove(rec.state.requests, person, words, age, rec.bundle.people, moment(rec)))


def phone_lost(rec: Recorder, person: Person, key: str | None) -> None:
    """A person reports a phone lost. key: in the files, of whose it is; None for the sender's own."""
    people = rec.bundle.people
    lost = person if key is None else next((one for one in people.values() if one.key == key), None)
    carry(rec, report_lost(rec.state.requests, person, lost, people))


def heard_again(rec: Recorder, person: Person) -> None:
    """A text has come from this person's number, perhaps after a long silence. Called before the text is noted."""
    carry(rec, fell_silent(rec.state.requests, person, rec.now))


def people_came(rec: Recorder, renumbered: Sequence[str]) -> None:
    """New files may say of a person that an installer has made sure of the number again, or give another number; there
    may be a new list on paper."""
    carry(rec, proved_again(rec.state.requests, rec.bundle.people, rec.now))
    carry(rec, numbers_in_files(rec.state.requests, rec.bundle.people, renumbered, rec.now))
    carry(rec, lists_in_files(rec.state.requests.papers, rec.bundle.people, rec.bundle.paper_lists))


def due(rec: Recorder) -> bool:
    """Codes that ran out, proofs that are overdue, stops that are due."""
    return carry(rec, fall_due(rec.state.requests, rec.bundle.equipment, rec.bundle.people, moment(rec), rec.draws))


def restarted(rec: Recorder) -> None:
    """After a restart: what was sent and not proved is unproven, and is told; stops that are due stay due."""
    carry(rec, unproven_after_restart(rec.state.requests, rec.bundle.equipment, moment(rec)))
