"""Whole nights and mornings. Each story is played by the desk alone and by the real service on real parts, and both
must tell the same people the same at the same time and command the boat alike."""

import asyncio
from pathlib import Path
from typing import Literal

import pytest

from gateway.demo.broker import kinds_here
from gateway.installation.load import load
from gateway.installation.starter import lay_down
from tests.service.quay import SECRETS, without_consent
from tests.stories.desk_alone import DeskAlone
from tests.stories.script import Story, differences, read
from tests.stories.whole import play_whole

STORIES = {path.stem: read(path) for path in sorted(Path(__file__).parent.glob("*.txt"))}

EVERY_DAY = ("a-stop-over-a-restart",)
"""By the real service every day too: a switching over a restart. What the demo plays is a night with alarms."""
ON_REAL_PARTS = [pytest.param(name, marks=() if name in EVERY_DAY else pytest.mark.long) for name in STORIES]


@pytest.fixture(params=list(STORIES))
def story(request: pytest.FixtureRequest) -> Story:
    return STORIES[request.param]


def test_every_story_has_an_alarm_a_refusal_and_a_restart(story: Story) -> None:
    told = [piece for one in story.told for piece in one.pieces]
    assert any("HAVE IT" in piece for piece in told), "an alarm"
    assert any("NOT " in piece or "not " in piece for piece in told), "a refusal"
    assert story.restarts, "a restart"


def test_the_desk_alone_plays_the_story(story: Story, tmp_path: Path) -> None:
    lay_down(tmp_path, boats=("grey-wagtail",))
    without_consent(tmp_path)
    story.change(tmp_path)
    bundle = load(tmp_path, person_id=lambda key: f"id-of-{key}", environ=SECRETS).bundle
    assert differences(story, DeskAlone(bundle, story).play()) == []


@pytest.mark.parametrize("name", ON_REAL_PARTS)
def test_the_real_service_plays_the_story(name: str, tmp_path: Path) -> None:
    story = STORIES[name]
    kind: Literal["mosquitto", "any"] = "mosquitto" if "mosquitto" in kinds_here() else "any"
    assert differences(story, asyncio.run(play_whole(story, tmp_path, kind))) == []


@pytest.mark.long
def test_the_other_broker_carries_a_story_as_well(tmp_path: Path) -> None:
    story = STORIES["found-at-the-start"]
    assert differences(story, asyncio.run(play_whole(story, tmp_path, "iotcore"))) == []
