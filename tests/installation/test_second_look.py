"""Warnings: what loads, and deserves a second look."""

from pathlib import Path

import pytest

from gateway.installation.second_look import LONGEST_NUMBER, SOME_NIGHT, first_text, second_look
from gateway.installation.starter import starter
from gateway.vocabulary.priority import Priority
from gateway.wording.alphabet import septets
from gateway.wording.scene import Scene
from tests.installation.small_installation import append, change, laid, loaded, without_generator

LONG = "Somebody must go there at once and look below, and must take a light."
ALARMS, SIGNALS = "boats/little-stint/alarms.toml", "boats/little-stint/signals.toml"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    return laid(tmp_path / "installation")


def looked(folder: Path) -> tuple[str, ...]:
    installation = loaded(folder)
    return second_look(installation.bundle, installation.places)


# ---------------------------------------------------------------- texts that lose something


def test_the_starter_and_the_small_installation_deserve_none(small: Path) -> None:
    assert looked(starter()) == ()
    assert looked(small) == ()


def test_every_first_text_of_the_starter_fits_with_its_reply_and_what_to_do() -> None:
    bundle = loaded(starter()).bundle
    scene = Scene(
        now=SOME_NIGHT,
        boats=bundle.boats,
        points=bundle.points,
        people=bundle.people,
        equipment=bundle.equipment,
        signals=bundle.signals,
    )
    for point in bundle.points.values():
        everyone = bundle.callouts[point.callout].everyone
        for person in everyone:
            text = first_text(point, person, everyone, scene)
            assert (septets(text) or 999) <= 160
            assert f"HAVE IT {LONGEST_NUMBER}" in text
            if point.priority in (Priority.EMERGENCY, Priority.ALARM):
                assert point.do.rstrip(".") in text


def test_an_emergency_that_has_no_room_for_what_to_do_is_named_with_its_place(small: Path) -> None:
    append(small, ALARMS, f'[alarm.fire]\nmeans = "{LONG}"\ndo = "Stay away from the boat and wait for help ashore."')
    (found,) = looked(small)
    assert found.startswith(f"{ALARMS}, line ")
    assert "alarm.fire: the first text of little-stint has no room for all of `do`" in found


def test_names_too_long_for_what_it_means_are_named(small: Path) -> None:
    append(small, ALARMS, f'[alarm.co]\nname = "{"Detector in the owner cabin of carbon monoxide"}"\nmeans = "{LONG}"')
    assert any(
        "alarm.co: the first text of little-stint has no room for all of `means`" in each for each in looked(small)
    )


def test_a_warning_may_lose_what_to_do_without_being_named(small: Path) -> None:
    append(small, ALARMS, f'do = "Wait for somebody to come and look at it."\nmeans = "{LONG}"')
    assert looked(small) == ()


def test_a_fault_of_the_standard_is_told_once_with_its_boats(tmp_path: Path) -> None:
    folder = tmp_path / "fleet"
    folder.mkdir()
    for file in starter().rglob("*.toml"):
        (folder / file.relative_to(starter())).parent.mkdir(parents=True, exist_ok=True)
        (folder / file.relative_to(starter())).write_bytes(file.read_bytes())
    change(folder, "standard/motor-yacht-12v.toml", '"Engine space detector."', f'"{LONG}"')
    (found,) = [each for each in looked(folder) if "alarm.fire" in each and "`do`" in each]
    assert "grey-wagtail, little-stint, salt-harrier" in found


# ---------------------------------------------------------------- nobody


def test_a_boat_without_any_alarm_is_named(small: Path) -> None:
    (small / ALARMS).write_text('leave_out = ["bilge-high", "fire", "co", "house-low", "silent"]', encoding="utf-8")
    without_generator(small)
    assert any("it has no alarm point" in each for each in looked(small))


def test_equipment_that_nobody_may_switch_is_named_by_its_action(small: Path) -> None:
    change(small, "people.toml", 'rights = [{ boat = "little-stint", equipment = "*" }]\n', "")
    (found,) = looked(small)
    assert found.endswith("equipment.generator: nobody has the right to generator start")
    assert found.startswith("boats/little-stint/equipment.toml, line 1:")


