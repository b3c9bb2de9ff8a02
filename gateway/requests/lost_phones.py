"""`phone lost Tobias`: that number commands nothing any more, until the installer has made sure of it again.

It takes the right to command and nothing else: alarms still go to the phone, and what is due to stop is stopped. No
code is asked for, because it only takes away. So that a thief gains nothing by it, a phone that is reported lost
reports no other, and of those who may command a boat the last one stays.
"""

from collections.abc import Mapping

from gateway.people.settings import Person, Role
from gateway.requests.answers import CodeTrouble
from gateway.requests.authority import to_be_told
from gateway.requests.codes import mark_of
from gateway.requests.decision import Decision, noted, told
from gateway.requests.facts import CodeSpent
from gateway.requests.life import RequestEvent
from gateway.requests.number_answers import CannotReport, PhoneLostTold, PhoneNotTaken
from gateway.requests.number_facts import NumberUnproved, Unproved
from gateway.requests.paper_lists import list_lost
from gateway.requests.state import Requests
from gateway.requests.steps import code_ended
from gateway.vocabulary.entries import INSTALLATION


def report_lost(state: Requests, person: Person, lost: Person | None, people: Mapping[str, Person]) -> Decision:
    """Decide on a report by this person. lost: whose phone it is, None when nobody is called so. people by random id.
    Both are told, and owners and installers of the boats, who can do something about it."""
    cannot, boat = _against(state, person, lost, people)
    if lost is None or cannot is not None:
        return told(
            PhoneNotTaken(
                person=person.id,
                who=lost.id if lost is not None and cannot is not CannotReport.UNKNOWN else None,
                cannot=cannot or CannotReport.UNKNOWN,
                boat=boat,
                installers=_installers(lost or person, people),
            )
        )
    decision = noted(INSTALLATION, NumberUnproved(person=lost.id, because=Unproved.LOST, reported_by=person.id))
    waiting, ask = state.waiting(lost.id), state.numbers.asked.get(lost.id)
    if waiting is not None:
        decision += code_ended(waiting, RequestEvent.VOID, CodeTrouble.LOST)
    if ask is not None:
        mark = mark_of(ask.id, ask.words)
        decision += noted(INSTALLATION, CodeSpent(request=ask.id, person=lost.id, trouble=CodeTrouble.LOST, mark=mark))
    decision += list_lost(state.papers, lost.id)
    readers = dict.fromkeys((person.id, lost.id, *(other.id for other in to_be_told(lost, people))))
    return decision + told(
        *(
            PhoneLostTold(person=reader, who=lost.id, by=person.id, installers=_installers(lost, people))
            for reader in readers
        )
    )


def _against(
    state: Requests, person: Person, lost: Person | None, people: Mapping[str, Person]
) -> tuple[CannotReport | None, str]:
    """Why nothing is taken, and of which boat that is, "" of none."""
    if state.numbers.is_lost(person.id):
        return CannotReport.LOST_ITSELF, ""
    if lost is None or not set(person.boats) & set(lost.boats):
        return CannotReport.UNKNOWN, ""
    if state.numbers.is_lost(lost.id):
        return CannotReport.ALREADY, ""
    commanding = [boat for boat in lost.boats if _commands(lost, boat)]
    if not commanding:
        return CannotReport.NO_RIGHTS, ""
    for boat in commanding:
        if not any(
            other.id != lost.id and _commands(other, boat) and not state.numbers.is_lost(other.id)
            for other in people.values()
        ):
            return CannotReport.LAST, boat
    return None, ""


def _commands(person: Person, boat: str) -> bool:
    """Whether somebody may command anything of a boat."""
    return boat in person.boats and any(right.boat in (boat, "*") for right in person.rights)


def _installers(person: Person, people: Mapping[str, Person]) -> tuple[str, ...]:
    """Who can give the right back: the installers of the person's boats."""
    return tuple(
        other.id
        for _, other in sorted(people.items())
        if other.role is Role.INSTALLER and set(other.boats) & set(person.boats)
    )
