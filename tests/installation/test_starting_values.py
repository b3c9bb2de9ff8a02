"""Delays and deadbands where a sentence gives none, and what `check` says of them (handbook 2.5)."""

from decimal import Decimal
from pathlib import Path

import pytest

from gateway.boat.settings import Carries, Measures, Signal
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.installation.starting_values import STARTING, filled
from gateway.vocabulary.moments import MINUTE, SECOND
from grammar.meanings import Gone, say_condition
from grammar.sentences import read_clearing, read_condition
from tests.installation.small_installation import append, change, laid, loaded


def quantity(kind: Measures | None, low: int | None = 0, high: int | None = 100) -> dict[str, Signal | None]:
    one = Signal(
        id="b/x",
        boat="b",
        key="x",
        topic="t",
        unit="u",
        measures=kind,
        lowest=None if low is None else Decimal(low),
        highest=None if high is None else Decimal(high),
    )
    return {"x": one, "y": Signal(id="b/y", boat="b", key="y", topic="y", carries=Carries.CONTACT)}


@pytest.mark.parametrize(
    ("kind", "deadband", "delay"),
    [
        (Measures.FLOW, "5", "15 s"),
        (Measures.LEVEL, "5", "1 min"),
        (Measures.PRESSURE, "2", "15 s"),
        (Measures.TEMPERATURE, "1", "1 min"),
    ],
)
def test_a_sentence_without_delay_and_deadband_gets_those_of_its_kind(
    kind: Measures, deadband: str, delay: str
) -> None:
    found = filled(read_condition("x above 50 u"), None, quantity(kind))
    assert say_condition(found.when) == f"x above 50 u with deadband {deadband} u for {delay}"
    assert found.clears == Gone(lasting=STARTING[kind].delay)
    assert [key for key, _ in found.said] == ["when", "when", "clears"]


@pytest.mark.parametrize(("kind", "deadband"), [(Measures.BATTERY_12_V, "0.2"), (Measures.BATTERY_24_V, "0.4")])
def test_the_volts_of_a_battery_get_a_deadband_without_a_range_and_no_delay_which_is_said(
    kind: Measures, deadband: str
) -> None:
    found = filled(read_condition("x below 12 u"), None, quantity(kind, None, None))
    assert say_condition(found.when) == f"x below 12 u with deadband {deadband} u"
    assert found.clears is None
    no_delay, given = (text for _, text in found.said)
    assert no_delay.startswith(f"gives no delay, and a {kind.value} has no starting value: one reading raises it")
    assert given == f"gives no deadband: {deadband} u is used, the starting value for a {kind.value} (handbook 2.5)"


def test_a_battery_beside_a_level_takes_the_delay_of_the_level() -> None:
    signals = quantity(Measures.BATTERY_12_V) | {"y": quantity(Measures.LEVEL)["x"]}
    found = filled(read_condition("x below 12 u and y above 50 u"), None, signals)
    assert (found.when.lasting, found.clears) == (MINUTE, Gone(lasting=MINUTE))


@pytest.mark.parametrize(
    ("when", "clears"),
    [
        ("x above 50 u with deadband 3 u for 5 s", "gone for 5 s"),
        ("x above 50 u for 5 s", "x below 40 u for 5 s"),
        ("y on", None),
        ("no news from x for 10 min", None),
    ],
)
def test_what_is_written_stays_as_it_is_written(when: str, clears: str | None) -> None:
    end = read_clearing(clears) if clears else None
    found = filled(read_condition(when), end, quantity(Measures.LEVEL))
    assert (found.when, found.clears, found.said) == (read_condition(when), end, ())


def test_a_signal_that_does_not_say_what_it_measures_gets_nothing() -> None:
    found = filled(read_condition("x above 50 u"), None, quantity(None))
    assert (say_condition(found.when), found.clears, found.said) == ("x above 50 u", None, ())


def test_without_its_range_there_is_a_delay_and_no_deadband_and_it_is_said_why() -> None:
    found = filled(read_condition("x above 50 u"), None, quantity(Measures.LEVEL, None, None))
    assert say_condition(found.when) == "x above 50 u for 1 min"
    assert any("write lowest and highest" in text for _, text in found.said)


def test_a_sentence_of_its_own_that_clears_gets_a_delay_and_the_other_no_deadband() -> None:
    found = filled(read_condition("x above 50 u"), read_clearing("x below 45 u"), quantity(Measures.FLOW))
    assert say_condition(found.when) == "x above 50 u for 15 s"
    assert say_condition(found.clears or Gone()) == "x below 45 u for 15 s"


def test_joined_sentences_get_the_deadband_of_each_part_and_one_delay() -> None:
    found = filled(read_condition("x above 50 u and y on"), None, quantity(Measures.LEVEL))
    assert say_condition(found.when) == "x above 50 u with deadband 5 u and y on for 1 min"
    assert found.when.lasting == MINUTE


