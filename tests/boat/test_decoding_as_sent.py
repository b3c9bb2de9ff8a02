"""How a value is sent, and what is sent where there is none: numbers of a bus, stand-ins, commas, own words, times.

Ranges of the buses: NMEA 2000 and SAE J1939-71 keep the topmost patterns of a field for "not available", "error" and
"reserved"; registers without a sensor hold the topmost, signed ones the lowest pattern as well (all from memory).
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from gateway.boat.decoding import decode
from gateway.boat.settings import Carries, Raw, Signal, TimeCounts
from gateway.vocabulary.moments import from_rfc3339
from gateway.vocabulary.readings import Grade, Reading

VOLTS = Signal(id="grey-wagtail/house-volts", boat="grey-wagtail", key="house-volts", topic="t", unit="V")
COLD = replace(VOLTS, unit="C", not_available=("-127", "85", "---"))
SELECTOR = replace(VOLTS, carries=Carries.WORD, unit="", words=("LOCAL", "REMOTE"))
MAPPED = replace(SELECTOR, word_for=(("0", "LOCAL"), ("1", "REMOTE"), ("true", "REMOTE")))
TIMED = replace(VOLTS, pointer="/v", time_pointer="/t")


def one(signal: Signal, payload: bytes | str) -> Reading:
    (reading,) = decode((signal,), payload.encode() if isinstance(payload, str) else payload, retained=False)
    return reading


def readable(signal: Signal, payload: bytes | str) -> bool:
    return one(signal, payload).grade is not Grade.UNREADABLE


@pytest.mark.parametrize(
    ("raw", "lowest", "highest", "refused"),
    [
        (Raw.UNSIGNED_8, 0, 0xFC, [0xFD, 0xFE, 0xFF, 0x100, -1]),
        (Raw.UNSIGNED_16, 0, 0xFFFC, [0xFFFD, 0xFFFE, 0xFFFF, 0x10000, -1]),
        (Raw.UNSIGNED_32, 0, 0xFFFFFFFC, [0xFFFFFFFD, 0xFFFFFFFE, 0xFFFFFFFF]),
        (Raw.SIGNED_8, -0x7F, 0x7C, [0x7D, 0x7E, 0x7F, -0x80]),
        (Raw.SIGNED_16, -0x7FFF, 0x7FFC, [0x7FFD, 0x7FFE, 0x7FFF, -0x8000, 0xFFFF]),
        (Raw.SIGNED_32, -0x7FFFFFFF, 0x7FFFFFFC, [0x7FFFFFFD, 0x7FFFFFFF, -0x80000000]),
        (Raw.J1939_8, 0, 0xFA, [0xFB, 0xFE, 0xFF]),
        (Raw.J1939_16, 0, 0xFAFF, [0xFB00, 0xFE00, 0xFEFF, 0xFF00, 0xFFFF]),
        (Raw.J1939_32, 0, 0xFAFFFFFF, [0xFB000000, 0xFE000000, 0xFFFFFFFF]),
    ],
)
def test_what_a_bus_keeps_for_not_available_and_error_is_never_a_value(
    raw: Raw, lowest: int, highest: int, refused: list[int]
) -> None:
    signal = replace(VOLTS, raw=raw, scale=Decimal("0.01"))
    inside = replace(signal, pointer="/v")
    assert one(signal, str(lowest)).value == lowest * Decimal("0.01")
    assert one(inside, f'{{"v":{highest}}}').value == highest * Decimal("0.01")
    for number in refused:
        assert not readable(signal, str(number))
        assert not readable(inside, f'{{"v":{number}}}')
        assert not readable(inside, f'{{"v":"{number}.0"}}')


def test_what_stands_on_a_bus_is_a_whole_number() -> None:
    signal = replace(VOLTS, raw=Raw.UNSIGNED_16, scale=Decimal("0.01"))
    assert one(signal, "1240.0").value == Decimal("12.4")
    assert not readable(signal, "12.4")


@pytest.mark.parametrize("payload", ["-127", "-127.0", "-127 C", "-1.27e2", "85", "85.00", "---", "nan", "null"])
def test_a_stand_in_for_no_value_is_none_however_it_is_written(payload: str) -> None:
    assert not readable(COLD, payload)


def test_what_is_near_a_stand_in_is_a_value_and_it_is_met_before_the_scale() -> None:
    assert one(COLD, "-126.9").text == "-126.9"
    assert not readable(replace(COLD, scale=Decimal(2)), "85")
    assert one(replace(COLD, scale=Decimal(2)), "42.5").value == 85


@pytest.mark.parametrize(("payload", "kept"), [("12,6", "12.6"), (" -0,5 V\n", "-0.5"), ("12", "12"), ("1,2e1", "12")])
def test_a_comma_stands_for_the_point_where_the_installer_says_so(payload: str, kept: str) -> None:
    assert one(replace(VOLTS, decimal_comma=True), payload).text == kept
    assert readable(VOLTS, payload) is ("," not in payload)


@pytest.mark.parametrize("payload", ["1.234,5", "12.6", "1,2,3", ","])
def test_where_a_comma_is_the_point_a_point_means_nothing_sure(payload: str) -> None:
    assert not readable(replace(VOLTS, decimal_comma=True), payload)


def test_inside_json_a_bare_number_keeps_its_point_and_a_text_its_comma() -> None:
    signal = replace(VOLTS, decimal_comma=True, pointer="/v")
    assert one(signal, '{"v":12.6}').text == "12.6"
    assert one(signal, '{"v":"12,6"}').text == "12.6"


@pytest.mark.parametrize(("payload", "word"), [("0", "LOCAL"), ("1", "REMOTE"), ("true", "REMOTE"), ("LOCAL", "LOCAL")])
def test_what_is_sent_for_a_word_is_read_as_that_word_and_the_word_itself_too(payload: str, word: str) -> None:
    assert one(MAPPED, payload).value == word
    assert not readable(MAPPED, "2")
    assert one(replace(MAPPED, pointer="/m"), '{"m":1}').value == "REMOTE"


@pytest.mark.parametrize(
    ("counts", "raw", "own_time"),
    [
        (TimeCounts.MILLISECONDS, "1772334240250", "2026-03-01T03:04:00.250Z"),
        (TimeCounts.MILLISECONDS, '"1772334240250"', "2026-03-01T03:04:00.250Z"),
        (TimeCounts.SECONDS, '"1772334240"', "2026-03-01T03:04:00Z"),
        (TimeCounts.SECONDS, '"2026-03-01t03:04:00z"', "2026-03-01T03:04:00Z"),
        (TimeCounts.MILLISECONDS, '"2026-03-01T03:04:00Z"', "2026-03-01T03:04:00Z"),
    ],
)
def test_a_time_may_count_milliseconds_stand_as_text_or_be_written_small(
    counts: TimeCounts, raw: str, own_time: str
) -> None:
    assert one(replace(TIMED, time_counts=counts), f'{{"v":12.4,"t":{raw}}}').own_time == from_rfc3339(own_time)


def test_milliseconds_that_are_taken_for_seconds_are_found_out() -> None:
    assert one(TIMED, '{"v":12.4,"t":1772334240250}').timeless


@pytest.mark.parametrize("payload", [b"\xef\xbb\xbf12.4", b"12.4\x00", b"12.4\r\n\x00\x00"])
def test_a_byte_order_mark_and_the_nul_at_the_end_of_a_text_do_not_count(payload: bytes) -> None:
    assert one(VOLTS, payload).text == "12.4"
    assert one(replace(VOLTS, pointer="/v"), b'\xef\xbb\xbf{"v":12.4}\x00').text == "12.4"


@pytest.mark.parametrize("broken", ["NaN", "Infinity", "-Infinity", "null"])
def test_a_value_that_is_none_leaves_its_neighbours_readable(broken: str) -> None:
    water = replace(VOLTS, pointer="/water", carries=Carries.CONTACT, unit="")
    both = (replace(VOLTS, pointer="/volts"), water)
    volts, contact = decode(both, f'{{"volts":{broken},"water":true}}'.encode(), retained=False)
    assert volts.grade is Grade.UNREADABLE
    assert contact.value is True
