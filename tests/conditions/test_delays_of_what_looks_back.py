"""Kinds that count, look back or wait, with delays: each beside the same sentence without any, on the same boat.

Two bare sentences tell when the condition begins to hold and when it has ceased: the sentence and its opposite. The one
with delays must be raised exactly so much later if it held on for so long, and in no other case; and cleared that much
later than it ceased, or up to two reports more (behind a gap the first proves nothing). How long it holds is drawn out
report by report, so that it falls short of the delay and exceeds it. (What newest values decide has a model beside it
in `kinds_with_edges`; that a bare sentence turns at its edge is in `test_edges_of_every_kind`.)
"""

from collections.abc import Callable
from typing import get_args

import pytest

from gateway.vocabulary.moments import DAY, MINUTE, SECOND, Ms
from grammar.meanings import Condition, IsMoving, leaves_of
from grammar.sentences import read_condition
from tests.conditions.kinds_with_edges import KINDS
from tests.conditions.test_edges_of_every_kind import fix
from tests.desk.small_boat import Small
from tests.desk.watched_boat import cleared, comes, keeps, raised, said, value, watched

ON, OFF, OFTEN = 100 * SECOND, 200 * SECOND, 25 * SECOND

Says = Callable[[int], str | None]
"""What the signal says with its report of this number; None: it does not report."""


def cycles(number: int) -> str:
    return "on" if number % 2 else "off"


def beats(number: int) -> str:
    return str(number)


LOOKING_BACK: dict[str, tuple[str, str, Says, Says, Ms]] = {
    "unreadable": ("cabin unreadable 3 times", "cabin", lambda _: "?", lambda _: "20", 0),
    "fixes": (
        "1 of 2 fixes of position further than 25 m from its set position",
        "position",
        lambda _: fix("30"),
        lambda _: fix("0"),
        0,
    ),
    "ran": ("pump on for more than 1 min in the last 2 min", "pump", lambda _: "on", lambda _: "off", 3 * MINUTE),
    "starts": ("pump started more than 1 time in the last 140 s", "pump", cycles, lambda _: "off", 3 * MINUTE),
    "starts against their mean": (
        "pump started more than 2 times its mean of 2 days in the last 61 s",
        "pump",
        cycles,
        lambda _: "off",
        DAY + 5 * MINUTE,
    ),
    "changed": ("heartbeat changed", "heartbeat", beats, lambda _: "0", 3 * MINUTE),
    "changed in a window": ("heartbeat changed in the last 61 s", "heartbeat", beats, lambda _: "0", 3 * MINUTE),
    "silence": ("not (not no news from shore for 3 min)", "shore", lambda _: None, lambda _: "on", MINUTE),
    "silence of all": ("not (not no news for 3 min)", "shore", lambda _: None, lambda _: "on", MINUTE),
}
"""Sentence, signal, what it says while the condition comes to hold, what before and after, how long before."""


def played(name: str, reports: int) -> Small:
    """The condition is brought about for so many reports, then ended."""
    sentence, key, while_it_is_so, else_so, before = LOOKING_BACK[name]
    boat = watched(
        said("bare", sentence, "gone"),
        said("over", f"not ({sentence})", "gone"),
        said("it", f"({sentence}) for 100 s", "gone for 200 s"),
    )
    if before:
        apart = OFTEN if before < DAY else 85 * SECOND
        for _ in range(before // apart):
            says(boat, key, else_so(0), apart)
    for number in range(reports):
        says(boat, key, while_it_is_so(number), OFTEN)
    for _ in range(24):
        says(boat, key, else_so(0), OFTEN)
    return boat


def says(boat: Small, key: str, text: str | None, apart: Ms) -> None:
    if text is not None:
        comes(boat, value(key, text))
    boat.wait(apart)


def first(found: list[tuple[str, Ms]], key: str, after: Ms = -1) -> Ms | None:
    """When that point first turned so, later than that."""
    return next((at for one, at in found if one == key and at > after), None)


@pytest.mark.parametrize("name", LOOKING_BACK)
@pytest.mark.long
def test_what_looks_back_waits_for_its_whole_delay_and_is_let_go_after_its_whole_delay(name: str) -> None:
    fell_short = held_on = False
    for reports in range(2, 15):
        boat = played(name, reports)
        began = first(raised(boat), "bare")
        if began is None:
            assert first(raised(boat), "it") is None
            continue
        ends = [first(raised(boat), "over", began), first(cleared(boat), "bare")]
        ceased = min(at for at in ends if at is not None)
        up, down = first(raised(boat), "it"), first(cleared(boat), "it")
        if ceased - began < ON:
            assert up is None, f"{reports} reports"
            fell_short = True
            continue
        if up is None:  # it had ceased at the most one report before that was seen
            assert ceased - began < ON + OFTEN, f"{reports} reports"
            continue
        assert up == began + ON, f"{reports} reports"
        assert down is not None
        assert ceased + OFF <= down <= ceased + OFF + 2 * OFTEN, f"{reports} reports"
        held_on = True
    assert fell_short, "once it was shorter than its delay"
    assert held_on, "once it was longer"


GROWS = "pump started at least 2 times as often as the hour before in each of the last 2 hours"


@pytest.mark.parametrize(("after", "raises"), [(0, True), (14 * MINUTE, False)])
def test_starts_that_grow_wait_for_their_whole_delay(after: Ms, raises: bool) -> None:
    """1, 2 and 4 starts in three hours; the first leaves them at 3 h 20 min, after the delay or within it."""
    boat = watched(said("bare", GROWS), said("it", f"{GROWS} for 100 s"))
    keeps(boat, 20 * MINUTE, pump="off")
    for apart in (60, 30, 30, 15, 15, 15):
        keeps(boat, 30 * SECOND, pump="on")
        keeps(boat, apart * MINUTE - 30 * SECOND, pump="off")
    keeps(boat, after, pump="off")
    keeps(boat, 30 * SECOND, pump="on")
    keeps(boat, 5 * MINUTE, pump="off")
    began = first(raised(boat), "bare")
    assert began is not None
    assert first(raised(boat), "it") == (began + ON if raises else None)


def test_every_kind_of_sentence_stands_beside_a_model_or_its_bare_self() -> None:
    by_value = [read_condition(kind.when) for kind in KINDS.values()]
    looking_back = [read_condition(sentence) for sentence, *_ in LOOKING_BACK.values()]
    shown = {type(one) for one in (*by_value, *looking_back)}
    shown |= {type(leaf) for one in (*by_value, *looking_back) for leaf in leaves_of(one)}
    shown |= {IsMoving, type(read_condition(GROWS))}  # rates in test_thresholds_at_random
    assert shown == set(get_args(Condition))