def test_a_deadband_that_would_leave_nothing_of_a_band_is_not_used() -> None:
    found = filled(
        read_condition("x outside 45 and 50 u for 5 s"), read_clearing("gone for 5 s"), quantity(Measures.LEVEL)
    )
    assert say_condition(found.when) == "x outside 45 and 50 u for 5 s"
    assert any("would leave nothing" in text for _, text in found.said)


def test_check_names_each_place_where_a_starting_value_is_used(tmp_path: Path) -> None:
    folder = laid(tmp_path / "here")
    append(
        folder,
        "boats/little-stint/signals.toml",
        '[signal.engine-room]\ntopic = "x/engine-room"\nunit = "C"\nreport_interval = "30 s"\n'
        'measures = "temperature"\nlowest = -20\nhighest = 130\n',
    )
    append(
        folder,
        "boats/little-stint/alarms.toml",
        '[alarm.hot]\nname = "Engine room hot"\npriority = "warning"\n'
        'when = "engine-room above 50 C"\ncallout = "danger"\n',
    )
    installation = loaded(folder)
    hot = installation.bundle.points["little-stint/hot"]
    assert say_condition(hot.when) == "engine-room above 50 C with deadband 1.5 C for 1 min"
    assert hot.clears == Gone(lasting=60 * SECOND)
    said = [warning for warning in installation.warnings if "alarm.hot" in warning]
    assert len(said) == 3
    assert any("gives no delay: 1 min is used, the starting value for a temperature" in text for text in said)
    assert any("gives no deadband: 1.5 C is used" in text for text in said)


def test_a_limit_that_may_come_and_go_is_named_whether_clears_is_missing_or_says_gone(tmp_path: Path) -> None:
    folder = laid(tmp_path / "here")
    change(
        folder,
        "standard/small-motor-boat.toml",
        'clears = "house-volts above 12.2 V for 60 s"',
        'clears = "gone for 60 s"',
    )
    assert any("`gone` of a limit without deadband" in warning for warning in loaded(folder).warnings)


@pytest.mark.parametrize(("clears", "told"), [("12.0", True), ("12.2", False)])
def test_what_lets_an_alarm_go_on_the_limit_that_raised_it_is_named(tmp_path: Path, clears: str, told: bool) -> None:
    folder = laid(tmp_path / "here")
    change(folder, "boats/little-stint/alarms.toml", "house-volts below 11.9 V", "house-volts below 12.0 V")
    change(folder, "standard/small-motor-boat.toml", "house-volts above 12.2 V", f"house-volts above {clears} V")
    assert any("is the limit itself" in one for one in loaded(folder).warnings) is told


@pytest.mark.parametrize(("priority", "told"), [("alarm", True), ("emergency", False)])
def test_one_reading_that_raises_is_named_where_nothing_says_what_is_measured(
    tmp_path: Path, priority: str, told: bool
) -> None:
    """But for an emergency, which may be told at once (handbook 3, P20: 0 s)."""
    folder = laid(tmp_path / "here")
    table = f'[alarm.flat]\nname = "Bank flat"\npriority = "{priority}"\nlatching = true\ncallout = "danger"\n'
    sentences = 'when = "house-volts below 10.0 V"\nclears = "house-volts above 10.5 V for 60 s"\n'
    append(folder, "boats/little-stint/alarms.toml", table + sentences)
    said = [one for one in loaded(folder).warnings if "one reading raises it" in one]
    assert bool(said) is told
    assert all("alarm.flat.when" in one and "in [signal.house-volts] what it `measures`" in one for one in said)


def test_sentences_of_the_starter_without_delay_or_deadband_get_those_of_what_is_measured(tmp_path: Path) -> None:
    """Handbook 2.5, for tanks (5 % of 100 %, 60 s), temperatures (1 % of 100 C, 60 s) and batteries (0.4 V at 24 V)."""
    lay_down(tmp_path / "boat", boats=("grey-wagtail",), built_on=whole_standard("24", "agm"))
    sentences = {"water-low": "water-level below 15 %", "freezer-warm": "freezer-temperature above -12 C"}
    sentences |= {"house-low": "house-volts below 24.0 V for 10 min"}
    tables = "".join(f'[alarm.{key}]\nwhen = "{said}"\nclears = "gone"\n' for key, said in sentences.items())
    append(tmp_path / "boat", "boats/grey-wagtail/alarms.toml", tables)
    found = load(tmp_path / "boat", person_id=str, environ={"HEAVINGLINE_CARRIER_TOKEN": "x"})
    assert {key: say_condition(found.bundle.points[f"grey-wagtail/{key}"].when) for key in sentences} == {
        "water-low": "water-level below 15 % with deadband 5 % for 1 min",
        "freezer-warm": "freezer-temperature above -12 C with deadband 1 C for 1 min",
        "house-low": "house-volts below 24.0 V with deadband 0.4 V for 10 min",
    }
    assert sum("starting value" in one for one in found.warnings) == 7
