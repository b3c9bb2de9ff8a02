"""Payloads become readings: every shape that boats send, and everything that must not pass for a value.

The shapes are those that boats were found to send (common practice, no source): bare numbers, words, JSON with a path,
arrays of samples, nothing at all, numbers with a unit, bytes that are no text.
"""

import json
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.boat.decoding import LATEST_TIME, LONGEST_PAYLOAD, MOST_DIGITS, SAMPLE, decode, sample_of
from gateway.boat.settings import Carries, Signal
from gateway.logbook.kept_readings import line, read_line
from gateway.vocabulary.moments import from_rfc3339
from gateway.vocabulary.readings import Grade, Reading

VOLTS = Signal(id="grey-wagtail/house-volts", boat="grey-wagtail", key="house-volts", topic="t", unit="V")
DEEP = replace(VOLTS, pointer="/battery/house/voltage")
SAMPLES = replace(VOLTS, pointer="/readings/0/v")
TIMED = replace(VOLTS, pointer="/v", time_pointer="/t")
FLOAT = replace(VOLTS, id="grey-wagtail/bilge-high", key="bilge-high", carries=Carries.CONTACT, unit="")
NODE = replace(FLOAT, pointer="/running")
WHERE = replace(FLOAT, id="grey-wagtail/position", key="position", carries=Carries.POSITION)
NESTED = replace(WHERE, pointer="/fix", latitude="/0", longitude="/1", time_pointer="/t")
SELECTOR = replace(FLOAT, carries=Carries.WORD, words=("LOCAL", "REMOTE"))


def one(signal: Signal, payload: bytes | str, *, retained: bool = False) -> Reading:
    data = payload.encode() if isinstance(payload, str) else payload
    (reading,) = decode((signal,), data, retained=retained)
    return reading


def is_unreadable(reading: Reading) -> bool:
    return reading.grade is Grade.UNREADABLE and reading.value is None and reading.own_time is None


@pytest.mark.parametrize(
    ("signal", "payload", "kept"),
    [
        (VOLTS, "12.4", "12.4"),
        (VOLTS, " 12.40\n", "12.40"),
        (VOLTS, "-0.5", "-0.5"),
        (VOLTS, "+.5", "+.5"),
        (VOLTS, "12.", "12."),
        (VOLTS, "12.4 V", "12.4"),
        (VOLTS, "12.4V", "12.4"),
        (VOLTS, "1.24e1", "12.4"),
        (VOLTS, "124E-1", "12.4"),
        (DEEP, '{"battery":{"house":{"voltage":12.40,"current":-3}}}', "12.40"),
        (DEEP, '{"battery":{"house":{"voltage":"12.4 V"}}}', "12.4"),
        (DEEP, '{"battery":{"house":{"voltage":12}}}', "12"),
        (SAMPLES, '{"readings":[{"v":12.61},{"v":11}]}', "12.61"),
        (replace(VOLTS, pointer="/1"), "[1, 2.50, 3]", "2.50"),
        (replace(VOLTS, pointer="/a~1b/c~0d/~01"), '{"a/b":{"c~d":{"~1":7}}}', "7"),
        (replace(VOLTS, pointer="/"), '{"":7}', "7"),
    ],
)
def test_a_number_is_kept_digit_by_digit_as_it_was_written(signal: Signal, payload: str, kept: str) -> None:
    reading = one(signal, payload)
    assert (reading.grade, reading.text) == (Grade.NUMBER, kept)
    assert reading.value == Decimal(kept)


def test_a_long_number_in_json_loses_no_digit_to_a_float() -> None:
    assert one(DEEP, '{"battery":{"house":{"voltage":12.30000019073486328125}}}').text == "12.30000019073486328125"


