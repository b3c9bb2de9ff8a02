"""Forty boats behind one mast, a marina's supply, a flood: few texts, nothing hidden."""

from functools import cache
from pathlib import Path

import pytest

from tests.desk.small_boat import starter_bundle
from tests.stories.many_boats import Fleet, ManyBoats, fleet, read
from tests.stories.script import Played, differences

STORIES = {path.stem: read(path) for path in sorted((Path(__file__).parent / "many-boats").glob("*.txt"))}

ONE_BY_ONE = [pytest.param(name, marks=pytest.mark.long if name == "flood-of-sixty" else ()) for name in STORIES]
"""Sixty points of one boat take seconds; forty boats do not."""


@cache
def told(name: str) -> tuple[Fleet, Played]:
    """The story, played once for all."""
    many: ManyBoats = STORIES[name]
    played = Fleet(fleet(starter_bundle(), many), many)
    return played, played.play()


@pytest.mark.parametrize("name", ONE_BY_ONE)
def test_the_desk_plays_the_story_of_many_boats(name: str) -> None:
    assert differences(STORIES[name].story, told(name)[1]) == []


def test_a_matter_of_many_boats_is_one_entry_and_a_reference_in_the_chain_of_each() -> None:
    played, _ = told("marina-supply-flapping")
    shared = [written.entry.n for written in played.entries if written.entry.body.get("about") == "shared matter told"]
    assert shared
    boats = {f"boat-{number}" for number in range(1, 13)}
    assert all(set(played.references()[n]) == boats for n in shared)


def test_a_matter_of_forty_boats_is_one_situation_and_no_flood() -> None:
    played, _ = told("forty-boats-behind-one-mast")
    raised = {written.entry.body["point"] for written in played.entries if written.entry.body.get("event") == "raise"}
    assert len(raised) > 10, "as many alarms of several points would be a flood"
    assert "flood-step" not in {written.entry.kind for written in played.entries}
