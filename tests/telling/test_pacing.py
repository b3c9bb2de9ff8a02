"""How much one person gets: never above a limit, and no limit ever holds back what must go."""

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from gateway.telling.pacing import NOT_READ, Sent, alarm_free_from, free_from, may_answer
from gateway.telling.settings import Pacing
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority
from tests.effort import tries

T0 = 1_772_334_240_000
LIMITS = Pacing()


def test_the_limits_are_those_of_the_handbook() -> None:
    """Handbook 2.4: repeats of alarms 6, warnings 3 an hour and 12 a day; design rule 7: 4 answers in 10 min."""
    assert (LIMITS.alarm_repeats_an_hour, LIMITS.warnings_an_hour, LIMITS.warnings_a_day) == (6, 3, 12)
    assert LIMITS.answers_in_ten_minutes == 4


def test_there_is_room_again_exactly_when_the_oldest_is_as_old_as_the_stretch() -> None:
    times = [T0, T0 + 10, T0 + 20]
    assert free_from(times, 3, HOUR, T0 + HOUR - 1) == T0 + HOUR
    assert free_from(times, 3, HOUR, T0 + HOUR) == T0 + HOUR
    assert free_from(times, 4, HOUR, T0 + 30) == T0 + 30
    assert free_from([], 1, HOUR, T0) == T0


def test_with_more_behind_it_than_the_limit_the_instant_named_really_has_room() -> None:
    times = [T0 + n for n in range(6)]
    at = free_from(times, 2, HOUR, T0 + 10)
    assert len([t for t in times if t > at - HOUR]) < 2


@pytest.mark.parametrize("again", [False, True])
def test_an_emergency_always_goes_at_once(again: bool) -> None:
    sent = [Sent(T0 + n, "alarm told", Priority.EMERGENCY, again) for n in range(500)]
    assert alarm_free_from(sent, Priority.EMERGENCY, again, LIMITS, T0 + 500) == T0 + 500


def test_the_first_text_of_an_alarm_always_goes_at_once() -> None:
    sent = [Sent(T0 + n, "alarm told", Priority.ALARM, True) for n in range(50)]
    assert alarm_free_from(sent, Priority.ALARM, False, LIMITS, T0 + 50) == T0 + 50
    assert alarm_free_from(sent, Priority.ALARM, True, LIMITS, T0 + 50) > T0 + 50


def test_the_thirteenth_warning_waits_until_the_first_is_a_day_old() -> None:
    sent = [Sent(T0 + n * HOUR, "alarm told", Priority.WARNING, False) for n in range(12)]
    assert alarm_free_from(sent[1:], Priority.CAUTION, False, LIMITS, T0 + 20 * HOUR) == T0 + 20 * HOUR
    assert alarm_free_from(sent, Priority.CAUTION, False, LIMITS, T0 + 20 * HOUR) == T0 + DAY


def test_a_fifth_text_that_was_not_understood_gets_no_answer_until_10_min_have_passed() -> None:
    sent = [Sent(T0 + n * SECOND, NOT_READ, None, False) for n in range(4)]
    assert may_answer(sent[:3], LIMITS, T0 + 4 * SECOND)
    assert not may_answer(sent, LIMITS, T0 + 4 * SECOND)
    assert not may_answer(sent, LIMITS, T0 + 10 * MINUTE - 1)
    assert may_answer(sent, LIMITS, T0 + 10 * MINUTE)


class Paced(RuleBasedStateMachine):
    """One person and whatever is to be told; a text goes when the rule says that it may."""

    def __init__(self) -> None:
        super().__init__()
        self.now: Ms = T0
        self.sent: list[Sent] = []

    @rule(length=st.sampled_from([1, SECOND, MINUTE, 7 * MINUTE, 20 * MINUTE, HOUR, 5 * HOUR]))
    def time_passes(self, length: Ms) -> None:
        self.now += length

    @rule(priority=st.sampled_from(Priority), again=st.booleans(), times=st.integers(1, 8))
    def something_is_to_be_told(self, priority: Priority, again: bool, times: int) -> None:
        for _ in range(times):
            self.now += 1
            free = alarm_free_from(self.sent, priority, again, LIMITS, self.now)
            assert free >= self.now
            if free == self.now:
                self.sent.append(Sent(self.now, "alarm told", priority, again))
                continue
            assert priority is not Priority.EMERGENCY
            assert again or priority is not Priority.ALARM
            assert alarm_free_from(self.sent, priority, again, LIMITS, free) == free, "the instant named has no room"

    def most(self, times: list[Ms], per: Ms) -> int:
        return max((sum(t <= at < t + per for at in times) for t in times), default=0)

    @invariant()
    def no_limit_is_ever_exceeded(self) -> None:
        repeats = [s.at for s in self.sent if s.priority is Priority.ALARM and s.again]
        lesser = [s.at for s in self.sent if s.priority in (Priority.WARNING, Priority.CAUTION)]
        assert self.most(repeats, HOUR) <= 6
        assert self.most(lesser, HOUR) <= 3
        assert self.most(lesser, DAY) <= 12


TestPaced = Paced.TestCase
TestPaced.settings = settings(max_examples=tries(60), stateful_step_count=20, deadline=None)
