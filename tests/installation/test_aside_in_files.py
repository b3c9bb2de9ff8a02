"""What the files say of alarms that hide others, are out of service, asked again, or become worse."""

import os
import shutil
from pathlib import Path

import pytest

from gateway.installation.load import Installation, load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.second_look import second_look
from gateway.vocabulary.moments import MINUTE, from_rfc3339

SMALL = Path(__file__).parent / "small"
BASE = """
[alarm.lost]
name = "Bank very low"
priority = "alarm"
when = "house-volts below 11.0 V"
clears = "house-volts above 11.2 V"
callout = "urgent"
"""
ONE = BASE.replace("lost", "one").replace("very low", "rather low").replace("11.", "11.5")


def loaded(tmp_path: Path, more: str, now: str | None = None, written: str = "2026-11-20T12:00:00Z") -> Installation:
    """Read at an instant, None without a clock; the file was last changed at another."""
    folder = Path(shutil.copytree(SMALL, tmp_path / "installation"))
    file = folder / "boats/little-stint/alarms.toml"
    callout = next(line for line in (folder / "callout.toml").read_text().splitlines() if line.startswith("["))
    name = callout.strip("[]").partition(".")[2].partition(".")[0]
    file.write_text(file.read_text() + more.replace('"urgent"', f'"{name}"'), encoding="utf-8")
    changed = from_rfc3339(written) / 1000
    os.utime(file, (changed, changed))
    at = None if now is None else from_rfc3339(now)
    return load(folder, person_id=lambda key: f"id of {key}", environ={"TOKEN": "t"}, now=at)


def refused(tmp_path: Path, more: str, now: str | None = None, written: str = "2026-11-20T12:00:00Z") -> str:
    with pytest.raises(InstallationRefused) as found:
        loaded(tmp_path, more, now, written)
    return "\n".join(str(mistake) for mistake in found.value.mistakes)


def test_all_of_it_is_read(tmp_path: Path) -> None:
    more = (
        BASE
        + 'hidden_by = ["house-low"]\nask_again = "30 min"\n'
        + 'out_of_service = { until = 2026-12-05, by = "Ruth Okell", because = "new shunt" }\n'
    )
    found = loaded(tmp_path, more)
    point = found.bundle.points["little-stint/lost"]
    assert point.hidden_by == ("little-stint/house-low",)
    assert point.ask_again == 30 * MINUTE
    assert point.out_of_service is not None
    assert point.out_of_service.until == from_rfc3339("2026-12-05T09:00:00Z")
    (said,) = [line for line in second_look(found.bundle, found.places) if "out of service" in line]
    assert "2026-12-05 09:00" in said
    assert "new shunt" in said


def test_an_alarm_that_is_not_there_hides_nothing(tmp_path: Path) -> None:
    assert "no alarm of this boat" in refused(tmp_path, BASE + 'hidden_by = ["house-lo"]\n')


def test_an_emergency_is_never_hidden(tmp_path: Path) -> None:
    more = BASE.replace('"alarm"', '"emergency"\nlatching = true') + 'hidden_by = ["house-low"]\n'
    assert "would hide an emergency" in refused(tmp_path, more)


def test_two_alarms_do_not_hide_each_other(tmp_path: Path) -> None:
    more = BASE + 'hidden_by = ["one"]\n' + ONE + 'hidden_by = ["lost"]\n'
    assert "hidden by itself" in refused(tmp_path, more)


def test_only_a_warning_becomes_an_alarm(tmp_path: Path) -> None:
    assert "only a warning" in refused(tmp_path, BASE + 'becomes_alarm_after = "1 h"\n')


@pytest.mark.parametrize("day", ['"soon"', '"2026-13-05"', "2026-12-05T09:00:00Z", "5"])
def test_a_return_date_is_a_day(tmp_path: Path, day: str) -> None:
    more = BASE + f'out_of_service = {{ until = {day}, by = "Ruth Okell", because = "x" }}\n'
    assert "is no day" in refused(tmp_path, more)


def test_a_warning_that_is_only_said_to_become_an_alarm_does_so_after_the_handbook_s_60_min(tmp_path: Path) -> None:
    warning = BASE.replace('"alarm"\nwhen', '"warning"\nwhen')
    points = loaded(tmp_path, warning + "becomes_alarm = true\n").bundle.points
    assert points["little-stint/lost"].becomes_alarm == 60 * MINUTE
    assert {key: one.becomes_alarm for key, one in points.items() if one.becomes_alarm} == {
        "little-stint/lost": 60 * MINUTE
    }, "no other, for nobody said so"


