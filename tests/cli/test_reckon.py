"""`heavingline reckon`: an installer's sums, with their units, sources and cautions."""

import json
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.reckoning.asking import Choice, Instant, Quantity, Several, Sum
from gateway.reckoning.catalogue import SUMS


def told(*arguments: object) -> Result:
    return CliRunner().invoke(heavingline, ["reckon", *(str(argument) for argument in arguments)])


def plain(*arguments: object) -> Any:
    found = told(*arguments, "--json")
    assert found.exit_code in (0, 1), found.output
    return json.loads(found.stdout)


ENDURANCE = ("endurance", "--capacity-ah", 100, "--peukert-k", 1.2, "--load-a", 10)


# ---------------------------------------------------------------- what is answered


def test_an_answer_shows_inputs_result_formula_source_and_caution() -> None:
    found = told(*ENDURANCE)
    assert found.exit_code == 0
    assert found.stdout.splitlines() == [
        "How long does a full battery carry a steady load?",
        "  --capacity-ah 100  (the rated capacity)",
        "  --rated-h 20  (the hours of that rating)",
        "  --peukert-k 1.2  (the exponent)",
        "  --load-a 10  (the load)",
        "From full to empty: about 8 h (reckoned: 8.7055 h)",
        f"Formula: {SUMS['endurance'].formula}",
        f"Source: {SUMS['endurance'].source}",
        f"Caution: {SUMS['endurance'].caution}",
    ]


def test_for_programs_the_same_is_one_object_with_the_number_unrounded() -> None:
    found = plain(*ENDURANCE)
    assert found["sum"] == "endurance"
    assert found["inputs"] == {"capacity_ah": "100", "rated_h": "20", "peukert_k": "1.2", "load_a": "10"}
    (result,) = found["results"]
    assert result["value"] == pytest.approx(8.7055, abs=0.0001)
    assert (result["unit"], result["shown"], result["said"]) == ("h", "8", "about 8 h")
    assert found["source"].startswith("handbook 4.2")


def test_inches_feet_and_us_gallons_are_read_as_well_and_echoed_as_given() -> None:
    imperial = plain("hole", "--hole-in", 2, "--depth-ft", 1, "--edge", "ideal")
    metric = plain("hole", "--hole-mm", 50.8, "--depth-m", 0.3048, "--edge", "IDEAL")
    assert imperial["inputs"] == {"hole_in": "2", "depth_ft": "1", "edge": "ideal"}
    assert imperial["results"] == metric["results"]
    gallons = plain("bilge-cycle", "--pump-us-gph", 1000, "--run-s", 40, "--pause-s", 1200)
    litres = plain("bilge-cycle", "--pump-l-per-h", 3785.411784, "--run-s", 40, "--pause-s", 1200)
    assert gallons["results"] == litres["results"]


def test_a_number_is_echoed_exactly_as_it_was_written() -> None:
    assert "--air-c 20.00  (" in told("dew", "--air-c", "20.00", "--humidity-percent", "050").stdout


def test_a_negative_number_is_a_number() -> None:
    found = told("freezing-risk", "--charge-percent", 30, "--celsius", "-8")
    assert found.exit_code == 0
    assert "Battery: may freeze: charge it or warm it" in found.stdout


def test_a_time_is_told_in_the_zone_in_which_it_was_asked() -> None:
    asked = ("food", "--box", "refrigerator", "--off-since", "2026-03-09T02:00+01:00")
    assert "It is reached: about 2026-03-09 06:00+01:00" in told(*asked).stdout
    assert plain(*asked)["results"][1] == {"name": "It is reached", "at": "2026-03-09T05:00:00Z"}


def test_samples_and_fixes_are_given_one_option_each() -> None:
    samples = [word for place in range(13) for word in ("--samples", f"{place / 6},{62 - place / 3}")]
    found = told("tank-rate", *samples)
    assert found.exit_code == 0
    assert "Rate (falling 2.0 %/h): about -2.0 %/h" in found.stdout
    assert "From the last sample until 0%: about 29 h" in found.stdout
    fixes = [word for _ in range(3) for word in ("--fix", "-33.851,151.27")]
    gone = told("drift", "--centre-lat-deg", "-33.85", "--centre-lon-deg", 151.27, "--radius-m", 30, *fixes)
    assert "Boat: outside the circle" in gone.stdout
    assert "Last fix from the centre: about 112 m" in gone.stdout


def test_knowing_that_there_is_no_end_is_an_answer() -> None:
    found = told("tank-time", "--level-percent", 58, "--until-percent", 0, "--percent-per-h", 0)
    assert found.exit_code == 0
    assert "Until that level: steady" in found.stdout


# ---------------------------------------------------------------- what is not


RESTING = ("--bank-v", 13.2, "--capacity-ah", 400, "--current-a", 0, "--hours-since-charging", 12)