@pytest.mark.parametrize(
    ("payload", "kept"),
    [
        ("on", "on"),
        ("ON", "on"),
        ("True", "on"),
        ("1", "on"),
        ("closed", "on"),
        ("off", "off"),
        ("OFF", "off"),
        ("false", "off"),
        ("0", "off"),
        ("Open", "off"),
    ],
)
def test_a_contact_is_read_in_any_of_its_words_and_any_case(payload: str, kept: str) -> None:
    reading = one(FLOAT, payload)
    assert (reading.grade, reading.text, reading.value) == (Grade.CONTACT, kept, kept == "on")


@pytest.mark.parametrize(
    ("raw", "kept"), [("true", "on"), ("false", "off"), ("1", "on"), ("0", "off"), ('"ON"', "on"), ('"open"', "off")]
)
def test_a_contact_inside_json_may_be_true_false_one_nought_or_a_word(raw: str, kept: str) -> None:
    assert one(NODE, f'{{"running":{raw}}}').text == kept


def test_the_installers_words_stand_in_place_of_the_usual_ones() -> None:
    hatch = replace(FLOAT, on_words=("open",), off_words=("closed",))
    assert one(hatch, "open").value is True
    assert one(hatch, "closed").value is False
    assert is_unreadable(one(hatch, "on"))


def test_a_word_must_be_written_exactly() -> None:
    assert (one(SELECTOR, "REMOTE").grade, one(SELECTOR, "REMOTE").value) == (Grade.WORD, "REMOTE")
    assert is_unreadable(one(SELECTOR, "remote"))
    assert is_unreadable(one(SELECTOR, "REMOTE LOCAL"))


def test_nan_is_no_json_so_a_bare_one_is_not_even_a_word() -> None:
    named = replace(SELECTOR, pointer="/mode", words=("NaN", "OK"))
    assert one(named, '{"mode":"NaN"}').value == "NaN"
    assert is_unreadable(one(named, '{"mode":NaN}'))


@pytest.mark.parametrize(
    ("scale", "raw", "kept"), [("0.001", "12400", "12.400"), ("0.1", "-55", "-5.5"), ("1000", "1.2", "1200.0")]
)
def test_a_scale_is_multiplied_exactly(scale: str, raw: str, kept: str) -> None:
    assert one(replace(VOLTS, scale=Decimal(scale)), raw).text == kept


@pytest.mark.parametrize(
    ("raw", "own_time"),
    [
        ('"2026-03-01T03:04:00Z"', "2026-03-01T03:04:00Z"),
        ('"2026-03-01T04:04:00.250+01:00"', "2026-03-01T03:04:00.250Z"),
        ("1772334240", "2026-03-01T03:04:00Z"),
        ("1772334240.25", "2026-03-01T03:04:00.250Z"),
        ("0", "1970-01-01T00:00:00Z"),
    ],
)
def test_the_time_of_measuring_is_read_as_text_or_as_seconds(raw: str, own_time: str) -> None:
    reading = one(TIMED, f'{{"v":12.4,"t":{raw}}}')
    assert (reading.text, reading.own_time) == ("12.4", from_rfc3339(own_time))


