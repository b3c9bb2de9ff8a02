"""A text by web hook: fetched at once from the carrier's own list, taken once for ever, answered when it is on disk."""

import asyncio
import os
import socket
import subprocess
import sys
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from gateway.demo.carrier_misbehaviour import Misbehaviour
from gateway.doors.faces import Batch, Store, StoreTrouble
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND
from tests.doors.callers import FORM, call, signature, text_fields
from tests.service.quay import ACCOUNT, OUR_NUMBER, TOKEN, Quay, moored, until

INES, TOBIAS, RUTH, STRANGER = "+447700900123", "+447700900456", "+447700900789", "+447700900999"
PUBLIC = "https://texts.example.org"


class Hooked:
    """A quay whose gateway has a web hook, and the carrier that calls it."""

    def __init__(self, quay: Quay) -> None:
        self.quay = quay
        self.port = _free_port()
        with (quay.folder / "gateway.toml").open("a", encoding="utf-8") as file:
            file.write(f'\n[carrier.main.hook]\nlisten = "127.0.0.1:{self.port}"\npublic_url = "{PUBLIC}"\n')

    async def starts(self, wrapped: Callable[[Store], Store] = lambda store: store) -> None:
        """The gateway, with a boat that says nothing."""
        await self.quay.boat_connects()
        await self.quay.start(wrapped=wrapped)
        await until(lambda: _listens(self.port), "the hook does not listen")

    async def rings(self, message: str, body: str, number: str = INES, *more: tuple[str, str]) -> int:
        """The carrier calls about a text; the status that it is answered with. more: fields of the call."""
        known = {"AccountSid": ACCOUNT, "To": OUR_NUMBER}
        fields = [(name, known.get(name, value)) for name, value in text_fields(message, body, number)]
        return await self.posts("/texts", [*fields, *more])

    async def reports(self, order: str, status: str, code: str | None = None) -> int:
        """The carrier calls about a text of ours."""
        fields = [("MessageSid", "SM9"), ("MessageStatus", status), ("AccountSid", ACCOUNT)]
        return await self.posts(f"/reports?order={order}", fields + ([] if code is None else [("ErrorCode", code)]))

    async def posts(self, path: str, fields: list[tuple[str, str]], token: str = TOKEN) -> int:
        headers = {"Content-Type": FORM, "X-Twilio-Signature": signature(PUBLIC + path, fields, token)}
        return (await call(self.port, path, urlencode(fields).encode(), headers))[0]

    def received(self) -> list[tuple[object, object, object]]:
        """Texts taken in: what each was read as, by whom it is (known or not), its age."""
        return [(b["read_as"], b["person"] is not None, b["age"]) for b in self.quay.kinds("text-received")]

    async def settled(self) -> None:
        """Let the service come to rest without time going on."""
        await until(lambda: self.quay.now_running.service.is_still, "the service does not come to rest")


@asynccontextmanager
async def hooked(tmp_path: Path) -> AsyncIterator[Hooked]:
    async with moored(tmp_path, boat=False) as quay:
        one = Hooked(quay)
        await one.starts()
        yield one


def _free_port() -> int:
    """A port below those that outgoing connections are given: one of theirs could take it over a restart."""
    for port in range(20_000 + os.getpid() % 9_000, 32_000):
        with socket.socket() as free:
            if free.connect_ex(("127.0.0.1", port)) != 0:
                return port
    raise AssertionError("no free port")


def _listens(port: int) -> bool:
    with socket.socket() as knocking:
        return knocking.connect_ex(("127.0.0.1", port)) == 0


