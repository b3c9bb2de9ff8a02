"""How a practice alarm ends: what puts an end to it, who hears so, and what is said of its texts."""

from collections.abc import Iterable

from gateway.desk.lists import list_now
from gateway.desk.rounds import mute_reason
from gateway.desk.turn import Recorder
from gateway.telling.call import PRACTICE_TOLD, Call
from gateway.telling.practice import Practice, PracticeEnd, PracticeEnded
from gateway.telling.practice_notices import PracticeEndTold
from gateway.vocabulary.priority import Priority

GRAVE = frozenset({Priority.EMERGENCY, Priority.ALARM})
"""What ends a practice also where it is another boat's, if anybody of its list is told."""


def calls(rec: Recorder) -> Iterable[Call]:
    """All alarms that are called out."""
    return rec.state.telling.calls.values()


def waits(call: Call) -> bool:
    """Whether it still waits for somebody."""
    return call.holder is None and not call.over and not call.muted


def disturbs(call: Call, boat: str, people: Iterable[str]) -> bool:
    """Whether a practice on that boat, told to these people, could be taken for this call."""
    if call.boat == boat:
        return call.priority is not Priority.CAUTION
    return call.priority in GRAVE and not set(call.heard_of).isdisjoint(people)


def give_way(rec: Recorder, point_id: str) -> None:
    """A true alarm is called out now: a practice that could be taken for it, or it for the practice, is over."""
    call = rec.state.telling.calls.get(point_id)
    if not rec.state.practice.on or call is None or not waits(call) or point_id not in rec.bundle.points:
        return
    if mute_reason(rec, rec.bundle.points[point_id]) is not None:
        return
    people = list_now(rec.state, rec.bundle, point_id, rec.now).everyone
    for one in list(rec.state.practice.on.values()):
        shared = call.priority in GRAVE and not _touched(rec, one).isdisjoint(people)
        if shared or one.point == point_id or disturbs(call, one.boat, ()):
            end(rec, one, PracticeEnd.TRUE_ALARM)


def _touched(rec: Recorder, one: Practice) -> frozenset[str]:
    """Ids of those who were told of it, and of those whose turn may yet come: "do not set out" must reach nobody who
    has a true one before him."""
    turns = list_now(rec.state, rec.bundle, one.point, rec.now).everyone if one.point in rec.bundle.points else ()
    return frozenset((*one.told, *turns))


def end(rec: Recorder, one: Practice, because: PracticeEnd, by: str | None = None) -> None:
    """It is over: all who were told hear so, and that what comes now is true. by: id of who had it or ended it."""
    rec.note(one.boat, PracticeEnded(point=one.point, because=because, person=by))
    if one.boat not in rec.bundle.boats:
        return
    texts, arrived = _arrived(rec, one)
    for person in dict.fromkeys((*one.told, one.by)):
        own = person == one.by
        rec.tell(
            PracticeEndTold(
                person=person,
                boat=one.boat,
                point=one.point,
                because=because,
                by=by,
                lasted=rec.now - one.began,
                told=one.told,
                texts=texts if own else None,
                arrived=arrived if own else None,
            )
        )


def _arrived(rec: Recorder, one: Practice) -> tuple[int, int]:
    """How many of its texts the carrier has taken, or has yet to answer, and how many are said to have arrived."""
    telling = rec.state.telling
    waiting = sum(_of(text.about, text.boat, one) for text in telling.texts.values())
    taken = [order for order, text in telling.taken.items() if _of(text.about, text.boat, one) and text.at >= one.began]
    words = (telling.deliveries.get(order) for order in taken)
    return waiting + len(taken), sum(word is not None and word.status in ARRIVED for word in words)


def _of(about: str, boat: str, one: Practice) -> bool:
    return about == PRACTICE_TOLD and boat == one.boat


ARRIVED = frozenset({"delivered", "read"})
"""The carrier's words for a text that is on the phone (its page on statuses)."""
