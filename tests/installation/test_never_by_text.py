"""What is never switched by text, whatever its installer writes (handbook 5.3)."""

import pytest

from gateway.installation.never_by_text import never_by_text


@pytest.mark.parametrize(
    "name",
    [
        "anchor light",
        "Anchor-Light",
        "navigation lights",
        "nav light",
        "VHF radio",
        "AIS",
        "man overboard beacon",
        "windlass",
        "bow thruster",
        "stern thruster",
        "thrusters",
        "steering",
        "davits",
        "passerelle",
        "garage door",
        "watertight door",
        "main engine",
        "port engine",
        "engines",
        "outboard",
        "petrol generator",
        "seacock",
        "sea cock 2",
        "raw water pump",
        "black water pump",
        "holding tank",
        "fire extinguisher",
        "oven",
        "battery main switch",
        "RCD reset",
        "BMS",
        "smoke detector",
        "lock-out",
        "shore power",
        "galvanic isolator",
        "Ankerlicht",
        "Topplicht",
        "Bugstrahlruder",
        "Ankerwinde",
        "Außenborder",
        "Hauptmotor",
        "Motor",
        "Seeventil",
        "Seewasserpumpe",
        "Schwarzwasserpumpe",
        "Fäkalientank",
        "Feuerlöscher",
        "Herd",
        "Batteriehauptschalter",
        "FI-Schalter",
        "Rauchmelder",
        "Landstrom",
    ],
)
def test_these_are_refused_with_a_reason(name: str) -> None:
    found = never_by_text(["harmless", name])
    assert found is not None
    assert found[0] == name
    assert found[1]


@pytest.mark.parametrize(
    "name",
    [
        "generator",
        "genset",
        "refrigeration",
        "deck lights",
        "cabin lights",
        "engine room lights",
        "bilge pump",
        "inverter",
        "heater",
        "charger",
        "water heater",
        "fridge",
        "coffee",
        "aisle light",
        "mobile hotspot",
        "Stromerzeuger",
        "Kühlschrank",
        "Deckslicht",
        "Kajütlicht",
        "Ladegerät",
        "Landstromlader",
        "Standheizung",
        "Bilgepumpe 2",
        "Waschmaschine",
        "Motorraumlüfter",
    ],
)
def test_these_are_not(name: str) -> None:
    assert never_by_text([name]) is None
