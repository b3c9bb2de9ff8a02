"""The whole boat of the starter against the handbook's own figures: limits and delays of section 3 row by row, and the
decision vectors of 5.5 that rest on what the installer writes (CHK-35, CHK-39, CHK-41).

Section 3 says of its limits that they are installers' defaults, common practice, no source, unless marked; those that
are marked name it here.
"""

import pytest

from gateway.boat.latest import Latest
from gateway.conditions.judging import Verdict, judge_strictly
from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.requests.settings import Sort
from gateway.vocabulary.moments import from_rfc3339
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import say_condition

BOAT, NOW = "grey-wagtail", from_rfc3339("2026-03-09T03:00:00Z")

LEAD_12_V = {
    "bilge-high": "bilge-high on for 15 s",  # P01
    "bilge-pump-long": "bilge-pump on for 2 min",  # P02: 120 s
    "bilge-pump-stuck": "bilge-pump on for 5 min",  # P02: 300 s; 46 CFR 62.35-10 asks to detect excessive operation
    "bilge-pump-often": "bilge-pump started more than 3 times in the last hour",  # P03
    "bilge-pump-very-often": "bilge-pump started more than 6 times in the last hour",  # P03
    "shore-lost": "shore off for 5 min",  # P04
    "reverse-polarity": "reverse-polarity on for 5 s",  # P05
    "earth-fault": "earth-fault on for 5 s",  # P05
    "shore-volts-high": "shore-volts above 253 V for 1 min",  # P06
    "house-low": "house-volts below 12.0 V for 10 min",  # P07a
    "house-critical": "house-volts below 11.6 V for 5 min",  # P07a
    "house-empty": "house-volts below 10.8 V for 1 min",  # P07a
    "start-low": "start-volts below 12.4 V for 30 min",  # P08
    "start-critical": "start-volts below 12.2 V for 30 min",  # P08
    "charger-fault": "charger-fault on for 10 min",  # P09
    "inverter-fault": "inverter-fault on for 10 s",  # P10
    "inverter-overload": "inverter-load above 100 % for 1 min",  # P10
    "fridge-warm": "fridge-temperature above 5 C for 1 h",  # P14a
    "fridge-hot": "fridge-temperature above 8 C for 2 h",  # P14a
    "freezer-warm": "freezer-temperature above -12 C for 1 h",  # P14b
    "freezer-thawing": "freezer-temperature above -5 C for 1 h",  # P14b
    "water-low": "water-level below 15 % for 1 min",  # P15
    "water-pump-runs": "water-pump on for 5 min",  # P15
    "fuel-low": "fuel-level below 25 % for 1 min",  # P16
    "fuel-critical": "fuel-level below 10 % for 1 min",  # P12
    "grey-high": "grey-water above 80 % for 1 min",  # P17
    "grey-full": "grey-water above 95 % for 1 min",  # P17
    "black-high": "black-water above 75 % for 1 min",  # P18
    "black-full": "black-water above 90 % for 1 min",  # P18
    "engine-space-fire": "engine-room above 90 C for 5 s",  # P19
    "co": "co on",  # P20: 0 s
    "co-level-raised": "co-level at least 30 ppm for 5 min",  # 4.8
    "co-level-high": "co-level at least 70 ppm for 1 min",  # 4.8
    "co-level-extreme": "co-level at least 150 ppm",  # 4.8
    "gas-level-raised": "gas-level at least 10 % for 5 s",  # P21: 10 % LEL, gas suppliers' and chandlers' pages
    "gas-level-high": "gas-level at least 20 % for 5 s",  # P21: 20 to 25 % LEL
    "hatch-open": "hatch on or motion on for 45 s",  # P22
    "adrift": "3 of 5 fixes of position further than 25 m from its set position",  # P23, 4.9
    "engine-room-warm": "engine-room above 50 C for 10 min",  # P24
    "engine-room-hot": "engine-room above 60 C for 5 min",  # P24
    "frost-near": "cabin below 4 C for 1 h",  # P25
    "freezing": "cabin below 1 C for 30 min",  # P25
    "silent": "no news for 10 min",  # P26
    "silent-long": "no news for 1 h",  # P26
    "gateway-supply": "gateway-volts outside 11.5 and 15.0 V with deadband 0.2 V for 30 s",  # P27
    "gateway-supply-critical": "gateway-volts outside 10.5 and 15.8 V with deadband 0.2 V for 30 s",  # P27, ISO 8849
}

LITHIUM_12_V = {  # P07b
    "house-low": "house-charge below 30 % or house-volts below 12.8 V for 10 min",
    "house-critical": "house-charge below 15 % or house-volts below 12.0 V for 1 min",
}

BATTERIES_24_V = {
    "house-low": "house-volts below 24.0 V for 10 min",
    "house-critical": "house-volts below 23.2 V for 5 min",
    "house-empty": "house-volts below 21.6 V for 1 min",
    "start-low": "start-volts below 24.8 V for 30 min",
    "start-critical": "start-volts below 24.4 V for 30 min",
    "gateway-supply": "gateway-volts outside 23.0 and 30.0 V with deadband 0.4 V for 30 s",
    "gateway-supply-critical": "gateway-volts outside 21.0 and 31.6 V with deadband 0.4 V for 30 s",
}


def whole(tmp_path_factory: pytest.TempPathFactory, volts: str, battery: str) -> Bundle:
    folder = tmp_path_factory.mktemp("values") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard(volts, battery))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    return load(folder, person_id=str, carried_out=frozenset(Sort), environ=environ).bundle


