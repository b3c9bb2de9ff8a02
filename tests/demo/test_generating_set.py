"""How the simulated generating set answers to its start contact."""

from hypothesis import given
from hypothesis import strategies as st

from gateway.demo.generating_set import LASTS, WHEN_ASKED, WHEN_RELEASED, GeneratingSet, Phase, litres_burnt
from gateway.vocabulary.moments import HOUR, SECOND


def is_running(set_: GeneratingSet) -> bool:
    return set_.is_running


def phase(set_: GeneratingSet) -> Phase:
    return set_.phase


def closed(set_: GeneratingSet, second: int) -> None:
    set_.contact(closed=True, now=second * SECOND)


def opened(set_: GeneratingSet, second: int) -> None:
    set_.contact(closed=False, now=second * SECOND)


def test_it_sounds_cranks_runs_up_and_runs() -> None:
    set_ = GeneratingSet()
    closed(set_, 0)
    assert (phase(set_), set_.volts(44 * SECOND)) == (Phase.SOUNDING, 0)
    closed(set_, 45)
    assert (phase(set_), set_.volts(48 * SECOND)) == (Phase.CRANKING, 0)
    closed(set_, 49)
    assert (phase(set_), set_.volts(54 * SECOND)) == (Phase.RUNNING_UP, 115)
    assert not is_running(set_)
    closed(set_, 59)
    assert (phase(set_), set_.volts(59 * SECOND)) == (Phase.RUNNING, 231)
    assert is_running(set_)


def test_released_while_it_sounds_it_never_cranks() -> None:
    set_ = GeneratingSet()
    closed(set_, 0)
    opened(set_, 44)
    opened(set_, 60)
    assert phase(set_) is Phase.STANDING


def test_it_counts_as_running_until_the_voltage_is_gone() -> None:
    set_ = GeneratingSet()
    for second in (0, 45, 49, 59):
        closed(set_, second)
    opened(set_, 70)
    assert is_running(set_)
    assert set_.volts(71 * SECOND) == 154
    opened(set_, 73)
    assert not is_running(set_)
    assert set_.volts(73 * SECOND) == 0


def test_released_while_it_runs_up_it_never_counts_as_running_and_its_voltage_does_not_jump() -> None:
    set_ = GeneratingSet()
    for second in (0, 45, 49):
        closed(set_, second)
    opened(set_, 51)
    assert set_.volts(51 * SECOND) == 46
    opened(set_, 54)
    assert phase(set_) is Phase.STANDING
    assert not is_running(set_)


def test_asked_again_while_it_runs_down_it_comes_to_rest_first() -> None:
    set_ = GeneratingSet()
    for second in (0, 45, 49, 59):
        closed(set_, second)
    opened(set_, 70)
    closed(set_, 71)
    assert phase(set_) is Phase.RUNNING_DOWN
    closed(set_, 73)
    assert phase(set_) is Phase.SOUNDING


def test_told_late_it_has_lived_through_all_that_was_due_before() -> None:
    set_ = GeneratingSet()
    closed(set_, 0)
    opened(set_, 60)
    assert phase(set_) is Phase.RUNNING_DOWN
    assert is_running(set_)
    assert set_.volts(60 * SECOND) == 231


def test_one_that_does_not_catch_gives_up_and_cranks_again_only_when_asked_anew() -> None:
    set_ = GeneratingSet(catches=False)
    for second in (0, 45, 49, 300):
        closed(set_, second)
    assert (phase(set_), set_.volts(300 * SECOND), is_running(set_)) == (Phase.GIVEN_UP, 0, False)
    opened(set_, 301)
    assert phase(set_) is Phase.STANDING
    closed(set_, 302)
    assert phase(set_) is Phase.SOUNDING


def test_with_a_cool_down_it_drops_its_load_at_once_and_stops_three_minutes_later() -> None:
    set_ = GeneratingSet(cools=True)
    for second in (0, 45, 49, 59):
        closed(set_, second)
    assert set_.carries_load
    opened(set_, 70)
    assert (phase(set_), set_.carries_load, set_.volts(100 * SECOND)) == (Phase.COOLING, False, 231)
    opened(set_, 249)
    assert is_running(set_)
    opened(set_, 253)
    assert (phase(set_), is_running(set_), set_.volts(253 * SECOND)) == (Phase.STANDING, False, 0)


def test_every_phase_has_a_row_and_an_end() -> None:
    assert set(LASTS) == set(Phase)
    for one, lasts in LASTS.items():
        assert lasts is not None or one in WHEN_ASKED or one in WHEN_RELEASED


@given(seconds=st.lists(st.tuples(st.integers(1, 90), st.booleans()), max_size=30))
def test_the_voltage_stays_within_what_a_set_can_give(seconds: list[tuple[int, bool]]) -> None:
    set_, now = GeneratingSet(), 0
    for length, is_closed in seconds:
        now += length
        (closed if is_closed else opened)(set_, now)
        assert 0 <= set_.volts(now * SECOND) <= 231
        assert is_running(set_) <= (phase(set_) in (Phase.RUNNING, Phase.COOLING, Phase.RUNNING_DOWN))


def test_an_hour_burns_three_litres() -> None:
    assert litres_burnt(HOUR) == 3.0
