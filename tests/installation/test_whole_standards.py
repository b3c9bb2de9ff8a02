"""The starter's whole boat: every row of handbook 3 and 5.2, for both voltages and four kinds of battery."""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from gateway.alarms.settings import Concerns, Point
from gateway.boat.settings import Senses
from gateway.conditions.values import meets
from gateway.installation.load import Installation, load
from gateway.installation.not_watched import not_watched
from gateway.installation.second_look import second_look
from gateway.installation.starter import lay_down, starter, whole_standard
from gateway.vocabulary.moments import MINUTE, SECOND
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsBand, IsNumber, Switch, Understood, leaves_of, say_condition

KINDS = [(volts, battery) for volts in ("12", "24") for battery in ("agm", "flooded", "gel", "lifepo4")]
E, A, W, C = Priority.EMERGENCY, Priority.ALARM, Priority.WARNING, Priority.CAUTION

ROWS: dict[str, dict[str, Priority]] = {  # handbook 3: row, and which points of ours stand for it
    "P01": {"bilge-high": E},
    "P02": {"bilge-pump-unusual": W, "bilge-pump-long": W, "bilge-pump-stuck": A},
    "P03": {"bilge-pump-often": W, "bilge-pump-oftener": W, "bilge-pump-doubling": A, "bilge-pump-very-often": A},
    "P04": {"shore-lost": W, "shore-lost-bank-low": A, "shore-lost-freezer": A},
    "P05": {"reverse-polarity": A, "earth-fault": A},
    "P06": {"shore-volts-low": W, "shore-volts-very-low": A, "shore-volts-high": W},
    "P07": {"house-low": W, "house-critical": A, "house-empty": A},
    "P08": {"start-low": W, "start-critical": A},
    "P09": {"charger-fault": W},
    "P10": {"inverter-fault": W, "inverter-overload": A},
    "P11": {"generator-no-start": A},
    "P12": {"generator-stopped": A, "fuel-critical": A},
    "P13": {"generator-unasked": A, "generator-unasked-co": E},
    "P14": {"fridge-warm": W, "fridge-hot": A, "freezer-warm": W, "freezer-thawing": A},
    "P15": {"water-low": W, "water-pump-runs": A, "water-falling": A},
    "P16": {"fuel-low": W, "fuel-falling": A},
    "P17": {"grey-high": C, "grey-full": W},
    "P18": {"black-high": C, "black-full": W},
    "P19": {"fire": E, "engine-space-fire": E},
    "P20": {"co": E, "co-level-raised": W, "co-level-high": E, "co-level-extreme": E},
    "P21": {"gas": E, "gas-level-raised": A, "gas-level-high": E},
    "P22": {"hatch-open": A},
    "P23": {"adrift": A},
    "P24": {"engine-room-warm": W, "engine-room-hot": A},
    "P25": {"frost-near": W, "frost-coming": W, "freezing": A},
    "P26": {"silent": W, "silent-long": A},
    "P27": {"gateway-supply": W, "gateway-supply-critical": A},
}

CALLED = {  # the names that crews use (common practice), and handbook 5.2
    "generator": ("gen", "genny", "genset"),
    "refrigeration": ("fridge",),
    "freezer": (),
    "battery charger": ("charger",),
    "water heater": ("hot water",),
    "cabin heater": ("heater",),
    "inverter": (),
    "bilge pump 2": (),
    "deck lights": (),
    "cabin lights": (),
    "gas valve": ("gas tap",),
    "dehumidifier": (),
    "frost heater": ("frost guard",),
    "non-essentials": ("comfort loads",),
    "horn": ("siren",),
    "air conditioning": ("aircon",),
}


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], Installation]:
    """GREY WAGTAIL as `new` lays her down, in every kind."""
    found = {}
    for kind in KINDS:
        folder = tmp_path_factory.mktemp("whole") / "-".join(kind)
        lay_down(folder, boats=("grey-wagtail",), built_on=whole_standard(*kind))
        found[kind] = load(folder, person_id=str, environ={"HEAVINGLINE_CARRIER_TOKEN": "x"})
    return found


def points(installation: Installation) -> dict[str, Point]:
    return {point.key: point for point in installation.bundle.points.values()}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_loads_without_mistake_and_leaves_nothing_to_look_at(
    whole: dict[tuple[str, str], Installation], kind: tuple[str, str]
) -> None:
    assert whole[kind].warnings == ()
    assert second_look(whole[kind].bundle, whole[kind].places) == ()
    assert not_watched(whole[kind].bundle, whole[kind].no_gas_aboard) == () or all(
        row.kind != "hazard" for row in not_watched(whole[kind].bundle, whole[kind].no_gas_aboard)
    )


