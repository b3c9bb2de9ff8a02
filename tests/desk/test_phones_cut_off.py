"""A phone that has opted out: noticed three ways, others told, the next person at once, ended only by a text that has
arrived. And what never went because the carrier was away."""

import pytest

from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import DeliveryReported, LinkChanged, OptFlagCame, SendAnswered
from gateway.vocabulary.moments import HOUR, MINUTE
from gateway.vocabulary.orders import SendText
from tests.desk.small_boat import INES, MARINA, NUMBER_OF, RUTH, STRANGER, TOBIAS, WATER, WATER_DELAY, Small, small

WAYS = ("word", "mark", "code")


def flooded(boat: Small) -> SendText:
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    return boat.sent[-1]


def cut_off(boat: Small, way: str) -> None:
    """Ines's phone, once she has been told of water in the bilge."""
    first = flooded(boat)
    assert first.person == INES
    match way:
        case "word":
            boat.texts(INES, "STOP")
        case "mark":
            boat.take(OptFlagCame(number=NUMBER_OF[INES], out=True))
        case _:
            boat.refuses(first, "21610")


def told(boat: Small, since: int) -> set[tuple[str, str]]:
    return {(who, what) for who, what, _ in boat.told(since)}


def accepted(boat: Small, text: SendText) -> None:
    boat.take(SendAnswered(order=text.id, accepted=True, message="SM" + text.id))


@pytest.mark.parametrize("way", WAYS)
def test_others_hear_so_and_the_next_person_is_told_at_once(way: str) -> None:
    boat = small(WATER)
    cut_off(boat, way)
    assert {(TOBIAS, "opt-out seen"), (RUTH, "opt-out seen"), (TOBIAS, "alarm told")} <= told(boat, 0)
    assert boat.rebuilt() == boat.bytes()


@pytest.mark.parametrize("way", WAYS)
def test_nothing_is_texted_there_any_more_and_each_thing_held_back_is_recorded(way: str) -> None:
    boat = small(WATER)
    cut_off(boat, way)
    before = len(boat.turns)
    boat.wait(HOUR)
    boat.texts(TOBIAS, "have it")
    assert INES not in {who for who, _ in told(boat, before)}
    held = [w.entry.body for w in boat.entries if w.entry.kind == "held-back"]
    assert any(body["person"] == INES and body["unreachable"] and body["about"] == "alarm told" for body in held)


def test_an_alarm_that_rises_later_goes_past_that_phone_at_once() -> None:
    boat = small(WATER)
    boat.texts(INES, "STOP")
    before = len(boat.turns)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    assert told(boat, before) == {(TOBIAS, "alarm told")}


def test_only_a_test_text_that_has_arrived_ends_it_and_the_others_hear_so() -> None:
    boat = small(WATER)
    boat.texts(INES, "STOP")
    boat.texts(INES, "START")
    trial = boat.sent[-1]
    assert trial.person == INES
    accepted(boat, trial)
    for word in ("queued", "sent"):
        boat.take(DeliveryReported(order=trial.id, status=word))
        assert INES in boat.desk.state.telling.opted_out
    before = len(boat.turns)
    boat.take(DeliveryReported(order=trial.id, status="delivered"))
    assert boat.desk.state.telling.opted_out == {}
    assert told(boat, before) == {(TOBIAS, "reachable again"), (RUTH, "reachable again")}
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    assert boat.sent[-1].person == INES
    assert boat.rebuilt() == boat.bytes()


def test_a_test_text_that_did_not_arrive_ends_nothing_and_the_next_opt_in_is_tested_anew() -> None:
    boat = small(WATER)
    boat.texts(INES, "STOP")
    boat.texts(INES, "START")
    trial = boat.sent[-1]
    accepted(boat, trial)
    before = len(boat.turns)
    boat.texts(INES, "START")
    assert told(boat, before) == set(), "one test at a time"
    boat.take(DeliveryReported(order=trial.id, status="undelivered", code="30003"))
    assert INES in boat.desk.state.telling.opted_out
    boat.take(OptFlagCame(number=NUMBER_OF[INES], out=False))
    assert boat.sent[-1].person == INES
    assert boat.sent[-1].id != trial.id


