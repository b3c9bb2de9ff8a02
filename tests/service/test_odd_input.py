"""What no sane boat or phone sends: it is kept or answered, and the gateway goes on."""

import asyncio
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from gateway.demo.story import INES, TOBIAS
from gateway.desk import hub, rounds
from gateway.desk.hub import Desk
from gateway.desk.turn import Recorder, Turn
from gateway.telling.calls import Telling
from gateway.telling.gathering import Matter
from gateway.telling.rounds import Round
from gateway.telling.settings import CallOutList
from gateway.vocabulary.happenings import Happening, TextCame
from gateway.vocabulary.moments import Ms
from tests.effort import some_of
from tests.service.quay import at, moored

ODD_TEXTS = {
    "half of a character": "have it \ud83d",
    "nothing": "",
    "blanks": " \n ",
    "1,600 characters": "a" * 1_600,
    "control characters": "have it\x00\x1b[2J",
    "every script": "\u202e\u0430\u4e2d\U0001f6a8",
}
ODD_PAYLOADS = {
    "1 MB": b"x" * 1_000_000,
    "invalid JSON": b'{"voltage": 12.',
    "NaN": b'{"voltage": NaN}',
    "invalid UTF-8": b"\xff\xfe",
    "nothing": b"",
    "half of a character": b'{"voltage": "\\ud83d"}',
    "far too deep": b"[" * 50_000,
}
WORDS = "go teapot marble, +447700900123"
"""What a fault may say of itself: the texts and numbers that it fell over."""
HERE = "RuntimeError in service/test_odd_input.py"


def place_of(body: Mapping[str, object]) -> str:
    """What the record says of a fault, without the line."""
    assert WORDS not in str(body)
    return str(body["detail"]).partition(", line")[0]


@pytest.mark.parametrize("body", some_of(ODD_TEXTS.values(), 6), ids=list(ODD_TEXTS))
def test_an_odd_text_is_kept_once_and_alarms_go_on(body: str, tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play(
                "03:03:00",
                quay.text("03:00:30", TOBIAS, body),
                quay.text("03:00:30", "MARINA WIFI", body),
                quay.text("03:00:30", "", body),
                quay.aboard("03:02:00", "co", True),
            )
            assert len(quay.kinds("text-received")) == 3
            assert [len([t for t in quay.to(n) if "CARBON MONOXIDE" in t.body]) for n in (INES, TOBIAS)] == [1, 1]
            await quay.stop()
            await quay.start()
            await quay.stop()
            assert len(quay.kinds("text-received")) == 3
            assert quay.report().ok

    asyncio.run(play())


def test_odd_payloads_are_readings_that_cannot_be_read_and_alarms_go_on(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            for payload in ODD_PAYLOADS.values():
                sent = quay.link._client.publish("grey-wagtail/dc/house", payload, qos=1)
                await asyncio.to_thread(sent.wait_for_publish, 10)
            await quay.play("03:03:00", quay.aboard("03:02:00", "co", True))
            assert quay.kinds("signal-unreadable")
            assert [len([t for t in quay.to(n) if "CARBON MONOXIDE" in t.body]) for n in (INES, TOBIAS)] == [1, 1]
            await quay.crash()
            await quay.start()
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


def test_one_happening_that_the_desk_cannot_take_is_set_aside_and_alarms_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    whole = Desk.take

    def faulty(desk: Desk, happening: Happening, now: Ms, draw: bytes) -> Turn:
        turn = whole(desk, happening, now, draw)
        if isinstance(happening, TextCame) and happening.body == "the fault":
            raise RuntimeError(WORDS)
        return turn

    monkeypatch.setattr(Desk, "take", faulty)

    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:03:00", quay.text("03:00:30", TOBIAS, "the fault"), quay.aboard("03:02:00", "co", True))
            assert [len([t for t in quay.to(n) if "CARBON MONOXIDE" in t.body]) for n in (INES, TOBIAS)] == [1, 1]
            await quay.stop()
            await quay.start()
            await quay.stop()
            aside = [place_of(body) for body in quay.kinds("link-step") if body["link"] == "gateway"]
            assert aside == [f"TextCame: {HERE}"], "once, and never again after a restart"
            assert quay.report().ok

    asyncio.run(play())
    log = capfd.readouterr().err
    assert "A fault of ours:" in log
    assert HERE in log, "and the way that led there"
    assert WORDS not in log


def test_a_call_out_whose_next_round_cannot_even_be_found_is_left_alone_and_alarms_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    whole, bilge = hub.next_round, "grey-wagtail/bilge-high"

    def faulty(telling: Telling, lists: Mapping[str, CallOutList], matters: Mapping[str, Matter] | None = None) -> Any:
        if bilge in lists and bilge in telling.calls:
            raise RuntimeError(WORDS)
        return whole(telling, lists, matters)

    monkeypatch.setattr(hub, "next_round", faulty)

    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play(
                "03:10:00", quay.aboard("03:01:00", "bilge-high", True), quay.aboard("03:03:00", "co", True)
            )
            first = [text.at for text in quay.carrier.sent if "CARBON MONOXIDE" in text.body]
            assert first, "the other alarm is told"
            assert first[0] < at("03:03:20"), "at once"
            await quay.stop()
            aside = {place_of(body) for body in quay.kinds("link-step") if body["link"] == "gateway"}
            assert aside == {f"the call-out of {bilge}: {HERE}"}
            assert quay.report().ok

    asyncio.run(play())
    log = capfd.readouterr().err
    assert "A fault of ours:" in log
    assert HERE in log, "and the way that led there"
    assert WORDS not in log


@pytest.mark.long
def test_what_fell_due_and_cannot_be_decided_is_left_alone_for_a_while_and_alarms_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    whole, faults = rounds._tell_one, []

    def faulty(rec: Recorder, person: str, together: list[Round]) -> None:
        if any("bilge" in one.call.point for one in together) and rec.now < at("03:08:00"):
            faults.append(rec.now)
            raise RuntimeError(WORDS)
        whole(rec, person, together)

    monkeypatch.setattr(rounds, "_tell_one", faulty)

    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play(
                "03:30:00", quay.aboard("03:01:00", "bilge-high", True), quay.aboard("03:01:15", "co", True)
            )
            assert [len([t for t in quay.to(n) if "CARBON MONOXIDE since 03:01" in t.body]) > 0 for n in (INES, TOBIAS)]
            first = [text.at for text in quay.carrier.sent if "CARBON MONOXIDE since 03:01" in text.body]
            assert first[0] < at("03:01:20"), "the other alarm is told at once"
            assert any("BILGE" in text.body and text.at >= at("03:11:15") for text in quay.carrier.sent), "and then it"
            await quay.stop()
            aside = [place_of(body) for body in quay.kinds("link-step") if body["link"] == "gateway"]
            assert aside == [f"the call-out of grey-wagtail/bilge-high: {HERE}"]
            assert quay.report().ok

    asyncio.run(play())
    log = capfd.readouterr().err
    assert "A fault of ours:" in log
    assert HERE in log, "and the way that led there"
    assert WORDS not in log
