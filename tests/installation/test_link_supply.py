"""What feeds the link ashore, and how long the bank carries it."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from gateway.cli.commands import heavingline
from gateway.installation.link_supply import _lasts
from gateway.installation.starter import lay_down
from gateway.installation.supply_file import BankTable

BANK = """
[bank]
capacity = 440
rated_hours = 20
peukert = 1.15
limit = 50
"""


def checked(folder: Path, *more: str) -> str:
    runner = CliRunner(env={"HEAVINGLINE_CARRIER_TOKEN": "x"})
    return runner.invoke(heavingline, ["check", str(folder), *more]).output


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lay_down(tmp_path / "boats", boats=("grey-wagtail",))
    return tmp_path / "boats"


def add(folder: Path, text: str) -> None:
    file = folder / "boats/grey-wagtail/boat.toml"
    file.write_text(file.read_text(encoding="utf-8") + text, encoding="utf-8")


def test_it_is_asked_what_feeds_each_link_of_the_chain(folder: Path) -> None:
    assert "nobody has said what feeds router, modem, broker and gateway; write [supply.router]" in checked(folder)
    add(folder, '\n[supply]\nrouter = { fed_by = "own battery", amps = 0.6 }\n')
    assert "nobody has said what feeds modem, broker and gateway; write [supply.modem]" in checked(folder)


def test_what_dies_with_shore_power_is_warned_of(folder: Path) -> None:
    add(folder, '\n[supply]\nrouter = { fed_by = "shore", amps = 0.6 }\nmodem = { fed_by = "shore", amps = 0.2 }\n')
    assert "supply: router and modem dies with shore power, so no alarm of its loss leaves the boat" in checked(folder)


def test_the_standing_current_and_the_hours_it_leaves_are_reckoned(folder: Path) -> None:
    add(folder, BANK)
    add(folder, "\n[supply]\n")
    for name in ("router", "modem", "broker", "gateway"):
        add(folder, f'{name} = {{ fed_by = "house bank", amps = 1 }}\n')
    said = checked(folder)
    # 4 A is under the 20 h rate of 22 A: 440 Ah x 50 % / 4 A = 55 h, 110 h to empty (handbook 4.2, 4.3)
    assert "grey-wagtail: 4 A; from full to 50% in about 55 h, to empty in about 110 h, with nothing else on" in said
    assert "supply:" not in said


def test_without_a_bank_the_hours_are_asked_for_and_not_made_up(folder: Path) -> None:
    add(folder, '\n[supply]\nrouter = { fed_by = "house bank", amps = 0.6 }\n')
    assert "grey-wagtail: 0.6 A; how long is not known: write [bank]" in checked(folder)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("capacity = 440", "capacity = 0", "bank.capacity: is 0 Ah, which is out of range; write 1 to 100000 Ah"),
        ("peukert = 1.15", "peukert = 2", "bank.peukert: is 2"),
        ("limit = 50", 'limit = 50\ncharge = "shore"', '"shore" is a contact; name a signal that is a number'),
        ("limit = 50", 'limit = 50\namps = "shunt"', "bank.amps"),
        ("limit = 50", "limt = 50", "bank.limt: is not a known key"),
    ],
)
def test_a_wrong_bank_is_named_with_its_place(folder: Path, old: str, new: str, said: str) -> None:
    add(folder, BANK.replace(old, new))
    assert said in checked(folder)


def test_a_wrong_feed_is_named_with_what_there_is(folder: Path) -> None:
    add(folder, '\n[supply]\nrouter = { fed_by = "mains", amps = 0.6 }\n')
    mistakes = json.loads(checked(folder, "--json"))["mistakes"]
    assert [mistake["key"] for mistake in mistakes] == ["supply.router.fed_by"]


@given(st.floats(0.05, 50), st.floats(0.05, 50))
def test_more_current_never_lasts_longer(one: float, other: float) -> None:
    bank = BankTable.model_validate({"capacity": 440, "rated_hours": 20, "peukert": 1, "limit": 50})
    less, more = sorted((one, other))

    def hours(amps: float) -> float:
        said = _lasts(bank, amps)
        words = said.partition("% in ")[2].partition(",")[0].split()
        number = float(words[words.index("h") - 1]) if "h" in words else 0
        return 241 if words[0] == "more" else number + (float(words[-2]) / 60 if "min" in words else 0)

    assert hours(less) >= hours(more)
