"""Persons who want no reminders of an alarm for a while: "quiet 14 for 2 h"."""

from gateway.alarms.limits import LONGEST_SHELF
from gateway.desk.reminding import reminded
from gateway.desk.situation import situation_of
from gateway.desk.taking import meant
from gateway.desk.turn import Recorder
from gateway.people.settings import Person
from gateway.telling.call import Call
from gateway.telling.facts import QuietAsked
from gateway.telling.notices import AlarmAnswer
from gateway.telling.quiet_notices import CannotQuiet, QuietRefused, QuietTold
from gateway.vocabulary.moments import MINUTE
from gateway.vocabulary.priority import Priority
from grammar.meanings import QuietAlarm


def no_reminders(rec: Recorder, person: Person, request: QuietAlarm, boat: str | None) -> None:
    """No reminders of this alarm to this person for so long: never of an emergency, never to the last person, at most
    as long as it could be shelved. When it gets worse the list begins anew, and the wish is over."""
    found = meant(rec, person, request.alarm, boat, frozenset())
    if isinstance(found, AlarmAnswer):
        rec.tell(found)
        return
    call = rec.state.telling.calls.get(found.point)
    longest = LONGEST_SHELF.get(found.priority, 0)
    others = reminded(rec, call, but=person.id) if call is not None else ()
    cannot = _why(found.priority, call, person.id, others, request.minutes * MINUTE > longest)
    situation = situation_of(found)
    if cannot is not None:
        rec.tell(
            QuietRefused(person=person.id, boat=found.boat, situation=situation, cannot=cannot, longest=longest),
            numbers=(found.number,),
        )
        return
    until = rec.now + request.minutes * MINUTE
    rec.note(found.boat, QuietAsked(number=found.number, point=found.point, person=person.id, until=until))
    rec.tell(
        QuietTold(person=person.id, boat=found.boat, situation=situation, until=until, others=others),
        numbers=(found.number,),
    )


def _why(
    priority: Priority, call: Call | None, person: str, others: tuple[str, ...], too_long: bool
) -> CannotQuiet | None:
    if priority is Priority.EMERGENCY:
        return CannotQuiet.EMERGENCY
    if call is None or call.over or call.holder is not None or person not in call.heard_of:
        return CannotQuiet.NO_REMINDERS
    if too_long:
        return CannotQuiet.TOO_LONG
    return None if others else CannotQuiet.LAST
