"""A snapshot is a cache: it reads back to the same state, or is thrown away."""

import pytest

from gateway.desk.snapshots import SnapshotUnreadable, state_bytes, state_of
from gateway.desk.state import State
from gateway.logbook.canonical import read, write
from gateway.vocabulary.moments import HOUR
from tests.desk.small_boat import INES, SHORE, SILENT, STRANGER, WATER, WATER_DELAY, Small, small


def night() -> Small:
    boat = small(WATER, SHORE, SILENT)
    boat.reads("water", "on")
    boat.reads("shore", "off")
    boat.wait(WATER_DELAY)
    boat.texts(INES, "ok")
    boat.texts(INES, "have it")
    boat.texts(STRANGER, "hello")
    boat.wait(HOUR)
    return boat


def test_a_state_reads_back_equal_from_its_bytes() -> None:
    boat = night()
    assert state_of(boat.bytes()) == boat.desk.state
    assert state_of(state_bytes(State())) == State()


@pytest.mark.parametrize("data", [b"", b"{}", b"[]", b"not json", b"null", b"7"])
def test_bytes_that_are_no_state_are_refused(data: bytes) -> None:
    with pytest.raises(SnapshotUnreadable):
        state_of(data)


def test_a_state_with_a_field_too_many_or_too_few_is_refused() -> None:
    plain = read(state_bytes(State()))
    assert isinstance(plain, dict)
    for changed in ({**plain, "mood": "good"}, {key: item for key, item in plain.items() if key != "held"}):
        with pytest.raises(SnapshotUnreadable):
            state_of(write(changed))


@pytest.mark.parametrize(("field", "wrong"), [("now", "7"), ("fingerprint", 7), ("links", 7), ("unknown_topics", [7])])
def test_a_field_of_another_type_is_refused(field: str, wrong: object) -> None:
    plain = read(state_bytes(State()))
    assert isinstance(plain, dict)
    with pytest.raises(SnapshotUnreadable):
        state_of(write({**plain, field: wrong}))