def test_no_answer_says_why_and_ends_with_1() -> None:
    found = told("charge", "--chemistry", "lifepo4", *RESTING)
    assert found.exit_code == 1
    assert "State of charge: not reckoned: middle of its range, ask the shunt" in found.stdout
    assert plain("charge", "--chemistry", "LiFePO4", *RESTING)["results"] == [
        {"name": "State of charge", "not_reckoned": "middle of its range, ask the shunt"}
    ]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (
            ("hole", "--hole-mm", 9000, "--depth-m", 1),
            "for --hole-mm: the hole's diameter is 9000 mm; 1 to 500 mm can be",
        ),
        (
            ("hole", "--hole-in", 20, "--depth-m", 1),
            "for --hole-in: the hole's diameter is 20 in; 0.03937 to 19.69 in can",
        ),
        (("hole", "--hole-mm", "nan", "--depth-m", 1), "for --hole-mm: 'nan' is no number"),
        (("hole", "--hole-mm", "25 mm", "--depth-m", 1), "Write it like 12.5, without the unit"),
        (("hole", "--hole-mm", 25), "Give --depth-m or --depth-ft (its depth below the water outside)."),
        (("hole",), "Give --hole-mm or --hole-in (the hole's diameter); --depth-m or --depth-ft"),
        (("hole", "--hole-mm", 25, "--hole-in", 1, "--depth-m", 1), "--hole-mm and --hole-in say the same thing twice"),
        (("cranking", "--tries", 4), "for --tries: the number of tries is 4; a whole number from 1 to 3 can be"),
        (("cranking", "--tries", 2.5), "a whole number from 1 to 3"),
        (("charge", "--chemistry", "AGM", "--bank-v", 25, "--capacity-ah", 9), "25 V is no voltage of a 12 V bank"),
        (("food", "--box", "refrigerator", "--off-since", "2026-03-09T02:00"), "is no time with a zone"),
        (("food", "--box", "refrigerator", "--off-since", "yesterday"), "is no time with a zone"),
        (("tank-rate", "--samples", "0,62"), "Give --samples 10 times or more (hour and level, as 0.5,61.8)."),
        (("tank-rate", *("--samples", "0;62") * 10), "write hour and level, as 0.5,61.8"),
        (("tank-rate", *("--samples", "0,620") * 10), "the level is 620%; 0 to 100% can be reckoned with"),
        (("hol",), "there is no sum 'hol'; did you mean \"hole\"?"),
        ((), "Name a sum, or --list to see them all."),
    ],
)
def test_wrong_use_names_the_input_and_its_range_and_ends_with_2(arguments: tuple[object, ...], says: str) -> None:
    found = told(*arguments)
    assert found.exit_code == 2
    assert says in found.stderr
    assert found.stdout == ""


# ---------------------------------------------------------------- which there are


def test_the_list_names_every_sum_with_its_question() -> None:
    found = told("--list")
    assert found.exit_code == 0
    lines = found.stdout.splitlines()
    assert len(lines) == len(SUMS)
    assert all(line.startswith(name) and line.endswith(SUMS[name].asks) for line, name in zip(lines, SUMS, strict=True))
    assert json.loads(told("--list", "--json").stdout)[0] == {"sum": "charge", "asks": SUMS["charge"].asks}


@pytest.mark.parametrize("found", SUMS.values(), ids=list(SUMS))
def test_help_names_every_input_with_its_range(found: Sum) -> None:
    helped = told(found.name, "--help")
    assert helped.exit_code == 0
    for taken in found.takes:
        assert f"--{taken.key.replace('_', '-')} " in helped.stdout
        if isinstance(taken, Quantity):
            for measure in taken.also:
                assert f"--{measure.key.replace('_', '-')} " in helped.stdout
        if isinstance(taken, Choice):
            shown = "".join(helped.stdout.split()).lower()  # however it is wrapped
            assert f"[{'|'.join(taken.options)}]".lower() in shown


def middling(found: Sum) -> list[object]:
    """Options with which a sum can be asked for: the middle of each range (of the logarithm where it spans much)."""
    words: list[object] = []
    for taken in found.takes:
        flag = f"--{taken.key.replace('_', '-')}"
        if isinstance(taken, Quantity):
            low, high = taken.lowest, taken.highest
            middle = (low * high) ** 0.5 if low > 0 else (low + high) / 2
            words += [flag, f"{round(middle) if taken.whole or middle > 10 else middle:f}"]
        elif isinstance(taken, Choice):
            words += [flag, taken.options[0]]
        elif isinstance(taken, Instant):
            words += [flag, "2026-03-09T02:00Z"]
        elif isinstance(taken, Several):
            group = ",".join("1" for _ in taken.parts)
            words += [flag, group] * taken.least
    return words


@pytest.mark.parametrize("found", SUMS.values(), ids=list(SUMS))
def test_every_sum_can_be_asked_for_at_the_bench(found: Sum) -> None:
    answered = told(found.name, *middling(found))
    assert answered.exit_code in (0, 1), answered.output
    assert f"Formula: {found.formula}" in answered.stdout
    assert f"Source: {found.source}" in answered.stdout
    assert f"Caution: {found.caution}" in answered.stdout
    as_object = plain(found.name, *middling(found))
    assert {"sum", "inputs", "results", "formula", "source", "caution"} == set(as_object)
    assert len(as_object["inputs"]) == len(found.takes)
