"""Loading a folder: all of it, or every mistake and nothing of it."""

import random
import shutil
import string
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gateway.installation.load import Installation, load
from gateway.installation.mistakes import InstallationRefused, Mistake
from grammar.meanings import IsNumber, Than
from tests.effort import tries

SMALL = Path(__file__).parent / "small"
FILES = sorted(path.relative_to(SMALL).as_posix() for path in SMALL.rglob("*.toml"))


@pytest.fixture
def small(tmp_path: Path) -> Path:
    return Path(shutil.copytree(SMALL, tmp_path / "installation"))


def loaded(folder: Path, **environ: str) -> Installation:
    return load(folder, person_id=lambda key: f"id of {key}", environ=environ or {"TOKEN": "t"})


def change(folder: Path, file: str, old: str, new: str) -> None:
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")


# ---------------------------------------------------------------- differences from a standard


def test_a_boats_difference_replaces_one_key_and_leaves_the_others_of_the_standard(small: Path) -> None:
    low = loaded(small).bundle.points["little-stint/house-low"]
    assert low.when == IsNumber(signal="house-volts", than=Than.BELOW, limit=Decimal("11.9"), unit="V", lasting=600_000)
    assert low.clears == IsNumber(
        signal="house-volts", than=Than.ABOVE, limit=Decimal("12.2"), unit="V", lasting=60_000
    )
    assert low.offer == ("status",)


def test_a_list_of_the_boat_replaces_the_standards_list_whole(small: Path) -> None:
    change(small, "boats/little-stint/signals.toml", 'report_interval = "20 s"', 'on_words = ["x"]\noff_words = ["y"]')
    assert loaded(small).bundle.signals["little-stint/house-volts"].on_words == ("x",)


def test_what_a_boat_leaves_out_is_gone_and_remembered(small: Path) -> None:
    change(
        small, "boats/little-stint/alarms.toml", "[alarm.house-low]", 'leave_out = ["bilge-high"]\n\n[alarm.house-low]'
    )
    installation = loaded(small)
    assert "little-stint/bilge-high" not in installation.bundle.points
    assert installation.left_out == {"little-stint": ("little-stint/bilge-high",)}


def test_an_interlock_left_out_is_warned_of(small: Path) -> None:
    change(small, "boats/little-stint/equipment.toml", 'run_limit = "3 h"', 'leave_out = ["house"]')
    installation = loaded(small)
    assert installation.bundle.equipment["little-stint/generator"].interlocks == ()
    binds_not, nothing_asked = installation.warnings
    assert "does not bind here" in binds_not
    assert "nothing is asked of fuel or start battery" in nothing_asked


def test_two_boats_of_one_standard_have_topics_of_their_own(small: Path) -> None:
    (small / "boats/salt-harrier").mkdir()
    text = (small / "boats/little-stint/boat.toml").read_text(encoding="utf-8")
    text = text.replace("LITTLE STINT", "SALT HARRIER").replace('"stint"', '"harrier"')
    (small / "boats/salt-harrier/boat.toml").write_text(text, encoding="utf-8")
    for _ in range(2):
        change(small, "people.toml", 'boats = ["little-stint"]', 'boats = ["little-stint", "salt-harrier"]')
    installation = loaded(small)
    assert installation.bundle.signals["salt-harrier/house-volts"].topic == "salt-harrier/dc/house"
    assert installation.bundle.signals["salt-harrier/house-volts"].report_interval == 30_000
    assert "little-stint/dc/house" in installation.topics["quay"]
    assert "salt-harrier/dc/house" in installation.topics["quay"]


def test_the_same_mistake_in_a_standard_is_told_once_for_all_boats_built_on_it(small: Path) -> None:
    (small / "boats/salt-harrier").mkdir()
    text = (small / "boats/little-stint/boat.toml").read_text(encoding="utf-8")
    text = text.replace("LITTLE STINT", "SALT HARRIER").replace('"stint"', '"harrier"')
    (small / "boats/salt-harrier/boat.toml").write_text(text, encoding="utf-8")
    for _ in range(2):
        change(small, "people.toml", 'boats = ["little-stint"]', 'boats = ["little-stint", "salt-harrier"]')
    change(small, "standard/small-motor-boat.toml", 'name = "Fire"\n', "")
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    assert [mistake.key for mistake in refused.value.mistakes].count("alarm.fire.name") == 1


# ---------------------------------------------------------------- secrets


