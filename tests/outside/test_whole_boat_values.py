"""The whole boat of the starter against the handbook's own figures: limits and delays of section 3 row by row, and the
decision vectors of 5.5 that rest on what the installer writes (CHK-35, CHK-39, CHK-41).

Section 3 says of its limits that they are installers' defaults, common practice, no source, unless marked; those that
are marked name it here.
"""

from decimal import Decimal

import pytest

from gateway.boat.latest import Latest
from gateway.conditions.judging import Verdict, judge_strictly
from gateway.desk.bundle import Bundle
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.vocabulary.moments import from_rfc3339
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import Condition, Gone, IsNumber, leaves_of, say_condition
from grammar.sentences import read_condition

BOAT, NOW = "grey-wagtail", from_rfc3339("2026-03-09T03:00:00Z")

LEAD_12_V = {
    "bilge-high": "bilge-high on for 15 s",  # P01
    "bilge-pump-unusual": "bilge-pump on for 45 s",  # P02: 3 x a normal run, for which 15 s is ours
    "bilge-pump-long": "bilge-pump on for 2 min",  # P02: 120 s
    "bilge-pump-stuck": "bilge-pump on for 5 min",  # P02: 300 s; 46 CFR 62.35-10 asks to detect excessive operation
    "bilge-pump-often": "bilge-pump started more than 3 times in the last hour",  # P03
    "bilge-pump-oftener": "bilge-pump started more than 2 times its mean of 7 days in the last hour"  # P03
    " and bilge-pump started more than 1 time in the last hour",
    "bilge-pump-doubling": "bilge-pump started at least 2 times as often as the hour before"  # P03
    " in each of the last 2 hours",
    "bilge-pump-very-often": "bilge-pump started more than 6 times in the last hour",  # P03
    "shore-lost": "shore off for 5 min",  # P04
    "shore-lost-bank-low": "shore off and house-volts below 12.2 V for 10 min",  # P04; 4.1: AGM 12.20 V is 50 %
    "shore-lost-freezer": "shore off and freezer-loaded on for 5 min",  # P04: an alarm with the freezer loaded
    "reverse-polarity": "reverse-polarity on for 5 s",  # P05
    "earth-fault": "earth-fault on for 5 s",  # P05
    "shore-volts-low": "shore-volts below 207 V with deadband 2 V and shore on for 1 min",  # P06, 230 V
    "shore-volts-very-low": "shore-volts below 196 V with deadband 2 V and shore on for 1 min",  # P06
    "shore-volts-high": "shore-volts above 253 V for 1 min",  # P06
    "house-low": "house-volts below 12.0 V for 10 min",  # P07a
    "house-rest-low": "house-volts below 12.2 V and house-amps between -8.0 and 8.0 A for 30 min",  # P07a: C/50
    "house-critical": "house-volts below 11.6 V for 5 min",  # P07a
    "house-empty": "house-volts below 10.8 V for 1 min",  # P07a
    "start-low": "start-volts below 12.4 V for 30 min",  # P08
    "start-critical": "start-volts below 12.2 V for 30 min",  # P08
    "charger-fault": "charger-fault on for 10 min",  # P09
    # P09: AC present, under 0.5 A and under 12.9 V for 30 min
    "charger-idle": "shore on and house-amps below 0.5 A with deadband 0.5 A"
    " and house-volts below 12.9 V with deadband 0.2 V for 30 min",
    "inverter-fault": "inverter-fault on for 10 s",  # P10
    "inverter-overload": "inverter-load above 100 % for 1 min",  # P10
    "generator-no-start": "generator-lock-out on",  # P11: at the end of the third attempt, by the set's controller
    "generator-stopped": "generator-asked on and generator-running off for 2 min",  # P12: 10 s, beyond the start (4.6)
    "generator-unasked": "generator-running on and generator-asked off for 6 min",  # P13: 60 s, beyond cool-down (4.6)
    "generator-unasked-co": "generator-running on and generator-asked off and co on for 1 min",  # P13: 60 s
    "fridge-warm": "fridge-temperature above 5 C for 1 h",  # P14a
    "fridge-hot": "fridge-temperature above 8 C for 2 h",  # P14a
    "freezer-warm": "freezer-temperature above -12 C for 1 h",  # P14b
    "freezer-thawing": "freezer-temperature above -5 C for 1 h",  # P14b
    "water-low": "water-level below 15 % for 1 min",  # P15
    "water-pump-runs": "water-pump on for 5 min",  # P15
    "water-falling": "water-level falling faster than 5 % an hour",  # P15
    "fuel-falling": "fuel-level falling faster than 2 % an hour"  # P16
    " while engine-running off and generator-running off",
    "fuel-low": "fuel-level below 25 % for 1 min",  # P16
    "fuel-critical": "fuel-level below 10 % for 1 min",  # P12
    "grey-high": "grey-water above 80 % for 1 min",  # P17
    "grey-full": "grey-water above 95 % for 1 min",  # P17
    "black-high": "black-water above 75 % for 1 min",  # P18
    "black-full": "black-water above 90 % for 1 min",  # P18
    "fire": "fire on for 2 s",  # P19: 0 to 5 s
    "gas": "gas on for 2 s",  # P21: 0 to 5 s
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
    "frost-coming": "cabin falling faster than 1 C an hour and cabin below 6 C with deadband 1 C"
    " for 1 min",  # P25; delay 2.5
    "freezing": "cabin below 1 C for 30 min",  # P25
    "silent": "no news for 10 min",  # P26
    "silent-long": "no news for 1 h",  # P26
    "gateway-supply": "gateway-volts outside 11.5 and 15.0 V with deadband 0.2 V for 30 s",  # P27
    "gateway-supply-critical": "gateway-volts outside 10.5 and 15.8 V with deadband 0.2 V for 30 s",  # P27, ISO 8849
}

