"""Canonical JSON against RFC 8785 and against the reference library `rfc8785`.

Sources: RFC 8785 3.2.2 and 3.2.3 (the two printed samples; handbook 6.2, CHK-26 and CHK-27, with the hashes computed
over them). The samples hold floats and keys that the logbook does not allow: they prove the reference, and the
reference then proves our writer on all that it accepts.
"""

import hashlib
import json
from enum import StrEnum
from types import MappingProxyType

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from gateway.logbook.canonical import LARGEST, NotPlain, read, write

ASCII_KEYS = st.text(st.characters(max_codepoint=127), max_size=8)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-LARGEST, LARGEST) | TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(ASCII_KEYS, inner, max_size=4),
    max_leaves=20,
)


def test_the_reference_gives_the_bytes_and_the_hash_of_the_first_printed_sample() -> None:
    """CHK-26: RFC 8785 3.2.2."""
    sample = {
        "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
        "string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
        "literals": [None, True, False],
    }
    made = rfc8785.dumps(sample)
    assert made.decode() == (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
    assert hashlib.sha256(made).hexdigest() == "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb"


def test_the_reference_sorts_keys_by_utf_16_units_as_printed() -> None:
    """CHK-27: RFC 8785 3.2.3."""
    sample = {
        "\u20ac": "Euro Sign",
        "\r": "Carriage Return",
        "\ufb33": "Hebrew Letter Dalet With Dagesh",
        "1": "One",
        "\U0001f600": "Emoji: Grinning Face",
        "\u0080": "Control",
        "\u00f6": "Latin Small Letter O With Diaeresis",
    }
    made = rfc8785.dumps(sample)
    assert list(json.loads(made).values()) == [
        "Carriage Return",
        "One",
        "Control",
        "Latin Small Letter O With Diaeresis",
        "Euro Sign",
        "Emoji: Grinning Face",
        "Hebrew Letter Dalet With Dagesh",
    ]
    assert hashlib.sha256(made).hexdigest() == "5e321556d22018a9656991a9e94f77ec175fa193e52a2429d312f8419ec8b08c"


@given(PLAIN)
def test_our_writer_equals_the_reference_on_all_that_it_accepts(plain: object) -> None:
    assert write(plain) == rfc8785.dumps(plain)  # type: ignore[arg-type]


@given(PLAIN)
def test_what_was_written_reads_back_as_it_was(plain: object) -> None:
    assert read(write(plain)) == plain  # type: ignore[arg-type]


def test_every_single_character_is_written_as_the_reference_writes_it() -> None:
    for code in (*range(0x3000), 0xD7FF, 0xE000, 0xFB33, 0xFEFF, 0xFFFD, 0xFFFF, 0x10000, 0x1F600, 0x10FFFF):
        assert write(chr(code)) == rfc8785.dumps(chr(code)), hex(code)


@pytest.mark.parametrize(
    ("plain", "reason"),
    [
        (1.0, "float"),
        ({"limits": [12.4]}, "/limits/0: 12.4 is a float"),
        (float("nan"), "float"),
        (2**53, "2\\*\\*53"),
        (-(2**53), "2\\*\\*53"),
        (2**70, "2\\*\\*53"),
        ({"größe": 1}, "ASCII"),
        ({"a": {"\u20ac": 1}}, "/a: key"),
        ({1: "x"}, "ASCII"),
        ("\ud800", "surrogate"),
        (["ok", "\udfff"], "surrogate"),
        (b"bytes", "bytes"),
        ({"a", "b"}, "set"),
        (object(), "object"),
    ],
)
def test_our_writer_refuses_what_the_narrow_form_does_not_allow(plain: object, reason: str) -> None:
    with pytest.raises(NotPlain, match=reason):
        write(plain)  # type: ignore[arg-type]


def test_our_writer_refuses_a_value_that_holds_itself() -> None:
    ring: list[object] = []
    ring.append(ring)
    with pytest.raises(NotPlain, match="deep"):
        write(ring)  # type: ignore[arg-type]


def test_the_largest_whole_numbers_are_written() -> None:
    assert write([2**53 - 1, -(2**53) + 1]) == b"[9007199254740991,-9007199254740991]"


def test_words_of_an_enumeration_tuples_and_read_only_objects_are_written_as_what_they_hold() -> None:
    class Word(StrEnum):
        AWAY = "away"

    assert write({"a": (Word.AWAY,), "b": MappingProxyType({"d": 1, "c": 2})}) == b'{"a":["away"],"b":{"c":2,"d":1}}'


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{",
        b'{"a": 1}',
        b'{"b":1,"a":2}',
        b'{"a":1,"a":1}',
        b'"\\u0041"',
        b'"\\/"',
        b'"\\u000A"',
        b"1.0",
        b"1e3",
        b"-0",
        b"01",
        b"9007199254740992",
        b"NaN",
        b'"\xff"',
        b"null ",
        b"\xef\xbb\xbfnull",
        '{"ö":1}'.encode(),
        b"[" * 5000,
    ],
)
def test_the_reader_refuses_bytes_that_the_writer_would_not_have_made(data: bytes) -> None:
    with pytest.raises(NotPlain):
        read(data)
