"""Phones cut off: who has opted out with the carrier gets nothing until a test text has arrived there.

It is noticed three ways: the whole of a text is a word that carriers take for it, the carrier marks a text so, or it
refuses a text of ours. The carrier lets such a number in again when its phone texts an opt-in word (its page on
opt-out keywords); whether texts then arrive is only known once one has.
"""

from collections.abc import Iterable

from gateway.desk.turn import Recorder
from gateway.desk.welcoming import reachable
from gateway.people.settings import Person, Role
from gateway.telling.call import TRIAL_TEXT
from gateway.telling.delivery import rank
from gateway.telling.facts import OptOutNoted
from gateway.telling.pacing import ANSWER_WINDOW, free_from
from gateway.telling.trouble_notices import OptOutSeen, ReachableAgain, TrialText
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import OptFlagCame

BY_TEXT, BY_FLAG, BY_TEST = "text", "the carrier's mark", "a test text arrived"
BY_NUMBER = "the person has another number"
"""How an opt-out or its end was noticed, besides the carrier's code."""


def flagged(rec: Recorder, happening: OptFlagCame) -> None:
    """The carrier marks a text as opt-out or opt-in, whatever its words were."""
    person = rec.bundle.person_by_number.get(happening.number)
    if person is not None:
        opted(rec, person, out=happening.out, by=BY_FLAG)


def opted(rec: Recorder, person: Person, *, out: bool, by: str = BY_TEXT) -> None:
    """An opt-out or opt-in came from the phone. No answer to the first: the carrier gives its own. The second is
    followed by a test text."""
    if out:
        cut_off(rec, person, by=by)
    elif person.id in rec.state.telling.opted_out and _may_be_tested(rec, person):
        rec.tell(TrialText(person=person.id))


def cut_off(rec: Recorder, person: Person, *, by: str) -> None:
    """Note it, and tell others once. Said again while a test is under way, it makes that test worthless."""
    known = person.id in rec.state.telling.opted_out
    if known and not _is_tested(rec, person):
        return
    rec.note(INSTALLATION, OptOutNoted(person=person.id, out=True, by=by))
    if not known:
        for other in _who_must_know(rec, person):
            rec.tell(OptOutSeen(person=other, who=person.id))


def trial_arrived(rec: Recorder, person_id: str) -> None:
    """The test text is on the phone: the person can be reached again, and the others hear so."""
    person = rec.bundle.people.get(person_id)
    if person is None or person_id not in rec.state.telling.opted_out:
        return
    rec.note(INSTALLATION, OptOutNoted(person=person_id, out=False, by=BY_TEST))
    reachable(rec, person)
    for other in _who_must_know(rec, person):
        rec.tell(ReachableAgain(person=other, who=person_id))


def who_can_help(rec: Recorder, person: Person) -> tuple[str, ...]:
    """Owners, caretakers and installers of this person's boats, without the person."""
    roles = (Role.OWNER, Role.CARETAKER, Role.INSTALLER)
    found = dict.fromkeys(p for boat in person.boats for p in rec.bundle.concerned(boat, *roles))
    return tuple(p for p in found if p != person.id)


def another_number(rec: Recorder, people: Iterable[str]) -> None:
    """These (ids) have another number by new files: what the phone before had asked the carrier for is not asked for by
    this one."""
    for person in people:
        if person in rec.state.telling.opted_out:
            rec.note(INSTALLATION, OptOutNoted(person=person, out=False, by=BY_NUMBER))


def _who_must_know(rec: Recorder, person: Person) -> tuple[str, ...]:
    """Who can help; and when none of these but installers is there, the first other one on a list of this person's."""
    helpers = who_can_help(rec, person)
    if any(rec.bundle.people[helper].role is not Role.INSTALLER for helper in helpers):
        return helpers
    lists = (callout.everyone for callout in rec.bundle.callouts.values() if person.id in callout.everyone)
    others = dict.fromkeys(p for everyone in lists for p in everyone if p != person.id and p not in helpers)
    return (*helpers, *list(others)[:1])


def _is_tested(rec: Recorder, person: Person) -> bool:
    """Whether a test text is under way to this phone."""
    telling = rec.state.telling
    if any(text.about == TRIAL_TEXT and text.person == person.id for text in telling.texts.values()):
        return True
    return any(
        text.about == TRIAL_TEXT and text.person == person.id and not _has_ended(rec, order)
        for order, text in telling.taken.items()
    )


def _has_ended(rec: Recorder, order: str) -> bool:
    known = rec.state.telling.deliveries.get(order)
    return known is not None and rank(known.status) >= rank("delivered")


def _may_be_tested(rec: Recorder, person: Person) -> bool:
    """One test at a time, and so many in ten minutes as there are answers: two machines must not talk for ever."""
    tests = [text.at for text in rec.state.telling.sent_to(person.id) if text.about == TRIAL_TEXT]
    limit = rec.bundle.pacing.answers_in_ten_minutes
    return not _is_tested(rec, person) and free_from(tests, limit, ANSWER_WINDOW, rec.now) <= rec.now
