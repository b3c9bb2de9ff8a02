"""Lines of readings, their packing into blocks, and the hash of an hour."""

import hashlib
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.logbook.blocks import checksum, pack, places_of
from gateway.logbook.canonical import NotPlain, read
from gateway.logbook.kept_readings import hour_of, line, read_line, roll
from gateway.vocabulary.moments import HOUR, from_rfc3339
from gateway.vocabulary.readings import Grade, Reading

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
READINGS = st.builds(
    Reading,
    signal=st.sampled_from(["grey-wagtail/house-volts", "grey-wagtail/bilge-high", "salt-harrier/shore-power"]),
    grade=st.sampled_from(Grade),
    text=TEXTS,
    own_time=st.none() | st.integers(0, 2**45),
    late=st.booleans(),
    retained=st.booleans(),
    ahead=st.booleans(),
    timeless=st.booleans(),
)
ROWS = st.lists(st.tuples(st.integers(0, 2**40), st.integers(0, 2**45), READINGS), min_size=1, max_size=12)


def test_a_line_is_canonical_json_of_seven_fields() -> None:
    reading = Reading(signal="grey-wagtail/house-volts", grade=Grade.NUMBER, text="12.40", own_time=5, retained=True)
    made = line(9, 1_700_000_000_123, reading)
    assert made == b'[9,1700000000123,"grey-wagtail/house-volts","n","12.40",5,2]'
    read(made)


def test_the_marks_of_a_line_add_up_1_late_2_retained_4_own_time_ahead() -> None:
    def mark(late: bool = False, retained: bool = False, ahead: bool = False) -> bytes:
        reading = Reading(signal="a/b", grade=Grade.CONTACT, text="on", late=late, retained=retained, ahead=ahead)
        return line(1, 2, reading).rpartition(b",")[2]

    assert mark() == b"0]"
    assert mark(late=True) == b"1]"
    assert mark(retained=True) == b"2]"
    assert mark(ahead=True) == b"4]"
    assert mark(late=True, retained=True, ahead=True) == b"7]"


@given(st.integers(0, 2**40), st.integers(0, 2**45), READINGS)
def test_a_line_is_canonical_and_reads_back_to_the_reading(happening: int, now: int, reading: Reading) -> None:
    made = line(happening, now, reading)
    assert read_line(made) == (happening, now, reading)
    read(made)
    assert b"\n" not in made


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{}",
        b"7",
        b"[1,2]",
        b'[1,2,"a/b","q","1",null,0]',
        b'["1",2,"a/b","n","1",null,0]',
        b'[1,2.5,"a/b","n","1",null,0]',
        b'[1,2,3,"n","1",null,0]',
        b'[1,2,"a/b",["n"],"1",null,0]',
        b'[1,2,"a/b","n",1,null,0]',
        b'[1,2,"a/b","n","1","0",0]',
        b'[1,2,"a/b","n","1",null,16]',
        b'[1,2,"a/b","n","1",null,true]',
    ],
)
def test_bytes_that_are_no_line_are_refused(data: bytes) -> None:
    with pytest.raises(NotPlain):
        read_line(data)


def test_text_that_is_no_unicode_text_is_refused() -> None:
    with pytest.raises(NotPlain, match="grey-wagtail/house-volts"):
        line(1, 1, Reading(signal="grey-wagtail/house-volts", grade=Grade.WORD, text="\ud800"))


def test_the_hash_of_an_hour_rolls_over_its_lines() -> None:
    first = hashlib.sha256(b"one").digest()
    assert roll("", b"one") == first.hex()
    assert roll(first.hex(), b"two") == hashlib.sha256(first + b"two").hexdigest()


@given(ROWS, st.data())
def test_the_hash_of_a_boat_does_not_depend_on_how_its_lines_were_packed(
    rows: list[tuple[int, int, Reading]], data: st.DataObject
) -> None:
    cut = data.draw(st.integers(0, len(rows)))

    def rolled(*packs: list[tuple[int, int, Reading]]) -> dict[str, str]:
        found: dict[str, str] = {}
        for block in (block for rows in packs for block in pack(rows)):
            for row in block.lines.split(b"\n"):
                found[block.boat] = roll(found.get(block.boat, ""), row)
        return found

    assert rolled(rows) == rolled(rows[:cut], rows[cut:])


@given(ROWS)
def test_packing_keeps_every_line_and_its_place_among_the_boats(rows: list[tuple[int, int, Reading]]) -> None:
    found: dict[int, bytes] = {}
    for block in pack(rows):
        lines = block.lines.split(b"\n")
        assert block.count == len(lines)
        found.update(zip(places_of(block.places, block.count), lines, strict=True))
    assert [read_line(found[place]) for place in range(len(rows))] == rows


def test_the_checksum_is_over_where_a_block_stands_and_what_it_holds() -> None:
    whole = (4, 3, b"[0]", b"line")
    others = [(5, 3, b"[0]", b"line"), (4, 4, b"[0]", b"line"), (4, 3, None, b"line"), (4, 3, b"[0]", b"lime")]
    assert checksum(*whole) == zlib.crc32(b"4 3 [0] line")
    assert checksum(*whole) not in {checksum(*other) for other in others}


@pytest.mark.parametrize("places", [b"", b"{}", b"[0]", b"[0,1,2]", b'[0,"1"]'])
def test_places_that_do_not_fit_the_lines_are_refused(places: bytes) -> None:
    with pytest.raises(NotPlain):
        places_of(places, 2)


def test_an_hour_begins_on_the_full_hour_of_utc() -> None:
    assert hour_of(from_rfc3339("2026-03-01T06:59:59.999Z")) == from_rfc3339("2026-03-01T06:00:00Z")
    assert hour_of(from_rfc3339("2026-03-01T07:00:00Z")) == from_rfc3339("2026-03-01T07:00:00Z")
    assert hour_of(5 * HOUR) == 5 * HOUR
