"""A number is proved through the whole service, and again when the files give the person another one."""

import asyncio
import re
from pathlib import Path

import pytest

from gateway.demo.story import INES, TOBIAS
from tests.service.quay import Quay, moored

ANOTHER = "+447700900457"


def words_for(quay: Quay, number: str, behind: str) -> str:
    """The two words behind GO or PROVE in the last text to this phone, as they are sent back."""
    found = re.search(rf"{behind} (\S+) (\S+)", quay.to(number)[-1].body)
    assert found is not None, quay.to(number)[-1].body
    return f"{behind} {found[1]} {found[2]}".lower()


def edit(quay: Quay, before: str, after: str) -> None:
    file = quay.folder / "people.toml"
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after), encoding="utf-8")


def test_a_new_number_commands_only_after_its_words_came_back_and_is_proved_over_a_restart(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            edit(quay, 'proved = { at = 2026-02-27 15:00:00, by = "ruth" }', "")
            await quay.start()
            await quay.play("03:02:00", quay.text("03:01:00", TOBIAS, "deck lights on"))
            assert "NOT switched on. Nobody has proved your number yet" in quay.to(TOBIAS)[-1].body
            await quay.play("03:03:00", quay.text("03:02:00", TOBIAS, words_for(quay, TOBIAS, "PROVE")))
            assert quay.to(TOBIAS)[-1].body.startswith("Your number is proved")
            assert quay.obeyed == []
            await quay.stop()

            await quay.start()
            await quay.play("03:06:00", quay.text("03:05:00", TOBIAS, "deck lights on"))
            await quay.play("03:07:00", quay.text("03:06:00", TOBIAS, words_for(quay, TOBIAS, "GO")))
            assert quay.obeyed == ["deck-lights on"]
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.long
def test_another_number_in_the_files_must_be_proved_and_the_one_before_commands_nothing(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:02:00", quay.text("03:01:00", TOBIAS, "deck lights on"))
            code = words_for(quay, TOBIAS, "GO")
            await quay.stop()
            edit(quay, "+44 7700 900456", "+44 7700 900457")

            await quay.start()
            (_, used) = quay.kinds("installation-used")
            assert used["renumbered"] == [body["person"] for body in quay.kinds("number-unproved")]
            await quay.play("03:05:00", quay.text("03:04:00", TOBIAS, code), quay.text("03:04:00", ANOTHER, code))
            assert quay.obeyed == [], "neither the number before nor the new one has this code"
            await quay.play("03:07:00", quay.text("03:06:00", ANOTHER, "deck lights on"))
            await quay.play("03:08:00", quay.text("03:07:00", ANOTHER, words_for(quay, ANOTHER, "PROVE")))
            await quay.play("03:09:00", quay.text("03:08:00", ANOTHER, "deck lights on"))
            await quay.play("03:10:00", quay.text("03:09:00", ANOTHER, words_for(quay, ANOTHER, "GO")))
            assert quay.obeyed == ["deck-lights on"]
            await quay.stop()

            await quay.start()
            await quay.play("03:12:00", quay.text("03:11:00", INES, "status"))
            assert len(quay.kinds("number-unproved")) == 1, "said once, not at every start"
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())
