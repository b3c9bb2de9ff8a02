"""Call-out lists: by person, and by role for the boat in alarm."""

from pathlib import Path

import pytest

from gateway.installation.starter import lay_down
from gateway.vocabulary.moments import MINUTE
from tests.installation.small_installation import append, change, laid, loaded

BY_ROLE = '["caretaker", "owner"]'


@pytest.fixture
def small(tmp_path: Path) -> Path:
    return laid(tmp_path / "installation")


def test_a_list_of_persons_is_the_same_for_every_boat_and_keeps_its_name(small: Path) -> None:
    bundle = loaded(small).bundle
    assert set(bundle.callouts) == {"danger"}
    assert {point.callout for point in bundle.points.values()} == {"danger"}


def test_a_role_stands_for_whoever_has_it_for_the_boat_in_the_order_of_the_list(small: Path) -> None:
    change(small, "callout.toml", '["ines", "tobias"]', BY_ROLE)
    bundle = loaded(small).bundle
    assert {point.callout for point in bundle.points.values()} == {"little-stint/danger"}
    assert bundle.callouts["little-stint/danger"].steps[0].tell == ("tobias", "ines")


def test_roles_and_persons_may_stand_beside_each_other_and_nobody_is_told_twice(small: Path) -> None:
    change(small, "callout.toml", '["ines", "tobias"]', '["ines", "owner", "caretaker"]')
    assert loaded(small).bundle.callouts["little-stint/danger"].steps[0].tell == ("ines", "tobias")


def test_several_persons_of_one_role_are_told_together(small: Path) -> None:
    change(small, "people.toml", 'role = "caretaker"', 'role = "owner"')
    change(small, "callout.toml", '["ines", "tobias"]', '["owner"]')
    assert loaded(small).bundle.callouts["little-stint/danger"].steps[0].tell == ("ines", "tobias")


def test_a_round_for_a_role_that_the_boat_has_not_is_left_out_with_a_warning(small: Path) -> None:
    change(small, "callout.toml", 'tell = ["ines"]', 'tell = ["office"]')
    installation = loaded(small)
    (warning,) = installation.warnings
    assert "nobody to tell after 3 min: little-stint has no office" in warning
    assert [step.after for step in installation.bundle.callouts["little-stint/danger"].steps] == [0]


def test_a_role_beside_somebody_who_is_told_is_warned_of_and_the_round_stays(small: Path) -> None:
    change(small, "callout.toml", 'tell = ["ines"]', 'tell = ["ines", "office"]')
    installation = loaded(small)
    assert len(installation.warnings) == 1
    assert installation.bundle.callouts["little-stint/danger"].steps[1].after == 3 * MINUTE


def test_one_person_only_for_an_emergency_is_told_boat_by_boat(small: Path) -> None:
    change(small, "callout.toml", '["ines", "tobias"]', '["owner"]')
    assert any("only one person is told of an emergency of little-stint" in each for each in loaded(small).warnings)


def test_one_list_of_roles_serves_three_boats_with_three_owners(tmp_path: Path) -> None:
    lay_down(tmp_path)
    bundle = loaded(tmp_path).bundle
    assert {key: plan.steps[1].tell for key, plan in bundle.callouts.items() if key.endswith("/urgent")} == {
        "grey-wagtail/urgent": ("ines",),
        "salt-harrier/urgent": ("edda",),
        "little-stint/urgent": ("hanno",),
    }


def test_a_list_that_only_a_standard_names_waits_for_its_boat_and_one_that_nobody_names_deserves_a_look(
    tmp_path: Path,
) -> None:
    folder = laid(tmp_path / "i")
    steps = 'steps = [{ after = "0 min", tell = ["tobias"] }]'
    append(folder, "callout.toml", f"[list.waiting]\n{steps}\n\n[list.forgotten]\n{steps}")
    standard = '[signal.door]\ntopic = "{boat}/door"\ncarries = "contact"\nreport_interval = "60 s"\n\n'
    alarm = '[alarm.door]\nname = "Door"\npriority = "warning"\nwhen = "door on"\nclears = "door off"\n'
    append(folder, "standard/other.toml", f'{standard}{alarm}callout = "waiting"')
    assert [said.partition(": ")[2] for said in loaded(folder).warnings] == ["list.forgotten: no alarm uses this list"]
