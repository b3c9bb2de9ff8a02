"""What a payload of an unknown topic might carry."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.boat.decoding import decode
from gateway.boat.heard import Heard, HeardOnBroker
from gateway.boat.looking import MOST_PARTS, Part, parts
from gateway.boat.settings import Carries, Signal
from gateway.vocabulary.readings import Grade

NUMBER, CONTACT, WORD, POSITION = Carries.NUMBER, Carries.CONTACT, Carries.WORD, Carries.POSITION


def only(payload: bytes) -> Part:
    (part,) = parts(payload)
    return part


@pytest.mark.parametrize(
    ("payload", "carries", "text", "unit"),
    [
        (b"12.40", (NUMBER,), "12.40", ""),
        (b" -3 ", (NUMBER,), "-3", ""),
        (b"12.4 V", (NUMBER,), "12.4", "V"),
        (b"62%", (NUMBER,), "62", "%"),
        (b"1", (NUMBER, CONTACT), "1", ""),
        (b"ON", (CONTACT, WORD), "ON", ""),
        (b"closed", (CONTACT, WORD), "closed", ""),
        (b"true", (CONTACT, WORD), "true", ""),
        (b"REMOTE", (WORD,), "REMOTE", ""),
    ],
)
def test_a_bare_payload_is_a_number_a_contact_or_a_word(
    payload: bytes, carries: tuple[Carries, ...], text: str, unit: str
) -> None:
    part = only(payload)
    assert (part.pointer, part.carries, part.text, part.unit) == ("", carries, text, unit)


@pytest.mark.parametrize(
    "payload", [b"\xff\xfe", b"NaN", b"null", b"{}", b"[]", b"a sentence of somebody's own making"]
)
def test_what_is_no_value_carries_nothing_or_a_word_and_never_a_number(payload: bytes) -> None:
    assert NUMBER not in only(payload).carries
    assert CONTACT not in only(payload).carries


def test_an_empty_payload_holds_nothing_because_it_clears_a_retained_value() -> None:
    assert parts(b"") == ()


def test_json_is_shown_pointer_by_pointer_with_names_escaped_as_rfc_6901_asks() -> None:
    payload = json.dumps({"dc": {"a/b": 12.4, "m~n": "on"}, "cells": [3.31, None], "state": "bulk"}).encode()
    assert [(part.pointer, part.carries[:1]) for part in parts(payload)] == [
        ("/dc/a~1b", (NUMBER,)),
        ("/dc/m~0n", (CONTACT,)),
        ("/cells/0", (NUMBER,)),
        ("/cells/1", ()),
        ("/state", (WORD,)),
    ]


def test_a_neighbour_called_unit_is_taken_for_the_unit() -> None:
    first, second = parts(b'{"value": 12.4, "unit": "V"}')
    assert (first.pointer, first.unit, second.carries) == ("/value", "V", (WORD,))


@pytest.mark.parametrize(("north", "east"), [("latitude", "longitude"), ("lat", "lon"), ("lat", "lng")])
def test_latitude_beside_longitude_is_a_position_and_the_rest_beside_it_is_shown_too(north: str, east: str) -> None:
    place, rest = parts(json.dumps({"fix": {north: 50.001, east: -5.0005, "hdop": 1.1}}).encode())
    assert (place.pointer, place.carries, place.text) == ("/fix", (POSITION,), "50.001 -5.0005")
    assert (place.latitude, place.longitude, rest.pointer) == (f"/{north}", f"/{east}", "/fix/hdop")


def test_a_time_with_a_zone_is_known_as_one() -> None:
    assert only(b'{"at": "2026-03-09T03:04:00Z"}').is_time


def test_a_payload_with_no_end_is_cut_off() -> None:
    assert len(parts(json.dumps(list(range(2, 500))).encode())) == MOST_PARTS
    assert only(b"[" * 60_000).carries == ()
    assert only(b"1" * 70_000) == Part(pointer="", carries=(), text="70000 bytes")


PLAIN = st.recursive(
    st.none() | st.booleans() | st.floats(allow_nan=False) | st.integers() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4),
    max_leaves=12,
)


@given(PLAIN.map(lambda value: json.dumps(value).encode()) | st.binary(max_size=40))
def test_whatever_a_part_is_said_to_carry_can_be_read_as_that(payload: bytes) -> None:
    for part in parts(payload):
        for carries in part.carries:
            signal = Signal(
                id="b/s",
                boat="b",
                key="s",
                topic="t",
                pointer=part.pointer,
                carries=carries,
                unit=part.unit,
                words=(part.text,),
                latitude=part.latitude,
                longitude=part.longitude,
            )
            (reading,) = decode((signal,), payload, retained=False)
            assert reading.grade is not Grade.UNREADABLE, (part, carries)


def test_over_several_messages_only_what_all_of_them_can_be_read_as_is_left() -> None:
    heard = Heard(topic="boat/x")
    for at, payload in enumerate([b"0", b"1", b"12.5"]):
        heard.add(payload, retained=False, at=1000 * at)
    assert heard.pieces[""].ways == (NUMBER,)
    heard.add(b"on", retained=False, at=5000)
    assert heard.pieces[""].ways == ()
    assert (heard.count, heard.longest) == (4, 3000)


def test_a_retained_message_tells_nothing_of_the_pace() -> None:
    heard = Heard(topic="boat/x")
    heard.add(b"on", retained=True, at=0)
    heard.add(b"off", retained=False, at=60_000)
    heard.add(b"", retained=False, at=70_000)
    assert (heard.count, heard.retained, heard.live, heard.cleared, heard.longest) == (2, 1, 1, 1, None)


def test_topics_without_end_take_no_memory_without_end() -> None:
    heard = HeardOnBroker()
    for number in range(5_003):
        heard.add(f"t/{number}", b"1", retained=False, at=number)
    heard.add(None, b"1", retained=False, at=0)
    assert (len(heard.topics), heard.beyond, heard.unnamed) == (5_000, 3, 1)


@pytest.mark.parametrize(
    ("said", "unit", "ways"),
    [([b"12.4 V", b"12.5"], "V", (NUMBER,)), ([b"12.4", b"12.5 V"], "V", (NUMBER,)), ([b"12.4 V", b"3.1 A"], "V", ())],
)
def test_a_topic_that_says_now_volts_now_amperes_is_no_number_to_watch(
    said: list[bytes], unit: str, ways: tuple[Carries, ...]
) -> None:
    heard = Heard(topic="boat/x")
    for at, payload in enumerate(said):
        heard.add(payload, retained=False, at=at)
    assert (heard.pieces[""].unit, heard.pieces[""].ways) == (unit, ways)
