"""A boat that falls silent while something graver than a warning stands: an alarm at once (handbook 3, P26)."""

from dataclasses import replace

from gateway.vocabulary.moments import MINUTE, SECOND
from tests.desk.small_boat import SHORE, SILENT, WATER, Small, small

SILENCE = replace(SILENT, alarm_with_others=True, name="Boat silent")


def silences(boat: Small) -> list[str]:
    return [order.body for order in boat.sent if "SILENT" in order.body.upper() and "HAVE IT 2" in order.body]


def test_silence_while_an_emergency_stands_is_an_alarm_at_once() -> None:
    boat = small(WATER, SILENCE)
    boat.keeps_reading("water", "on", 30 * SECOND)
    boat.wait(11 * MINUTE)
    assert "ALARM now" in silences(boat)[0]
    assert "alarm-escalated" in boat.kinds()
    assert boat.rebuilt() == boat.bytes()


def test_silence_while_a_warning_stands_remains_a_warning() -> None:
    boat = small(SHORE, SILENCE)
    boat.keeps_reading("shore", "off", 6 * MINUTE)
    boat.wait(11 * MINUTE)
    assert silences(boat)
    assert "alarm-escalated" not in boat.kinds()


def test_silence_that_is_not_to_be_told_so_remains_a_warning() -> None:
    boat = small(WATER, SILENT)
    boat.keeps_reading("water", "on", 30 * SECOND)
    boat.wait(11 * MINUTE)
    assert "alarm-escalated" not in boat.kinds()
