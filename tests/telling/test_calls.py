"""Call-out lists: who is told when, what stops it, and what never does."""

from dataclasses import replace

from gateway.alarms.facts import AlarmGivenUp, AlarmStep
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.telling.call import NOT_TAKEN, Call
from gateway.telling.calls import Telling
from gateway.telling.facts import HeldBack, NotCalled, RoundCalled, TextAnswered, TextQueued
from gateway.telling.gathering import JOINS_WITHIN
from gateway.telling.rounds import due_at, next_due, rounds_due, told_next
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.moments import HOUR, MINUTE, Ms
from gateway.vocabulary.priority import Priority

T0 = 1_772_334_240_000
POINT = "grey-wagtail/water"
LIST = CallOutList(
    key="danger",
    steps=(
        Step(after=0, tell=("ines", "tobias")),
        Step(after=3 * MINUTE, tell=("ines", "tobias")),
        Step(after=6 * MINUTE, tell=("marina",)),
    ),
    repeat=10 * MINUTE,
)
ONCE = CallOutList(key="once", steps=(Step(after=0, tell=("ines",)),), repeat=None)
E, S = AlarmEvent, AlarmState


def stepped(event: AlarmEvent, before: AlarmState, after: AlarmState, **more: object) -> AlarmStep:
    given: dict[str, object] = {"number": 14, "point": POINT, "priority": Priority.EMERGENCY, "at": T0, **more}
    return AlarmStep(boat="grey-wagtail", event=event, before=before, after=after, **given)  # type: ignore[arg-type]


RAISED = stepped(E.RAISE, S.NORMAL, S.UNACKNOWLEDGED)
TAKEN = stepped(E.TAKE, S.UNACKNOWLEDGED, S.ACKNOWLEDGED, person="tobias")
GONE = stepped(E.CLEAR, S.UNACKNOWLEDGED, S.GONE_UNACKNOWLEDGED)
LATCHED = stepped(E.CLEAR, S.UNACKNOWLEDGED, S.LATCHED_UNACKNOWLEDGED)
RAISED_AGAIN = stepped(E.RAISE, S.GONE_UNACKNOWLEDGED, S.UNACKNOWLEDGED)


class Calling:
    """The room's state, driven along its own next due instants."""

    def __init__(self, callout: CallOutList = LIST) -> None:
        self.telling, self.lists = Telling(), {POINT: callout}
        self.rounds: list[tuple[Ms, tuple[str, ...], bool]] = []
        self.order = 0

    def call(self) -> Call:
        return self.telling.calls[POINT]

    def carry_out(self, now: Ms) -> None:
        for one in list(rounds_due(self.telling, self.lists, now)):
            self.telling.apply(one.fact, now)
            self.rounds.append(((now - T0) // MINUTE, one.persons, one.fact.again))
            for person in one.persons:
                self.queue(person, now)

    def queue(self, person: str, now: Ms, about: str = "alarm told") -> str:
        self.order += 1
        priority = Priority.EMERGENCY if about == "alarm told" else None
        queued = TextQueued(
            order=f"o{self.order}",
            person=person,
            boat="grey-wagtail",
            about=about,
            numbers=(14,),
            priority=priority,
        )
        self.telling.apply(queued, now)
        return queued.order

    def until(self, end: Ms) -> list[tuple[Ms, tuple[str, ...], bool]]:
        """Carry out everything up to `end`; rounds as (minute, persons, whether a repeat)."""
        while (due := next_due(self.telling, self.lists)) is not None and due <= end:
            self.carry_out(max(due, T0))
        return self.rounds


BOTH, ALL = ("ines", "tobias"), ("ines", "tobias", "marina")


def test_the_steps_of_the_list_come_at_their_times_and_then_everyone_is_told_again_and_again() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    assert calling.until(T0 + 30 * MINUTE) == [
        (0, BOTH, False),
        (3, BOTH, True),
        (6, ("marina",), True),
        (16, ALL, True),
        (26, ALL, True),
    ]


def test_a_list_without_repeat_ends() -> None:
    calling = Calling(ONCE)
    calling.telling.apply(RAISED, T0)
    assert calling.until(T0 + HOUR) == [(0, ("ines",), False)]


def test_the_holder_stops_the_calling_out() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0 + 4 * MINUTE)
    calling.telling.apply(TAKEN, T0 + 4 * MINUTE)
    assert calling.call().holder == "tobias"
    assert len(calling.until(T0 + 5 * HOUR)) == 2


def test_a_refused_take_makes_nobody_the_holder() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.telling.apply(TAKEN, T0)
    refused = stepped(E.TAKE, S.ACKNOWLEDGED, S.ACKNOWLEDGED, person="ines")
    calling.telling.apply(refused, T0 + 1)
    assert calling.call().holder == "tobias"


def test_an_alarm_that_went_by_itself_is_called_out_no_more() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(GONE, T0 + MINUTE)
    assert len(calling.until(T0 + HOUR)) == 1


def test_a_latched_alarm_that_nobody_has_is_still_called_out_after_its_condition_has_gone() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(LATCHED, T0 + MINUTE)
    assert [minute for minute, _, _ in calling.until(T0 + 16 * MINUTE)] == [0, 3, 6, 16]


def test_what_is_raised_again_within_10_min_of_its_last_round_joins_the_next_one() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0 + 6 * MINUTE)
    calling.telling.apply(GONE, T0 + 7 * MINUTE)
    calling.telling.apply(RAISED_AGAIN, T0 + 6 * MINUTE + JOINS_WITHIN - 1)
    assert [minute for minute, _, _ in calling.until(T0 + 20 * MINUTE)] == [0, 3, 6, 16]


