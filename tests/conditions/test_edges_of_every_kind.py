"""Aimed at the edges: each kind of condition with all values at and beside its limits, to the millisecond.

Nothing is drawn by chance where all of it can be tried. An exclusive edge taken as inclusive, a deadband forgotten, a
delay that is one millisecond short: each fails here, for the kind that it was done to.
"""

from collections.abc import Iterator
from decimal import Decimal
from itertools import product

import pytest

from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from tests.conditions.kinds_with_edges import KINDS, Kind, Values
from tests.desk.small_boat import Small
from tests.desk.watched_boat import cleared, comes, raised, said, value, watched
from tests.effort import first_of

ON, OFF = 100 * SECOND, 200 * SECOND
"""The delays of every threshold here."""

OFTEN = 25 * SECOND
"""How often a boat reports, so that both delays end between two reports."""


def every(kind: Kind) -> Iterator[Values]:
    """All that its signals may show together."""
    return (dict(zip(kind.shown, texts, strict=True)) for texts in product(*kind.shown.values()))


def boat_for(kind: Kind) -> Small:
    return watched(said("it", f"({kind.when}) for 100 s", "gone for 200 s"))


def keeps(boat: Small, values: Values, length: Ms) -> Ms:
    """These for so long, the first at once: since when (ms since the begin)."""
    until, since = max(boat.now, boat.desk.state.now + 1) + length, None
    while boat.now < until or since is None:
        comes(boat, *(value(key, text) for key, text in values.items()))
        since = boat.turns[-1].now - boat.began if since is None else since
        boat.wait(min(OFTEN - 3, until - boat.now))
    return since


def one_that(kind: Kind, *, met: bool = False, gone: bool = False) -> Values:
    return next(one for one in every(kind) if (not met or kind.met(one)) and (not gone or kind.gone(one)))


@pytest.mark.parametrize("name", KINDS)
def test_on_and_beside_every_edge_it_raises_at_the_end_of_its_delay_or_never(name: str) -> None:
    kind = KINDS[name]
    for values in every(kind):
        boat = boat_for(kind)
        since = keeps(boat, values, 2 * ON)
        assert raised(boat) == ([("it", since + ON)] if kind.met(values) else []), values


@pytest.mark.parametrize("name", KINDS)
def test_on_and_beside_every_edge_it_clears_at_the_end_of_its_delay_or_never(name: str) -> None:
    kind = KINDS[name]
    for values in every(kind):
        boat = boat_for(kind)
        keeps(boat, one_that(kind, met=True), ON + 1)
        assert len(raised(boat)) == 1
        since = keeps(boat, values, 2 * OFF)
        assert cleared(boat) == ([("it", since + OFF)] if kind.gone(values) else []), values


@pytest.mark.parametrize("name", first_of(KINDS, lambda name: name != "or"))
def test_whatever_breaks_a_delay_one_millisecond_before_its_end_begins_it_anew(name: str) -> None:
    kind = KINDS[name]
    met, gone = one_that(kind, met=True), one_that(kind, gone=True)
    for values in every(kind):
        boat = boat_for(kind)
        if not kind.met(values):
            keeps(boat, met, ON - 1)
            keeps(boat, values, 1)
            assert raised(boat) == [], values
        again = keeps(boat, met, ON + 1)
        assert raised(boat) == [("it", again + ON)], values
        if not kind.gone(values):
            keeps(boat, gone, OFF - 1)
            keeps(boat, values, 1)
            assert cleared(boat) == [], values
        again = keeps(boat, gone, OFF + 1)
        assert cleared(boat) == [("it", again + OFF)], values


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_has_values_that_neither_raise_nor_clear_or_none_by_its_nature(name: str) -> None:
    kind = KINDS[name]
    assert not any(kind.met(one) and kind.gone(one) for one in every(kind)), "a model that says both"
    between = [one for one in every(kind) if not kind.met(one) and not kind.gone(one)]
    assert bool(between) is ("deadband" in kind.when)


# ---------------------------------------------------------------- windows, counts and silence


def says(boat: Small, key: str, text: str) -> Ms:
    """One value; the instant at which it was taken (ms since the begin)."""
    comes(boat, value(key, text))
    return boat.turns[-1].now - boat.began


def goes_on_until(boat: Small, key: str, text: str, until: Ms) -> None:
    """The same value every 25 s, and no longer than that (ms since the begin)."""
    while boat.now - boat.began < until:
        boat.wait(min(OFTEN, until - (boat.now - boat.began)))
        if boat.now - boat.began < until:
            says(boat, key, text)


@pytest.mark.parametrize("over", [0, 1])
def test_it_ran_for_exactly_as_long_as_it_may_or_one_millisecond_longer(over: int) -> None:
    boat = watched(said("it", "pump on for more than 2 min in the last 10 min"))
    goes_on_until(boat, "pump", "off", 11 * MINUTE)
    began = says(boat, "pump", "on")
    goes_on_until(boat, "pump", "on", began + 2 * MINUTE + over)
    ended = says(boat, "pump", "off")
    assert ended - began == 2 * MINUTE + 2 * over, "it turned by time alone first"
    goes_on_until(boat, "pump", "off", ended + 15 * MINUTE)
    assert raised(boat) == ([("it", began + 2 * MINUTE + 1)] if over else [])
    if over:  # the first value after a millisecond of it has left the window
        assert cleared(boat)[0][1] >= began + 10 * MINUTE + 1
        assert cleared(boat)[0][1] < began + 10 * MINUTE + OFTEN