@pytest.fixture(scope="module")
def agm(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    return whole(tmp_path_factory, "12", "agm")


@pytest.mark.parametrize(
    ("volts", "battery", "rows"),
    [
        ("12", "agm", LEAD_12_V),
        ("12", "flooded", LEAD_12_V),
        ("12", "gel", LEAD_12_V),
        ("12", "lifepo4", {**LEAD_12_V, "house-empty": None, **LITHIUM_12_V}),
        ("24", "agm", {**LEAD_12_V, **BATTERIES_24_V}),
    ],
)
def test_section_3_row_by_row(
    tmp_path_factory: pytest.TempPathFactory, volts: str, battery: str, rows: dict[str, str | None]
) -> None:
    points = whole(tmp_path_factory, volts, battery).points
    wanted = {key: sentence for key, sentence in rows.items() if sentence is not None}
    assert {key: say_condition(points[f"{BOAT}/{key}"].when) for key in wanted} == wanted


def refusals(bundle: Bundle, equipment: str, action: str, **aboard: str) -> list[str]:
    """What the installer's own interlocks of a piece say against an action, with these values seen just now."""
    latest = {}
    for name, text in aboard.items():
        key = f"{BOAT}/{name.replace('_', '-')}"
        grade = Grade.CONTACT if text in ("on", "off") else Grade.NUMBER
        latest[key] = Latest(Reading(signal=key, grade=grade, text=text), NOW, NOW)
    piece = bundle.equipment[f"{BOAT}/{equipment}"]
    judged = {lock: judge_strictly(lock.needs, BOAT, latest, bundle.signals, NOW).verdict for lock in piece.interlocks}
    return [lock.says for lock, verdict in judged.items() if action in lock.actions and verdict is not Verdict.HOLDS]


READY = {
    "fuel_level": "20.0",
    "start_volts": "12.2",
    "afloat": "on",
    "transfer_safe": "on",
    "swim_ladder": "off",
    "generator_seacock": "on",
    "generator_healthy": "on",
    "generator_lock_out": "off",
}


def test_chk_35_after_three_attempts_the_lock_out_stands_until_a_person_resets_it_at_the_set(agm: Bundle) -> None:
    assert refusals(agm, "generator", "start", **READY) == []
    locked = READY | {"generator_lock_out": "on"}
    assert refusals(agm, "generator", "start", **locked) == ["overcrank lock-out, reset at the set"]
    assert refusals(agm, "generator", "stop", **locked) == []


def test_chk_41_fuel_19_9_and_20_0_per_cent_all_else_met(agm: Bundle) -> None:
    assert refusals(agm, "generator", "start", **READY | {"fuel_level": "19.9"}) == ["fuel under 20%"]


@pytest.mark.parametrize("missing", READY)
def test_each_of_the_generators_sentences_refuses_by_itself_when_its_sensor_is_silent(
    agm: Bundle, missing: str
) -> None:
    """Handbook 5.1: unknown counts as no."""
    seen = {name: text for name, text in READY.items() if name != missing}
    assert len(refusals(agm, "generator", "start", **seen)) == 1


def test_chk_39_oil_in_the_bilge_keeps_the_pump_off_but_not_when_high_water_stands(agm: Bundle) -> None:
    """Handbook 5.4: national laws forbid a sheen (40 CFR 110.3, from memory); life and the boat come first."""
    wet = {"bilge_water": "on", "bilge_oil": "on", "house_volts": "12.6"}
    assert refusals(agm, "bilge-pump-2", "on", bilge_high="off", **wet) == ["oil in the bilge"]
    assert refusals(agm, "bilge-pump-2", "on", bilge_high="on", **wet) == []
    assert "oil" in agm.equipment[f"{BOAT}/bilge-pump-2"].caution


def test_a_bilge_pump_is_not_started_into_a_dry_bilge_nor_on_a_critical_bank(agm: Bundle) -> None:
    """ISO 8849:2021, 4.10 as extracted: a positive displacement pump bears five minutes dry. Handbook 5.2."""
    dry = {"bilge_water": "off", "bilge_oil": "off", "bilge_high": "off"}
    assert refusals(agm, "bilge-pump-2", "on", house_volts="12.6", **dry) == ["no water seen, it would run dry"]
    wet = dry | {"bilge_water": "on"}
    assert refusals(agm, "bilge-pump-2", "on", house_volts="11.5", **wet) == ["house bank under 11.6 V"]


@pytest.mark.parametrize(("celsius", "refused"), [("-0.1", True), ("0", False), ("45", False), ("45.1", True)])
def test_lead_is_charged_between_0_and_45_c(agm: Bundle, celsius: str, refused: bool) -> None:
    """Handbook 5.2."""
    against = refusals(agm, "battery-charger", "on", bank_temperature=celsius, shore="on")
    assert against == (["bank not between 0 and 45 C"] if refused else [])


def test_an_inverter_is_not_switched_onto_shore_or_generator_unless_the_transfer_is_proved(agm: Bundle) -> None:
    """Handbook 5.2."""
    on_shore = {"house_volts": "12.6", "shore": "on", "generator_running": "off"}
    assert refusals(agm, "inverter", "on", transfer_safe="off", **on_shore) == ["shore or generator on the same bus"]
    assert refusals(agm, "inverter", "on", transfer_safe="on", **on_shore) == []
    assert refusals(agm, "inverter", "on", transfer_safe="off", **on_shore | {"shore": "off"}) == []