def test_what_is_raised_again_later_is_called_out_from_the_beginning() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0 + 6 * MINUTE)
    calling.telling.apply(GONE, T0 + 7 * MINUTE)
    calling.telling.apply(RAISED_AGAIN, T0 + 6 * MINUTE + JOINS_WITHIN)
    assert calling.until(T0 + 20 * MINUTE)[3:] == [(16, BOTH, False), (19, BOTH, True)]


def test_what_is_raised_again_and_has_no_repeat_to_join_is_told_10_min_after_the_last_round() -> None:
    calling = Calling(ONCE)
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(GONE, T0 + MINUTE)
    calling.telling.apply(RAISED_AGAIN, T0 + 2 * MINUTE)
    assert calling.until(T0 + HOUR) == [(0, ("ines",), False), (10, ("ines",), True)]


def test_what_is_raised_again_while_somebody_has_it_is_called_out_again() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(TAKEN, T0 + 1)
    calling.telling.apply(stepped(E.CLEAR, S.ACKNOWLEDGED, S.LATCHED_ACKNOWLEDGED), T0 + 2)
    calling.telling.apply(stepped(E.RAISE, S.LATCHED_ACKNOWLEDGED, S.UNACKNOWLEDGED), T0 + MINUTE)
    assert calling.call().holder is None
    assert [minute for minute, _, _ in calling.until(T0 + 6 * MINUTE)] == [0, 3, 6]


def test_an_alarm_that_nobody_was_told_of_is_no_longer_muted_when_it_is_raised_again() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(NotCalled(number=14, point=POINT, because="a named person is aboard"), T0 + MINUTE)
    calling.telling.apply(RAISED_AGAIN, T0 + 2 * MINUTE)
    assert not calling.call().muted
    assert not calling.call().over


def test_several_steps_that_fell_due_in_a_down_time_are_one_round_and_each_person_is_in_it_once() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.carry_out(T0 + 5 * HOUR)
    assert calling.rounds == [(300, ALL, False)]
    assert calling.call().next_step == 3


def test_a_refused_text_brings_the_next_step_forward_and_only_that_one() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(TextAnswered(order="o1", accepted=False, code="30003"), T0 + MINUTE)
    calling.carry_out(T0 + MINUTE)
    assert [(minute, persons) for minute, persons, _ in calling.rounds] == [(0, BOTH), (1, BOTH)]
    assert next_due(calling.telling, calling.lists) == T0 + 6 * MINUTE


def test_an_accepted_text_brings_nothing_forward() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(TextAnswered(order="o1", accepted=True, message="SM1"), T0 + MINUTE)
    assert next_due(calling.telling, calling.lists) == T0 + 3 * MINUTE


