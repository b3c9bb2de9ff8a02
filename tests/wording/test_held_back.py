"""What a limit held back, behind the next text that has room."""

from hypothesis import given
from hypothesis import strategies as st

from gateway.wording.alphabet import parts
from gateway.wording.held_back import with_held


def test_it_names_the_alarms_or_at_least_counts_them() -> None:
    assert with_held("Short", (15, 16)) == ("Short. Held back from you: 15, 16. Reply ALARMS", (15, 16))
    assert with_held("x" * 130, (15, 16)) == ("x" * 130 + ". 2 held back: ALARMS", (15, 16))


def test_without_room_it_is_left_for_a_later_text() -> None:
    assert with_held("x" * 159, (15,)) == ("x" * 159, ())


def test_where_nothing_was_held_back_nothing_is_said() -> None:
    assert with_held("Short", ()) == ("Short", ())


@given(st.integers(0, 160), st.lists(st.integers(1, 9999), max_size=60).map(tuple))
def test_it_never_makes_a_second_part(length: int, numbers: tuple[int, ...]) -> None:
    assert parts(with_held("x" * length, numbers)[0]) == 1