@pytest.mark.parametrize(
    "raw",
    [
        "null",
        "true",
        "[]",
        '"yesterday"',
        '"2026-03-01T03:04:00"',
        "-1",
        "1e99",
        str(LATEST_TIME // 1000 + 1),
        '"1969-12-31T23:59:59Z"',
        '"0001-01-01T00:00:00+14:00"',
    ],
)
def test_a_value_stays_without_its_time_where_that_is_none_and_says_so(raw: str) -> None:
    found = one(TIMED, f'{{"v":12.4,"t":{raw}}}')
    assert (found.grade, found.text, found.own_time, found.timeless) == (Grade.NUMBER, "12.4", None, True)


def test_a_missing_time_is_none_and_a_value_that_needs_none_misses_nothing() -> None:
    assert one(TIMED, '{"v":12.4}').timeless
    assert not one(replace(TIMED, time_pointer=None), '{"v":12.4}').timeless
    assert not one(TIMED, '{"v":12.4,"t":1772334240}').timeless


def test_a_value_that_cannot_be_read_is_unreadable_whatever_its_time() -> None:
    assert is_unreadable(one(TIMED, '{"v":"?","t":1772334240}'))
    assert is_unreadable(one(TIMED, '{"v":"?","t":null}'))


def test_an_empty_payload_is_a_cleared_value_and_no_reading_at_all() -> None:
    assert decode((VOLTS, FLOAT, DEEP), b"", retained=True) == ()


def test_one_topic_gives_a_reading_for_each_of_its_signals_in_their_order() -> None:
    both = (replace(VOLTS, pointer="/volts"), replace(NODE, pointer="/running"), replace(VOLTS, pointer="/count"))
    found = decode(both, b'{"running":true,"volts":231.0,"count":"x"}', retained=True)
    assert [(r.grade, r.retained) for r in found] == [
        (Grade.NUMBER, True),
        (Grade.CONTACT, True),
        (Grade.UNREADABLE, True),
    ]
    assert [r.signal for r in found] == [s.id for s in both]


DEEPLY_NESTED = '{"battery":' * 5_000 + "1" + "}" * 5_000


@pytest.mark.parametrize(
    ("signal", "payload"),
    [
        (VOLTS, "NaN"),
        (VOLTS, "nan"),
        (VOLTS, "Infinity"),
        (VOLTS, "-inf"),
        (VOLTS, "1e999999999"),
        (VOLTS, "1e99"),  # no boat's number, and no text could say it
        (VOLTS, "9" * (MOST_DIGITS + 1)),
        (VOLTS, "12,4"),
        (VOLTS, "12.4 A"),  # another unit is another thing
        (VOLTS, "12.4 V V"),
        (VOLTS, "0x0C"),
        (VOLTS, "1_000"),
        (VOLTS, "\u0661\u0662"),  # digits, but not those of a number on the wire
        (VOLTS, "12 13"),
        (VOLTS, "V"),
        (VOLTS, " "),
        (VOLTS, "true"),
        (VOLTS, b"\xff\xfe12.4"),
        (VOLTS, b"12\x00.4"),
        (VOLTS, b"\x00\x00"),
        (VOLTS, "12.4".encode("utf-16")),
        (VOLTS, "\uff11\uff12"),  # full-width digits
        (FLOAT, "maybe"),
        (FLOAT, "on off"),
        (DEEP, "12.4"),
        (DEEP, '{"battery":{"house":{"voltage":12.4}'),
        (DEEP, '{"battery":{"house":{"voltage":NaN}}}'),
        (DEEP, '{"battery":{"house":{"voltage":-Infinity}}}'),
        (DEEP, '{"battery":{"house":{"voltage":1e400}}}'),
        (DEEP, '{"battery":{"house":{"voltage":true}}}'),
        (DEEP, '{"battery":{"house":{"voltage":null}}}'),
        (DEEP, '{"battery":{"house":{"voltage":[12.4]}}}'),
        (DEEP, '{"battery":{"house":{"voltage":{}}}}'),
        (DEEP, '{"battery":{"house":{}}}'),
        (DEEP, '{"battery":[]}'),
        (DEEP, '{"battery":12}'),
        (DEEP, DEEPLY_NESTED),
        (DEEP, "[" * 60_000),
        (DEEP, b'{"battery":{"house":{"voltage":"\xff"}}}'),
        (SAMPLES, '{"readings":[]}'),
        (replace(VOLTS, pointer="/-"), "[1]"),
        (replace(VOLTS, pointer="/01"), "[1,2]"),
        (replace(VOLTS, pointer="/\u0661"), "[1,2]"),
        (NODE, '{"running":1.0}'),
        (NODE, '{"running":null}'),
        (NODE, '{"running":2}'),
    ],
)
def test_what_does_not_fit_is_unreadable_and_never_taken_for_normal(signal: Signal, payload: str | bytes) -> None:
    reading = one(signal, payload)
    assert is_unreadable(reading)
    assert len(reading.text) <= SAMPLE


def test_a_payload_of_a_megabyte_is_unreadable_even_when_a_good_value_stands_in_it() -> None:
    big = b'{"battery":{"house":{"voltage":12.4}},"x":"' + b"a" * 1_000_000 + b'"}'
    assert is_unreadable(one(DEEP, big))
    assert is_unreadable(one(VOLTS, b"12.4" + b" " * LONGEST_PAYLOAD))
    assert one(VOLTS, b"12.4" + b" " * (LONGEST_PAYLOAD - 4)).text == "12.4"


def test_the_sample_of_an_unreadable_payload_is_short_and_printable() -> None:
    assert sample_of(b"\xff\x00caf\xc3\xa9 12") == "..caf.. 12"
    assert sample_of(b"x" * 100) == "x" * SAMPLE


SIGNALS = st.sampled_from(
    [VOLTS, DEEP, SAMPLES, TIMED, FLOAT, NODE, SELECTOR, WHERE, NESTED, replace(VOLTS, scale=Decimal("0.001"))]
)
PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["v", "t", "battery", "house", "voltage", "running", "latitude", "longitude", "fix"]),
            inner,
            max_size=3,
        )
    ),
    max_leaves=6,
)
PAYLOADS = (
    st.binary(max_size=60)
    | st.text(max_size=30).map(lambda t: t.encode())
    | PLAIN.map(lambda p: json.dumps(p).encode())
)


