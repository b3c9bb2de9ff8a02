"""Stand-ins and days away in people.toml."""

from datetime import date
from pathlib import Path

import pytest

from gateway.installation.mistakes import InstallationRefused
from gateway.installation.starter import lay_down
from gateway.people.away import Days
from tests.installation.small_installation import change, laid, loaded

TWO_WEEKS = 'away = [{ first = "2026-07-01", last = "2026-07-14" }]'


def with_lines(folder: Path, *lines: str, role: str = "caretaker") -> Path:
    small = laid(folder)
    change(small, "people.toml", f'role = "{role}"', "\n".join((f'role = "{role}"', *lines)))
    return small


def test_who_stands_in_and_when_somebody_is_away(tmp_path: Path) -> None:
    people = loaded(with_lines(tmp_path / "i", 'stand_in = "ines"', TWO_WEEKS)).bundle.people
    tobias = next(one for one in people.values() if one.key == "tobias")
    assert people[tobias.stand_in or ""].key == "ines"
    assert tobias.away == (Days(date(2026, 7, 1), date(2026, 7, 14)),)


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ((TWO_WEEKS,), 'nobody stands in on these days; write stand_in = "KEY" of who takes the turns'),
        (('stand_in = "innes"',), 'nobody has the key "innes"; did you mean "ines"?'),
        (('stand_in = "tobias"',), "stands in for nobody else"),
        (
            ('stand_in = "ines"', 'away = [{ first = "2026-07-14", last = "2026-07-01" }]'),
            "ends before it begins; write the first day first",
        ),
        (('stand_in = "ines"', 'away = [{ first = "July", last = "2026-07-01" }]'), "is no day"),
    ],
)
def test_what_is_wrong_is_named_with_its_place(tmp_path: Path, lines: tuple[str, ...], says: str) -> None:
    with pytest.raises(InstallationRefused) as refused:
        loaded(with_lines(tmp_path / "i", *lines))
    assert says in str(refused.value)
    assert "people.toml, line 1" in str(refused.value)


def test_a_stand_in_who_is_away_as_well_is_warned_of(tmp_path: Path) -> None:
    small = with_lines(tmp_path / "i", 'stand_in = "ines"', TWO_WEEKS)
    theirs = 'role = "owner"\nstand_in = "tobias"\naway = [{ first = "2026-07-14", last = "2026-07-20" }]'
    change(small, "people.toml", 'role = "owner"', theirs)
    found = loaded(small).warnings
    assert sum("is away as well between" in one for one in found) == 2


def test_a_stand_in_without_one_of_the_boats_is_warned_of(tmp_path: Path) -> None:
    lay_down(tmp_path)
    change(tmp_path, "people.toml", 'role = "caretaker"', 'role = "caretaker"\nstand_in = "ines"')
    assert any("ines has not salt-harrier, little-stint: tobias goes on" in one for one in loaded(tmp_path).warnings)
