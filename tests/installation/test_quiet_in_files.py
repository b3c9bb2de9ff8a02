"""Quiet hours in people.toml."""

from pathlib import Path

import pytest

from gateway.installation.mistakes import InstallationRefused
from gateway.people.quiet import QuietHours
from tests.installation.small_installation import change, laid, loaded


def with_quiet(folder: Path, quiet: str) -> Path:
    small = laid(folder)
    change(small, "people.toml", 'role = "owner"', f'role = "owner"\nquiet = {quiet}')
    return small


def test_quiet_hours_may_run_over_midnight(tmp_path: Path) -> None:
    people = loaded(with_quiet(tmp_path / "i", '{ begins = "22:00", ends = "07:00" }')).bundle.people
    assert {one.key: one.quiet for one in people.values()} == {"ines": QuietHours(22 * 60, 7 * 60), "tobias": None}


@pytest.mark.parametrize(
    ("quiet", "says"),
    [
        ('{ begins = "20:00", ends = "08:01" }', "lasts 721 min; write 1 to 12 hours, so that by day all is told"),
        ('{ begins = "22:00", ends = "22:00" }', "lasts 24 h; write 1 to 12 hours"),
        ('{ begins = "22:00", ends = "22:59" }', "lasts 59 min; write 1 to 12 hours"),
        ('{ begins = "22:00" }', "ends"),
    ],
)
def test_too_long_too_short_or_without_an_end_is_a_mistake_with_its_cure(tmp_path: Path, quiet: str, says: str) -> None:
    with pytest.raises(InstallationRefused) as refused:
        loaded(with_quiet(tmp_path / "i", quiet))
    assert says in str(refused.value)
    assert "people.toml, line 7" in str(refused.value)
