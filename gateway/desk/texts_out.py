"""What became of our texts: taken, refused, long in going, arrived or not; and who must hear of it."""

from gateway.desk import welcoming
from gateway.desk.opting import cut_off, trial_arrived, who_can_help
from gateway.desk.turn import Recorder
from gateway.people.settings import Role
from gateway.telling.call import ALARM_TOLD, TRIAL_TEXT, WELCOME
from gateway.telling.delivery import NOT_ARRIVED, Amounts, amounts_to
from gateway.telling.facts import TextAnswered, TextDelayed, TextDelivery, TextOverdue
from gateway.telling.outcomes import outcome_of
from gateway.telling.trouble_notices import CarrierStuck, NotReached, OptOutSeen, UntoldMeanwhile
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import DeliveryReported, SendAnswered, SendDelayed
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority
from gateway.wording.say import kind_of

_OF_TROUBLE = frozenset({kind_of(NotReached(person="", who="", code="")), kind_of(OptOutSeen(person="", who=""))})
"""Texts about texts: that one of these was refused is told to nobody by another."""


def text_answered(rec: Recorder, happening: SendAnswered) -> None:
    """What the carrier said to a text. A refusal that will not mend itself is told to those who can mend it, once until
    a text gets through."""
    queued = rec.state.telling.texts.get(happening.order)
    known_code = rec.state.telling.refused.get(queued.person) if queued is not None else None
    fact = TextAnswered(
        order=happening.order,
        accepted=happening.accepted,
        message=happening.message,
        code=happening.code,
        detail=happening.detail,
        found=happening.found,
    )
    not_arrived = rec.state.telling.not_arrived.get(queued.person) if queued is not None else None
    rec.note(INSTALLATION, fact)
    if happening.accepted:
        tell_untold(rec)
        word = rec.state.telling.deliveries.get(happening.order)  # it may have come before the answer
        if queued is not None and word is not None and word.status in NOT_ARRIVED:
            _failed(rec, queued.about, queued.person, word.code, known=not_arrived)
    elif queued is not None and queued.about not in _OF_TROUBLE:
        _failed(rec, queued.about, queued.person, happening.code, known=known_code)


def text_delayed(rec: Recorder, happening: SendDelayed) -> None:
    """A text is long in going: noted, and by that the next person is told. Of a grave alarm the installer hears at
    once, by mail: another text would wait beside it."""
    text = rec.state.telling.texts.get(happening.order)
    if text is None:
        return
    rec.note(INSTALLATION, TextDelayed(order=happening.order, code=happening.code))
    if text.about == ALARM_TOLD and text.priority in (Priority.EMERGENCY, Priority.ALARM):
        for person in rec.bundle.concerned(text.boat, Role.INSTALLER):
            rec.mail(
                CarrierStuck(person=person, who=text.person, code=happening.code, numbers=text.numbers, boat=text.boat)
            )


def delivery(rec: Recorder, happening: DeliveryReported) -> None:
    """A later word on a text: kept when it is news, for they come in any order and some come twice."""
    telling = rec.state.telling
    news = amounts_to(telling.deliveries.get(happening.order), happening.status)
    if news is Amounts.NOTHING:
        return
    text = telling.taken.get(happening.order)
    known_code = telling.not_arrived.get(text.person) if text is not None else None
    rec.note(INSTALLATION, TextDelivery(order=happening.order, status=happening.status, code=happening.code))
    if text is None:
        return
    if happening.status in NOT_ARRIVED and news is Amounts.ADVANCE:
        _failed(rec, text.about, text.person, happening.code, known=known_code)
    elif happening.status == "delivered" and text.about == TRIAL_TEXT:
        trial_arrived(rec, text.person)


def next_overdue(rec: Recorder) -> Ms | None:
    """When the next text should have arrived at the latest, of those that somebody still waits for."""
    return min((until for until, _, _ in rec.state.telling.overdue()), default=None)


def overdue(rec: Recorder) -> bool:
    """Texts that the carrier has, and that have not arrived in time: the next persons are told. True when there were
    any."""
    due = [one for one in rec.state.telling.overdue() if one[0] <= rec.now]
    for until, order, numbers in due:
        text = rec.state.telling.taken[order]
        fact = TextOverdue(order=order, person=text.person, numbers=numbers, within=until - text.at)
        rec.note(text.boat or INSTALLATION, fact)
    return bool(due)


def _failed(rec: Recorder, about: str, person_id: str, code: str, *, known: str | None) -> None:
    """A text was refused, or did not arrive. known: the code that was told of this person already."""
    person = rec.bundle.people.get(person_id)
    outcome = outcome_of(code)
    if person is not None and outcome.cut_off and code != known:
        cut_off(rec, person, by=code)
    given_up = about == WELCOME and welcoming.did_not_arrive(rec, person_id)
    if person is None or outcome.cut_off:
        return
    if given_up or (outcome.tell_installer and code != known):
        for other in who_can_help(rec, person):
            rec.tell(NotReached(person=other, who=person.id, code=code))


def tell_untold(rec: Recorder) -> None:
    """The carrier takes texts again: say which alarms came and went untold, one text a person."""
    for person, numbers in list(rec.state.telling.untold.items()):
        rec.tell(UntoldMeanwhile(person=person, numbers=numbers), numbers=numbers)
