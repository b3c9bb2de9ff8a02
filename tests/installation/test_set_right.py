"""A faulty table as it might have been meant: only for looking on at the rest of it."""

from gateway.installation.set_right import STAND_INS, set_right

UNKNOWN, WRONG = "extra_forbidden", "value_error"


def test_an_unknown_key_goes_even_where_another_table_would_need_it() -> None:
    assert all(set_right({"a": 1, key: "x"}, [{"loc": (key,), "type": UNKNOWN}], "p") == {"a": 1} for key in STAND_INS)


def test_a_faulty_value_is_left_to_its_default_or_to_a_stand_in() -> None:
    faults = [{"loc": ("zone",), "type": WRONG}, {"loc": ("berth",), "type": WRONG}]
    assert set_right({"zone": "Nowhere", "berth": 3, "name": "A"}, faults, "p") == {"zone": "UTC", "name": "A"}


def test_no_two_stand_in_topics_meet_and_what_was_written_stays_as_it_was() -> None:
    written = {"topic": 1}
    mended = [set_right(written, [{"loc": ("topic",), "type": WRONG}], place) for place in ("one", "other")]
    assert mended[0] != mended[1]
    assert written == {"topic": 1}


def test_a_fault_of_the_whole_table_is_not_set_right() -> None:
    assert set_right({"a": 1}, [{"loc": (), "type": WRONG}], "p") is None
