"""Every kind of sentence that an installer may write: its name, one that is right, one that is refused.

The kinds are those of the trade's alarm points (handbook 2.5 and 3). The right one is printed back word for word; the
wrong ones stand with their answers in the table of wrong sentences.
"""

from typing import get_args

import pytest

from grammar.meanings import (
    Both,
    Condition,
    Either,
    FixesAway,
    HasChanged,
    IsBand,
    IsCompared,
    IsContact,
    IsMoving,
    IsNot,
    IsNumber,
    IsUnbelievable,
    IsUnreadable,
    IsWord,
    NoNews,
    RanLonger,
    StartedOften,
    Trend,
    While,
    say_condition,
)
from grammar.sentences import read_condition
from grammar.wrong_sentences import WRONG_SENTENCES

KINDS: dict[str, tuple[type[Condition], str, str]] = {
    "on for a time": (IsContact, "bilge-high on for 15 s", "bilge-high on for 10"),
    "off for a time": (IsContact, "shore off for 5 min", "bilge-high not on"),
    "above with deadband and delay": (
        IsNumber,
        "cabin above 8 C with deadband 0.5 C for 1 h",
        "house-volts below 12 V deadband 0.2 V",
    ),
    "below with deadband and delay": (
        IsNumber,
        "house-volts below 12.0 V with deadband 0.2 V for 10 min",
        "house-volts below 12 V for 10 min with deadband 0.2 V",
    ),
    "outside a band": (IsBand, "supply outside 11.5 and 15.0 V for 30 s", "house-volts outside 15 and 11 V"),
    "between": (IsBand, "supply between 11.5 and 15.0 V for 30 s", "house-volts not between 11 and 15 V"),
    "equals a word": (IsWord, "selector is REMOTE for 5 s", "selector is"),
    "changed": (HasChanged, "hatch changed", "hatch has changed"),
    "changed in a window": (HasChanged, "heartbeat changed in the last 10 min", "hatch changed in 10 min"),
    "ran for more than a time in a window": (
        RanLonger,
        "bilge-pump on for more than 20 min in the last hour",
        "bilge-pump on for more than 90 min in the last hour",
    ),
    "started too often": (
        StartedOften,
        "bilge-pump started more than 3 times in the last hour",
        "bilge-pump started more than 3 in the last hour",
    ),
    "started oftener than its mean": (
        StartedOften,
        "bilge-pump started more than 2 times its mean of 7 days in the last hour",
        "bilge-pump started more than 2 times its mean in the last hour",
    ),
    "rising": (IsMoving, "cabin rising faster than 1.5 C an hour over 2 h", "fuel rising fast"),
    "falling": (IsMoving, "fuel falling faster than 2 % an hour", "fuel falling faster than -2 % an hour"),
    "no news from one": (NoNews, "no news from heartbeat for 10 min", "no news from"),
    "no news from the whole boat": (NoNews, "no news for 10 min", "no news"),
    "unreadable": (IsUnreadable, "cabin unreadable 5 times", "cabin unreadable for 5 times"),
    "not believable": (IsUnbelievable, "cabin not believable for 5 min", "cabin not plausible"),
    "fixes away from a place": (
        FixesAway,
        "3 of 5 fixes of position further than 25 m from its set position",
        "5 of 3 fixes of position further than 25 m from its set position",
    ),
    "compared with another signal": (
        IsCompared,
        "start-volts below house-volts by 0.5 V",
        "start-volts less than house-volts",
    ),
    "and": (Both, "shore off and house-volts below 12.2 V for 10 min", "shore off and"),
    "or": (Either, "bilge-high on or bilge-aft on", "bilge-high on or bilge-aft"),
    "not": (IsNot, "not heartbeat changed in the last 10 min", "not"),
    "while": (While, "cabin above 8 C for 2 h while shore on", "shore off while"),
}
REFUSED = {row[0] for row in WRONG_SENTENCES}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_a_right_sentence_that_is_printed_as_it_is_written(kind: str) -> None:
    meant, right, _ = KINDS[kind]
    found = read_condition(right)
    assert type(found) is meant
    assert say_condition(found) == right


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_a_wrong_sentence_in_the_table(kind: str) -> None:
    assert KINDS[kind][2] in REFUSED


def test_no_kind_of_the_language_and_no_way_of_one_is_left_out() -> None:
    shown = [read_condition(right) for _, right, _ in KINDS.values()]
    assert {type(one) for one in shown} == set(get_args(Condition))
    assert {one.trend for one in shown if isinstance(one, IsMoving)} == set(Trend)
    assert {one.outside for one in shown if isinstance(one, IsBand)} == {True, False}
    assert {one.wanted for one in shown if isinstance(one, IsContact)} == {True, False}