@given(SIGNALS, PAYLOADS, st.booleans())
def test_nothing_that_comes_makes_reading_it_fail_and_what_is_kept_reads_back(
    signal: Signal, payload: bytes, retained: bool
) -> None:
    for reading in decode((signal,), payload, retained=retained):
        assert read_line(line(1, 2, reading)) == (1, 2, reading)
        assert (reading.value is None) is (reading.grade is Grade.UNREADABLE)
        assert len(reading.text) <= max(MOST_DIGITS, SAMPLE)
        assert reading.retained is retained


# ---------------------------------------------------------------- positions


@pytest.mark.parametrize(
    ("signal", "payload", "kept"),
    [
        (WHERE, '{"latitude": 50.0010, "longitude": -5.0005}', "50.0010 -5.0005"),
        (WHERE, '{"latitude": "50.0010", "longitude": "-5"}', "50.0010 -5"),
        (WHERE, '{"latitude": -90, "longitude": 180, "hdop": 1.2}', "-90 180"),
        (WHERE, '{"latitude": 5.0e1, "longitude": 0}', "50 0"),
        (NESTED, '{"fix": [50.1, -5.2], "t": 1772334240}', "50.1 -5.2"),
    ],
)
def test_a_position_is_kept_digit_by_digit(signal: Signal, payload: str, kept: str) -> None:
    reading = one(signal, payload)
    assert (reading.grade, reading.text, reading.value) == (Grade.POSITION, kept, kept)


@pytest.mark.parametrize(
    "payload",
    [
        "50.0 -5.0",
        '{"latitude": 50.0}',
        '{"latitude": null, "longitude": null}',
        '{"latitude": 91, "longitude": 0}',
        '{"latitude": 0, "longitude": -180.1}',
        '{"latitude": "50 N", "longitude": "5 W"}',
        '{"latitude": NaN, "longitude": 0}',
        '{"latitude": 1e-99, "longitude": 0}',
        "[50.0, -5.0]",
    ],
)
def test_what_lies_on_no_globe_is_no_position(payload: str) -> None:
    assert is_unreadable(one(WHERE, payload))


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**9), max_value=10**9))
def test_a_number_reads_back_equal_bare_and_inside_json(number: Decimal) -> None:
    text = format(number, "f")
    assert one(VOLTS, text).value == number
    assert one(DEEP, f'{{"battery":{{"house":{{"voltage":{text}}}}}}}').text == text
