"""What belongs together: floods by the handbook's figures, and one fault that several boats share."""

from hypothesis import given
from hypothesis import strategies as st

from gateway.telling.gathering import (
    FLOOD_WINDOW,
    GATHERED_FOR,
    JOINS_WITHIN,
    Due,
    Matter,
    flood_after,
    flood_over_at,
    gathered,
    name_said,
)
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority

MAST = Matter("link", "Tarn Creek mast")
T0 = 1_000 * MINUTE


def first(point: str, at: Ms, priority: Priority = Priority.WARNING) -> Due:
    return Due(point, priority, None, at)


def test_chk_01_a_flood_begins_with_the_eleventh_alarm_and_ends_when_fewer_than_five_are_left() -> None:
    raised = [at * SECOND for at in range(0, 501, 50)]
    assert not flood_after(raised[:10], 450 * SECOND, going_on=False)
    assert flood_after(raised, 500 * SECOND, going_on=False)
    assert flood_after(raised, 899 * SECOND, going_on=True)
    assert not flood_after(raised, 900 * SECOND, going_on=True)
    assert flood_over_at(raised) == 900 * SECOND


@given(st.lists(st.integers(0, 3_600_000), max_size=40).map(sorted))
def test_a_flood_never_begins_with_ten_and_ends_exactly_when_it_is_said_to(raised: list[Ms]) -> None:
    now = raised[-1] if raised else 0
    recent = [at for at in raised if now - FLOOD_WINDOW < at]
    assert flood_after(raised, now, going_on=False) is (len(recent) > 10)
    over = flood_over_at(raised)
    if over is not None:
        assert not flood_after(raised, over, going_on=True)
        assert flood_after(raised, max(now, over - 1), going_on=True) is (over > now)


def test_the_first_text_of_a_shared_matter_waits_a_minute_for_the_other_boats() -> None:
    matters = {"a/silent": MAST, "b/silent": MAST}
    found = gathered([first("a/silent", T0), first("b/silent", T0 + 40 * SECOND)], matters, {})
    assert {each.at for each in found.values()} == {T0 + GATHERED_FOR}


def test_a_warning_after_the_others_were_told_joins_them_later_and_an_alarm_does_not_wait_so_long() -> None:
    matters = {"a/silent": MAST}
    told = {MAST: T0}
    late = T0 + 2 * MINUTE
    assert gathered([first("a/silent", late)], matters, told)["a/silent"].at == T0 + JOINS_WITHIN
    alarm = gathered([first("a/silent", late, Priority.ALARM)], matters, told)["a/silent"]
    assert alarm.at == late + GATHERED_FOR


@given(
    st.lists(
        st.builds(
            Due,
            st.integers(0, 20).map(str),
            st.sampled_from(Priority),
            st.none() | st.integers(0, T0),
            st.integers(T0, T0 + 20 * MINUTE),
        ),
        max_size=20,
        unique_by=lambda due: due.point,
    )
)
def test_a_repeat_is_never_later_for_being_told_together_a_first_text_a_minute_at_most_and_an_emergency_never(
    dues: list[Due],
) -> None:
    matters = {due.point: MAST for due in dues if due.priority is not Priority.EMERGENCY and int(due.point) % 2}
    found = gathered(dues, matters, {})
    assert set(found) == {due.point for due in dues}
    for due in dues:
        at = found[due.point].at
        assert at <= due.at + (GATHERED_FOR if due.told is None and due.point in matters else 0)
        assert at >= due.at - GATHERED_FOR
        if due.priority is Priority.EMERGENCY:
            assert at == due.at


def test_shared_names_are_compared_without_case_and_space() -> None:
    assert name_said(" Tarn  Creek Mast") == name_said("tarn creek mast")
