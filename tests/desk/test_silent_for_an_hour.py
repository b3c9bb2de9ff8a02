"""A silence that lasts: a warning, then an alarm in its place, never both side by side (handbook 3, P26)."""

from pathlib import Path

import pytest

from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.vocabulary.moments import MINUTE, SECOND
from tests.desk.small_boat import BOAT, TOBIAS
from tests.desk.test_bank_ahead import Aboard


@pytest.mark.parametrize("taken", [False, True])
def test_an_hour_of_silence_is_told_as_that_and_so_is_its_end(tmp_path: Path, taken: bool) -> None:
    lay_down(tmp_path / "boat", boats=(BOAT,), built_on=whole_standard("12", "agm"))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    aboard = Aboard(load(tmp_path / "boat", person_id=lambda key: f"id-{key}", environ=environ).bundle)
    aboard.live(5, current=1, charge=90, voltage=13.2)
    aboard.small.wait(15 * MINUTE)
    assert any("boat silent since" in text for text in aboard.texts)
    if taken:
        aboard.small.texts(TOBIAS, "have it")
    aboard.small.wait(45 * MINUTE - 30 * SECOND)
    before = len(aboard.texts)
    aboard.small.wait(40 * MINUTE)
    later = aboard.texts[before:]
    assert later
    assert all("boat silent for an hour since" in text for text in later), later
    before = len(aboard.texts)
    aboard.live(2, current=1, charge=90, voltage=13.2)
    over = {text.partition(": ")[2].partition(": now OK")[0] for text in aboard.texts[before:]}
    assert over - {"boat silent" if taken else ""} == {"boat silent for an hour"}  # whoever has it hears of that, too