def test_a_refusal_brings_nothing_forward_of_what_somebody_has() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(TAKEN, T0 + 1)
    calling.telling.apply(TextAnswered(order="o1", accepted=False, code="30003"), T0 + MINUTE)
    assert due_at(calling.call(), LIST) is None


def test_refusals_when_the_list_has_been_gone_through_leave_the_repeats_where_they_are() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0 + 6 * MINUTE)
    calling.telling.apply(TextAnswered(order="o5", accepted=False, code="30003"), T0 + 7 * MINUTE)
    assert next_due(calling.telling, calling.lists) == T0 + 16 * MINUTE


def test_a_first_text_that_a_limit_held_back_is_told_when_there_is_room_to_that_person_alone() -> None:
    calling = Calling(ONCE)
    calling.telling.apply(RAISED, T0)
    (one,) = rounds_due(calling.telling, calling.lists, T0)
    calling.telling.apply(one.fact, T0)
    held = HeldBack(person="ines", about="alarm told", because="limit", numbers=(14,), until=T0 + 40 * MINUTE)
    calling.telling.apply(held, T0)
    assert calling.until(T0 + HOUR) == [(40, ("ines",), False)]
    assert next_due(calling.telling, calling.lists) is None


def test_a_repeat_that_a_limit_held_back_is_dropped() -> None:
    calling = Calling(ONCE)
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    held = HeldBack(person="ines", about="alarm told", because="limit", numbers=(14,), until=T0 + 40 * MINUTE)
    calling.telling.apply(held, T0 + MINUTE)
    assert next_due(calling.telling, calling.lists) is None


def test_whoever_waits_for_room_is_taken_along_by_the_next_step_and_waits_no_longer() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    (one,) = rounds_due(calling.telling, calling.lists, T0)
    calling.telling.apply(one.fact, T0)
    held = HeldBack(person="ines", about="alarm told", because="limit", numbers=(14,), until=T0 + 4 * MINUTE)
    calling.telling.apply(held, T0)
    assert [(m, set(p)) for m, p, _ in calling.until(T0 + 7 * MINUTE)] == [(3, set(BOTH)), (6, {"marina"})]


def test_whoever_waits_for_room_is_taken_along_by_a_step_that_tells_others() -> None:
    steps = (Step(after=0, tell=("ines",)), Step(after=3 * MINUTE, tell=("tobias",)))
    calling = Calling(CallOutList(key="x", steps=steps, repeat=None))
    calling.telling.apply(RAISED, T0)
    (one,) = rounds_due(calling.telling, calling.lists, T0)
    calling.telling.apply(one.fact, T0)
    held = HeldBack(person="ines", about="alarm told", because="limit", numbers=(14,), until=T0 + HOUR)
    calling.telling.apply(held, T0)
    assert calling.until(T0 + 2 * HOUR) == [(3, ("tobias", "ines"), True)]


def test_who_only_waits_for_room_beside_others_that_are_due_a_moment_before_is_told_then_and_no_round_is_lost() -> None:
    telling, points = Telling(), [f"grey-wagtail/point-{number}" for number in range(1, 5)]
    lists = dict.fromkeys(points, ONCE)
    for number, point in enumerate(points, 1):
        raised = replace(RAISED, number=number, point=point, priority=Priority.ALARM)
        telling.apply(raised, T0)
        free = T0 + MINUTE + (2 if number == 4 else 0)
        held = HeldBack(person="ines", about="alarm told", because="limit", numbers=(number,), until=free)
        for one in [one for one in rounds_due(telling, lists, T0) if one.call.point == point]:
            telling.apply(one.fact, T0)
        telling.apply(held, T0)
    now = T0 + MINUTE
    first = list(rounds_due(telling, lists, now))
    assert [(one.call.number, one.persons) for one in first] == [(number, ("ines",)) for number in (1, 2, 3)]
    for one in first:
        telling.apply(one.fact, now)
    assert next_due(telling, lists) == now + 2
    assert [(one.call.number, one.persons) for one in rounds_due(telling, lists, now + 2)] == [(4, ("ines",))]


def test_what_is_held_back_of_one_alarm_makes_nobody_wait_for_another() -> None:
    calling = Calling(ONCE)
    calling.telling.apply(RAISED, T0)
    held = HeldBack(person="tobias", about="alarm told", because="limit", numbers=(15,), until=T0 + HOUR)
    calling.telling.apply(held, T0)
    assert calling.call().waiting == ()