def test_a_text_is_fetched_at_once_with_its_age_and_answered_when_it_is_on_disk(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            message = one.quay.carrier.text_in(INES, "status", one.quay.clock.now() - 3 * SECOND)
            assert await one.rings(message, "status") == 200
            assert one.received() == [("question", True, 3 * SECOND)]  # on disk, and no time went by
            await one.settled()
            assert len(one.quay.to(INES)) == 1

    asyncio.run(run())


def test_a_command_and_its_confirmation_go_by_hook(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            asked = one.quay.carrier.text_in(TOBIAS, "refrigeration off", one.quay.clock.now())
            assert await one.rings(asked, "refrigeration off", TOBIAS) == 200
            await one.settled()
            assert one.received() == [("asks for a switch", True, 0)]
            assert one.quay.to(TOBIAS)  # answered by a text of its own

    asyncio.run(run())


def test_the_words_and_the_number_are_those_of_the_carriers_list_and_not_of_the_call(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            message = one.quay.carrier.text_in(STRANGER, "have it", one.quay.clock.now())
            assert await one.rings(message, "status", INES) == 200
            assert one.received() == [("takes an alarm", False, 0)]
            await one.settled()
            assert one.quay.to(INES) == []
            (told,) = one.quay.to(RUTH)
            assert "a text from +44 ... 999" in told.body  # as of every stranger; nobody took anything

    asyncio.run(run())


def test_a_mark_of_the_carriers_cuts_a_phone_off_once_and_not_when_the_call_is_sent_again(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            message = one.quay.carrier.text_in(INES, "no more of this", one.quay.clock.now())
            for _ in range(2):
                assert await one.rings(message, "no more of this", INES, ("OptOutType", "STOP")) == 200
            await one.settled()
            assert [noted["by"] for noted in one.quay.kinds("opt-out-noted")] == ["the carrier's mark"]
            assert one.quay.to(INES) == []
            assert "has opted out" in one.quay.to(TOBIAS)[-1].body

    asyncio.run(run())


def test_a_text_counts_once_by_hook_and_by_poll_in_either_order_and_over_a_restart(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            quay = one.quay
            by_hook = quay.carrier.text_in(INES, "status", quay.clock.now())
            assert await one.rings(by_hook, "status") == 200
            await quay.play(quay.clock.now() + MINUTE)
            by_poll = quay.carrier.text_in(INES, "alarms", quay.clock.now())
            await quay.play(quay.clock.now() + MINUTE)
            assert await one.rings(by_poll, "alarms") == 200
            both = await asyncio.gather(*(one.rings(by_hook, "status") for _ in range(5)))
            assert set(both) == {200}
            await quay.stop()
            quay.clock.jump(quay.clock.now() + 40 * DAY)  # the call was caught, and is sent again after weeks
            await one.starts()
            polls = len(quay.carrier.calls)
            assert await one.rings(by_hook, "status") == 200
            assert await one.rings(by_poll, "alarms") == 200
            assert len(quay.carrier.calls) == polls  # known: not even looked for
            assert [read for read, _, _ in one.received()] == ["question", "question"]

    asyncio.run(run())


def test_many_calls_about_one_text_at_the_same_time_are_one_text(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            message = one.quay.carrier.text_in(INES, "status", one.quay.clock.now())
            answers = await asyncio.gather(*(one.rings(message, "status") for _ in range(20)))
            assert set(answers) == {200}
            assert len(one.received()) == 1

    asyncio.run(run())


def test_a_text_that_the_list_does_not_show_tells_but_never_commands(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            quay = one.quay
            ringing = [
                asyncio.create_task(one.rings("SMunknown1", "refrigeration off", TOBIAS)),
                asyncio.create_task(one.rings("SMunknown2", "status")),
            ]
            polls = len(quay.carrier.calls)
            await until(lambda: len(quay.carrier.calls) > polls, "no poll at once")
            await one.settled()
            await quay.play(quay.clock.now() + 7 * SECOND)
            assert one.received() == []
            await quay.play(quay.clock.now() + SECOND)
            assert await asyncio.gather(*ringing) == [200, 200]
            assert one.received() == [("asks for a switch", True, None), ("question", True, None)]
            await one.settled()
            assert "The age of your text is not known" in quay.to(TOBIAS)[-1].body
            assert len(quay.to(INES)) == 1

    asyncio.run(run())


def test_a_carrier_that_cannot_be_asked_does_not_keep_a_text_from_telling(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            quay = one.quay
            message = quay.carrier.text_in(INES, "status", quay.clock.now())
            quay.carrier.next_look_answers.extend([Misbehaviour.SERVER_ERROR] * 3)
            ringing = asyncio.create_task(one.rings(message, "status"))
            await until(lambda: len(quay.carrier.next_look_answers) == 2, "no poll at once")
            await quay.play(quay.clock.now() + 8 * SECOND)
            assert await ringing == 200
            assert one.received() == [("question", True, None)]
            await quay.play(quay.clock.now() + MINUTE)  # the next poll shows it: it is the same text
            assert len(one.received()) == 1

    asyncio.run(run())


class Full:
    """A store whose disk is full until told otherwise."""

    def __init__(self, store: Store) -> None:
        self._store, self.is_full, self.refused = store, False, 0

    def __getattr__(self, name: str) -> Any:
        return getattr(self._store, name)

    def commit(self, batch: Batch) -> None:
        if self.is_full:
            self.refused += 1
            raise StoreTrouble(where="store", problem="the disk is full", remedy="Make room")
        self._store.commit(batch)


def test_what_cannot_be_put_on_disk_is_answered_so_after_ten_seconds_and_comes_later(tmp_path: Path) -> None:
    async def run() -> None:
        async with moored(tmp_path, boat=False) as quay:
            one, stores = Hooked(quay), list[Full]()

            def wrapped(store: Store) -> Store:
                stores.append(Full(store))
                return stores[-1]  # type: ignore[return-value]

            await one.starts(wrapped)
            stores[0].is_full = True
            message = quay.carrier.text_in(INES, "status", quay.clock.now())
            polls = len(quay.carrier.calls)
            ringing = asyncio.create_task(one.rings(message, "status"))
            await until(lambda: len(quay.carrier.calls) > polls, "no poll at once")
            await quay.play(quay.clock.now() + 9 * SECOND)
            assert not ringing.done()
            await quay.play(quay.clock.now() + 2 * SECOND)
            assert await ringing == 503
            stores[0].is_full = False
            await quay.play(quay.clock.now() + MINUTE)
            assert [read for read, _, _ in one.received()] == ["question"]
            assert await one.rings(message, "status") == 200
            order = str(quay.kinds("text-queued")[-1]["order"])
            stores[0].is_full, before = True, stores[0].refused
            reporting = asyncio.create_task(one.reports(order, "delivered"))
            await until(lambda: stores[0].refused > before, "no try to put the report on disk")
            await quay.play(quay.clock.now() + 9 * SECOND)
            assert not reporting.done(), "a report is answered no sooner"
            await quay.play(quay.clock.now() + 2 * SECOND)
            assert await reporting == 503

    asyncio.run(run())


def test_reports_in_any_order_end_as_delivered_and_a_repeat_leaves_nothing(tmp_path: Path) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            quay = one.quay
            message = quay.carrier.text_in(INES, "status", quay.clock.now())
            await one.rings(message, "status")
            await one.settled()
            (order,) = [str(text["order"]) for text in quay.kinds("text-queued")]
            for status in ("sent", "delivered", "queued", "sending", "delivered", "sent"):
                assert await one.reports(order, status) == 200
            assert [word["status"] for word in quay.kinds("text-delivery")] == ["sent", "delivered"]
            assert quay.now_running.service.desk.state.telling.deliveries[order].status == "delivered"

    asyncio.run(run())


def test_a_hook_that_cannot_listen_is_told_and_tried_again_and_texts_come_by_poll(tmp_path: Path) -> None:
    async def run() -> None:
        async with moored(tmp_path, boat=False) as quay:
            one = Hooked(quay)
            with socket.create_server(("127.0.0.1", one.port)):
                await quay.boat_connects()
                await quay.start()
                quay.writes(INES, "status")
                await quay.play(quay.clock.now() + 12 * MINUTE)
                assert len(one.received()) == 1
                steps = [(s["up"], s["detail"]) for s in quay.kinds("link-step") if s["link"] == "hook:main"]
                assert [up for up, _ in steps] == [False]
                assert f"cannot listen on 127.0.0.1:{one.port}" in str(steps[0][1])
                assert quay.bodies('link "hook:main" down')
            await quay.play(quay.clock.now() + 2 * MINUTE)
            message = quay.carrier.text_in(INES, "status", quay.clock.now())
            assert await one.rings(message, "status") == 200

    asyncio.run(run())


def test_a_wrong_token_or_address_is_told_to_the_installer_once_an_hour_and_is_over_with_a_good_call(
    tmp_path: Path,
) -> None:
    async def run() -> None:
        async with hooked(tmp_path) as one:
            quay = one.quay
            fields = [("AccountSid", ACCOUNT), ("To", OUR_NUMBER), ("MessageSid", "SM1"), ("From", INES), ("Body", "x")]

            async def wrongly() -> None:
                for _ in range(3):
                    assert await one.posts("/texts", fields, "another token") == 403

            await wrongly()
            await quay.play(quay.clock.now() + 11 * MINUTE)
            assert quay.bodies('link "hook:main" down')
            message = quay.carrier.text_in(INES, "status", quay.clock.now())
            assert await one.rings(message, "status") == 200
            await wrongly()
            await quay.play(quay.clock.now() + HOUR)
            await wrongly()
            await one.settled()
            steps = [s["up"] for s in quay.kinds("link-step") if s["link"] == "hook:main"]
            assert steps == [True, False, True, False]

    asyncio.run(run())


def test_the_hook_is_gone_at_once_with_the_service_and_callers_in_waiting_are_told(tmp_path: Path) -> None:
    async def run() -> float:
        async with hooked(tmp_path) as one:
            quay = one.quay
            polls = len(quay.carrier.calls)
            ringing = asyncio.create_task(one.rings("SMunknown", "status"))
            await until(lambda: len(quay.carrier.calls) > polls, "no poll at once")
            loop = asyncio.get_running_loop()
            began = loop.time()
            await quay.stop()
            took = loop.time() - began
            assert await ringing == 503
            assert not _listens(one.port)
            return took

    assert asyncio.run(run()) < 1.0


@pytest.mark.long
def test_without_a_hook_its_libraries_are_not_loaded() -> None:
    said = "import gateway.service.starting, sys; print([m for m in ('starlette', 'uvicorn') if m in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", said], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
