"""What a point did last, and which faults of it are known."""

import pytest

from gateway.alarms.facts import PointAtFault, PointFaultTold
from gateway.alarms.habits import Habits
from gateway.alarms.nuisance import TOLD_AGAIN_AFTER, PointFault
from gateway.vocabulary.moments import HOUR, Ms

POINT, BOAT, NOW = "grey-wagtail/low", "grey-wagtail", 1_772_334_240_000


def at_fault(habits: Habits, fault: PointFault, now: Ms = NOW) -> None:
    habits.fault(PointAtFault(point=POINT, boat=BOAT, fault=fault, tell_at=now + HOUR), now)


@pytest.mark.parametrize("fault", PointFault)
def test_a_fault_is_new_once_and_again_when_nobody_remembers_it(fault: PointFault) -> None:
    habits = Habits()
    assert habits.is_new(POINT, fault, NOW)
    at_fault(habits, fault)
    assert not habits.is_new(POINT, fault, NOW + TOLD_AGAIN_AFTER - 1)
    assert habits.is_new(POINT, fault, NOW + TOLD_AGAIN_AFTER)


def test_what_was_told_does_not_wait_any_more() -> None:
    habits = Habits()
    at_fault(habits, PointFault.STALE)
    assert [known.fault for known in habits.untold()] == [PointFault.STALE]
    habits.fault(PointFaultTold(point=POINT, fault=PointFault.STALE), NOW + HOUR)
    assert habits.untold() == []


@pytest.mark.parametrize("fault", PointFault)
def test_of_a_point_that_has_left_the_installation_nothing_is_kept_and_nothing_is_told(fault: PointFault) -> None:
    habits = Habits()
    at_fault(habits, fault)
    habits.forget(POINT)
    assert habits == Habits()
    assert habits.is_new(POINT, fault, NOW)
