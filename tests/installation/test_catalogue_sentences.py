"""The sentences of the starter's catalogue, each refused by itself (handbook 5.2, 5.4)."""

from pathlib import Path

import pytest

from gateway.boat.latest import Latest
from gateway.boat.settings import Carries
from gateway.conditions.judging import Verdict, judge_strictly
from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.vocabulary.moments import HOUR
from gateway.vocabulary.readings import Grade, Reading

BOAT = "grey-wagtail"
GRADES = {Carries.NUMBER: Grade.NUMBER, Carries.CONTACT: Grade.CONTACT, Carries.WORD: Grade.WORD}

WELL = {
    "afloat": "on",
    "transfer-safe": "on",
    "swim-ladder": "off",
    "generator-seacock": "on",
    "generator-healthy": "on",
    "generator-lock-out": "off",
    "generator-running": "off",
    "fuel-level": "20.0",
    "start-volts": "12.2",
    "house-volts": "12.0",
    "bank-temperature": "20",
    "shore": "on",
    "shore-amps": "10",
    "shore-volts": "207",
    "water-level": "15",
    "bilge-water": "on",
    "bilge-oil": "off",
    "bilge-high": "off",
}
"""Every value that the sentences rest on, where there is a limit just at it."""

BAD: dict[tuple[str, str], dict[str, str]] = {
    ("generator", "fuel"): {"fuel-level": "19.9"},
    ("generator", "start-battery"): {"start-volts": "12.1"},
    ("generator", "afloat"): {"afloat": "off"},
    ("generator", "transfer"): {"transfer-safe": "off"},
    ("generator", "ladder"): {"swim-ladder": "on"},
    ("generator", "seacock"): {"generator-seacock": "off"},
    ("generator", "healthy"): {"generator-healthy": "off"},
    ("generator", "lock-out"): {"generator-lock-out": "on"},
    ("refrigeration", "house-bank"): {"house-volts": "11.9"},
    ("freezer", "house-bank"): {"house-volts": "11.9"},
    ("battery-charger", "bank-temperature"): {"bank-temperature": "-1"},
    ("battery-charger", "shore"): {"shore": "off"},
    ("inverter", "house-bank"): {"house-volts": "11.9"},
    ("inverter", "transfer"): {"transfer-safe": "off"},
    ("water-heater", "shore"): {"shore": "off"},
    ("water-heater", "shore-margin"): {"shore-amps": "10.1"},
    ("water-heater", "water"): {"water-level": "14.9"},
    ("cabin-heater", "fuel"): {"fuel-level": "14.9"},
    ("cabin-heater", "house-bank"): {"house-volts": "11.9"},
    ("bilge-pump-2", "water"): {"bilge-water": "off"},
    ("bilge-pump-2", "oil"): {"bilge-oil": "on"},
    ("bilge-pump-2", "house-bank"): {"house-volts": "11.5"},
    ("frost-heater", "shore"): {"shore": "off"},
    ("frost-heater", "shore-margin"): {"shore-amps": "10.1"},
    ("dehumidifier", "shore"): {"shore": "off"},
    ("air-conditioning", "shore"): {"shore-volts": "206"},
    ("air-conditioning", "afloat"): {"afloat": "off"},
}


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    """GREY WAGTAIL on the whole 12 V standard."""
    folder: Path = tmp_path_factory.mktemp("catalogue") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard("12", "agm"))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    return load(folder, person_id=str, environ=environ).bundle


def refused(bundle: Bundle, equipment: str, **but: str | None) -> set[str]:
    """The keys of the equipment's own interlocks that stand against bringing it to life."""
    values = {**WELL, **{key.replace("_", "-"): value for key, value in but.items()}}
    latest = {}
    for key, text in values.items():
        if text is not None:
            signal = bundle.signals[f"{BOAT}/{key}"]
            reading = Reading(signal=signal.id, grade=GRADES[signal.carries], text=text, retained=False, late=False)
            latest[signal.id] = Latest(reading, HOUR, HOUR)
    piece = bundle.equipment[f"{BOAT}/{equipment}"]
    return {
        lock.key
        for lock in piece.interlocks
        if piece.pair[0] in lock.actions
        and judge_strictly(lock.needs, BOAT, latest, bundle.signals, HOUR).verdict is not Verdict.HOLDS
    }


def test_every_sentence_of_the_catalogue_is_tripped_here(bundle: Bundle) -> None:
    there = {(piece.key, lock.key) for piece in bundle.equipment.values() for lock in piece.interlocks}
    assert there == set(BAD)


@pytest.mark.parametrize("equipment", sorted({key for key, _ in BAD}))
def test_at_its_limits_nothing_is_refused(bundle: Bundle, equipment: str) -> None:
    assert refused(bundle, equipment) == set()


@pytest.mark.parametrize(("equipment", "lock"), sorted(BAD))
def test_each_sentence_of_the_catalogue_refuses_by_itself(bundle: Bundle, equipment: str, lock: str) -> None:
    but = {key.replace("-", "_"): value for key, value in BAD[equipment, lock].items()}
    assert lock in refused(bundle, equipment, **but)
    assert lock in refused(bundle, equipment, **dict.fromkeys(but))


@pytest.mark.parametrize(
    ("oil", "high", "stands"), [("on", "off", True), ("on", "on", False), ("off", "off", False), (None, "off", True)]
)
def test_chk_39_oil_keeps_the_pump_off_but_never_from_high_water(
    bundle: Bundle, oil: str | None, high: str, stands: bool
) -> None:
    """Handbook 5.5, CHK-39; 33 CFR 151.10 is why oil is not pumped, life and boat come first (handbook 5.4)."""
    assert ("oil" in refused(bundle, "bilge-pump-2", bilge_oil=oil, bilge_high=high)) is stands


def test_an_unproved_transfer_switch_lets_the_inverter_on_only_when_no_other_source_is_there(bundle: Bundle) -> None:
    assert refused(bundle, "inverter", transfer_safe="off", shore="off") == set()
    assert refused(bundle, "inverter", transfer_safe="off", shore="off", generator_running="on") == {"transfer"}
    assert refused(bundle, "inverter", transfer_safe=None, shore=None) == {"transfer"}
