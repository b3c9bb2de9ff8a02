"""A text that the carrier has and that has not arrived in time: the next person is told, and why is kept."""

import pytest

from gateway.alarms.settings import Point
from gateway.telling.delivery import ARRIVES_WITHIN
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import DeliveryReported, SendAnswered
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, MARINA, TOBIAS, Small, point, small

SLOW = CallOutList(
    key="list",
    steps=(Step(after=0, tell=(INES,)), Step(after=HOUR, tell=(TOBIAS,)), Step(after=2 * HOUR, tell=(MARINA,))),
    repeat=None,
)
"""No step falls due by itself within the time of any text."""

WHILE = 12 * MINUTE
"""Longer than the time of any text."""


def shore(priority: Priority) -> Point:
    return point("shore", when=IsContact(signal="shore", wanted=False), priority=priority)


def raised(priority: Priority, callout: CallOutList = SLOW) -> Small:
    boat = small(shore(priority), callouts=(callout,))
    if priority is Priority.CAUTION:
        boat.wait(6 * HOUR)  # it goes by day
    boat.reads("shore", "off")
    boat.now = boat.turns[-1].now
    return boat


def takes(boat: Small, text: SendText) -> None:
    boat.take(SendAnswered(order=text.id, accepted=True, message=f"SM{text.id}"))


def reports(boat: Small, text: SendText, status: str, code: str = "") -> None:
    boat.take(DeliveryReported(order=text.id, status=status, code=code))


def told(boat: Small) -> list[tuple[str, Ms]]:
    return [(who, at) for who, what, at in boat.told() if what == "alarm told"]


def overdue(boat: Small) -> list[object]:
    return [w.entry.body for w in boat.entries if w.entry.kind == "text-overdue"]


@pytest.mark.parametrize("priority", list(ARRIVES_WITHIN))
@pytest.mark.parametrize("last_word", [None, "queued", "sent"])
def test_not_arrived_within_its_time_has_the_next_person_told_and_the_reason_kept(
    priority: Priority, last_word: str | None
) -> None:
    boat = raised(priority)
    text = boat.sent[0]
    takes(boat, text)
    due = boat.turns[-1].now + ARRIVES_WITHIN[priority]
    if last_word is not None:
        reports(boat, text, last_word)
    boat.wait(due - 1 - boat.now)
    assert [who for who, _ in told(boat)] == [INES]
    boat.wait(1)
    assert told(boat)[1:] == [(TOBIAS, due - boat.began)]
    assert overdue(boat) == [{"order": text.id, "person": INES, "numbers": [1], "within": ARRIVES_WITHIN[priority]}]
    assert boat.rebuilt() == boat.bytes()


def test_the_times_are_those_of_a_proof() -> None:
    assert ARRIVES_WITHIN == {
        Priority.EMERGENCY: 2 * MINUTE,
        Priority.ALARM: 2 * MINUTE,
        Priority.WARNING: 10 * MINUTE,
    }


@pytest.mark.parametrize("before_the_answer", [True, False])
def test_what_arrived_hastens_nobody_in_whichever_order_we_hear_of_it(before_the_answer: bool) -> None:
    boat = raised(Priority.ALARM)
    text = boat.sent[0]
    if before_the_answer:
        reports(boat, text, "delivered")
    takes(boat, text)
    if not before_the_answer:
        reports(boat, text, "delivered")
    reports(boat, text, "sent")
    boat.wait(WHILE)
    assert [who for who, _ in told(boat)] == [INES]
    assert overdue(boat) == []


def test_what_did_not_arrive_hastens_once_even_when_that_was_said_before_the_answer() -> None:
    boat = raised(Priority.ALARM)
    text = boat.sent[0]
    reports(boat, text, "undelivered", "30005")
    takes(boat, text)
    boat.wait(WHILE)
    assert [who for who, _ in told(boat)] == [INES, TOBIAS]
    assert overdue(boat) == []


def test_it_goes_down_the_list_one_person_at_a_time() -> None:
    boat = raised(Priority.EMERGENCY)
    for _ in range(3):
        takes(boat, boat.sent[-1])
        boat.wait(2 * MINUTE)
    assert [(who, at // MINUTE) for who, at in told(boat)] == [(INES, 0), (TOBIAS, 2), (MARINA, 4)]


def test_several_late_texts_of_one_round_hasten_one_step() -> None:
    both = CallOutList(
        key="list",
        steps=(
            Step(after=0, tell=(INES, TOBIAS)),
            Step(after=HOUR, tell=(MARINA,)),
            Step(after=2 * HOUR, tell=(INES,)),
        ),
        repeat=None,
    )
    boat = raised(Priority.ALARM, both)
    first, second = boat.sent
    takes(boat, first)
    boat.wait(SECOND)
    takes(boat, second)
    boat.wait(30 * MINUTE)
    assert [who for who, _ in told(boat)] == [INES, TOBIAS, MARINA]
    assert len(overdue(boat)) == 1


def test_nobody_is_hastened_once_somebody_has_it() -> None:
    boat = raised(Priority.ALARM)
    takes(boat, boat.sent[0])
    boat.texts(TOBIAS, "have it 1")
    boat.wait(WHILE)
    assert [who for who, _ in told(boat)] == [INES]
    assert overdue(boat) == []


def test_nobody_is_hastened_once_it_has_gone() -> None:
    boat = raised(Priority.ALARM)
    takes(boat, boat.sent[0])
    boat.reads("shore", "on")
    boat.wait(WHILE)
    assert [who for who, _ in told(boat)] == [INES]
    assert overdue(boat) == []


def test_a_caution_waits_for_nobody() -> None:
    boat = raised(Priority.CAUTION)
    takes(boat, boat.sent[0])
    boat.wait(WHILE)
    assert [who for who, _ in told(boat)] == [INES]
    assert overdue(boat) == []


def test_after_a_restart_the_time_goes_on_from_when_the_carrier_took_it() -> None:
    boat = raised(Priority.ALARM)
    takes(boat, boat.sent[0])
    due = boat.turns[-1].now + 2 * MINUTE
    boat.wait(MINUTE)
    boat.restarts(after=10 * SECOND)
    boat.wait(2 * MINUTE)
    assert told(boat)[1:] == [(TOBIAS, due - boat.began)]


def test_one_that_did_not_arrive_is_told_to_the_same_person_once_more_and_no_oftener() -> None:
    """The phone was off (30003): 3 min later the list tells its person again, and once is enough."""
    boat = raised(Priority.ALARM)
    for tries in (1, 2, 2):
        mine = [text for text in boat.sent if text.person == INES]
        assert len(mine) == tries
        takes(boat, mine[-1])
        reports(boat, mine[-1], "undelivered", "30003")
        boat.wait(4 * MINUTE)
    assert [at // MINUTE for who, at in told(boat) if who == INES] == [0, 3]