def test_a_secret_is_taken_from_a_private_file_without_its_line_end(small: Path) -> None:
    (small / "token").write_text("very secret\n", encoding="utf-8")
    (small / "token").chmod(0o600)
    change(small, "gateway.toml", '{ variable = "TOKEN" }', '{ file = "token" }')
    assert loaded(small).carriers[0].token == "very secret"


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o620, 0o601])
def test_a_secrets_file_open_to_group_or_world_in_any_way_is_refused(small: Path, mode: int) -> None:
    (small / "token").write_text("very secret", encoding="utf-8")
    (small / "token").chmod(mode)
    change(small, "gateway.toml", '{ variable = "TOKEN" }', '{ file = "token" }')
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    assert "can be read by others" in str(refused.value)
    assert "very secret" not in str(refused.value)


def test_an_empty_secrets_file_is_refused(small: Path) -> None:
    (small / "token").touch(mode=0o600)
    change(small, "gateway.toml", '{ variable = "TOKEN" }', '{ file = "token" }')
    with pytest.raises(InstallationRefused, match="is empty"):
        loaded(small)


def test_a_secret_written_into_the_file_is_not_repeated_in_the_message(small: Path) -> None:
    change(small, "gateway.toml", "port = 1883", 'port = 1883\npassword = "swordfish"')
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    assert "swordfish" not in str(refused.value)


# ---------------------------------------------------------------- warnings

SPARE_LIST = '[list.spare]\nsteps = [{ after = "0 s", tell = ["ines"] }]\n[list.danger]'


@pytest.mark.parametrize(
    ("file", "old", "new", "warned"),
    [
        ("people.toml", 'consent = "2026-03-01, in writing"', "", "no consent to be texted"),
        ("callout.toml", 'repeat = "10 min"', "", "not repeated"),
        ("callout.toml", '"0 s"', '"1 min"', "nobody is told before 1 min"),
        ("callout.toml", "[list.danger]", SPARE_LIST, "no alarm uses"),
        ("boats/little-stint/signals.toml", "# Little", 'leave_out = ["hatch"] #', "nothing senses somebody aboard"),
        ("boats/little-stint/alarms.toml", 'offer = ["status"]', 'do = "5 °C"', "half its room"),
        ("standard/small-motor-boat.toml", 'clears = "house-volts above 12.2 V for 60 s"', "", "come and go"),
    ],
)  # fmt: skip
def test_what_deserves_a_second_look_is_a_warning_with_its_place(
    small: Path, file: str, old: str, new: str, warned: str
) -> None:
    change(small, file, old, new)
    (warning,) = loaded(small).warnings
    assert warned in warning
    assert ".toml, line " in warning


def test_an_emergency_that_tells_only_one_person_is_a_warning(small: Path) -> None:
    change(small, "callout.toml", '["ines", "tobias"]', '["ines"]')
    assert any("only one person" in warning for warning in loaded(small).warnings)


# ---------------------------------------------------------------- fingerprint


def test_the_fingerprint_is_64_hex_digits_and_the_same_for_the_same_files(small: Path, tmp_path: Path) -> None:
    first = loaded(small).bundle.fingerprint
    copy = Path(shutil.copytree(small, tmp_path / "copy"))
    assert len(first) == 64
    assert set(first) <= set(string.hexdigits.lower())
    assert loaded(copy).bundle.fingerprint == first


@pytest.mark.parametrize("file", FILES)
def test_one_more_byte_in_any_file_changes_the_fingerprint(small: Path, file: str) -> None:
    first = loaded(small).bundle.fingerprint
    with (small / file).open("a", encoding="utf-8") as text:
        text.write("\n")
    assert loaded(small).bundle.fingerprint != first


def test_the_store_and_other_files_do_not_change_the_fingerprint(small: Path) -> None:
    first = loaded(small).bundle.fingerprint
    (small / "store").mkdir()
    (small / "store" / "record").write_text("x", encoding="utf-8")
    (small / "notes.txt").write_text("x", encoding="utf-8")
    assert loaded(small).bundle.fingerprint == first


# ---------------------------------------------------------------- whatever stands in the files


NUMBERS = ("1", "-3.5", "nan", "inf", "true", "2026-03-02", "08:00:00")
VALUES = st.sampled_from((*NUMBERS, '""', '"x"', '"10 min"', "[]", '["x"]', "[1]", "[{}]", "{}", '{ a = "b" }'))
CHANGES = st.tuples(st.sampled_from(FILES), st.floats(0, 1, exclude_max=True), st.one_of(st.none(), VALUES))


