"""The starter tells of a detector that falls silent alone, once, and of the boat alone when all of her is silent."""

import pytest

from gateway.vocabulary.happenings import ReadingsCame
from gateway.vocabulary.moments import MINUTE
from gateway.vocabulary.readings import Grade, Reading
from tests.desk.small_boat import BOAT, SILENT, Small, small, starter_bundle

DETECTORS = ("bilge-high", "fire", "co", "gas")


def aboard() -> Small:
    """GREY WAGTAIL as the starter has her."""
    boat = small(SILENT)
    boat.uses(starter_bundle())
    return boat


def goes_on(boat: Small, minutes: int, *keys: str) -> None:
    """These detectors say that all is well, every minute."""
    for _ in range(minutes):
        some = tuple(Reading(signal=f"{BOAT}/{key}", grade=Grade.CONTACT, text="off") for key in keys)
        boat.take(ReadingsCame(readings=some))
        boat.wait(MINUTE)


def standing(boat: Small) -> set[str]:
    state = boat.desk.state.standing
    return {key for key in (*[f"{d}-silent" for d in DETECTORS], "silent") if state.is_active(f"{BOAT}/{key}")}


@pytest.mark.parametrize("silent", DETECTORS)
def test_a_detector_that_falls_silent_alone_is_told_after_ten_minutes_and_three(silent: str) -> None:
    boat = aboard()
    goes_on(boat, 1, *DETECTORS)
    others = [key for key in DETECTORS if key != silent]
    goes_on(boat, 11, *others)
    assert standing(boat) == set()
    goes_on(boat, 3, *others)
    assert standing(boat) == {f"{silent}-silent"}
    goes_on(boat, 3, *DETECTORS)
    assert standing(boat) == set()


def test_when_all_is_silent_the_boat_alone_is_told_and_nothing_more_when_she_is_back() -> None:
    boat = aboard()
    goes_on(boat, 3, *DETECTORS)
    boat.wait(40 * MINUTE)
    assert standing(boat) == {"silent"}
    goes_on(boat, 6, *DETECTORS)
    assert standing(boat) == set()


def test_a_detector_that_does_not_come_back_with_the_boat_is_told() -> None:
    boat = aboard()
    goes_on(boat, 3, *DETECTORS)
    boat.wait(40 * MINUTE)
    goes_on(boat, 5, "bilge-high", "fire", "gas")
    assert standing(boat) == {"co-silent"}