@pytest.mark.parametrize("row", ROWS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_row_of_the_handbook_has_its_points_with_their_priority(
    whole: dict[tuple[str, str], Installation], kind: tuple[str, str], row: str
) -> None:
    found = points(whole[kind])
    assert {key: found[key].priority for key in ROWS[row]} == ROWS[row]


def test_every_point_says_what_it_means_what_to_do_how_it_is_told_and_how_it_is_proved(
    whole: dict[tuple[str, str], Installation],
) -> None:
    for installation in whole.values():
        for point in points(installation).values():
            assert point.means, point.id
            assert point.do, point.id
            assert point.callout, point.id
            assert point.test, point.id
            assert point.clears is not None or point.key in ("silent", "silent-long"), point.id


def test_a_battery_of_24_v_has_twice_the_limits_of_one_of_12_v(whole: dict[tuple[str, str], Installation]) -> None:
    doubled = 0
    for battery in ("agm", "flooded", "gel", "lifepo4"):
        low, high = points(whole["12", battery]), points(whole["24", battery])
        assert low.keys() == high.keys()
        for key, point in low.items():
            if key.startswith("shore-volts"):
                continue
            for ours, theirs in ((point.when, high[key].when), (point.clears, high[key].clears)):
                volts = [float(each) for each in re.findall(r"([0-9.]+) V", said(ours))]
                bands = [float(each) for each in re.findall(r"([0-9.]+) and [0-9.]+ V", said(ours))]
                assert [float(each) for each in re.findall(r"([0-9.]+) V", said(theirs))] == [2 * v for v in volts], key
                if battery != "gel" and "gateway" in key and bands:
                    assert re.findall(r"([0-9.]+) and [0-9.]+ V", said(theirs)) == [f"{2 * v:.1f}" for v in bands]
                doubled += len(volts)
    assert doubled > 40


def said(condition: object) -> str:
    return "" if condition is None or type(condition).__name__ == "Gone" else say_condition(condition)  # type: ignore[arg-type]


def test_interlocks_of_24_v_rest_on_twice_the_volts_too(whole: dict[tuple[str, str], Installation]) -> None:
    for battery in ("agm", "lifepo4"):
        low, high = whole["12", battery].bundle.equipment, whole["24", battery].bundle.equipment
        for key, piece in low.items():
            for ours, theirs in zip(piece.interlocks, high[key].interlocks, strict=True):
                for ours_said, theirs_said in (
                    (say_condition(ours.needs), say_condition(theirs.needs)),
                    (ours.says, theirs.says),
                ):
                    volts = [float(each) for each in re.findall(r"([0-9.]+) V", ours_said) if float(each) < 100]
                    doubled = [float(each) for each in re.findall(r"([0-9.]+) V", theirs_said) if float(each) < 100]
                    assert doubled == [2 * each for each in volts], ours.key


def test_lithium_goes_by_the_shunt_and_is_not_charged_in_the_cold(
    whole: dict[tuple[str, str], Installation],
) -> None:
    lithium, lead = points(whole["12", "lifepo4"]), points(whole["12", "agm"])
    assert "house-charge below 30 %" in say_condition(lithium["house-low"].when)
    assert "house-charge" not in say_condition(lead["house-low"].when)
    assert "bank-cold" in lithium
    assert "bank-cold" not in lead
    locks = {
        lock.key: lock for lock in whole["12", "lifepo4"].bundle.equipment["grey-wagtail/battery-charger"].interlocks
    }
    assert say_condition(locks["bank-temperature"].needs) == "bank-temperature between 2 and 45 C"
    assert "guard" in locks


def test_what_the_interlocks_must_know_of_is_marked(whole: dict[tuple[str, str], Installation]) -> None:
    found = points(whole["12", "agm"])
    concerned = {key: point.concerns for key, point in found.items() if point.concerns}
    assert concerned["engine-space-fire"] is Concerns.FIRE
    assert concerned["co-level-high"] is concerned["co-level-extreme"] is Concerns.CO
    assert concerned["gas-level-raised"] is concerned["gas-level-high"] is Concerns.GAS
    assert concerned["adrift"] is Concerns.DRIFT
    signals = whole["12", "agm"].bundle.signals
    people = {signal.key for signal in signals.values() if signal.senses is Senses.PERSON}
    assert people == {"hatch", "panel-in-use", "motion"}
    latched = {key for key, point in found.items() if point.latching}
    assert latched >= {key for key, point in found.items() if point.priority is E} | {"reverse-polarity", "earth-fault"}


def test_everything_of_the_catalogue_can_be_asked_for_by_all_its_names(
    whole: dict[tuple[str, str], Installation],
) -> None:
    bundle = whole["12", "agm"].bundle
    pieces = {piece.name: piece for piece in bundle.equipment.values()}
    assert set(pieces) == set(CALLED)
    for name, others in CALLED.items():
        piece = pieces[name]
        for called in (name, *others):
            text = f"{called} {piece.pair[1]}"
            assert bundle.read_text(text) == Understood(request=Switch(equipment=piece.key, action=piece.pair[1])), text


def test_the_catalogues_interlocks_stand_beside_each(whole: dict[tuple[str, str], Installation]) -> None:
    pieces = whole["12", "agm"].bundle.equipment
    locks = {piece.key: {lock.key for lock in piece.interlocks} for piece in pieces.values()}
    assert locks == {  # handbook 5.2; the general ones (G0 to G9) are built in
        "generator": {
            "fuel", "start-battery", "afloat", "transfer", "ladder", "seacock", "healthy", "lock-out",
        },
        "refrigeration": {"house-bank"},
        "freezer": {"house-bank"},
        "battery-charger": {"bank-temperature", "shore"},
        "inverter": {"house-bank", "transfer"},
        "water-heater": {"shore", "shore-margin", "water"},
        "cabin-heater": {"fuel", "house-bank"},
        "bilge-pump-2": {"water", "oil", "house-bank"},
        "deck-lights": set(),
        "cabin-lights": set(),
        "gas-valve": set(),
        "dehumidifier": {"shore"},
        "frost-heater": {"shore", "shore-margin"},
        "non-essentials": set(),
        "horn": set(),
        "air-conditioning": {"shore", "afloat"},
    }  # fmt: skip
    grave = {piece.key for piece in pieces.values() if piece.selector}
    assert grave == {"generator", "inverter", "water-heater", "frost-heater", "cabin-heater"}


PEUKERT = {"agm": (1.05, 1.15), "flooded": (1.2, 1.6), "gel": (1.1, 1.25), "lifepo4": (1.0, 1.1)}
"""Handbook 4.2, guide values of a battery retailer; it has none for LiFePO4, the range there is our choice."""


@pytest.mark.parametrize("kind", KINDS)
def test_the_bank_that_new_writes_is_one_of_the_battery_that_was_asked_for(
    whole: dict[tuple[str, str], Installation], kind: tuple[str, str]
) -> None:
    bank = whole[kind].bundle.boats["grey-wagtail"].bank
    assert bank is not None
    least, most = PEUKERT[kind[1]]
    assert least <= float(bank.peukert) <= most
    assert bank.capacity == 400
    assert bank.limit == (30 if kind[1] == "lifepo4" else 50)  # P07b; handbook 4.3
    rest = points(whole[kind]).get("house-rest-low")
    if rest is not None:
        assert f"between -{bank.capacity / 50:.1f} and {bank.capacity / 50:.1f} A" in say_condition(rest.when)  # P07a


MEASURED = re.compile(r"(-?\d+(?:\.\d+)?) (V|C|ppm|%)(?!\w)")
HELD = re.compile(r"for (\d+) (s|min)\b")


@pytest.mark.parametrize("kind", KINDS)
def test_how_a_condition_is_made_for_the_proof_does_make_it(
    whole: dict[tuple[str, str], Installation], kind: tuple[str, str]
) -> None:
    """Every value that is said to be simulated meets the point's own limit, and is held for its delay at least."""
    tried = 0
    for point in points(whole[kind]).values():
        limits = [leaf for leaf in leaves_of(point.when) if isinstance(leaf, IsNumber | IsBand)]
        for figure, unit in MEASURED.findall(point.test):
            ours = [leaf for leaf in limits if leaf.unit == unit]
            assert any(meets(leaf, Decimal(figure)) for leaf in ours), (point.id, point.test)
            tried += 1
        held = [int(count) * {"s": SECOND, "min": MINUTE}[each] for count, each in HELD.findall(point.test)]
        assert not held or max(held) >= point.when.lasting, (point.id, point.test)
    assert tried > 12


@pytest.mark.parametrize("file", sorted((starter() / "standard").glob("*.toml")), ids=lambda file: file.stem)
def test_every_figure_of_every_standard_has_its_origin_beside_it(file: Path) -> None:
    for table in re.split(r"^(?=\[)", file.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        figures = re.findall(
            r"^(?:when|clears|needs|run_limit|default_run|prove_within|minimum_\w+|step|means) = .*[0-9]",
            table,
            re.MULTILINE,
        )
        origin = re.search(r"#.*(handbook|our choice|P[0-9]{2}|limit as in|[0-9]\.[0-9]+\)|compressor)", table)
        lower = (
            re.match(r"\[(alarm|equipment)\.[\w.-]+\]", table) and file.stem == "yacht-24v-agm"
        )  # its head says: doubled
        assert not figures or origin or lower, table
