"""The whole boat of the starter in two stories: every number that her bank, tanks, cold boxes, air and place put into a
text is reckoned again from the record by formulas of the tests' own."""

from collections.abc import Callable
from pathlib import Path

import pytest

from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.reckoning.own_sums import Reckons
from tests.service.quay import SECRETS, without_consent
from tests.stories.reckoned_again_whole import whole_again
from tests.stories.script import Played, differences
from tests.stories.test_numbers import LEFT_OVER
from tests.stories.whole_boat import BOAT, WholeBoat, read

STORIES = {path.stem: read(path) for path in sorted((Path(__file__).parent / "whole-boat").glob("*.txt"))}


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    folder = tmp_path_factory.mktemp("whole-story") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard("12", "agm"))
    without_consent(folder)
    return load(folder, person_id=lambda key: f"id-of-{key}", environ=SECRETS).bundle


Tell = Callable[[str], tuple[WholeBoat, Played]]


@pytest.fixture(scope="module")
def tell(bundle: Bundle) -> Tell:
    """Plays a story, each once."""
    told: dict[str, tuple[WholeBoat, Played]] = {}

    def play(name: str) -> tuple[WholeBoat, Played]:
        if name not in told:
            boat = WholeBoat(bundle, STORIES[name])
            told[name] = boat, boat.play()
        return told[name]

    return play


def sums_in(bundle: Bundle, boat: WholeBoat, played: Played) -> list[str]:
    """Which sums the texts held, in order, after each of their numbers was reckoned again."""
    found = []
    for (when, who, body), at in zip(played.texts, boat.instants, strict=True):
        left, sums = whole_again(body, bundle, boat.rows, at)
        assert not LEFT_OVER.search(left), (when, who, left)
        found += sums
    return found


@pytest.mark.parametrize("name", STORIES)
def test_the_story_is_told_as_it_is_written(tell: Tell, name: str) -> None:
    _, played = tell(name)
    assert differences(STORIES[name].story, played) == []
    assert played.verified, "the fold of the record is the state that was left"


@pytest.mark.parametrize("name", STORIES)
def test_every_number_of_a_sum_comes_out_again(bundle: Bundle, tell: Tell, name: str) -> None:
    assert len(sums_in(bundle, *tell(name))) > 5


def test_the_stories_hold_a_sum_of_every_kind(bundle: Bundle, tell: Tell) -> None:
    """But for the bilge's, which a story of the small boat holds (`water-comes-in`)."""
    keys = {key for name in STORIES for key in sums_in(bundle, *tell(name))}
    assert "house bank" in keys
    assert {own.reckons for own in bundle.sums.values() if own.key in keys} == set(Reckons) - {Reckons.BILGE}


def test_a_number_that_is_a_step_off_does_not_come_out(bundle: Bundle, tell: Tell) -> None:
    """Else the tests above could not fail: in each text that holds a sum, its first number is made another."""
    boat, told = tell("a-cold-night-without-shore")
    refused = 0
    for (_, _, body), at in zip(told.texts, boat.instants, strict=True):
        for true, false in (("about 13 h", "about 14 h"), ("24 h limit about Tue 21:00", "24 h limit about Tue 22:00")):
            if true in body:
                with pytest.raises(AssertionError):
                    whole_again(body.replace(true, false), bundle, boat.rows, at)
                refused += 1
    assert refused >= 3
