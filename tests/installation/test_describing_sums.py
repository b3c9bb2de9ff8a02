"""What is reckoned of each boat, from what, and what is missing."""

from pathlib import Path

import pytest

from gateway.desk.bundle import Bundle
from gateway.installation.describing_sums import Rests, not_reckoned, sums
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.reckoning.own_sums import Reckons


def laid_down(folder: Path, changes: tuple[tuple[str, str, str], ...] = ()) -> Bundle:
    """GREY WAGTAIL as `new` lays her down, with what stands in her files replaced."""
    lay_down(folder, boats=("grey-wagtail",), built_on=whole_standard("12", "agm"))
    for name, old, new in changes:
        file = folder / "boats/grey-wagtail" / name
        assert old in file.read_text(), old
        file.write_text(file.read_text().replace(old, new))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    return load(folder, person_id=str, environ=environ).bundle


def rows(bundle: Bundle) -> dict[str, Rests]:
    return {row.sum: row for row in sums(bundle)}


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    return laid_down(tmp_path_factory.mktemp("sums") / "boat")


def test_every_sum_of_the_boat_and_her_bank_is_a_row(bundle: Bundle) -> None:
    assert set(rows(bundle)) == {"house bank"} | {own.key for own in bundle.sums.values()}
    assert not_reckoned(bundle, "grey-wagtail") == ()


def test_a_row_says_what_the_sum_rests_on_with_units_and_whose_texts_carry_it(bundle: Bundle) -> None:
    fuel = rows(bundle)["generator-fuel"]
    assert fuel.on == ("fuel-level (%)", "tank_l 300 L", "reserve_percent 15%", "burn_l_per_h 3 L/h")
    assert fuel.alarms == ("fuel-low", "generator-stopped", "fuel-critical")
    assert (fuel.missing, fuel.unsaid) == ((), ())
    assert rows(bundle)["fridge"].on[-1] == "box refrigerator"
    assert rows(bundle)["place"].on == ("position (from 50.0010, -5.0005)",)
    bank = rows(bundle)["house bank"]
    assert bank.on == ("house-charge (%)", "house-amps (A)", "400 Ah at 20 h", "exponent 1.15", "down to 50%")
    assert "shore-lost" in bank.alarms


def test_every_alarm_that_asks_for_a_sum_stands_at_one_row(bundle: Bundle) -> None:
    told = sorted(alarm for row in sums(bundle) for alarm in row.alarms)
    assert told == sorted(point.key for point in bundle.points.values() if point.reckon)


def test_a_figure_that_a_sum_needs_is_missing_and_one_that_it_need_not_have_is_not(tmp_path: Path) -> None:
    bare = laid_down(
        tmp_path / "bare", (("sums.toml", "pump_l_per_h = 1800", "#"), ("sums.toml", "high_water_l = 60", "#"))
    )
    bilge = rows(bare)["bilge"]
    assert bilge.missing == ("pump_l_per_h, the pump's real flow",)
    assert bilge.unsaid == ("high_water_l, the water from float on to the high-water switch",)


@pytest.mark.parametrize(
    ("without", "missing", "unsaid"),
    [
        ("amps =", (), ("amps, its current: how long it lasts",)),
        (
            "charge =",
            ("charge, the shunt's count, or volts and chemistry",),
            (),
        ),
    ],
)
def test_what_the_house_bank_lacks_is_said(
    tmp_path: Path, without: str, missing: tuple[str, ...], unsaid: tuple[str, ...]
) -> None:
    file = (laid := tmp_path / "boat") / "boats/grey-wagtail/boat.toml"
    lay_down(laid, boats=("grey-wagtail",), built_on=whole_standard("12", "agm"))
    kept = [line for line in file.read_text().splitlines() if not line.startswith(without)]
    assert len(kept) + 1 == len(file.read_text().splitlines())
    file.write_text("\n".join(kept) + "\n")
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    bank = rows(load(laid, person_id=str, environ=environ).bundle)["house bank"]
    assert (bank.missing, bank.unsaid) == (missing, unsaid)


def test_a_boat_without_sums_and_bank_has_no_row_and_none_of_the_kinds(tmp_path: Path) -> None:
    lay_down(tmp_path, boats=("little-stint",))
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
    little = load(tmp_path, person_id=str, environ=environ).bundle
    assert sums(little) == ()
    assert not_reckoned(little, "little-stint") == ("house bank", *(kind.value for kind in Reckons))
