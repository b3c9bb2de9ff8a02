"""What is one situation is told as one (handbook 3, P04, P11, P12; 2.6): a pulled plug, a set that did not start."""

import pytest

from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from tests.desk.small_boat import BOAT
from tests.desk.test_bank_ahead import Aboard


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    folder = tmp_path_factory.mktemp("shore") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard("12", "agm"))
    return load(folder, person_id=lambda key: f"id-{key}", environ={"HEAVINGLINE_CARRIER_TOKEN": "x"}).bundle


@pytest.mark.parametrize(
    ("freezer", "volts", "told"),
    [
        ("off", 12.9, {"shore power lost"}),
        ("on", 12.9, {"no shore power, freezer loaded"}),
        ("off", 12.0, {"shore power lost", "no shore power, bank half empty"}),  # at 5 min, and at 10 in its place
    ],
)
def test_a_pulled_plug_is_told_once(bundle: Bundle, freezer: str, volts: float, told: set[str]) -> None:
    aboard = Aboard(bundle)
    aboard.live(5, current=1, charge=90, voltage=13.2)
    aboard.shore = False
    for _ in range(21):
        aboard.say("cold/freezer-loaded", freezer)
        aboard.say("charger/fault", "on")
        aboard.live(1, current=-12, charge=80, voltage=volts)
    names = ("shore power lost", "no shore power, freezer loaded", "no shore power, bank half empty", "charger fault")
    assert {name for name in names if any(f"{name} since" in text for text in aboard.texts)} == told
    standing = aboard.small.desk.state.standing.by_point
    shown = {
        key.partition("/")[2] for key, alarm in standing.items() if alarm.active and alarm.state == "unacknowledged"
    }
    assert len(shown & {"shore-lost", "shore-lost-freezer", "shore-lost-bank-low", "charger-fault"}) == 1


@pytest.mark.parametrize(
    ("lock_out", "told"), [("on", {"generator failed to start"}), ("off", {"generator stopped by itself"})]
)
def test_a_set_that_gave_up_is_not_told_as_one_that_stopped(bundle: Bundle, lock_out: str, told: set[str]) -> None:
    aboard = Aboard(bundle)
    for minute in range(12):
        aboard.say("generator/asked", "on" if minute > 2 else "off")
        aboard.say("generator/lock-out", lock_out if minute > 3 else "off")
        aboard.say("node/generator/state", '{"running": "off", "volts": 0, "count": 1}')
        aboard.live(1, current=-3, charge=80, voltage=12.7)
    names = ("generator failed to start", "generator stopped by itself")
    assert {name for name in names if any(name in text for text in aboard.texts)} == told
