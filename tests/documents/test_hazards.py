"""The hazard table: nothing of the catalogue without its hazards, no barrier without its test.

The test of each row was seen to fail with its barrier taken out: lock-out, gas and fire, what the node looks at,
freshness, the second look at the confirmation, a restart, selector with people aboard, detectors, sentences, run limit,
a stop that is due, minimum times, attempts, cool-down, volts and the never-list.
"""

import ast

import pytest

from tests.documents.hazards import EVERYTHING, HAZARDS, TOP, Hazard, catalogue

KNOWN = catalogue()


@pytest.mark.parametrize("one", HAZARDS, ids=lambda one: f"{one.equipment[0]}: {one.cause}")
def test_the_test_that_a_hazard_names_exists(one: Hazard) -> None:
    tree = ast.parse((TOP / one.file).read_text(encoding="utf-8"))
    assert one.test in {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}


@pytest.mark.parametrize("equipment", sorted(KNOWN))
def test_each_equipment_of_the_catalogue_has_its_hazards(equipment: str) -> None:
    assert [one for one in HAZARDS if equipment in one.equipment]


@pytest.mark.parametrize("equipment", sorted(KNOWN))
def test_each_interlock_of_the_catalogue_stands_against_a_hazard(equipment: str) -> None:
    named = {lock for one in HAZARDS if equipment in one.equipment for lock in one.locks}
    assert KNOWN[equipment] <= named | _OF_ONE_CHEMISTRY


_OF_ONE_CHEMISTRY = {"guard"}
"""The lithium bank's own guard: written of the charger in two standards only, against the same hazard."""


def test_no_hazard_is_of_equipment_that_is_not_there() -> None:
    assert {key for one in HAZARDS for key in one.equipment} - {EVERYTHING} <= set(KNOWN)


def test_every_hazard_says_what_stands_against_it_by_wire_and_in_software() -> None:
    assert all(one.wired and one.software for one in HAZARDS)
