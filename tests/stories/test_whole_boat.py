"""The whole boat of the starter in two stories: every number that her bank, tanks, cold boxes, air and place put into a
text is reckoned again from the record by formulas of the tests' own."""

from pathlib import Path

import pytest

from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.reckoning.own_sums import Reckons
from gateway.requests.settings import Sort
from tests.service.quay import SECRETS
from tests.stories.reckoned_again_whole import whole_again
from tests.stories.script import Played, differences
from tests.stories.test_numbers import LEFT_OVER, next_time
from tests.stories.whole_boat import BOAT, WholeBoat, read

STORIES = {path.stem: read(path) for path in sorted((Path(__file__).parent / "whole-boat").glob("*.txt"))}


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    folder = tmp_path_factory.mktemp("whole-story") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard("12", "agm"))
    return load(folder, person_id=lambda key: f"id-of-{key}", carried_out=frozenset(Sort), environ=SECRETS).bundle


@pytest.fixture(scope="module")
def played(bundle: Bundle) -> dict[str, tuple[WholeBoat, Played]]:
    """Each story once."""
    boats = {name: WholeBoat(bundle, story) for name, story in STORIES.items()}
    return {name: (boat, boat.play()) for name, boat in boats.items()}


def sums_in(bundle: Bundle, boat: WholeBoat, played: Played) -> list[str]:
    """Which sums the texts held, in order, after each of their numbers was reckoned again."""
    found, at = [], boat.story.begins
    for when, who, body in played.texts:
        at = next_time(when, at)
        left, sums = whole_again(body, bundle, boat.rows, at)
        assert not LEFT_OVER.search(left), (when, who, left)
        found += sums
    return found


@pytest.mark.parametrize("name", STORIES)
def test_the_story_is_told_as_it_is_written(played: dict[str, tuple[WholeBoat, Played]], name: str) -> None:
    assert differences(STORIES[name].story, played[name][1]) == []
    assert played[name][1].verified, "the fold of the record is the state that was left"


@pytest.mark.parametrize("name", STORIES)
def test_every_number_of_a_sum_comes_out_again(
    bundle: Bundle, played: dict[str, tuple[WholeBoat, Played]], name: str
) -> None:
    assert len(sums_in(bundle, *played[name])) > 5


def test_the_stories_hold_a_sum_of_every_kind(bundle: Bundle, played: dict[str, tuple[WholeBoat, Played]]) -> None:
    """But for the bilge's, which a story of the small boat holds (`water-comes-in`)."""
    keys = {key for name in STORIES for key in sums_in(bundle, *played[name])}
    assert "house bank" in keys
    assert {own.reckons for own in bundle.sums.values() if own.key in keys} == set(Reckons) - {Reckons.BILGE}


def test_a_number_that_is_a_step_off_does_not_come_out(
    bundle: Bundle, played: dict[str, tuple[WholeBoat, Played]]
) -> None:
    """Else the tests above could not fail: in each text that holds a sum, its first number is made another."""
    boat, told = played["a-cold-night-without-shore"]
    refused, at = 0, boat.story.begins
    for when, _, body in told.texts:
        at = next_time(when, at)
        for true, false in (("about 14 h", "about 15 h"), ("24 h limit about Tue 21:00", "24 h limit about Tue 22:00")):
            if true in body:
                with pytest.raises(AssertionError):
                    whole_again(body.replace(true, false), bundle, boat.rows, at)
                refused += 1
    assert refused >= 3
