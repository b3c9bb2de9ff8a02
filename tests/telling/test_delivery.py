"""A carrier's words on a text may come in any order and more than once; what is known only ever gets further."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.telling.calls import Telling
from gateway.telling.delivery import RANKS, REMEMBERED_FOR, Amounts, Delivery, after, amounts_to, rank
from gateway.telling.facts import TextDelivery

WORDS = st.lists(st.sampled_from([*RANKS, "a word of next year"]))


def last_of(words: list[str] | tuple[str, ...]) -> Delivery | None:
    known = None
    for at, word in enumerate(words):
        known = after(known, word, at)
    return known


@pytest.mark.parametrize("order", [*permutations(["queued", "sending", "sent", "delivered"])])
def test_delivered_is_the_last_word_in_whatever_order_they_come(order: tuple[str, ...]) -> None:
    known = last_of(order)
    assert known is not None
    assert known.status == "delivered"


@given(WORDS)
def test_a_lower_rank_never_overwrites_a_higher_one(words: list[str]) -> None:
    known, highest = None, -2
    for at, word in enumerate(words):
        known = after(known, word, at)
        highest = max(highest, rank(word))
        assert known is not None
        assert rank(known.status) == highest


@given(WORDS)
def test_a_word_said_twice_amounts_to_nothing_the_second_time(words: list[str]) -> None:
    known = last_of(words)
    for word in words:
        assert amounts_to(known, word) is Amounts.NOTHING or (word == "delivered" and known and not known.afterwards)


@pytest.mark.parametrize("given_up", ["undelivered", "failed"])
def test_delivered_after_it_was_given_up_is_a_note_and_only_once(given_up: str) -> None:
    known = last_of(["sent", given_up])
    assert amounts_to(known, "delivered") is Amounts.NOTE
    known = after(known, "delivered", 9)
    assert known == Delivery(status=given_up, at=1, afterwards="delivered")
    assert amounts_to(known, "delivered") is Amounts.NOTHING


def test_undelivered_after_delivered_amounts_to_nothing() -> None:
    assert amounts_to(last_of(["delivered"]), "undelivered") is Amounts.NOTHING


def test_what_was_said_of_old_texts_is_forgotten() -> None:
    telling = Telling()
    telling.apply(TextDelivery(order="old", status="sent"), 0)
    telling.apply(TextDelivery(order="new", status="sent"), REMEMBERED_FOR + 1)
    assert set(telling.deliveries) == {"new"}
