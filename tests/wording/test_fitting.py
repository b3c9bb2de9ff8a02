"""Pieces that give way, and what comes back when there is room after all."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.wording.alphabet import septets
from gateway.wording.fitting import (
    Piece,
    Worth,
    by_words,
    clipped,
    cost,
    fit,
    fitted,
    fixed,
    maybe,
    name,
    packed,
    shortening,
    tidy,
)


def test_a_text_that_fits_keeps_every_piece_in_full() -> None:
    assert fit([fixed("boat: "), maybe(Worth.NICETY, "water", "w")]) == "boat: water"


def test_the_cheapest_form_gives_way_first() -> None:
    pieces = [shortening(Worth.NAME, "abcdef", "abc"), maybe(Worth.NICETY, "-----")]
    assert fit(pieces, room=8) == "abcdef"
    assert fit(pieces, room=5) == "abc"


def test_of_two_that_are_worth_the_same_the_later_gives_way() -> None:
    assert fit([maybe(Worth.ADVICE, "first"), maybe(Worth.ADVICE, "later")], room=9) == "first"


def test_what_fits_after_all_comes_back() -> None:
    pieces = [maybe(Worth.NICETY, "tiny"), maybe(Worth.ADVICE, "a long piece of advice"), fixed("!")]
    assert fit(pieces, room=10) == "tiny!"


def test_pieces_that_cannot_fit_are_said_so_and_the_text_is_cut_rather_than_lost() -> None:
    assert fitted([fixed("0123456789")], room=9) is None
    assert fit([fixed("0123456789")], room=9) == "01234567."


def test_a_piece_without_a_worth_for_each_step_is_refused() -> None:
    with pytest.raises(ValueError, match="every form but the last needs one"):
        Piece(("long", "short"))


def test_a_cut_name_ends_in_a_full_stop_and_counts_escapes_twice() -> None:
    assert clipped("SALT HARRIER", 8) == "SALT HA."
    assert clipped("SALT HARRIER", 12) == "SALT HARRIER"
    assert cost(clipped("€€€€€", 6)) == 5


def test_a_sentence_is_cut_after_a_whole_word() -> None:
    assert by_words("ring the marina office at once", 20) == "ring the marina..."
    assert by_words("antidisestablishmentarianism is long", 10) == "antidises."


def test_an_installers_text_becomes_one_plain_line_without_its_full_stop() -> None:
    assert tidy("  Boat may be\nflooding… ") == "Boat may be flooding"
    assert tidy("4 °C below “limit”.") == '4 C below "limit"'


def test_a_list_tells_how_many_were_left_out() -> None:
    items = [[fixed(word)] for word in ("one", "two", "three", "four")]
    assert packed([fixed("open: ")], items, [fixed(".")], " and {count} more") == "open: one, two, three, four."
    long = [[fixed("x" * 50)] for _ in range(5)]
    text = packed([], long, [], " and {count} more")
    assert text == f"{'x' * 50}, {'x' * 50} and 3 more"
    assert packed([], [[fixed("x" * 161)]], [], "") is None


words = st.text(max_size=60)
pieces = st.lists(
    st.one_of(
        st.builds(lambda a, b: maybe(Worth.ADVICE, a, b), words, words),
        st.builds(lambda a, worth: maybe(worth, a), words, st.sampled_from(Worth)),
        st.builds(lambda a: name(tidy(a), 8), words),
    ),
    max_size=8,
)


@given(pieces, st.integers(70, 160))
def test_whatever_the_pieces_the_text_fits(some: list[Piece], room: int) -> None:
    taken = septets(fit(some, room))
    assert taken is not None
    assert taken <= room


@given(pieces)
def test_nothing_is_dropped_for_which_there_is_room(some: list[Piece]) -> None:
    text = fit(some, 100)
    whole = fit(some, 10_000)
    assert text == whole or cost(whole) > 100