# ---------------------------------------------------------------- signals and topics (found when the files are read)


def signal(key: str, topic: str, more: str = "") -> str:
    return f'[signal.{key}]\ntopic = "{topic}"\nreport_interval = "60 s"\n{more}'


@pytest.mark.parametrize(
    ("added", "said"),
    [
        (signal("whole", "{boat}/dc/house"), 'house-volts.pointer: looks inside what "whole" takes for one value'),
        (signal("deep", "{boat}/dc/house", 'pointer = "/voltage/a"'), 'deep.pointer: looks inside what "house-volts"'),
        (signal("near", "{boat}/DC/house"), 'near.topic: "little-stint/DC/house" is almost "little-stint/dc/house"'),
        (signal("slash", "{boat}/bilge/high/"), 'slash.topic: "little-stint/bilge/high/" is almost'),
    ],
)  # fmt: skip
def test_topics_that_overlap_are_named(small: Path, added: str, said: str) -> None:
    append(small, SIGNALS, added)
    (warning,) = loaded(small).warnings
    assert said in warning
    assert ".toml, line " in warning


def test_two_values_of_one_payload_do_not_overlap(small: Path) -> None:
    append(small, SIGNALS, signal("amps", "{boat}/dc/house", 'pointer = "/current"'))
    assert loaded(small).warnings == ()


def test_one_topic_through_two_names_of_one_broker_is_named(small: Path) -> None:
    append(small, "gateway.toml", '[broker.again]\nhost = "127.0.0.1"\nclient_id = "another"')
    (small / "boats/teal").mkdir()
    for name in ("boat", "signals"):
        text = (small / f"boats/little-stint/{name}.toml").read_text(encoding="utf-8")
        (small / f"boats/teal/{name}.toml").write_text(text, encoding="utf-8")
    change(small, "boats/teal/boat.toml", "LITTLE STINT", "TEAL")
    change(small, "boats/teal/boat.toml", '"stint"', '"teal"')
    change(small, "boats/teal/boat.toml", '"quay"', '"again"')
    change(small, "people.toml", 'boats = ["little-stint"]', 'boats = ["little-stint", "teal"]', everywhere=True)
    append(small, "boats/teal/signals.toml", '[signal.bilge-high]\ntopic = "little-stint/bilge/high"')
    (warning,) = loaded(small).warnings
    assert 'is also that of "little-stint/bilge-high": the brokers quay and again are one' in warning


def test_a_signal_that_nothing_uses_is_named_when_not_even_its_silence_is_told(small: Path) -> None:
    append(small, SIGNALS, signal("spare", "{boat}/spare"))
    assert loaded(small).warnings == ()
    change(small, ALARMS, "[alarm", 'leave_out = ["silent"]\n[alarm')
    warnings = loaded(small).warnings
    assert [each.partition(": ")[2] for each in warnings] == [
        f"signal.{key}: no alarm, equipment or interlock uses it; only status shows it"
        for key in ("heartbeat", "spare")
    ]


# ---------------------------------------------------------------- a slip that keeps an emergency quiet


def test_an_emergency_that_is_told_only_after_hours_is_named(small: Path) -> None:
    append(small, ALARMS, '[alarm.fire]\nwhen = "fire on for 2 h"')
    (found,) = looked(small)
    assert found.startswith(f"{ALARMS}, line ")
    assert found.endswith("alarm.fire: an emergency that is told only after 2 h")


# ---------------------------------------------------------------- limits


def test_one_boat_that_can_use_up_the_day_of_all_deserves_a_look(small: Path) -> None:
    append(small, "gateway.toml", "[pacing]\nboat_a_day = 100\nall_boats_a_day = 99")
    (found,) = looked(small)
    assert found.startswith("gateway.toml: pacing: one boat may send 100 texts a day, all boats together only 99")
