"""The clock of cold food: when it starts, when it ends, and what is never said."""

from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.cold import FOOD, Box, ColdReading, FoodLimit, clock_since, food_limit, warm_since
from gateway.vocabulary.moments import HOUR, MINUTE

FRIDGE = Box.REFRIGERATOR
readings = st.lists(st.tuples(st.booleans(), st.one_of(st.none(), st.floats(-25, 30))), min_size=1, max_size=20).map(
    lambda known: [ColdReading(place * MINUTE, *one) for place, one in enumerate(known)]
)


def test_a_supplied_box_within_its_limit_has_no_clock() -> None:
    assert clock_since([ColdReading(0, True, 4.4)], FRIDGE) is None
    assert clock_since([ColdReading(0, True, -18.0)], Box.FULL_FREEZER) is None


def test_the_clock_starts_when_the_supply_ends_however_cold_it_still_is() -> None:
    assert clock_since([ColdReading(0, True, 3.0), ColdReading(HOUR, False, 3.0)], FRIDGE) == HOUR


def test_the_clock_starts_when_a_supplied_box_leaves_its_limit() -> None:
    assert clock_since([ColdReading(0, True, 4.4), ColdReading(HOUR, True, 4.5)], FRIDGE) == HOUR
    assert clock_since([ColdReading(0, True, -17.9)], Box.HALF_FREEZER) == 0


def test_supply_alone_does_not_end_the_clock() -> None:
    back = [ColdReading(0, False, 5.0), ColdReading(HOUR, True, None), ColdReading(2 * HOUR, True, 4.6)]
    assert clock_since(back, FRIDGE) == 0
    assert clock_since([*back, ColdReading(3 * HOUR, True, 4.4)], FRIDGE) is None


def test_a_cold_box_that_is_not_supplied_keeps_its_clock() -> None:
    assert clock_since([ColdReading(0, False, 2.0), ColdReading(HOUR, False, 2.0)], FRIDGE) == 0


@given(readings)
def test_a_box_that_is_last_known_off_or_warm_always_has_a_clock(known: list[ColdReading]) -> None:
    last = known[-1]
    running = clock_since(known, FRIDGE)
    if not last.supplied or (last.celsius is not None and last.celsius > 4.4):
        assert running is not None
        assert running <= last.at
    elif last.celsius is not None:
        assert running is None


def test_warm_counts_without_a_break_and_a_gap_is_no_break() -> None:
    known = [(0, 5.0), (HOUR, 4.4), (2 * HOUR, 4.5), (3 * HOUR, None), (4 * HOUR, 9.0)]
    assert warm_since([ColdReading(at, True, celsius) for at, celsius in known]) == 2 * HOUR
    assert warm_since([ColdReading(at, True, celsius) for at, celsius in known[:2]]) is None


def test_the_first_limit_counts() -> None:
    assert food_limit(box=FRIDGE, off_since=0, warm_since=3 * HOUR) == FoodLimit(4 * HOUR, "4 h limit")
    assert food_limit(box=Box.FULL_FREEZER, off_since=0, warm_since=30 * HOUR) == FoodLimit(
        32 * HOUR, "2 h above 4.4 C"
    )
    assert food_limit(box=FRIDGE, off_since=None, warm_since=None) is None


def test_nobody_is_ever_told_that_food_is_safe() -> None:
    said = [FOOD.asks, FOOD.formula, FOOD.caution, *(taken.words for taken in FOOD.takes)]
    for box in Box:
        for off, warm in ((0, None), (None, 0), (None, None)):
            said += [str(result) for result in FOOD.reckon(box=box.value, off_since=off, warm_since=warm)]
    assert not [words for words in said if "safe" in words.lower()]