GEL_12_V = {"shore-lost-bank-low": "shore off and house-volts below 12.1 V for 10 min"}  # P04; 4.1: gel 12.10 V is 50 %

LITHIUM_12_V: dict[str, str | None] = {  # P07b
    "house-rest-low": None,  # volts at rest say nothing in the middle of its range (4.1)
    "charger-idle": None,  # a full one rests (P09)
    "shore-lost-bank-low": "shore off and house-charge below 50 % for 10 min",
    "house-low": "house-charge below 30 % or house-volts below 12.8 V for 10 min",
    "house-critical": "house-charge below 15 % or house-volts below 12.0 V for 1 min",
}

BATTERIES_24_V = {  # section 3: 24 V values are twice those of 12 V
    "shore-lost-bank-low": "shore off and house-volts below 24.4 V for 10 min",
    "house-rest-low": "house-volts below 24.4 V and house-amps between -8.0 and 8.0 A for 30 min",
    "charger-idle": "shore on and house-amps below 0.5 A with deadband 0.5 A"
    " and house-volts below 25.8 V with deadband 0.4 V for 30 min",
    "house-low": "house-volts below 24.0 V for 10 min",
    "house-critical": "house-volts below 23.2 V for 5 min",
    "house-empty": "house-volts below 21.6 V for 1 min",
    "start-low": "start-volts below 24.8 V for 30 min",
    "start-critical": "start-volts below 24.4 V for 30 min",
    "gateway-supply": "gateway-volts outside 23.0 and 30.0 V with deadband 0.4 V for 30 s",
    "gateway-supply-critical": "gateway-volts outside 21.0 and 31.6 V with deadband 0.4 V for 30 s",
}


SHORE_120_V = {  # P06, with the alarm above 132 V that 230 V has not
    "shore-volts-low": "shore-volts below 114 V with deadband 1 V and shore on for 1 min",
    "shore-volts-very-low": "shore-volts below 105 V with deadband 1 V and shore on for 1 min",
    "shore-volts-high": "shore-volts above 126 V for 1 min",
    "shore-volts-very-high": "shore-volts above 132 V for 1 min",
}


def whole(tmp_path_factory: pytest.TempPathFactory, volts: str, battery: str) -> Bundle:
    folder = tmp_path_factory.mktemp("values") / "boat"
    lay_down(folder, boats=(BOAT,), built_on=whole_standard(volts, battery))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    return load(folder, person_id=str, environ=environ).bundle