@pytest.mark.parametrize(("apart", "raises"), [(5 * MINUTE, False), (5 * MINUTE - 1, True)])
def test_the_start_too_many_counts_while_the_first_is_still_inside_the_window(apart: Ms, raises: bool) -> None:
    boat = watched(said("it", "pump started more than 2 times in the last 5 min"))
    says(boat, "pump", "off")
    boat.wait(OFTEN)
    first = says(boat, "pump", "on")
    for at in (first + MINUTE, first + apart):
        goes_on_until(boat, "pump", "on", at - 20 * SECOND)
        says(boat, "pump", "off")
        boat.wait(at - (boat.now - boat.began))
        assert raised(boat) == []
        assert says(boat, "pump", "on") == at
    assert raised(boat) == ([("it", first + apart)] if raises else [])


@pytest.mark.parametrize(("after", "raises"), [(3 * MINUTE - 1, False), (3 * MINUTE, True)])
def test_what_changed_has_changed_until_the_window_is_past_it(after: Ms, raises: bool) -> None:
    boat = watched(said("it", "not (heartbeat changed in the last 3 min)"))
    says(boat, "heartbeat", "1")
    boat.wait(OFTEN)
    changed = says(boat, "heartbeat", "2")
    goes_on_until(boat, "heartbeat", "2", changed + after)
    assert raised(boat) == ([("it", changed + after)] if raises else [])


SILENCES = ["no news from shore for 10 min", "no news for 10 min", "no news from shore for 10 min or pump on"]


@pytest.mark.parametrize("which", SILENCES)
@pytest.mark.parametrize("late", [0, 1])
def test_news_after_exactly_the_time_is_in_time_and_one_millisecond_later_too_late(which: str, late: int) -> None:
    boat = watched(said("it", which))
    heard = says(boat, "shore", "on")
    boat.wait(heard + 10 * MINUTE + late - (boat.now - boat.began))
    assert raised(boat) == ([("it", heard + 10 * MINUTE + 1)] if late else [])
    says(boat, "shore", "on")
    boat.wait(1)
    assert len(raised(boat)) == late
    if " or " not in which:  # the pump is not known, so nothing of it is gone
        assert len(cleared(boat)) == late


def test_so_many_unreadable_in_a_row_and_not_one_fewer() -> None:
    boat = watched(said("it", "cabin unreadable 3 times"))
    for text in ("?", "?", "20", "?", "?"):
        says(boat, "cabin", text)
        boat.wait(OFTEN)
        assert raised(boat) == []
    third = says(boat, "cabin", "?")
    assert raised(boat) == [("it", third)]
    assert cleared(boat) == []
    boat.wait(OFTEN)
    readable = says(boat, "cabin", "20")
    assert cleared(boat) == [("it", readable)]


METRE = Decimal("0.0000089932")
"""Degrees of latitude in a metre, near enough for a tenth of it at 25 m (1 / 111 195 m, a sphere of 6371 km)."""


def fix(metres: str) -> str:
    """So far north of the berth."""
    return f"{Decimal('50.0000') + Decimal(metres) * METRE:.7f} -5.0000"


@pytest.mark.parametrize(
    ("metres", "raises", "clears"),
    [
        (["24.9"] * 5, False, False),
        (["25.1", "25.1", "24.9", "24.9", "24.9"], False, False),
        (["25.1", "24.9", "25.1", "24.9", "25.1"], True, False),
        (["25.1"] * 3 + ["24.9"] * 4, True, False),
        (["25.1"] * 3 + ["24.9"] * 5, True, True),
    ],
)
def test_so_many_fixes_outside_raise_and_one_of_them_is_enough_to_keep_it(
    metres: list[str], raises: bool, clears: bool
) -> None:
    boat = watched(said("it", "3 of 5 fixes of position further than 25 m from its set position"))
    for one in metres:
        says(boat, "position", fix(one))
        boat.wait(OFTEN)
    assert (bool(raised(boat)), bool(cleared(boat))) == (raises, clears)


@pytest.mark.parametrize("trend", ["rising", "falling"])
@pytest.mark.parametrize(("an_hour", "raises"), [("1.999", False), ("2.001", True)])
def test_a_rate_on_either_side_of_its_limit(trend: str, an_hour: str, raises: bool) -> None:
    boat = watched(said("it", f"cabin {trend} faster than 2 C an hour over 40 min for 100 s"))
    by = Decimal(an_hour) * 75 * SECOND / HOUR * (1 if trend == "rising" else -1)
    for number in range(40):
        comes(boat, value("cabin", f"{20 + number * by:.6f}"))
        boat.wait(75 * SECOND)
    assert bool(raised(boat)) is raises
    if raises:
        assert raised(boat)[0][1] >= ON
