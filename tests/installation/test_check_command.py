"""`heavingline new`, `add-boat` and `check`, as an installer types them, up to the first text."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gateway.cli.commands import heavingline
from gateway.desk.hub import Desk
from gateway.installation.links import without_expiry
from gateway.vocabulary.happenings import Happening, InstallationCame, LinkChanged, ReadingsCame, Started, TimeCame
from gateway.vocabulary.moments import SECOND, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.readings import Grade, Reading
from gateway.wording.say import WORDINGS
from tests.installation.small_installation import change, loaded

STANDARD = "standard/motor-yacht-12v.toml"


def typed(*arguments: object) -> Result:
    return CliRunner(env={"HEAVINGLINE_CARRIER_TOKEN": "tell-nobody"}).invoke(
        heavingline, [str(one) for one in arguments]
    )


@pytest.fixture
def fleet(tmp_path: Path) -> Path:
    assert typed("new", tmp_path / "fleet").exit_code == 0
    return tmp_path / "fleet"


@pytest.fixture(scope="module")
def untouched(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """The lines that `check` prints of a starter as it was laid down."""
    folder = tmp_path_factory.mktemp("untouched") / "fleet"
    assert typed("new", folder).exit_code == 0
    return typed("check", folder).output.splitlines()


def object_of(*arguments: object) -> dict[str, Any]:
    return dict(json.loads(typed("check", *arguments, "--json").stdout))


# ---------------------------------------------------------------- check, when all is well


def test_who_is_told_stands_in_a_table_for_each_boat_with_a_column_for_each_person(untouched: list[str]) -> None:
    lines = untouched
    start = lines.index("  salt-harrier")
    assert lines[start + 1].split() == ["priority", "alarm", "edda", "tobias", "marina", "then", "all", "every"]
    assert lines[start + 3].split() == ["emergency", "Fire", "or", "smoke", "0,", "3*", "0,", "3*", "0,", "3*", "10"]
    assert any(re.search(r"Hatch open \(only away, laid up\) +- +0, 30 +- +-", line) for line in lines)


def test_calls_and_rounds_of_whoever_is_on_duty_are_marked_in_that_table(fleet: Path) -> None:
    change(
        fleet,
        "callout.toml",
        'after = "0 min", tell = ["owner", "caretaker"]',
        'after = "0 min", tell = ["owner", "duty"]',
    )
    change(
        fleet, "callout.toml", 'after = "6 min", tell = ["office"]', 'after = "6 min", tell = ["office"], by = ["call"]'
    )
    people = fleet / "people.toml"
    people.write_text(people.read_text() + '\n[[roster]]\nwho = "tobias"\ndays = ["Mon"]\n')
    lines = typed("check", fleet).output.splitlines()
    start = lines.index("  salt-harrier")
    assert lines[start + 4].split() == ["emergency", "Carbon", "monoxide", "0,", "3*", "(0),", "3*", "6**", "10"]


def test_what_follows_when_nothing_is_done_stands_with_the_times_that_hold(fleet: Path) -> None:
    change(fleet, STANDARD, 'name = "House bank low"', 'name = "House bank low"\nbecomes_alarm = true')
    change(fleet, STANDARD, 'name = "Fire or smoke"', 'name = "Fire or smoke"\nask_again = "30 min"')
    said = " ".join(typed("check", fleet).output.split())
    assert "without a word: Bilge high water, Carbon monoxide, Gas aboard who has it" in said
    assert "asked again after 30 min without a word: Fire or smoke, every alarm" in said
    assert "becomes an alarm when nobody takes it in 50 min: Boat silent" in said
    assert "becomes an alarm when nobody takes it in 1 h: House bank low" in said
    assert "stays a warning, whoever is silent: Bilge pump runs long," in said


def test_who_may_switch_stands_with_hours_and_interlocks(untouched: list[str]) -> None:
    said = " ".join("\n".join(untouched).split())
    assert "generator start: ines, tobias; 08:00-20:00 (Tarn Creek Marina office: quiet hours), at most 4 h" in said
    assert "needs: fuel-level at least 20 %; start-volts at least 12.2 V; afloat on; transfer-safe on;" in said
    assert "deck lights off: tobias, hanno; at any time." in said


def test_what_is_not_watched_stands_a_line_for_each_reason(untouched: list[str]) -> None:
    said = " ".join("\n".join(untouched).split())
    assert "salt-harrier no alarm for: shore power, adrift," in said
    assert "its own silence is not told" not in said  # every detector of the starter is supervised


def test_the_limits_stand_as_they_will_hold(fleet: Path) -> None:
    change(fleet, "gateway.toml", "boat_a_day = 300", "boat_a_day = 120")
    said = " ".join(typed("check", fleet).output.split())
    assert "to one person 6 repeats of alarms an hour, 3 warnings and cautions an hour and 12 a day" in said
    assert "of all these 120 a day by one boat and 2000 by all boats." in said
    assert object_of(fleet)["limits"]["boat_a_day"] == 120


def test_each_kind_of_text_stands_with_its_parts_and_septets_and_without_a_price_with_where_to_write_one(
    untouched: list[str],
) -> None:
    said = " ".join("\n".join(untouched).split())
    kinds = re.search(r" 1 part: (.*?) No price is known: write price_per_part", said)
    assert kinds is not None
    taken = dict(re.findall(r"([^,]+?) (\d+)(?:, |$)", kinds[1]))
    assert taken.keys() == {called for called, _ in WORDINGS.values()}
    assert all(0 < int(septets) <= 160 for septets in taken.values())
    assert " 2 parts: " not in said


def test_a_price_by_contract_tells_what_a_text_and_the_worst_night_cost(fleet: Path) -> None:
    change(fleet, "gateway.toml", "[carrier.main]", '[carrier.main]\nprice_per_part = "0.042 EUR"')
    change(fleet, "gateway.toml", "boat_a_day = 300", "boat_a_day = 100")
    change(fleet, "gateway.toml", "all_boats_a_day = 2000", "all_boats_a_day = 250")
    said = " ".join(typed("check", fleet).output.split())
    assert 'by carrier "main" a part costs 0.042 EUR (your contract), the longest text 0.042; ' in said
    assert "let out 4.200 EUR by one boat, 10.500 by all; emergencies" in said  # 100 and 250 texts of 0.042
    [cost] = object_of(fleet)["costs"]
    assert (cost["carrier"], cost["boat_day"], cost["all_day"]) == ("main", "4.200", "10.500")


def test_one_boat_cannot_cost_more_than_the_limit_of_all_lets_out(fleet: Path) -> None:
    change(fleet, "gateway.toml", "[carrier.main]", '[carrier.main]\nprice_per_part = "0.042 EUR"')
    change(fleet, "gateway.toml", "all_boats_a_day = 2000", "all_boats_a_day = 200")
    [cost] = object_of(fleet)["costs"]
    assert (cost["boat_day"], cost["all_day"]) == ("8.400", "8.400")  # 200 texts of 0.042


def test_a_longer_name_makes_the_texts_with_it_longer(fleet: Path) -> None:
    def reset(rows: list[dict[str, Any]]) -> int:
        return next(int(row["septets"]) for row in rows if row["kind"] == "withdrawn")

    before = reset(object_of(fleet)["texts"])
    change(fleet, "boats/grey-wagtail/boat.toml", 'name = "GREY WAGTAIL"', 'name = "GREY WAGTAIL OF TARN"')
    assert reset(object_of(fleet)["texts"]) == before + len(" OF TARN")


def test_no_line_of_lists_is_wider_than_the_tables_usually_are(untouched: list[str]) -> None:
    lines = untouched
    assert max(len(line) for line in lines if line.startswith("  ")) <= 110


def test_a_broker_that_cannot_let_a_command_expire_is_a_warning_where_something_is_switched(fleet: Path) -> None:
    change(fleet, "gateway.toml", "version = 5", "version = 3")
    result = typed("check", fleet)
    assert result.exit_code == 0
    assert "Look at: gateway.toml: broker.quay.version: in MQTT 3.1.1 a command carries no expiry" in result.output
    assert list(without_expiry(loaded(fleet).brokers, {"another"})) == []


def test_a_text_that_loses_what_to_do_is_a_warning_and_no_mistake(fleet: Path) -> None:
    change(fleet, STANDARD, '"Engine space detector."', f'"{"Detector of the engine space. " * 2}"')
    result = typed("check", fleet)
    assert result.exit_code == 0
    assert re.search(
        r"Look at: standard/\S+, line \d+: alarm\.fire: the first text of .* no room for all", result.output
    )


# ---------------------------------------------------------------- --json


def test_json_is_one_object_that_always_has_the_same_keys(fleet: Path) -> None:
    keys = {"mistakes", "warnings", "told", "switching", "not_watched", "limits", "texts", "costs", "sums"}
    keys |= {"mailed_to", "differences"}
    well = object_of(fleet)
    assert set(well) == keys
    assert well["differences"] is None
    assert len(well["told"]) == 72 + 17 + 17  # the whole boat, and two of the small standard
    assert all(row["test"] for row in well["told"] if row["boat"] == "grey-wagtail")
    assert {row["boat"] for row in well["switching"]} == {"grey-wagtail", "salt-harrier", "little-stint"}
    assert well["told"][0]["told"]["ines"] == [0, 180_000]
    change(fleet, "gateway.toml", "port = 1883", "port = 0")
    ill = object_of(fleet)
    assert set(ill) == keys
    assert ill["told"] == []
    (mistake,) = ill["mistakes"]
    assert (mistake["file"], mistake["key"]) == ("gateway.toml", "broker.quay.port")
    assert isinstance(mistake["line"], int)
    assert mistake["problem"]
    assert mistake["remedy"]


def test_json_holds_no_secret_and_no_whole_number(fleet: Path) -> None:
    old = fleet.parent / "old"
    assert typed("new", old).exit_code == 0
    change(fleet, "people.toml", "900123", "900124")
    said = typed("check", fleet, "--against", old, "--json").stdout
    assert "tell-nobody" not in said
    assert "7700900" not in said.replace(" ", "")
    assert [row["what"] for row in json.loads(said)["differences"]] == ["person ines: number"]


def test_exit_codes_are_the_same_with_json(fleet: Path) -> None:
    assert typed("check", fleet, "--json").exit_code == 0
    change(fleet, "gateway.toml", "port = 1883", "port = 0")
    assert typed("check", fleet, "--json").exit_code == 1
    assert typed("check", fleet / "nowhere", "--json").exit_code == 2


# ---------------------------------------------------------------- --against


def test_against_another_folder_tells_boat_by_boat_what_changes(fleet: Path, tmp_path: Path) -> None:
    assert typed("new", tmp_path / "old").exit_code == 0
    change(fleet, STANDARD, "house-volts below 12.0 V for 10 min", "house-volts below 12.1 V for 10 min")
    said = typed("check", fleet, "--against", tmp_path / "old")
    assert said.exit_code == 0
    lines = said.output.splitlines()
    change_of = "    alarm house-low: when: house-volts below 12.0 V for 10 min -> house-volts below 12.1 V for 10 min"
    assert lines[-5:] == [
        f"What changes from {tmp_path / 'old'} to {fleet}:",
        "  grey-wagtail",
        change_of,
        "  little-stint",
        change_of,
    ]


def test_against_a_copy_nothing_changes(fleet: Path, tmp_path: Path) -> None:
    assert typed("new", tmp_path / "old").exit_code == 0
    assert (
        f"Nothing changes from {tmp_path / 'old'} to {fleet}."
        in typed("check", fleet, "--against", tmp_path / "old").output
    )


def test_mistakes_in_the_other_folder_are_named_with_it(fleet: Path, tmp_path: Path) -> None:
    assert typed("new", tmp_path / "old").exit_code == 0
    change(tmp_path / "old", "gateway.toml", "port = 1883", "port = 0")
    said = typed("check", fleet, "--against", tmp_path / "old")
    assert said.exit_code == 1
    assert f"{tmp_path / 'old'}/gateway.toml, line " in said.output


def test_another_folder_that_is_not_there_is_wrong_use(fleet: Path, tmp_path: Path) -> None:
    assert typed("check", fleet, "--against", tmp_path / "nowhere").exit_code == 2


# ---------------------------------------------------------------- add-boat


def test_add_boat_says_what_was_made_and_what_is_still_asked_for(fleet: Path) -> None:
    said = typed("add-boat", fleet, "REED BUNTING", "--built-on", "motor-yacht-12v", "--berth", "D7")
    assert said.exit_code == 0
    assert "4 files made in " in said.output
    assert 'write "reed-bunting" into the `boats`' in said.output
    assert f"heavingline check {fleet}" in said.output
    assert "list.danger: tells nobody of reed-bunting" in said.output
    assert "boats/reed-bunting/equipment.toml (handbook 5.2)" in said.output  # a berth: hours are asked for


@pytest.mark.parametrize(
    ("name", "standard", "said"),
    [("salt harrier", "motor-yacht-12v", "is taken"), ("TEAL", "motor-yacht-24v", 'did you mean "motor-yacht-12v"')],
)
def test_add_boat_refuses_what_cannot_be_as_wrong_use(fleet: Path, name: str, standard: str, said: str) -> None:
    result = typed("add-boat", fleet, name, "--built-on", standard)
    assert result.exit_code == 2
    assert said in result.output
    assert len(list((fleet / "boats").iterdir())) == 3


# ---------------------------------------------------------------- from an empty folder to the first text


def test_from_an_empty_folder_to_the_first_text_of_a_boat_of_ones_own(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    assert typed("new", folder).exit_code == 0
    assert typed("add-boat", folder, "REED BUNTING", "--built-on", "motor-yacht-12v").exit_code == 0
    assert typed("check", folder).exit_code == 1  # she is nobody's yet
    change(folder, "people.toml", 'boats = ["grey-wagtail"', 'boats = ["reed-bunting", "grey-wagtail"', everywhere=True)
    checked = typed("check", folder)
    assert checked.exit_code == 0, checked.output
    assert "No mistakes: 4 boats" in checked.output

    texts = first_texts(folder, "reed-bunting/bilge-high")
    assert [text.person for text in texts] == ["ines", "tobias"]
    assert texts[1].number == "+447700900456"
    assert texts[1].body == (
        "REED BUNTING: BILGE HIGH WATER since 03:04. Boat may be flooding. Shore lead off before you board. "
        "Nobody has it yet; Ines and you told. Reply HAVE IT 1"
    )


def first_texts(folder: Path, signal: str) -> list[SendText]:
    """What the desk alone sends when this contact closes at 03:04 and stays so."""
    desk = Desk(loaded(folder).bundle)
    now = from_rfc3339("2026-03-09T03:03:00Z")
    closed = Reading(signal=signal, grade=Grade.CONTACT, text="on", own_time=None, retained=False)
    script: list[tuple[int, Happening]] = [
        (0, InstallationCame(fingerprint=desk.bundle.fingerprint, people=tuple(desk.bundle.people))),
        (1, Started(stopped_at=None)),
        (2, LinkChanged(link="broker:quay", up=True)),
        (60 * SECOND, ReadingsCame(readings=(closed,))),
        (75 * SECOND, TimeCame()),
    ]
    sent: list[SendText] = []
    for number, (after, happening) in enumerate(script):
        turn = desk.take(happening, now + after, number.to_bytes(32, "big"))
        sent += [order for order in turn.orders if isinstance(order, SendText)]
    return sent
