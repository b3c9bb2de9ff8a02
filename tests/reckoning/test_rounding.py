"""A number shows no more than its inputs know, and never a comforting zero."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.answers import LONGEST_H, Bound, Reckoned, hours
from gateway.reckoning.rounding import down, figures, hours_and_minutes, hours_left, nearest, up


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (29.0, "29"),
        (10.999, "10"),
        (6.0, "6"),
        (5.99, "5.75"),
        (2.704, "2.50"),
        (0.25, "0.25"),
        (9.9999999999999, "10"),
    ],
)
def test_hours_are_whole_from_six_on_and_quarters_below_and_never_more_than_reckoned(value: float, shown: str) -> None:
    assert hours_left(value) == Decimal(shown)


@given(st.floats(0, 1000))
def test_what_is_still_left_is_never_rounded_up(value: float) -> None:
    assert float(hours_left(value)) <= value + 1e-6
    assert value - float(hours_left(value)) < 1


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (10.0, "about 10 h"),
        (2.75, "about 2 h 45 min"),
        (0.5, "about 30 min"),
        (0.2, "less than 15 min"),
        (0.0, "less than 15 min"),
        (1e9, f"more than {LONGEST_H} h"),
        (float("inf"), f"more than {LONGEST_H} h"),
    ],
)
def test_hours_are_said_with_what_they_are_worth(value: float, said: str) -> None:
    assert hours(value).said == said
    assert hours(value).value == value


def test_hours_and_minutes() -> None:
    assert [hours_and_minutes(Decimal(text)) for text in ("10", "1.5", "0.75", "0")] == [
        "10 h",
        "1 h 30 min",
        "45 min",
        "0 min",
    ]


def test_nearest_down_and_up() -> None:
    tens = Decimal(10)
    assert [nearest(v, tens) for v in (63.1, 65.0, 66.0, 4.9)] == [60, 60, 70, 0]
    assert (down(-26.7, Decimal(1)), up(-26.7, Decimal(1))) == (-27, -26)
    assert str(nearest(-0.2, Decimal(1))) == "0"  # no "-0"


def test_significant_figures() -> None:
    assert [f"{figures(v, 2):f}" for v in (297.3, 58.06, 0.4304, 0.0, -8.04, 10704)] == [
        "300",
        "58",
        "0.43",
        "0",
        "-8.0",
        "11000",
    ]


def test_a_percentage_stands_close_to_its_number_and_other_units_apart() -> None:
    percent = Reckoned(value=63.1, shown=Decimal(60), unit="%")
    litres = Reckoned(value=95.0, shown=Decimal(95), unit="L/h")
    ratio = Reckoned(value=31.0, shown=Decimal("31.0"), unit="", bound=Bound.MORE_THAN)
    assert (percent.said, litres.said, ratio.said) == ("about 60%", "about 95 L/h", "more than 31.0")
