"""Three boats behind one mast and at one supply, through the real broker, service, store and carrier's wire: one fault
there is one text to whoever minds them all, and a crash between does not tell it again."""

import asyncio
import shutil
from pathlib import Path

from gateway.demo.boat import Message
from gateway.demo.story import INES, TOBIAS
from gateway.installation.starter import lay_down
from gateway.vocabulary.moments import Ms
from tests.service.quay import Quay, moored, without_consent

BOATS = ("grey-wagtail", "salt-harrier", "little-stint")
SHARES = 'shares = { link = "Tarn Creek mast", supply = "pontoon C", berth = "inner basin" }\n'
ON_THE_SUPPLY = '\n[alarm.shore-lost]\nshared = "supply"\n'


def moor_the_others(folder: Path, spare: Path) -> None:
    """All boats of the starter in the quay's folder, behind one mast; those with shore power at one supply."""
    lay_down(spare)
    without_consent(spare)
    for name in ("people.toml", "callout.toml"):
        shutil.copy(spare / name, folder / name)
    for key in BOATS:
        if not (folder / "boats" / key).exists():
            shutil.copytree(spare / "boats" / key, folder / "boats" / key)
        file, alarms = folder / "boats" / key / "boat.toml", folder / "boats" / key / "alarms.toml"
        file.write_text(SHARES + file.read_text(encoding="utf-8"), encoding="utf-8")
        if key != "salt-harrier":  # she lies to a buoy
            before = alarms.read_text(encoding="utf-8") if alarms.exists() else ""
            alarms.write_text(before + ON_THE_SUPPLY, encoding="utf-8")


def others_say(quay: Quay, shore: str) -> None:
    """What the two boats without a simulated crew send."""
    messages: list[Message] = [
        ("salt-harrier/dc/house", '{"voltage": 12.7}', False),
        ("little-stint/ac/shore", shore, False),
    ]
    quay.link.publish_and_wait(messages)


def told(quay: Quay, number: str, what: str) -> list[str]:
    return [text.body for text in quay.to(number) if what in text.body]


def test_one_mast_down_and_up_again_is_one_text_each_time_over_a_crash(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            moor_the_others(quay.folder, tmp_path / "spare")
            await quay.start()

            def the_mast_is_mended(now: Ms) -> None:
                others_say(quay, "on")
                quay.boat.come_back(now)

            all_well = quay.cue("03:01:00", lambda _: others_say(quay, "on"))
            await quay.play("03:13:00", all_well, quay.cue("03:01:01", quay.boat.go_silent))
            (one,) = told(quay, TOBIAS, "boat silent")
            assert one.startswith("Link Tarn Creek mast, warning: boat silent on 3 boats since 03:0")
            assert "Reply HAVE IT for all 3" in one
            assert [body.partition(":")[0] for body in told(quay, INES, "boat silent")] == ["GREY WAGTAIL C14, warning"]

            await quay.crash()
            await quay.start()
            await quay.play("03:15:00", quay.text("03:14:00", TOBIAS, "have it"))
            assert len(told(quay, TOBIAS, "Link Tarn Creek mast")) == 1
            assert [body for body in told(quay, TOBIAS, "3 alarms are yours") if "LITTLE STINT" in body]

            said = len(quay.to(TOBIAS))
            await quay.play("03:18:00", quay.cue("03:16:00", the_mast_is_mended))
            (end,) = [text.body for text in quay.to(TOBIAS)[said:] if "silent" in text.body]
            assert end.startswith("Link Tarn Creek mast: boat silent on 3 boats, now OK since 03:16")

    asyncio.run(play())


def test_one_shore_supply_lost_is_one_text_for_the_boats_that_it_feeds(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            moor_the_others(quay.folder, tmp_path / "spare")
            await quay.start()

            def the_supply_fails(now: Ms) -> None:
                others_say(quay, "off")
                quay.boat.set("shore", False, now)

            goes_on = [quay.cue(f"03:0{minute}:30", lambda _: others_say(quay, "off")) for minute in range(2, 9)]
            await quay.play("03:09:00", quay.cue("03:02:00", the_supply_fails), *goes_on)
            (one,) = told(quay, TOBIAS, "shore power lost")
            assert one.startswith("Shore supply pontoon C, warning: shore power lost on 2 boats since 03:02")
            assert "GREY WAGTAIL 1, STINT 2" in one

    asyncio.run(play())
