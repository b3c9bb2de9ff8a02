"""The word "duty" on a list, and the rows of the roster behind it."""

from pathlib import Path

import pytest

from gateway.installation.load import Installation, load
from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import lay_down

ROWS = """
[[roster]]
who = "tobias"
days = ["Mon", "Tue", "Wed", "Thu", "Fri"]

[[roster]]
who = "ines"
dates = ["2026-12-24"]
begins = "18:00"
ends = "06:00"
"""


def loaded(folder: Path, rows: str) -> Installation:
    lay_down(folder, boats=("grey-wagtail",))
    lists, people = folder / "callout.toml", folder / "people.toml"
    text = lists.read_text(encoding="utf-8")
    changed = text.replace('{ after = "0 min", tell = ["caretaker"] }', '{ after = "0 min", tell = ["duty"] }', 1)
    assert changed != text
    lists.write_text(changed, encoding="utf-8")
    people.write_text(people.read_text(encoding="utf-8") + rows, encoding="utf-8")
    environ = {"HEAVINGLINE_CARRIER_TOKEN": "secret"}
    return load(folder, person_id=lambda key: f"id-{key}", environ=environ)


def test_whoever_is_on_duty_stands_on_the_list(tmp_path: Path) -> None:
    bundle = loaded(tmp_path, ROWS).bundle
    first = bundle.callouts["grey-wagtail/urgent"].steps[0]
    assert first.tell == first.by_duty == ("id-tobias", "id-ines")
    assert (bundle.roster[1].begins, bundle.roster[1].ends) == (18 * 60, 6 * 60)


def test_every_hole_of_the_week_is_named_with_file_and_line(tmp_path: Path) -> None:
    (hole,) = [line for line in loaded(tmp_path, ROWS).warnings if "on duty" in line]
    assert "people.toml, line" in hole
    assert "Sat 00:00 to Mon 00:00" in hole


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("", "nobody on the roster has grey-wagtail"),
        ('[[roster]]\nwho = "tobais"\ndays = ["Mon"]\n', 'nobody has the key "tobais"'),
        ('[[roster]]\nwho = "tobias"\n', "names no day"),
        (
            '[[roster]]\nwho = "tobias"\ndays = ["Monday"]\n',
            'is "Monday", which is none of its values; write one of "Mon",',
        ),
    ],
)
def test_a_roster_that_cannot_serve_is_refused(tmp_path: Path, rows: str, said: str) -> None:
    with pytest.raises(InstallationRefused) as refused:
        loaded(tmp_path, rows)
    assert said in str(refused.value)


@pytest.mark.parametrize("day", ['dates = ["2026-13-40"]', 'days = ["Monday"]', 'dates = ["2026-12-24", "the 25th"]'])
def test_a_bad_day_hides_no_other_mistake_of_the_roster(tmp_path: Path, day: str) -> None:
    with pytest.raises(InstallationRefused) as refused:
        loaded(tmp_path, f'[[roster]]\nwho = "tobais"\n{day}\n[[roster]]\nwho = "inse"\n')
    said = str(refused.value)
    assert 'roster (item 1).who: nobody has the key "tobais"' in said
    assert 'roster (item 2).who: nobody has the key "inse"' in said
    assert "roster (item 1).da" in said
    assert "roster (item 2): names no day" in said
    assert "roster (item 1): names no day" not in said, "it names a bad one"
