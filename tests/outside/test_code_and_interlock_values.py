"""Check values of the handbook for codes and interlocks (5.5 and 6.1), each with the source it names.

The decision vectors of 5.5 are rules proposed for this software, computed in the handbook; those that rest on a
published text say so beside them. Not here, each beside its like: CHK-25 also in test_code_strength.py, CHK-35 and
CHK-39 in test_whole_boat_values.py, CHK-40 in test_alarm_points.py, CHK-45 in test_gsm_alphabet.py, CHK-50 in
test_alarm_values.py. Nowhere: CHK-28 and CHK-29 (RFC 6962, 2.1), which are of a hash tree. The record is a chain, every
entry of which is read whenever it is verified; it has no tree and gives no proof of a single entry.
"""

import math
from dataclasses import replace
from decimal import Decimal

import pytest

from gateway.alarms.aboard import Occupied
from gateway.alarms.settings import Concerns
from gateway.boat.settings import MISSED_INTERVALS
from gateway.requests.answers import CautionAndCode, CodeAnswer, CodeTrouble, NotDone, Objection, Proved, Rule
from gateway.requests.authority import LOCKED_FOR, WRONG_IN_A_DAY, WRONG_IN_A_ROW
from gateway.requests.codes import GOOD_FOR, LATEST, WRONG_VOID, draw_code
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND
from grammar.meanings import IsNumber, Than
from tests.requests.fake_world import BOAT, FRIDGE, GAS_VALVE, GENERATOR, LIGHTS, RUTH, TOBIAS, Room, at, room

DELIVERS = IsNumber(signal="generator-volts", than=Than.AT_LEAST, limit=Decimal(207), unit="V")
"""230 V less a tenth (IEC 60038)."""


def objections(answer: object) -> list[Objection]:
    assert isinstance(answer, NotDone), answer
    return list(answer.objections)


def accepted(answer: object) -> CautionAndCode:
    assert isinstance(answer, CautionAndCode), answer
    return answer


# ---------------------------------------------------------------- codes (handbook 6.1)


def test_chk_25_two_words_of_1025_carry_twenty_bits_and_six_digits_do_not() -> None:
    """SP 800-63B rev. 3, 5.1.3.2: at least 20 bits. Figures of CHK-25."""
    assert round(math.log2(1025 * 1024), 2) == 20.00
    assert math.log2(1025 * 1024) >= 20
    assert round(math.log2(10**6), 2) == 19.93


def test_chk_25_codes_are_two_different_words_whose_order_counts() -> None:
    """Every ordered pair of different words comes up, evenly: chi-square with 29 degrees of freedom under 58.3
    (its 99.9 % point, from memory of the common tables) over 6,000 draws that are always the same."""
    words = ("alder", "birch", "cedar", "dogwood", "elder", "fir")
    counts: dict[tuple[str, str], int] = {}
    for number in range(6000):
        pair = draw_code(Draws(number.to_bytes(32, "big")), words)
        counts[pair] = counts.get(pair, 0) + 1
    assert set(counts) == {(a, b) for a in words for b in words if a != b}
    expected = 6000 / 30
    assert sum((count - expected) ** 2 / expected for count in counts.values()) < 58.3


def test_limits_on_codes_lie_within_the_published_bounds() -> None:
    """SP 800-63B rev. 3, 5.1.3.2: valid at most 10 min. SP 800-63B-4 (draft text) 3.2.2: no more than 100 failed tries
    in a row. The figures themselves are those of handbook 6.1."""
    assert GOOD_FOR == 10 * MINUTE
    assert (WRONG_VOID, WRONG_IN_A_ROW, LOCKED_FOR, WRONG_IN_A_DAY) == (3, 5, (30 * MINUTE, HOUR), 20)
    assert WRONG_IN_A_ROW <= WRONG_IN_A_DAY <= 100
    assert LATEST == 5 * MINUTE


def test_chk_25_guess_chance_of_five_tries_is_under_five_in_a_million() -> None:
    """Handbook 6.1: 5e-6 for six digits (computed); two of 1,025 words are no worse."""
    assert WRONG_IN_A_ROW / (1025 * 1024) <= 5e-6


@pytest.mark.parametrize(
    ("reply", "good"),
    [("03:20:59", True), ("03:21:00", True), ("03:21:01", False)],
)
def test_chk_32_a_code_is_good_for_exactly_ten_minutes(reply: str, good: bool) -> None:
    """Handbook 5.5, CHK-32; at most 10 min by SP 800-63B rev. 3, 5.1.3.2."""
    one = room(at("03:11:00"))
    words = accepted(one.ask(LIGHTS, "on")).words
    one.wait(at(reply) - at("03:11:00"))
    answers = one.go(words)
    assert len(one.orders) == int(good)
    if not good:
        (answer,) = answers
        assert isinstance(answer, CodeAnswer)
        assert answer.trouble is CodeTrouble.EXPIRED