@pytest.fixture(scope="module")
def agm(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    return whole(tmp_path_factory, "12", "agm")


@pytest.mark.parametrize(
    ("volts", "battery", "rows"),
    [
        ("12", "agm", LEAD_12_V),
        ("12", "flooded", LEAD_12_V),
        ("12", "gel", {**LEAD_12_V, **GEL_12_V}),
        ("12", "lifepo4", {**LEAD_12_V, "house-empty": None, **LITHIUM_12_V}),
        ("24", "agm", {**LEAD_12_V, **BATTERIES_24_V}),
        ("12", "agm-120v", {**LEAD_12_V, **SHORE_120_V}),
    ],
)
def test_section_3_row_by_row(
    tmp_path_factory: pytest.TempPathFactory, volts: str, battery: str, rows: dict[str, str | None]
) -> None:
    points = whole(tmp_path_factory, volts, battery).points
    wanted = {key: sentence for key, sentence in rows.items() if sentence is not None}
    assert {key: say_condition(points[f"{BOAT}/{key}"].when) for key in wanted} == wanted


OFF_DELAYS = {  # handbook 3 where the row names one
    "bilge-high": 60,  # P01
    "shore-lost": 60,  # P04
    "shore-lost-freezer": 60,  # P04
    "shore-volts-low": 180,  # P06
    "shore-volts-very-low": 180,  # P06
    "shore-volts-high": 180,  # P06
    "fridge-warm": 30 * 60,  # P14a
    "fridge-hot": 30 * 60,  # P14a
    "freezer-warm": 30 * 60,  # P14b as P14a
    "freezer-thawing": 30 * 60,  # P14b as P14a
}
LATCHED = {  # handbook 3: P01, P05, P11 (until a person has looked), P13 with CO as P20, P19, P20, P21
    *("bilge-high", "reverse-polarity", "earth-fault", "generator-no-start", "generator-unasked-co"),
    *("fire", "engine-space-fire", "co", "co-level-high", "co-level-extreme"),
    *("gas", "gas-level-raised", "gas-level-high"),
}


def test_off_delays_and_latches_are_those_of_section_3(agm: Bundle) -> None:
    points = {point.key: point for point in agm.points.values()}
    ends = {key: points[key].clears for key in OFF_DELAYS}
    assert {key: end.lasting // 1000 if end is not None else 0 for key, end in ends.items()} == OFF_DELAYS
    assert {key for key, point in points.items() if point.latching} == LATCHED


def test_deadbands_of_battery_volts_are_those_of_section_2_5(agm: Bundle) -> None:
    """0.2 V at 12 V (our rule, handbook 2.5)."""
    for key in ("house-low", "house-rest-low", "house-critical", "house-empty", "start-low", "start-critical"):
        point = agm.points[f"{BOAT}/{key}"]
        limits = [leaf.limit for side in (point.when, point.clears) for leaf in numbers(side)]
        assert limits[1] - limits[0] == Decimal("0.2"), key


def numbers(side: Condition | Gone | None) -> list[IsNumber]:
    """The limits of one number in a sentence."""
    return [] if side is None or isinstance(side, Gone) else [x for x in leaves_of(side) if isinstance(x, IsNumber)]


def test_fire_gas_and_a_boat_adrift_are_told_to_all_at_once_and_the_other_dangers_to_two(agm: Bundle) -> None:
    """Section 3, column "Told": P19, P21, P23 to owner, caretaker and marina office; P01, P20 to the first two."""
    at_once = {}
    for point in agm.points.values():
        plan = agm.callouts[point.callout]
        at_once[point.key] = {agm.people[person].role.value for person in plan.steps[0].tell}
    everybody = {"owner", "caretaker", "office"}
    for key in ("fire", "engine-space-fire", "gas", "gas-level-raised", "gas-level-high", "adrift"):
        assert at_once[key] == everybody, key
    for key in ("bilge-high", "co", "co-level-high", "co-level-extreme", "generator-unasked", "generator-unasked-co"):
        assert at_once[key] == {"owner", "caretaker"}, key


TOLD_IN_TURN = {  # section 3, column "Told"; K caretaker, I installer, O owner
    "reverse-polarity": [{"caretaker"}, {"installer"}],  # P05: K, I
    "earth-fault": [{"caretaker"}, {"installer"}],  # P05
    "charger-fault": [{"caretaker", "installer"}],  # P09: K, I
    "charger-idle": [{"caretaker", "installer"}],  # P09
    "gateway-supply": [{"installer", "caretaker"}],  # P27: I, K
    "gateway-supply-critical": [{"installer"}, {"caretaker"}],  # P27
    "shore-lost-freezer": [{"caretaker"}, {"owner"}],  # P04: K, O
}


@pytest.mark.parametrize("key", TOLD_IN_TURN)
def test_what_is_a_matter_of_the_wiring_is_told_to_the_installer_too(agm: Bundle, key: str) -> None:
    plan = agm.callouts[agm.points[f"{BOAT}/{key}"].callout]
    roles = [{agm.people[person].role.value for person in step.tell} for step in plan.steps]
    wanted = TOLD_IN_TURN[key]
    assert roles[: len(wanted)] == wanted
    assert agm.people[plan.steps[0].tell[0]].role.value in wanted[0]
    if len(wanted) == 2:
        assert [step.after // 60_000 for step in plan.steps] == [0, 5, 10]  # handbook 2.3, an alarm
        assert plan.repeat == 30 * 60_000
    else:
        assert [step.after // 60_000 for step in plan.steps] == [0, 30]  # handbook 2.3, a warning
        assert plan.repeat is None


def test_a_pump_that_runs_long_warns_once_whichever_of_the_two_measures_comes_first(agm: Bundle) -> None:
    """P02: over 120 s, or over three normal runs."""
    assert agm.points[f"{BOAT}/bilge-pump-long"].hidden_by == (f"{BOAT}/bilge-pump-unusual",)


def test_with_120_v_the_set_and_the_air_conditioning_go_by_120_v_too(tmp_path_factory: pytest.TempPathFactory) -> None:
    pieces = whole(tmp_path_factory, "12", "agm-120v").equipment
    assert str(pieces[f"{BOAT}/generator"].runs_when) == str(read_condition("generator-volts at least 108 V"))
    locks = {lock.key: say_condition(lock.needs) for lock in pieces[f"{BOAT}/air-conditioning"].interlocks}
    assert locks["shore"] == "shore on and shore-volts at least 114 V"


def test_no_point_of_the_standard_is_left_out_of_these_tables(agm: Bundle) -> None:
    """But for the supervision of detectors, which is ours and no row of section 3."""
    ours = {point.key for point in agm.points.values() if point.key.endswith("-silent")}
    assert {point.key for point in agm.points.values()} - ours == LEAD_12_V.keys()


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
