"""The README's example of an own wording is read, fits the starter's names, and reads as it should."""

import re
from pathlib import Path

from gateway.alarms.life import AlarmState
from gateway.installation.load import load
from gateway.installation.longest_cast import NOW, scene_of
from gateway.installation.starter import lay_down
from gateway.telling.notices import AlarmTold, Situation
from gateway.vocabulary.moments import HOUR
from gateway.wording.say import say

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def test_the_example_of_an_own_wording_does_what_is_said_of_it(tmp_path: Path) -> None:
    lay_down(tmp_path / "boats")
    [example] = re.findall(r"```toml\n(\[text\.en.*?)```", README, re.DOTALL)
    (tmp_path / "boats/wording.toml").write_text(example, encoding="utf-8")
    bundle = load(
        tmp_path / "boats",
        person_id=lambda key: key,
        environ={"HEAVINGLINE_CARRIER_TOKEN": "any"},
    ).bundle
    low = Situation(
        number=17,
        point="grey-wagtail/house-low",
        state=AlarmState.UNACKNOWLEDGED,
        since=NOW - HOUR,
        measured="11.9 V",
    )
    text = say(AlarmTold(person="ines", boat="grey-wagtail", situations=(low,), others=()), scene_of(bundle))
    assert text.startswith("GREY WAGTAIL C14 reports house bank low (warning) since 03:04, 11.9 V (below 12.0 V). ")
    assert text.endswith(". To take it: Reply HAVE IT 17")
