"""Every sum says where it comes from and takes what it names, and none of them ever raises."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gateway.reckoning.answers import NotReckoned, Reckoned
from gateway.reckoning.asking import Choice, Input, Instant, Quantity, Several, Sum
from gateway.reckoning.catalogue import SUMS
from tests.effort import tries

UNITS = ("_ah", "_h", "_a", "_v", "_l", "_s", "_m", "_mm", "_mm2", "_c", "_kw", "_deg", "_percent", "_ppm")
BARE = {"peukert_k", "bends", "tries", "celsius", "minutes", "hours_since_charging", "density_kg_per_l"}
"""Numbers without a unit, or with a name that is one."""

wild = st.one_of(st.floats(), st.sampled_from([0.0, -0.0, 1e308, 5e-324, 12.4, 50.0, 100.0]))


def of(taken: Input) -> st.SearchStrategy[Any]:
    if isinstance(taken, Quantity):
        inside = st.floats(taken.lowest, taken.highest)
        given_one = st.one_of(inside, inside, inside, wild) if not taken.whole else st.one_of(st.integers(0, 5), wild)
        return given_one if taken.needed else st.one_of(st.none(), given_one)
    if isinstance(taken, Choice):
        return st.sampled_from(taken.options)
    if isinstance(taken, Instant):
        return st.one_of(st.none(), st.integers(0, 4_000_000_000_000))
    return st.lists(
        st.tuples(*(st.floats(part.lowest, part.highest) for part in taken.parts)), min_size=taken.least
    ).map(tuple)


@pytest.mark.parametrize("found", SUMS.values(), ids=list(SUMS))
@settings(max_examples=tries(25))
@given(data=st.data())
def test_whatever_it_is_given_a_sum_answers_and_what_it_shows_is_a_plain_number(found: Sum, data: Any) -> None:
    results = found.reckon(**{taken.key: data.draw(of(taken), label=taken.key) for taken in found.takes})
    assert results
    for result in results:
        if isinstance(result.answer, Reckoned):
            assert result.answer.value == result.answer.value
            assert result.answer.shown.is_finite()
            assert result.answer.said.isascii()
        if isinstance(result.answer, NotReckoned) and result.answer.wrong_input:
            assert result.answer.wrong_input in {taken.key for taken in found.takes}


@pytest.mark.parametrize("found", SUMS.values(), ids=list(SUMS))
def test_a_sum_names_the_handbooks_section_and_ends_its_question(found: Sum) -> None:
    assert found.source.startswith("handbook 4.")
    assert found.asks.endswith("?")
    assert found.formula


@pytest.mark.parametrize("found", SUMS.values(), ids=list(SUMS))
def test_every_number_carries_its_unit_in_its_name(found: Sum) -> None:
    for taken in found.takes:
        if isinstance(taken, Quantity):
            assert taken.key in BARE or taken.key.endswith((*UNITS, "_per_h")), taken.key
            assert all(measure.key.endswith(("_ft", "_in", "_us_gph")) for measure in taken.also)


@pytest.mark.parametrize("found", SUMS.values(), ids=list(SUMS))
def test_no_two_inputs_of_a_sum_have_one_name(found: Sum) -> None:
    keys = [taken.key for taken in found.takes]
    keys += [measure.key for taken in found.takes if isinstance(taken, Quantity) for measure in taken.also]
    assert len(keys) == len(set(keys))


def test_every_sum_says_what_it_does_not_know_and_where_work_can_hurt_that_too() -> None:
    assert [name for name, found in SUMS.items() if not found.caution] == []
    assert "local code and licensed practice" in SUMS["cable"].caution


def test_usual_values_lie_within_their_own_ranges() -> None:
    for found in SUMS.values():
        for taken in found.takes:
            if isinstance(taken, Quantity) and taken.usual is not None:
                assert taken.holds(taken.usual), (found.name, taken.key)
            if isinstance(taken, Several):
                assert taken.least >= 1
