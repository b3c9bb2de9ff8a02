"""The installer's trouble goes by mail as well: at once, whatever the carrier does, and over a restart."""

import asyncio
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from gateway.demo.carrier_form import Complaint
from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.demo.story import INES
from gateway.vocabulary.moments import MINUTE
from tests.doors.test_mail import CA, Box, certified, serving
from tests.service.quay import Quay, at, moored


@pytest.fixture
def box() -> Box:
    return Box()


def with_mail(quay: Quay, port: int) -> None:
    """A mail server for the installation, and an address for Ruth."""
    with (quay.folder / "gateway.toml").open("a", encoding="utf-8") as file:
        file.write(f'\n[mail]\nhost = "127.0.0.1"\nport = {port}\nfrom = "gateway@example.org"\nca_file = "{CA}"\n')
    people = (quay.folder / "people.toml").read_text(encoding="utf-8")
    assert "# mail = " in people
    (quay.folder / "people.toml").write_text(people.replace("# mail = ", "mail = "), encoding="utf-8")


@asynccontextmanager
async def mailed(tmp_path: Path, box: Box) -> AsyncIterator[tuple[Quay, int]]:
    served: Iterator[object] = serving(box, tls_context=certified(), require_starttls=True)
    server = await asyncio.to_thread(next, served)
    port: int = server.port  # type: ignore[attr-defined]
    try:
        async with moored(tmp_path) as quay:
            with_mail(quay, port)
            yield quay, port
    finally:
        await asyncio.to_thread(next, served, None)


def words(box: Box) -> list[str]:
    found = []
    for envelope in box.taken:
        assert isinstance(envelope.content, bytes)
        found.append(envelope.content.decode().replace("=\r\n", "").replace("\r\n", "\n"))
    return found


def test_a_refused_text_is_mailed_to_the_installer_with_what_mends_it(tmp_path: Path, box: Box) -> None:
    async def play() -> None:
        async with mailed(tmp_path, box) as (quay, _):
            await quay.start()
            await quay.play("03:00:30")
            quay.carrier.next_refusals.extend([Complaint(code=20003, message="Authenticate", status=401)] * 99)
            await quay.play("03:01:30", quay.aboard("03:01:00", "co", True))
            assert quay.carrier.sent == (), "no text went anywhere"
            assert box.encrypted
            assert all(box.encrypted)
            assert {tuple(envelope.rcpt_tos) for envelope in box.taken} == {("ruth@example.org",)}
            assert any("check the account and its token" in mail for mail in words(box))
            ended = quay.kinds("mail-ended")
            assert ended
            assert all(one["taken"] for one in ended)

    asyncio.run(play())


def test_while_the_carrier_is_away_an_alarm_that_waits_is_mailed_within_some_minutes(tmp_path: Path, box: Box) -> None:
    async def play() -> None:
        async with mailed(tmp_path, box) as (quay, _):
            await quay.start(carrier_timeout=0.3)
            await quay.play("03:00:30")
            quay.carrier.next_answers.extend([Misbehaviour.BAD_GATEWAY] * 999)
            await quay.play("03:03:00", quay.aboard("03:01:00", "co", True))
            assert quay.carrier.sent == ()
            stuck = [mail for mail in words(box) if "does not take the text" in mail]
            assert len(stuck) >= 2, "one for each who was to be told"
            (first, *_) = [w.entry for w in quay.entries() if w.entry.kind == "mail-queued"]
            assert first.now - at("03:01:00") < 2 * MINUTE

    asyncio.run(play())


@pytest.mark.long
def test_a_mail_that_could_not_go_is_sent_after_the_restart_and_the_server_away_is_noted(
    tmp_path: Path, box: Box
) -> None:
    async def play() -> None:
        async with mailed(tmp_path, box) as (quay, _):
            box.refuse = "451 later"
            await quay.start()
            await quay.play("03:00:30")
            quay.carrier.text_in(INES, "STOP", quay.clock.now())
            await quay.play("03:01:30")
            assert box.taken == []
            assert [step["up"] for step in quay.kinds("link-step") if step["link"] == "mail"] == [False]
            assert len(quay.kinds("mail-queued")) == 1
            await quay.crash()
            box.refuse = None
            await quay.start()
            await quay.play("03:02:30")
            (mail,) = words(box)
            assert "Ines" in mail
            assert "text START from that phone" in mail
            (ended,) = quay.kinds("mail-ended")
            assert ended["taken"]
            await quay.stop()
            await quay.start()
            await quay.play("03:03:30")
            assert len(box.taken) == 1, "what was taken goes no more"

    asyncio.run(play())
