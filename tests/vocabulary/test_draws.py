"""Chance out of one draw: each use has its own, and asking again gives something new."""

import hashlib
import hmac

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.vocabulary.draws import DRAW_BYTES, Draws

DRAW = bytes(range(DRAW_BYTES))


@pytest.mark.parametrize("size", [0, 31, 33])
def test_a_draw_of_another_size_is_refused(size: int) -> None:
    with pytest.raises(ValueError, match=f"32 bytes, got {size}"):
        Draws(bytes(size))


def test_a_value_is_the_keyed_hash_over_use_and_counter() -> None:
    draws = Draws(DRAW)
    expected = [hmac.new(DRAW, f"salt:{count}".encode(), hashlib.sha256).digest() for count in range(3)]
    assert [draws.bytes_for("salt") for _ in range(3)] == expected


def test_one_use_does_not_move_another() -> None:
    alone, beside = Draws(DRAW), Draws(DRAW)
    beside.bytes_for("salt")
    assert alone.bytes_for("order") == beside.bytes_for("order")


def test_the_same_draw_gives_the_same_values_and_another_draw_others() -> None:
    assert Draws(DRAW).hex_for("code") == Draws(DRAW).hex_for("code")
    assert Draws(DRAW).hex_for("code") != Draws(bytes(DRAW_BYTES)).hex_for("code")


@given(st.binary(min_size=DRAW_BYTES, max_size=DRAW_BYTES), st.integers(1, 5_000), st.integers(0, 64))
def test_numbers_stay_below_their_bound_and_hex_has_the_digits_asked_for(draw: bytes, count: int, digits: int) -> None:
    draws = Draws(draw)
    assert 0 <= draws.below("code", count) < count
    assert len(draws.hex_for("salt", digits)) == digits


def test_every_number_below_a_small_bound_is_drawn() -> None:
    draws = Draws(DRAW)
    assert {draws.below("code", 5) for _ in range(200)} == {0, 1, 2, 3, 4}
