"""What a text costs, and how it is put into the alphabet that all phones share."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.wording.alphabet import DEFAULT_ALPHABET, ESCAPE, EXTENSION, parts, plain, septets

SHARED = [char for char in DEFAULT_ALPHABET if char != ESCAPE] + list(EXTENSION)
shared_texts = st.text(st.sampled_from(SHARED), max_size=700)


@pytest.mark.parametrize(
    ("text", "plainly"),
    [
        ("Bilge high water since 03:04", "Bilge high water since 03:04"),
        ("It’s “low” – look…", 'It\'s "low" - look...'),
        ("4 °C", "4 C"),
        ("4°C", "4 C"),
        ("turned 40°.", "turned 40 ."),
        ("40°", "40"),
        ("5℃", "5 C"),
        ("50\u00b0 12' N", "50 12' N"),
        ("12 V\u00a0dc\tnow", "12 V dc now"),
        ("20 µA, 20 μA", "20 uA, 20 uA"),
        ("façade, Čeština, À bord, señor, CAFÉ", "facade, Cestina, A bord, señor, CAFÉ"),
        ("cafe\u0301", "café"),
        ("Łódź, Œuvre, straße", "Lodz, OEuvre, straße"),
        ("½ full, 3 m², ﬁt, １２", "1/2 full, 3 m2, fit, 12"),
        ("Αθήνα", "A????"),
        ("20 \u2126", "20 Ω"),
        ("one\r\ntwo\rthree\u2028four", "one\ntwo\nthree\nfour"),
        ("a\x00b\x1bc\x7fd\fe\ufefff\u00adg\u200dh", "abcdefgh"),
        ("water \U0001f30a", "water ?"),
        ("\ud800", "?"),
        ("", ""),
        ("[14] {2} ~ ^ \\ | €5", "[14] {2} ~ ^ \\ | €5"),
    ],
)
def test_a_text_is_put_into_the_shared_alphabet(text: str, plainly: str) -> None:
    assert plain(text) == plainly


@given(st.text(st.characters(), max_size=200))
def test_what_was_made_plain_is_always_in_the_shared_alphabet(text: str) -> None:
    assert septets(plain(text)) is not None


@given(st.text(st.characters(), max_size=200))
def test_making_plain_twice_changes_nothing_more(text: str) -> None:
    assert plain(plain(text)) == plain(text)


@given(st.text(st.sampled_from([char for char in SHARED if char not in "\r\f"]), max_size=200))
def test_a_text_already_in_the_shared_alphabet_is_left_as_it_is(text: str) -> None:
    assert plain(text) == text


def test_every_single_character_of_unicode_is_made_plain() -> None:
    for code in range(0x3000):
        assert septets(plain(chr(code))) is not None, hex(code)


def test_the_escape_is_no_character_of_the_alphabet() -> None:
    assert septets("\x1b") is None
    assert septets("go\x1b") is None


def cut(text: str) -> list[str]:
    """The same rule another way: the parts themselves, cut from the front, for a text that needs several."""
    units = [char.encode("utf-16-le", "surrogatepass") for char in text]
    narrow = septets(text) is not None
    costs = [septets(char) or 0 for char in text] if narrow else [len(unit) // 2 for unit in units]
    whole, room = (160, 153) if narrow else (70, 67)
    if sum(costs) <= whole:
        return [text]
    pieces: list[str] = []
    start = 0
    while start < len(text):
        end = start
        while end < len(text) and sum(costs[start : end + 1]) <= room:
            end += 1
        pieces.append(text[start:end])
        start = end
    return pieces


@given(shared_texts)
def test_the_count_of_parts_is_the_number_of_pieces_a_text_is_cut_into(text: str) -> None:
    assert parts(text) == len(cut(text))


@given(st.text(st.sampled_from("aé’\U0001f30a[€"), max_size=300))
def test_the_count_of_parts_holds_for_texts_outside_the_alphabet_too(text: str) -> None:
    assert parts(text) == len(cut(text))
