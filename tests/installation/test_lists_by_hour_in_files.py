"""Rounds of callout.toml that count at some hours, or while the boat is kept in some way."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from gateway.alarms.settings import Attendance
from gateway.cli.commands import heavingline
from gateway.installation.mistakes import InstallationRefused
from gateway.people.hours import WeekHours
from gateway.telling.settings import When
from gateway.vocabulary.moments import MINUTE
from tests.installation.small_installation import change, laid, loaded

FIRST = '{ after = "0 s", tell = ["ines", "tobias"] }'
SECOND = '{ after = "3 min", tell = ["ines"] }'


def with_rounds(folder: Path, *rounds: str) -> Path:
    small = laid(folder)
    change(small, "callout.toml", FIRST, ",\n  ".join(rounds))
    change(small, "callout.toml", f"  {SECOND},\n", "")
    return small


def warned(folder: Path, *rounds: str) -> list[str]:
    return [one.partition("danger: ")[2] for one in loaded(with_rounds(folder, *rounds)).warnings]


DAY = '{ after = "0 s", tell = ["ines", "tobias"], begins = "07:00", ends = "22:00" }'
NIGHT = '{ after = "0 s", tell = ["ines", "tobias"], begins = "22:00", ends = "07:00" }'
WEEKEND = '{ after = "0 s", tell = ["ines", "tobias"], days = ["Sat", "Sun"] }'
ABOARD = '{ after = "0 s", tell = ["ines", "tobias"], attendance = ["aboard"] }'
ASHORE = '{ after = "0 s", tell = ["tobias", "ines"], attendance = ["away", "laid up", "in the yard"] }'


def test_two_rounds_may_begin_together_where_they_count_apart(tmp_path: Path) -> None:
    steps = loaded(with_rounds(tmp_path / "i", DAY, NIGHT)).bundle.callouts["danger"].steps
    assert [step.when for step in steps] == [
        When(hours=WeekHours(begins=7 * 60, ends=22 * 60)),
        When(hours=WeekHours(begins=22 * 60, ends=7 * 60)),
    ]
    kept = loaded(with_rounds(tmp_path / "j", ABOARD, ASHORE)).bundle.callouts["danger"].steps[0].when
    assert kept == When(attendance=(Attendance.ABOARD,))


def test_a_list_that_has_somebody_at_every_hour_and_however_the_boat_is_kept_is_not_warned_of(tmp_path: Path) -> None:
    assert warned(tmp_path / "i", DAY, NIGHT) == []
    assert warned(tmp_path / "j", ABOARD, ASHORE) == []


@pytest.mark.parametrize(
    ("rounds", "says"),
    [
        ((DAY,), [f"nobody to tell {d} 22:00 to {n} 07:00" for d, n in zip(
            ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"),
            ("Tue", "Wed", "Thu", "Fri", "Sat", "Sun", "Mon"),
            strict=True,
        )]),
        ((WEEKEND,), ["nobody to tell Mon 00:00 to Sat 00:00"]),
        ((ABOARD,), [f"nobody to tell at any time, kept {kept}" for kept in ("away", "laid up", "in the yard")]),
    ],
)  # fmt: skip
def test_every_hour_and_way_of_keeping_that_has_nobody_is_named(
    tmp_path: Path, rounds: tuple[str, ...], says: list[str]
) -> None:
    cure = ": everybody of the list is told then; add a row for it"
    assert sorted(warned(tmp_path / "i", *rounds)) == sorted(f"{one}{cure}" for one in says)


def test_hours_at_which_the_first_is_told_later_are_named(tmp_path: Path) -> None:
    later = '{ after = "10 min", tell = ["ines", "tobias"] }'
    found = warned(tmp_path / "i", WEEKEND, later)
    assert found == ["nobody is told before 10 min Mon 00:00 to Sat 00:00"]


@pytest.mark.parametrize(
    ("rounds", "says"),
    [
        (('{ after = "0 s", tell = ["ines"], begins = "22:00" }',), "says no ends"),
        (('{ after = "0 s", tell = ["ines"], ends = "22:00" }',), "says no begins"),
        (('{ after = "0 s", tell = ["ines"], attendance = ["afloat"] }',), "attendance"),
        (('{ after = "0 s", tell = ["ines"], days = ["Sonntag"] }',), "days"),
        ((FIRST, FIRST), "not later than the round before"),
        ((SECOND.replace("3 min", "4 min"), DAY), "not later than the round before"),
    ],
)
def test_what_is_wrong_is_named_with_its_place(tmp_path: Path, rounds: tuple[str, ...], says: str) -> None:
    with pytest.raises(InstallationRefused) as refused:
        loaded(with_rounds(tmp_path / "i", *rounds))
    assert says in str(refused.value)
    assert "callout.toml, line" in str(refused.value)


# ---------------------------------------------------------------- the table of one hour


def typed(*arguments: object) -> Result:
    return CliRunner(env={"HEAVINGLINE_CARRIER_TOKEN": "any", "TOKEN": "any"}).invoke(
        heavingline, ["check", *[str(one) for one in arguments]]
    )


def told_at(folder: Path, at: str, kept: str = "away") -> dict[str, object]:
    """By alarm's key, who is told when."""
    found = typed(folder, "--json", "--at", at, "--kept", kept)
    return {row["alarm"]: row["told"] for row in json.loads(found.stdout)["told"]}


