"""A topic with a named level, through the real broker: known names are signals, others unknown topics."""

import asyncio
from pathlib import Path

import pytest

from gateway.demo.broker import Kind
from gateway.demo.story import TOBIAS
from tests.doors.brokers import KINDS
from tests.service.quay import moored

SIGNAL = """
[signal.tank]
topic = "{boat}/tanks/+tank/level"
unit = "%"
report_interval = "60 s"
for_each = { tank = { port = "TANK_1", aft = "TANK_2" } }
"""

ALARM = """
[alarm.aft-low]
name = "Aft tank low"
priority = "warning"
when = "tank-aft below 15 % for 60 s"
callout = "ordinary"
"""


@pytest.mark.parametrize("kind", KINDS)
def test_a_known_name_raises_its_alarm_and_an_unknown_one_stands_once_in_the_record(kind: Kind, tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path, kind=kind) as quay:
            for name, more in (("signals.toml", SIGNAL), ("alarms.toml", ALARM)):
                path = quay.folder / "boats/grey-wagtail" / name
                before = path.read_text(encoding="utf-8") if path.exists() else ""
                path.write_text(before + more, encoding="utf-8")
            await quay.start()
            for tank, level in (("TANK_1", "80"), ("TANK_2", "9"), ("TANK_3", "4"), ("TANK_3", "5")):
                sent = quay.link._client.publish(f"grey-wagtail/tanks/{tank}/level", level, qos=1)
                await asyncio.to_thread(sent.wait_for_publish, 10)
            await quay.hear()
            await quay.play("03:02:30")
            assert len([text for text in quay.to(TOBIAS) if "aft tank low since 03:00, 9 %" in text.body]) == 1
            unknown = [entry["topic"] for entry in quay.kinds("unknown-topic")]
            assert unknown == ["grey-wagtail/tanks/TANK_3/level"]

    asyncio.run(play())