@settings(max_examples=tries(50), deadline=None)
@given(st.lists(CHANGES, min_size=1, max_size=4))
def test_a_line_lost_or_a_value_replaced_gives_mistakes_with_true_places_and_never_anything_else(
    tmp_path_factory: pytest.TempPathFactory, changes: list[tuple[str, float, str | None]]
) -> None:
    folder = Path(shutil.copytree(SMALL, tmp_path_factory.mktemp("fuzz") / "installation"))
    for file, place, value in changes:
        lines = (folder / file).read_text(encoding="utf-8").split("\n")
        number = int(place * len(lines))
        key, equals, _ = lines[number].partition("=")
        lines[number : number + 1] = [] if value is None or not equals else [f"{key}= {value}"]
        (folder / file).write_text("\n".join(lines), encoding="utf-8")
    for mistake in mistakes_in(folder):
        has_a_true_place(folder, mistake)
    shutil.rmtree(folder.parent)


def mistakes_in(folder: Path) -> tuple[Mistake, ...]:
    try:
        loaded(folder)
    except InstallationRefused as refused:
        return refused.mistakes
    return ()


def has_a_true_place(folder: Path, mistake: Mistake) -> None:
    """The file is there or said to be missing, the line is in it, and all sentences are filled in."""
    assert mistake.problem
    assert mistake.remedy
    if mistake.line is None:
        return
    text = (folder / mistake.file).read_text(encoding="utf-8").split("\n")
    assert 1 <= mistake.line <= len(text)


def test_the_least_balance_is_as_written_else_by_the_price_else_ten(small: Path) -> None:
    assert loaded(small).bundle.balance_low == {"main": Decimal(10)}
    change(small, "gateway.toml", "[carrier.main]", '[carrier.main]\nprice_per_part = "0.04 GBP"')
    assert loaded(small).bundle.balance_low == {"main": Decimal("12.00")}  # 300 texts of one boat in a day
    change(small, "gateway.toml", "[carrier.main]", "[carrier.main]\nbalance_low = 20.5")
    assert loaded(small).bundle.balance_low == {"main": Decimal("20.5")}


def test_bytes_at_random_are_refused_and_never_crash(small: Path) -> None:
    draw = random.Random(14)
    for file in FILES:
        (small / file).write_bytes(draw.randbytes(200))
    with pytest.raises(InstallationRefused) as refused:
        loaded(small)
    assert {mistake.file for mistake in refused.value.mistakes} >= set(FILES)


def test_a_folder_that_is_not_there_is_one_mistake(tmp_path: Path) -> None:
    with pytest.raises(InstallationRefused, match="there is no such folder"):
        loaded(tmp_path / "nowhere")


def test_a_secret_written_where_the_name_of_a_variable_belongs_is_not_repeated(small: Path) -> None:
    change(small, "gateway.toml", '{ variable = "TOKEN" }', '{ variable = "3fa9c07b11d24e58" }')
    with pytest.raises(InstallationRefused) as refused:
        loaded(small, **{"3fa9c07b11d24e58": "t"})
    assert "is it the secret itself" in str(refused.value)
    assert "3fa9c07b" not in str(refused.value)


def test_a_variable_that_holds_bytes_that_are_no_text_is_refused_without_what_it_holds(small: Path) -> None:
    # Such bytes stand in it as half characters; whatever sends it on would fall over them, with all of it in its words.
    with pytest.raises(InstallationRefused) as refused:
        loaded(small, TOKEN="very secret\udcff")
    assert "the variable TOKEN holds bytes that are no text" in str(refused.value)
    assert "very secret" not in str(refused.value)


def test_an_installation_that_is_printed_shows_none_of_its_secrets(small: Path) -> None:
    change(
        small, "gateway.toml", "port = 1883", 'port = 1883\nuser = "boats"\npassword_from = { variable = "OF_QUAY" }'
    )
    change(
        small,
        "gateway.toml",
        "[carrier.main]",
        '[mail]\nhost = "mail.example.org"\nfrom = "boats@example.org"\nuser = "boats"\n'
        'password_from = { variable = "OF_MAIL" }\n\n[carrier.main]',
    )
    found = loaded(small, TOKEN="secret of carrier", OF_QUAY="secret of quay", OF_MAIL="secret of mail")
    assert found.mail is not None
    kept = (found.carriers[0].token, found.brokers[0].password, found.mail.password)
    assert kept == ("secret of carrier", "secret of quay", "secret of mail")
    assert "secret of" not in repr(found)