def test_who_is_told_at_half_past_two_on_a_sunday(tmp_path: Path) -> None:
    rounds = (
        '{ after = "0 s", tell = ["tobias"], days = ["Mon", "Tue", "Wed", "Thu", "Fri"] }',
        '{ after = "0 s", tell = ["ines"], days = ["Sat"], begins = "22:00", ends = "07:00" }',
        '{ after = "5 min", tell = ["tobias"], attendance = ["aboard"] }',
    )
    small = with_rounds(tmp_path / "i", *rounds)
    (alarm, *_) = told_at(small, "Sunday 02:30")
    assert told_at(small, "Sunday 02:30")[alarm] == {"ines": [0]}, "the night that began on Saturday"
    assert told_at(small, "Sun 02:30", "aboard")[alarm] == {"ines": [0], "tobias": [5 * MINUTE]}
    assert told_at(small, "Monday 02:30")[alarm] == {"tobias": [0]}
    assert told_at(small, "Sunday 12:00", "aboard")[alarm] == {"tobias": [5 * MINUTE]}


def test_at_one_hour_whoever_is_on_duty_stands_there_and_who_sleeps_is_marked(tmp_path: Path) -> None:
    fleet = tmp_path / "fleet"
    assert CliRunner().invoke(heavingline, ["new", str(fleet)]).exit_code == 0
    change(
        fleet,
        "callout.toml",
        '{ after = "0 min", tell = ["caretaker", "owner"] }',
        '{ after = "0 min", tell = ["duty"] }',
    )
    change(
        fleet, "people.toml", 'role = "caretaker"', 'role = "caretaker"\nquiet = { begins = "22:00", ends = "07:00" }'
    )
    people = fleet / "people.toml"
    rows = '\n[[roster]]\nwho = "tobias"\ndays = ["Sun"]\n[[roster]]\nwho = "ruth"\ndays = ["Mon", "Tue", "Wed"]\n'
    people.write_text(people.read_text() + rows)
    output = typed(fleet, "--at", "Sunday 02:30").output
    assert re.search(r"until somebody has it, on Sunday \d{4}-\d\d-\d\d 02:30, boat time, the boats kept away:", output)
    (row, *_) = [line for line in output.splitlines() if "Shore power lost" in line]
    assert "0..." in row
    by_day = typed(fleet, "--at", "Monday 12:00").output.splitlines()
    assert "0..." not in next(line for line in by_day if "Shore power lost" in line)


@pytest.mark.parametrize(
    "at", ["02:30", "Sonntag 02:30", "Sunday", "Sunday 24:00", "2026-02-30 02:30", "20261224 02:30"]
)
def test_an_hour_that_is_none_is_refused_with_what_to_write(tmp_path: Path, at: str) -> None:
    found = typed(laid(tmp_path / "i"), "--at", at)
    assert found.exit_code == 2
    assert f"--at {at}: " in found.output