def test_chk_32_the_reply_itself_is_judged_even_when_the_expiry_has_not_been_done_yet() -> None:
    one = room(at("03:11:00"))
    words = accepted(one.ask(LIGHTS, "on")).words
    one.world.now = at("03:21:00") + 1
    (answer,) = one.go(words)
    assert isinstance(answer, CodeAnswer)
    assert answer.trouble is CodeTrouble.EXPIRED
    assert one.orders == []


def test_chk_36_a_right_code_works_once() -> None:
    """Handbook 5.5, CHK-36; accepted once only by SP 800-63B rev. 3, 5.1.3.2. The replay is kept in the record."""
    one = room()
    words = accepted(one.ask(LIGHTS, "on")).words
    one.go(words)
    kept = len(one.facts)
    one.wait(5 * MINUTE)
    (answer,) = one.go(words)
    assert isinstance(answer, CodeAnswer)
    assert answer.trouble is CodeTrouble.USED
    assert len(one.orders) == 1
    assert len(one.facts) > kept


def test_chk_44_five_wrong_codes_lock_and_the_right_one_does_nothing() -> None:
    """Handbook 5.5, CHK-44, and 6.1."""
    one = room()
    for _ in range(2):
        accepted(one.ask(LIGHTS, "on"))
        one.go(("sofa", "kettle"))
        one.go(("sofa", "kettle"))
    words = accepted(one.ask(LIGHTS, "on")).words
    one.go(("sofa", "kettle"))
    one.wait(9 * MINUTE)
    (answer,) = one.go(words)
    assert isinstance(answer, CodeAnswer)
    assert answer.trouble is CodeTrouble.LOCKED
    assert one.orders == []


def test_chk_43_a_right_code_from_another_number_does_nothing_and_hints_at_nothing() -> None:
    """Handbook 5.5, CHK-43, as far as persons who are known: a right and a wrong code get the same answer."""
    one, other = room(), room()
    words = accepted(one.ask(LIGHTS, "on")).words
    accepted(other.ask(LIGHTS, "on"))
    right = one.go(words, who=TOBIAS)
    wrong = other.go(("sofa", "kettle"), who=TOBIAS)
    assert right == wrong
    assert one.orders == other.orders == []


# ---------------------------------------------------------------- interlocks (handbook 5.5)


@pytest.mark.parametrize(("asked", "cure"), [("10:04:59", "wait 1 s more"), ("10:05:00", None)])
def test_chk_31_minimum_off_of_five_minutes(asked: str, cure: str | None) -> None:
    one = room(at("10:00:00"))
    one.report(refrigeration_running="off")
    one.wait(at(asked) - at("10:00:00"))
    answer = one.ask(FRIDGE, "on")
    if cure is None:
        accepted(answer)
    else:
        assert [(o.rule, o.cure) for o in objections(answer)] == [(Rule.MINIMUM_TIME, cure)]


def test_chk_33_a_hatch_opens_between_question_and_confirmation() -> None:
    one = room()
    words = accepted(one.ask(GENERATOR, "start", minutes=60)).words
    one.wait(MINUTE)
    one.world.somebody = Occupied(one.world.now, f"{BOAT}/hatch")
    (answer,) = one.go(words)
    assert [o.rule for o in objections(answer)] == [Rule.OCCUPIED]
    assert isinstance(answer, NotDone)
    assert answer.confirming
    assert one.orders == []
    one.world.somebody = None
    (again,) = one.go(words)
    assert isinstance(again, CodeAnswer)
    assert again.trouble is CodeTrouble.USED
    assert one.orders == []


def test_chk_34_under_a_gas_alarm_only_the_gas_valve_may_be_closed() -> None:
    one = room()
    one.world.alarms[Concerns.GAS] = 21
    accepted(one.ask(GAS_VALVE, "close"))
    assert [o.rule for o in objections(one.ask(LIGHTS, "on"))] == [Rule.GAS_OR_FIRE]


def test_chk_37_a_maintenance_lock_refuses_everybody() -> None:
    """Handbook 5.5, CHK-37; the practice of 29 CFR 1910.147(e)(1)-(3). Since when it was seen is told."""
    one = room()
    one.report(lock_out="on")
    one.wait(HOUR)
    for who in (RUTH, TOBIAS):
        (against,) = objections(one.ask(GENERATOR, "start", minutes=60, who=who))
        assert against.rule is Rule.LOCK_OUT
        assert against.says == "maintenance lock-out set, seen since 12:00"