def test_a_refusal_after_an_alarm_has_gone_hastens_nothing_when_it_comes_again() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    calling.telling.apply(GONE, T0 + MINUTE)
    calling.telling.apply(TextAnswered(order="o1", accepted=False, code="30003"), T0 + MINUTE)
    calling.telling.apply(RAISED_AGAIN, T0 + 2 * MINUTE)
    assert next_due(calling.telling, calling.lists) == T0 + 3 * MINUTE


def test_the_worst_alarm_comes_first() -> None:
    telling = Telling()
    telling.apply(stepped(E.RAISE, S.NORMAL, S.UNACKNOWLEDGED, number=3, priority=Priority.WARNING, point="b/w"), T0)
    telling.apply(stepped(E.RAISE, S.NORMAL, S.UNACKNOWLEDGED, number=5, point="b/e"), T0)
    telling.apply(stepped(E.RAISE, S.NORMAL, S.UNACKNOWLEDGED, number=4, point="b/f"), T0)
    lists = dict.fromkeys(("b/w", "b/e", "b/f"), ONCE)
    assert [one.call.number for one in rounds_due(telling, lists, T0)] == [4, 5, 3]


def test_a_point_that_has_gone_from_the_installation_is_called_out_no_more() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.lists.clear()
    assert next_due(calling.telling, calling.lists) is None
    assert list(rounds_due(calling.telling, calling.lists, T0)) == []
    calling.telling.apply(AlarmGivenUp(number=14, point=POINT, because="gone"), T0)
    assert calling.telling.calls == {}


def test_who_was_answered_not_taken_is_remembered_for_that_alarm() -> None:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.queue("ines", T0, about=NOT_TAKEN)
    assert calling.call().answered_ok == ("ines",)
    assert calling.call().told == ()


# ---------------------------------------------------------------- who is told next


def next_for(person: str, minute: int) -> tuple[str | None, Ms | None]:
    calling = Calling()
    calling.telling.apply(RAISED, T0)
    calling.until(T0 + minute * MINUTE)
    who, at = told_next(calling.call(), LIST, person)
    return who, None if at is None else (at - T0) // MINUTE


def test_next_is_the_next_step_that_tells_somebody_else() -> None:
    assert next_for("ines", 0) == ("tobias", 3)
    assert next_for("ines", 3) == ("marina", 6)


def test_behind_the_last_step_next_is_the_repeat() -> None:
    assert next_for("ines", 6) == ("tobias", 16)


def test_when_the_steps_to_come_tell_only_the_one_who_asks_next_is_the_repeat_after_them() -> None:
    callout = CallOutList(
        key="x", steps=(Step(after=0, tell=BOTH), Step(after=5 * MINUTE, tell=("ines",))), repeat=10 * MINUTE
    )
    calling = Calling(callout)
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    assert told_next(calling.call(), callout, "ines") == ("tobias", T0 + 15 * MINUTE)


def test_who_cannot_be_reached_is_never_named_as_next() -> None:
    callout = CallOutList(
        key="x", steps=(Step(after=0, tell=BOTH), Step(after=5 * MINUTE, tell=BOTH)), repeat=10 * MINUTE
    )
    calling = Calling(callout)
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    assert told_next(calling.call(), callout, "tobias") == ("ines", T0 + 5 * MINUTE)
    assert told_next(calling.call(), callout, "tobias", {"ines"}) == (None, None)


def test_nobody_is_next_when_the_list_tells_nobody_else_or_ends() -> None:
    calling = Calling(ONCE)
    calling.telling.apply(RAISED, T0)
    calling.until(T0)
    assert told_next(calling.call(), ONCE, "tobias") == (None, None)
    alone = CallOutList(key="x", steps=ONCE.steps, repeat=HOUR)
    assert told_next(calling.call(), alone, "ines") == (None, None)


def test_a_round_that_is_called_moves_on_to_the_step_it_names() -> None:
    telling = Telling()
    telling.apply(RAISED, T0)
    telling.apply(RoundCalled(number=14, point=POINT, step=1, next_step=2, again=False), T0 + 9)
    assert (telling.calls[POINT].next_step, telling.calls[POINT].last_round) == (2, T0 + 9)
