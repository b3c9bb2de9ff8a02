"""Carbon monoxide: steps, never a curve, and never an all-clear."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gateway.reckoning.monoxide import CO, Detector, Standard, detector_by_now, ppm_priority
from gateway.vocabulary.moments import DAY, MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority

ORDER = [Detector.MUST_NOT, Detector.MAY, Detector.MUST]
ppms = st.floats(0, 2_000)
times = st.integers(0, 40 * DAY)


@given(st.sampled_from(Standard), ppms, ppms, times, times)
def test_more_gas_or_more_time_is_never_less_of_an_alarm(
    standard: Standard, one_ppm: float, other_ppm: float, one: Ms, other: Ms
) -> None:
    (low, high), (short, long) = sorted((one_ppm, other_ppm)), sorted((one, other))
    less = detector_by_now(co_ppm=low, held=short, standard=standard)
    more = detector_by_now(co_ppm=high, held=long, standard=standard)
    assert ORDER.index(less) <= ORDER.index(more)
    priorities = [ppm_priority(co_ppm=low, held=short), ppm_priority(co_ppm=high, held=long)]
    gravities = [-1 if found is None else found.gravity for found in priorities]
    assert gravities[0] <= gravities[1]


@pytest.mark.parametrize(
    ("ppm", "held", "priority"),
    [
        (29.9, 30 * DAY, None),
        (30, 5 * MINUTE - 1, None),
        (30, 5 * MINUTE, Priority.WARNING),
        (69.9, 60 * MINUTE, Priority.WARNING),
        (70, 59 * SECOND, None),
        (70, 60 * SECOND, Priority.EMERGENCY),
        (149.9, 59 * SECOND, None),
        (150, 0, Priority.EMERGENCY),
    ],
)
def test_our_points_where_only_ppm_is_known(ppm: float, held: Ms, priority: Priority | None) -> None:
    assert ppm_priority(co_ppm=ppm, held=held) is priority


@pytest.mark.parametrize("standard", Standard)
def test_an_emergency_of_ours_never_comes_later_than_a_listed_detector_must(standard: Standard) -> None:
    for ppm in range(70, 1_000, 10):
        for minutes in range(0, 300, 5):
            held = minutes * MINUTE
            if detector_by_now(co_ppm=ppm, held=held, standard=standard) is Detector.MUST:
                assert ppm_priority(co_ppm=ppm, held=held) is Priority.EMERGENCY


def test_the_caution_says_that_it_kills_and_that_little_is_no_all_clear() -> None:
    assert "CARBON MONOXIDE KILLS" in CO.caution
    assert "Do not go below" in CO.caution
    assert "no all-clear" in CO.caution