@pytest.mark.parametrize(("intervals", "stale"), [(3, False), (4, True)])
def test_chk_38_the_state_of_the_set_four_report_intervals_old(intervals: int, stale: bool) -> None:
    one = room()
    assert MISSED_INTERVALS == 3
    one.wait(intervals * 30 * SECOND, fresh=False)
    for known in list(one.world.values):
        key = known.partition("/")[2]
        if key != "generator-running":
            one.set(key, one.world.values[known].reading.text)
    answer = one.ask(GENERATOR, "start", minutes=60)
    if stale:
        assert [o.rule for o in objections(answer)] == [Rule.STALE]
    else:
        accepted(answer)


@pytest.mark.parametrize(("fuel", "enough"), [("19.9", False), ("20.0", True)])
def test_chk_41_fuel_at_the_limit(fuel: str, enough: bool) -> None:
    one = room()
    one.report(fuel_level=fuel)
    answer = one.ask(GENERATOR, "start", minutes=60)
    if enough:
        accepted(answer)
    else:
        (objection,) = objections(answer)
        assert (objection.rule, objection.measured) == (Rule.OWN, "19.9 %")


def test_chk_42_a_stop_is_told_only_when_the_voltage_is_seen_gone() -> None:
    """The set's own controller unloads it and runs it on for 3 to 5 min (5.2): the gateway sends one order, keeps
    silent meanwhile, and tells the result when there are no volts any more."""
    one = room()
    one.equipment[GENERATOR.id] = replace(GENERATOR, cool_down=5 * MINUTE, runs_when=DELIVERS)
    one.report(generator_running="on", generator_volts="231")
    one.go(accepted(one.ask(GENERATOR, "stop")).words)
    for _ in range(5):
        one.wait(MINUTE, fresh=False)
        assert one.report(generator_running="on", generator_volts="231") == ()
    one.wait(SECOND, fresh=False)
    assert one.report(generator_running="off", generator_volts="231") == (), "the contact alone is not enough"
    one.wait(SECOND, fresh=False)
    (told,) = one.report(generator_running="off", generator_volts="0")
    assert isinstance(told, Proved)
    assert (told.action, told.measured) == ("stop", "0 V")
    assert len(one.orders) == 1


def test_chk_46_a_hatch_opened_at_ten_in_the_evening_still_counts_at_three() -> None:
    one = room(at("03:00:00"))
    one.equipment[GENERATOR.id] = replace(GENERATOR, permitted=None)
    one.world.somebody = Occupied(at("03:00:00") - 5 * HOUR, f"{BOAT}/hatch")
    (objection,) = objections(one.ask(GENERATOR, "start", minutes=60))
    assert objection.rule is Rule.OCCUPIED
    assert "22:00" in objection.says


def test_chk_47_under_a_gas_alarm_a_running_set_is_left_to_its_wired_stop() -> None:
    one = room()
    one.report(generator_running="on")
    one.world.alarms[Concerns.GAS] = 21
    assert [o.rule for o in objections(one.ask(GENERATOR, "stop"))] == [Rule.GAS_OR_FIRE]
    accepted(one.ask(GAS_VALVE, "close"))


@pytest.mark.parametrize(("asked", "cure"), [("07:55:00", "ask again from 08:00"), ("08:01:00", None)])
def test_chk_48_permitted_hours_at_a_berth(asked: str, cure: str | None) -> None:
    one = room(at(asked))
    answer = one.ask(GENERATOR, "start", minutes=120)
    if cure is None:
        accepted(answer)
    else:
        assert [(o.rule, o.cure) for o in objections(answer)] == [(Rule.HOURS, cure)]


def _local(one: Room) -> None:
    one.report(selector="LOCAL")


def _old(one: Room) -> None:
    kept = one.world.values.pop(f"{BOAT}/selector")
    one.world.now += 4 * 30 * SECOND
    one.freshen()
    one.world.values[f"{BOAT}/selector"] = kept


def test_chk_49_selector_in_local_and_selector_last_seen_in_remote_four_intervals_ago() -> None:
    one = room()
    _local(one)
    assert [o.rule for o in objections(one.ask(GENERATOR, "start", minutes=60))] == [Rule.SELECTOR]
    other = room()
    _old(other)
    assert [o.rule for o in objections(other.ask(GENERATOR, "start", minutes=60))] == [Rule.STALE]