def test_only_a_warning_becomes_an_alarm_and_not_against_its_own_word(tmp_path: Path) -> None:
    assert "only a warning" in refused(tmp_path / "a", BASE + "becomes_alarm = true\n")
    warning = BASE.replace('"alarm"\nwhen', '"warning"\nwhen')
    said = refused(tmp_path / "b", warning + 'becomes_alarm = false\nbecomes_alarm_after = "1 h"\n')
    assert "keep one of the two" in said


OUT = BASE + 'out_of_service = { until = 2026-12-05, by = "Ruth Okell", because = "new shunt" }\n'
"""From 21 November on within 14 days (design rule 11)."""


def test_a_return_date_more_than_14_days_ahead_is_a_mistake_with_its_place_and_its_cure(tmp_path: Path) -> None:
    said = refused(tmp_path, OUT, now="2026-11-20T12:00:00Z")
    lines = (tmp_path / "installation/boats/little-stint/alarms.toml").read_text().splitlines()
    line = next(number for number, text in enumerate(lines, 1) if text.startswith("out_of_service"))
    assert said == (
        f"boats/little-stint/alarms.toml, line {line}: alarm.lost.out_of_service.until: is 15 days ahead, and an alarm "
        "is out of service for 14 at most; write a day up to 2026-12-04; who is still at work then writes another"
    )


@pytest.mark.parametrize(
    "now", ["2026-11-21T00:00:00Z", "2026-12-05T08:59:00Z", "2026-12-05T09:01:00Z", "2031-01-01T00:00:00Z"]
)
def test_a_return_date_within_14_days_is_none_and_one_that_has_passed_holds_up_no_start(
    tmp_path: Path, now: str
) -> None:
    assert loaded(tmp_path, OUT, now=now).bundle.points["little-stint/lost"].out_of_service is not None


def test_the_14_days_are_counted_by_the_boats_own_calendar(tmp_path: Path) -> None:
    """LITTLE STINT lies in London, an hour ahead of UTC in summer: 23:30 there is the day before by UTC no longer."""
    summer = OUT.replace("2026-12-05", "2026-07-15")
    late = {"now": "2026-06-30T23:30:00Z", "written": "2026-06-01T12:00:00Z"}  # 1 July, 00:30, by her clock
    loaded(tmp_path / "a", summer, **late)
    assert "is 15 days ahead" in refused(tmp_path / "b", summer, **(late | {"now": "2026-06-30T22:30:00Z"}))


@pytest.mark.parametrize("now", ["1970-01-01T00:03:00Z", "2026-03-01T00:00:00Z"])
def test_a_clock_that_lags_behind_the_file_s_own_time_stops_no_gateway(tmp_path: Path, now: str) -> None:
    """As one does that was not set after a night without current: no file is read before it was written."""
    assert loaded(tmp_path, OUT, now=now, written="2026-11-25T12:00:00Z")


def test_where_neither_clock_nor_file_knows_the_year_dates_are_taken_as_they_are(tmp_path: Path) -> None:
    assert loaded(tmp_path, OUT, now="1970-01-01T00:03:00Z", written="1970-01-01T00:01:00Z")


def test_check_asks_for_a_date_that_has_passed_to_be_taken_out(tmp_path: Path) -> None:
    found = loaded(tmp_path, OUT)

    def look(now: str) -> str:
        (said,) = [one for one in second_look(found.bundle, found.places, from_rfc3339(now)) if "out of service" in one]
        return said

    assert look("2026-12-05T08:59:59Z").endswith("nobody is told of it meanwhile")
    assert look("2026-12-05T09:00:00Z").endswith("it is back in service: take the table out")


@pytest.mark.parametrize(
    ("priority", "after", "told"),
    [("warning", "20 min", True), ("warning", "10 min", False), ("alarm", "20 min", False)],
)
def test_what_hides_another_later_than_that_is_told_is_named_unless_it_is_graver(
    tmp_path: Path, priority: str, after: str, told: bool
) -> None:
    """A graver one that comes later takes the place of the slighter: it has got worse."""
    more = BASE.replace('"alarm"', f'"{priority}"').replace('11.0 V"', f'11.0 V for {after}"')
    slight = BASE.replace("lost", "slight").replace('"Bank very low"', '"Bank rather low"').replace("11.", "11.5")
    slight = slight.replace('"alarm"', '"warning"').replace('11.50 V"', '11.50 V for 10 min"')
    warnings = loaded(tmp_path, more + slight + 'hidden_by = ["lost"]\n').warnings
    assert any("later than this one, so that both are told" in one for one in warnings) is told