def test_who_opts_out_again_while_a_test_is_under_way_stays_cut_off_when_it_arrives() -> None:
    boat = small(WATER)
    boat.texts(INES, "STOP")
    boat.texts(INES, "START")
    trial = boat.sent[-1]
    accepted(boat, trial)
    boat.texts(INES, "STOP")
    boat.take(DeliveryReported(order=trial.id, status="delivered"))
    assert INES in boat.desk.state.telling.opted_out
    assert boat.rebuilt() == boat.bytes()


def test_a_mark_on_a_strangers_text_does_nothing() -> None:
    boat = small(WATER)
    assert boat.take(OptFlagCame(number=STRANGER, out=True)).entries == ()


@pytest.mark.parametrize("word", ["yes", "START", "Help"])
def test_a_carriers_word_from_a_phone_that_is_not_cut_off_takes_an_alarm_as_little_as_ok(word: str) -> None:
    boat = small(WATER)
    boat.reads("water", "on")
    boat.wait(WATER_DELAY)
    before = len(boat.turns)
    boat.texts(INES, word)
    boat.texts(INES, word)
    assert [(who, what) for who, what, _ in boat.told(before)] == [(INES, "not taken")], "once an alarm and person"


def test_a_phone_that_never_opted_out_gets_no_test_text() -> None:
    boat = small(WATER)
    boat.texts(INES, "START")
    assert boat.sent == []


def no_answer(boat: Small, text: SendText) -> None:
    """The carrier was away for as long as the text was of use."""
    boat.take(SendAnswered(order=text.id, accepted=False, code="no answer"))


def test_an_alarm_that_never_went_is_told_anew_for_as_long_as_it_stands() -> None:
    boat = small(WATER)
    flooded(boat)
    for _ in range(5):
        text = next(order for order in reversed(boat.sent) if order.person == INES)
        before = len(boat.turns)
        boat.wait(MINUTE)
        no_answer(boat, text)
        assert (INES, "alarm told") in told(boat, before)
    assert boat.rebuilt() == boat.bytes()


def test_an_alarm_that_somebody_took_meanwhile_is_said_to_have_been_when_the_carrier_is_back() -> None:
    boat = small(WATER)
    text = flooded(boat)
    boat.texts(TOBIAS, "have it 1")
    no_answer(boat, text)
    before = len(boat.turns)
    boat.take(LinkChanged(link="carrier:main", up=True))
    assert told(boat, before) == {(INES, "untold meanwhile")}
    assert "alarm 1" in boat.sent[-1].body
    no_answer(boat, boat.sent[-1])
    before = len(boat.turns)
    boat.take(LinkChanged(link="carrier:main", up=True))
    assert told(boat, before) == {(INES, "untold meanwhile")}, "said again, for that text never went either"
    accepted(boat, boat.sent[-1])
    before = len(boat.turns)
    boat.take(LinkChanged(link="carrier:main", up=True))
    assert told(boat, before) == set()
    assert MARINA not in {who for who, _ in told(boat, 0)}


def test_where_a_phone_is_cut_off_nobody_else_hears_twice_in_one_moment_nor_that_it_was_told() -> None:
    both = CallOutList(
        key="list",
        steps=(Step(after=0, tell=(INES, TOBIAS)), Step(after=3 * MINUTE, tell=(INES, TOBIAS))),
        repeat=None,
    )
    boat = small(WATER, callouts=(both,))
    boat.texts(INES, "STOP")
    boat.keeps_reading("water", "on", 2 * MINUTE)
    told = [text.body for text in boat.sent if text.person == TOBIAS and "WATER" in text.body.upper()]
    assert len(told) == 1
    assert "Ines" not in told[0]


def test_who_is_named_again_at_once_by_a_phone_cut_off_is_texted_again_where_the_first_text_did_not_go() -> None:
    steps = (Step(after=0, tell=(INES,)), Step(after=5 * MINUTE, tell=(INES, TOBIAS)))
    boat = small(WATER, callouts=(CallOutList(key="list", steps=steps, repeat=None),))
    boat.take(OptFlagCame(number=NUMBER_OF[TOBIAS], out=True))
    first = flooded(boat)
    before = len(boat.turns)
    boat.refuses(first)
    assert (INES, "alarm told") in told(boat, before)
