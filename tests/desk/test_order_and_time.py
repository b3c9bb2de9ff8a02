"""One happening after the other: what is done first, what time may do, and what is left behind on paper."""

import pytest

from gateway.alarms.life import AlarmState
from gateway.vocabulary.happenings import (
    CarrierTimeSeen,
    DeliveryReported,
    Happening,
    LinkChanged,
    PublishAnswered,
    ReadingsCame,
    SendAnswered,
    StoreRecovered,
    TextCame,
    TimeCame,
    UnknownTopicCame,
    WallClockStepped,
)
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from tests.desk.small_boat import INES, NUMBER_OF, SHORE, SILENT, TOBIAS, WATER, WATER_DELAY, Small, small

S = AlarmState


@pytest.mark.parametrize("earlier", [0, 1])
def test_time_must_move_on(earlier: int) -> None:
    boat = small(WATER)
    boat.reads("water", "off")
    with pytest.raises(ValueError, match="time must move on"):
        boat.desk.take(TimeCame(), boat.desk.state.now - earlier, bytes(32))


def test_what_fell_due_before_is_done_before_what_came() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.now += WATER_DELAY + 1  # due a millisecond ago, and nobody woke the desk
    boat.reads("water", "off")
    assert boat.state_of("water") is S.UNACKNOWLEDGED


def test_what_comes_at_the_very_moment_comes_before_what_falls_due_in_it() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.now += WATER_DELAY
    boat.reads("water", "off")
    assert boat.state_of("water") is S.NORMAL


def test_a_step_of_the_list_that_falls_due_at_the_moment_of_a_take_is_not_called() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    boat.now += 5 * MINUTE
    turn = boat.texts(INES, "have it")
    assert "round-called" not in boat.kinds(turn)


def test_a_step_of_the_list_that_fell_due_before_a_take_is_called_first_even_when_something_else_is_due_as_well() -> (
    None
):
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    boat.now += 5 * MINUTE + 1
    turn = boat.texts(INES, "have it")
    assert boat.kinds(turn).index("round-called") < boat.kinds(turn).index("text-received")


def test_what_fell_due_before_is_recorded_before_the_moment_of_what_came() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.now += MINUTE
    turn = boat.texts(TOBIAS, "status")
    moments = [w.entry.now for w in turn.entries]
    assert moments == sorted(moments)
    assert (moments[0], moments[-1]) == (boat.now - 1, boat.now)


EVERY_KIND: list[Happening] = [
    TextCame(message="SM1", number=NUMBER_OF[INES], body="status", age=0),
    TextCame(message="SM2", number="+447700900999", body="", age=None),
    SendAnswered(order="unknown", accepted=True, message="SM3"),
    DeliveryReported(order="unknown", status="delivered"),
    PublishAnswered(order="unknown", taken=True),
    LinkChanged(link="broker:quay", up=True),
    UnknownTopicCame(broker="quay", topic="x/y", sample="1"),
    WallClockStepped(by=HOUR),
    CarrierTimeSeen(ahead=3 * MINUTE),
    StoreRecovered(since=1, until=2, told=()),
    TimeCame(),
]


@pytest.mark.parametrize("happening", EVERY_KIND, ids=lambda h: type(h).__name__)
def test_every_happening_that_is_no_reading_leaves_an_entry_of_its_moment(happening: Happening) -> None:
    boat = small(WATER)
    if isinstance(happening, DeliveryReported):
        boat.reads("water", "on")
        boat.wait(WATER_DELAY)
        happening = DeliveryReported(order=boat.sent[0].id, status="delivered")
    turn = boat.take(happening)
    assert turn.entries
    assert {w.entry.happening for w in turn.entries} == {turn.happening}
    assert turn.entries[-1].entry.now == turn.now == boat.desk.state.now
    assert boat.rebuilt() == boat.bytes()


def test_an_unknown_topic_is_noted_once_and_the_second_time_it_is_as_if_nothing_had_come() -> None:
    boat = small(WATER)
    came = UnknownTopicCame(broker="quay", topic="x/y", sample="1")
    assert boat.kinds(boat.take(came)) == ["unknown-topic"]
    before = boat.bytes()
    for _ in range(3):
        assert boat.kinds(boat.take(came)) == []
        assert boat.bytes() == before
    assert boat.kinds(boat.take(UnknownTopicCame(broker="other", topic="x/y", sample="1"))) == ["unknown-topic"]
    assert boat.rebuilt() == boat.bytes()


def test_a_flood_of_made_up_topics_is_noted_200_times_and_no_more() -> None:
    boat = small(WATER)
    for n in range(250):
        boat.take(UnknownTopicCame(broker="quay", topic=f"x/{n}", sample="1"))
    assert boat.kinds().count("unknown-topic") == 200


def test_readings_of_signals_that_nobody_knows_leave_nothing_at_all() -> None:
    boat = small(WATER)
    before = boat.bytes()
    assert boat.take(ReadingsCame(readings=())).entries == ()
    assert boat.bytes() == before


def test_what_fell_due_before_a_happening_that_leaves_nothing_is_kept_all_the_same() -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.now += MINUTE
    assert boat.take(ReadingsCame(readings=())).entries
    assert boat.state_of("water") is S.UNACKNOWLEDGED
    assert boat.rebuilt() == boat.bytes()


def test_a_forward_step_of_the_wall_clock_satisfies_no_delay_and_no_silence() -> None:
    boat = small(WATER, SHORE, SILENT)
    boat.reads("water", "on")
    boat.reads("shore", "off")
    boat.take(WallClockStepped(by=24 * HOUR))
    assert boat.desk.state.standing.by_point == {}
    boat.wait(WATER_DELAY - 10)
    assert boat.desk.state.standing.by_point == {}


def test_the_next_due_moment_always_lies_ahead_once_the_desk_was_woken_for_it() -> None:
    boat = small(WATER, SHORE, SILENT)
    boat.reads("water", "on")
    boat.reads("shore", "off")
    for _ in range(60):
        due = boat.desk.next_due()
        if due is None:
            break
        assert due > boat.desk.state.now
        boat.now = due
        boat.take(TimeCame())
    else:
        assert boat.now > boat.began + 2 * HOUR


def test_a_stale_signal_in_a_delay_wakes_nobody() -> None:
    boat = small(SHORE)
    boat.reads("shore", "off")
    assert boat.desk.next_due() is None
    boat.keeps_reading("shore", "off", 4 * MINUTE)
    assert boat.desk.next_due() == boat.began + 5 * MINUTE


def test_nothing_waits_for_time_when_all_is_well() -> None:
    boat = small(WATER)
    boat.reads("water", "off")
    assert boat.desk.next_due() is None
    boat.wait(SECOND)
    assert len(boat.turns[-1].entries) == 0


def test_two_runs_with_the_same_draws_are_the_same_to_the_byte() -> None:
    def night() -> Small:
        boat = small(WATER, SHORE, SILENT)
        boat.reads("water", "on")
        boat.wait(10 * MINUTE)
        boat.texts(INES, "have it")
        boat.wait(HOUR)
        return boat

    assert [w.data for w in night().entries] == [w.data for w in night().entries]
    assert night().sent == night().sent
