"""What keeps a text of one alarm from one person now: that one has just gone or is on its way, a wish, a limit, a
flood, quiet hours. Each is recorded with its reason; what a limit holds back may go to the stand-in."""

from gateway.desk import regular
from gateway.desk.floods import free_from
from gateway.desk.limits import has_room, room
from gateway.desk.reminding import ASKED_FOR_QUIET, quiet_until, wants_none
from gateway.desk.standing_in import MATTERS, stand_in_of
from gateway.desk.turn import Recorder
from gateway.telling.call import ALARM_TOLD
from gateway.telling.facts import HeldBack
from gateway.telling.pacing import QUIET_HOURS, is_capped
from gateway.telling.rounds import Round
from gateway.vocabulary.moments import Ms


def just_told(rec: Recorder, person: str, one: Round) -> bool:
    """Whether this person was texted of it in this very moment: where somebody's phone has opted out the next step
    comes at once, and may name the others once more. A text that did not go tells nobody."""
    telling = rec.state.telling
    if not any(other in telling.opted_out for other in (*one.persons, *one.call.told)):
        return False
    if person in telling.refused or person in telling.not_arrived:
        return False
    last = telling.named.get(person)
    if last is None or rec.now - last.at > 1 or one.call.number not in last.numbers or person not in one.call.told:
        return False
    because = "texted of it in this moment"
    rec.note(one.call.boat, HeldBack(person=person, about=ALARM_TOLD, because=because, numbers=(one.call.number,)))
    return True


def under_way(rec: Recorder, person: str, one: Round) -> bool:
    """Whether a text of it to this person is long in going: one more would only come beside it."""
    telling = rec.state.telling
    if person not in one.call.told or not telling.is_under_way(person, one.call.number, rec.now):
        return False
    because = "its last text has not gone yet"
    rec.note(one.call.boat, HeldBack(person=person, about=ALARM_TOLD, because=because, numbers=(one.call.number,)))
    return True


def may_go(rec: Recorder, person: str, one: Round) -> bool:
    """Within the person's limits; what is held back is recorded with the reason."""
    if under_way(rec, person, one):
        return False
    if regular.takes_digest(rec, person, one.call.priority):
        regular.gather(rec, person, rec.state.standing.by_point[one.call.point])
        return False
    if wants_none(rec, one.call, person):
        fact = HeldBack(person=person, about=ALARM_TOLD, because=ASKED_FOR_QUIET, numbers=(one.call.number,))
        rec.note(one.call.boat, fact)
        return False
    again = person in one.call.told
    free, because = room(rec, person, one.call.boat, one.call.priority, again)
    flood = free_from(rec, person, first=not is_capped(one.call.priority, again))
    if flood > rec.now:
        free, because = max(free, flood), "flood of alarms"
    if (until := quiet_until(rec, person, one.call.priority)) is not None:
        free, because = max(free, until), QUIET_HOURS
    if free <= rec.now:
        return True
    fact = HeldBack(person=person, about=ALARM_TOLD, because=because, numbers=(one.call.number,), until=free)
    rec.note(one.call.boat, fact)
    return False


def _limit_free_from(rec: Recorder, person: str, one: Round) -> Ms:
    return room(rec, person, one.call.boat, one.call.priority, person in one.call.told)[0]


def passed_to(rec: Recorder, person: str, one: Round) -> str | None:
    """The stand-in who is told instead, where this person's limit holds back what matters: somebody who is not told of
    it anyway, is not asleep by his or her quiet hours, and has room."""
    call = one.call
    if call.priority not in MATTERS or _limit_free_from(rec, person, one) <= rec.now:
        return None
    if wants_none(rec, call, person) or quiet_until(rec, person, call.priority) is not None:
        return None
    other = stand_in_of(rec.state, rec.bundle, person, call.boat, rec.now)
    if other is None or other in one.persons or other in call.told:
        return None
    free = _limit_free_from(rec, other, one) <= rec.now and free_from(rec, other) <= rec.now
    return other if free and quiet_until(rec, other, call.priority) is None else None


def have_room_still(rec: Recorder, person: str, rounds: list[Round]) -> list[Round]:
    """Those that may go still, now that others have gone in this very moment. What goes along in the text of an alarm
    that no limit holds back needs no room of its own."""
    if any(not is_capped(one.call.priority, person in one.call.told) for one in rounds):
        return rounds
    return [
        one
        for one in rounds
        if has_room(
            rec,
            person,
            one.call.boat,
            one.call.priority,
            person in one.call.told,
            about=ALARM_TOLD,
            numbers=(one.call.number,),
        )
    ]
