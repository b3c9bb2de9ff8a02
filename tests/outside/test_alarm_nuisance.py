"""Check values of floods and of alarms that need mending: CHK-01 to CHK-03 of the handbook (computed there from the
figures of ANSI/ISA-18.2 and EEMUA 191, from memory of those documents), by the pure rule and through the whole desk."""

from decimal import Decimal

import pytest

from gateway.alarms.nuisance import PointFault, chatters, stale_from
from gateway.telling.gathering import flood_after
from gateway.vocabulary.moments import HOUR, SECOND
from grammar.meanings import IsContact, IsNumber
from tests.desk.small_boat import RUTH, Small, point, small

OPEN = point("open", when=IsContact(signal="hatch", wanted=True))


def faults(boat: Small) -> list[tuple[str, int]]:
    """Which faults were found, each with its second from the start."""
    found = [w.entry for w in boat.entries if w.entry.kind == "point-at-fault"]
    return [(str(entry.body["fault"]), (entry.now - boat.began) // SECOND) for entry in found]


def activated(*seconds: int) -> Small:
    """Raised at each of these seconds, and gone a second later."""
    boat = small(OPEN)
    for at in seconds:
        while (left := boat.began + at * SECOND - boat.now) > 30 * SECOND:  # heard all the while
            boat.wait(30 * SECOND)
            boat.reads("hatch", "off")
        boat.wait(left)
        boat.reads("hatch", "on")
        boat.wait(SECOND)
        boat.reads("hatch", "off")
    return boat


def floods(boat: Small) -> set[tuple[bool, int]]:
    """Beginnings (True) and ends of floods of anybody, each with its second from the start."""
    found = [w.entry for w in boat.entries if w.entry.kind == "flood-step"]
    return {(bool(entry.body["begun"]), (entry.now - boat.began) // SECOND) for entry in found}


def lowered(steps: int) -> Small:
    """So many alarms, one more every 50 s, the first at once."""
    limits = [12 - n for n in range(steps)]
    boat = small(*(point(f"low-{n}", when=below(n)) for n in limits))
    for number, limit in enumerate(limits):
        boat.wait(boat.began + number * 50 * SECOND - boat.now)
        boat.reads("volts", f"{limit - 1}.5")
    return boat


def below(limit: int) -> IsNumber:
    return IsNumber(signal="volts", than="below", limit=Decimal(limit), unit="V")


def test_chk_01_eleven_activations_50_s_apart_are_a_flood_from_500_s_to_900_s() -> None:
    """More than 10 in 10 min begin it, fewer than 5 end it (ANSI/ISA-18.2 and EEMUA 191, as the handbook has them)."""
    at = [n * 50 * SECOND for n in range(11)]
    assert not flood_after(at[:10], 450 * SECOND, going_on=False)
    assert flood_after(at, 500 * SECOND, going_on=False)
    assert flood_after(at, 899 * SECOND, going_on=True)
    assert not flood_after(at, 900 * SECOND, going_on=True)
    boat = lowered(11)
    assert floods(boat) == {(True, 500)}
    boat.wait(boat.began + 899 * SECOND - boat.now)
    assert floods(boat) == {(True, 500)}
    boat.wait(SECOND + 11)  # of two happenings in one instant the desk takes the second a millisecond later
    assert floods(boat) == {(True, 500), (False, 900)}


def test_chk_01_ten_activations_are_none() -> None:
    boat = lowered(10)
    boat.wait(400 * SECOND)
    assert floods(boat) == set()


def test_chk_02_activations_at_0_20_and_59_s_chatter_at_59_s() -> None:
    assert chatters([0, 20 * SECOND, 59 * SECOND])
    assert ("chattering", 59) in faults(activated(0, 20, 59))


def test_chk_02_activations_at_0_30_and_61_s_do_not() -> None:
    assert not chatters([0, 30 * SECOND, 61 * SECOND])
    assert "chattering" not in [fault for fault, _ in faults(activated(0, 30, 61))]


@pytest.mark.parametrize(("third", "found"), [(59_999, True), (60_000, False)])
def test_the_window_of_chattering_is_60_s_open_at_its_far_end(third: int, found: bool) -> None:
    assert chatters([0, 1, third]) is found


def test_chk_03_an_alarm_raised_24_h_ago_is_not_stale_and_one_second_later_it_is() -> None:
    assert 24 * HOUR < stale_from(0) <= 24 * HOUR + SECOND
    boat = small(OPEN)
    boat.reads("hatch", "on")
    boat.wait(24 * HOUR)
    assert faults(boat) == []
    boat.wait(SECOND)
    assert faults(boat) == [("stale", 24 * 3600)]


def test_a_fleeting_alarm_is_one_that_clears_within_60_s_and_the_third_in_a_day_is_told() -> None:
    """Handbook 2.4 (common practice, no source, for the 60 s); that three make a fault is our choice."""
    assert faults(activated(0, 4000)) == []
    assert ("fleeting", 8001) in faults(activated(0, 4000, 8000))


@pytest.mark.parametrize("fault", [PointFault.CHATTERING, PointFault.STALE])
def test_who_mends_the_wiring_is_told_once_which_point_and_how(fault: PointFault) -> None:
    boat = small(OPEN)
    for _ in range(6):
        boat.reads("hatch", "on")
        boat.wait(5 * SECOND)
        if fault is PointFault.CHATTERING:
            boat.reads("hatch", "off")
            boat.wait(5 * SECOND)
    boat.wait(30 * HOUR)
    told = [text.body for text in boat.sent if text.person == RUTH and "To mend" in text.body]
    assert [
        text for text in told if ("chatters" in text) is (fault is PointFault.CHATTERING) and "minute, 3" not in text
    ]
    assert len(told) == len(set(told))
    assert all("open" in text for text in told)


def test_a_fault_found_at_night_is_told_in_the_morning() -> None:
    boat = small(OPEN)
    boat.wait(20 * HOUR)  # to 23:00: the small boat's day begins at 03:00
    since = len(boat.turns)
    for _ in range(3):
        boat.reads("hatch", "on")
        boat.wait(5 * SECOND)
        boat.reads("hatch", "off")
        boat.wait(5 * SECOND)
    assert "point to mend" not in [kind for _, kind, _ in boat.told(since)]
    boat.wait(9 * HOUR)
    assert "point to mend" in [kind for _, kind, _ in boat.told(since)]
