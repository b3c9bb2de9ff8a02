"""A lithium bank that its guard cuts off reads 0 V: one text (handbook 3: BMS open hides bank volts)."""

from pathlib import Path

import pytest

from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from tests.desk.small_boat import BOAT
from tests.desk.test_bank_ahead import Aboard


@pytest.mark.parametrize("volts", ["12", "24"])
def test_a_bank_that_its_guard_cuts_off_is_told_as_that_and_not_as_low_and_critical_besides(
    tmp_path: Path, volts: str
) -> None:
    lay_down(tmp_path / "boat", boats=(BOAT,), built_on=whole_standard(volts, "lifepo4"))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    aboard = Aboard(load(tmp_path / "boat", person_id=lambda key: f"id-{key}", environ=environ).bundle)
    aboard.say("dc/bms-well", "on")
    aboard.live(3, current=-5.0, charge=80, voltage=13.2 * int(volts) / 12)
    for _ in range(15):
        aboard.say("dc/bms-well", "off")
        aboard.live(1, current=0, charge=80, voltage=0)
    said = {text.partition(" since")[0] for text in aboard.texts if "ouse bank" in text.partition(" since")[0]}
    assert {one.partition(": ")[2].casefold() for one in said} <= {"house bank cut off", "still house bank cut off"}
    assert said
