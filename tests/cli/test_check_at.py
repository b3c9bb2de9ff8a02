"""`heavingline check --at`: who is told at one hour, with dated rows of the roster, days away and stand-ins."""

import json
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from click.testing import CliRunner

from gateway.cli.checking import hour_meant
from gateway.cli.commands import heavingline
from gateway.vocabulary.moments import from_rfc3339
from tests.effort import some_of
from tests.installation.small_installation import append, change

NOW = from_rfc3339("2026-12-24T10:00:00Z")  # a Thursday
LONDON, AUCKLAND = ZoneInfo("Europe/London"), ZoneInfo("Pacific/Auckland")

ROSTER = """
[[roster]]
who = "tobias"
days = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]

[[roster]]
who = "ruth"
dates = [2026-12-24]
"""


@pytest.fixture(scope="module")
def fleet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starter, whose list of power tells whoever is on duty: Tobias on any day, Ruth on Christmas Eve. Tobias is
    away over the new year, and Ruth stands in for him."""
    folder = tmp_path_factory.mktemp("at") / "fleet"
    assert CliRunner().invoke(heavingline, ["new", str(folder)]).exit_code == 0
    change(
        folder,
        "callout.toml",
        '{ after = "0 min", tell = ["caretaker", "owner"] }',
        '{ after = "0 min", tell = ["duty"] }',
    )
    change(folder, "people.toml", "# stand_in", "stand_in")
    change(folder, "people.toml", "# away = [", 'away = [{ first = "2026-12-31", last = "2027-01-01" }]  # [')
    append(folder, "people.toml", ROSTER)
    return folder


def told(folder: Path, at: str, alarm: str) -> list[str]:
    """Who is told at once of an alarm of GREY WAGTAIL."""
    run = CliRunner(env={"HEAVINGLINE_CARRIER_TOKEN": "any"}).invoke(
        heavingline, ["check", str(folder), "--json", "--at", at]
    )
    rows = {row["alarm"]: row for row in json.loads(run.stdout)["told"] if row["boat"] == "grey-wagtail"}
    return sorted(person for person, rounds in rows[alarm]["told"].items() if 0 in rounds)


@pytest.mark.parametrize(
    ("at", "who"),
    some_of(
        [
            ("2026-12-24 02:30", ["ruth"]),  # a dated row goes before the weekdays
            ("2026-12-23 02:30", ["tobias"]),
            ("2026-12-25 02:30", ["tobias"]),
            ("2026-12-31 00:00", ["ruth"]),  # he is away, she stands in
            ("2026-12-30 23:59", ["tobias"]),
            ("2027-01-01 23:59", ["ruth"]),
            ("2027-01-02 00:00", ["tobias"]),
        ],
        3,
    ),
)
def test_a_date_counts_the_roster_of_that_day_and_whoever_stands_in(fleet: Path, at: str, who: list[str]) -> None:
    assert told(fleet, at, "shore-lost") == who


def test_of_an_emergency_whoever_is_away_is_told_as_well_as_the_stand_in(fleet: Path) -> None:
    assert {"ruth", "tobias"} <= set(told(fleet, "2026-12-31 12:00", "bilge-high"))


def test_the_heading_names_the_day_that_is_shown(fleet: Path) -> None:
    run = CliRunner(env={"HEAVINGLINE_CARRIER_TOKEN": "any"}).invoke(
        heavingline, ["check", str(fleet), "--at", "2026-12-24 02:30", "--kept", "laid up"]
    )
    assert "on Thursday 2026-12-24 02:30, boat time, the boats kept laid up:" in run.output


@pytest.mark.parametrize(
    ("at", "zone", "instant"),
    [
        ("Sunday 02:30", LONDON, "2026-12-27T02:30:00Z"),
        ("Thu 11:00", LONDON, "2026-12-24T11:00:00Z"),  # still to come today
        ("thursday 09:00", LONDON, "2026-12-31T09:00:00Z"),  # gone by today
        ("Thursday 22:00", AUCKLAND, "2026-12-24T09:00:00Z"),  # there it is 23:00 by now: next week's
        ("Friday 00:30", AUCKLAND, "2026-12-24T11:30:00Z"),
        ("2026-12-24 09:00", LONDON, "2026-12-24T09:00:00Z"),  # a date is that day, gone or not
        ("2026-10-25 01:30", LONDON, "2026-10-25T00:30:00Z"),  # comes twice: the first
    ],
)
def test_a_weekday_is_the_next_one_by_the_boats_own_clock(at: str, zone: ZoneInfo, instant: str) -> None:
    found = hour_meant(at, "away", NOW).at(zone)
    wanted = from_rfc3339(instant)
    week = 7 * 24 * 3_600_000
    assert found == (wanted + week if wanted < NOW and not at[0].isdigit() else wanted)


@pytest.mark.parametrize(
    ("at", "says"),
    [("Sunday 2:30", "names no time of day"), ("Sunday", "names no time of day"), ("tonight 02:30", "names no day")],
)
def test_an_hour_that_is_none_is_answered_with_one_that_is(fleet: Path, at: str, says: str) -> None:
    run = CliRunner().invoke(heavingline, ["check", str(fleet), "--at", at])
    assert run.exit_code != 0
    assert f"--at {at}: {says}" in run.output
    assert 'write such as "Sunday 02:30"' in run.output
