"""The record over the years, through the whole service: restored, replaced when damaged, thinned, and vouched for."""

import asyncio
import json
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from gateway.demo.story import INES, RUTH, TOBIAS
from gateway.doors.faces import Batch, StoreOfOthers
from gateway.doors.store import back_up, open_reader, open_store, put_in_place
from gateway.logbook.chains import Heads, accept, link
from gateway.logbook.verify import verify
from gateway.vocabulary.moments import DAY, MINUTE
from tests.doors.brokers import Outsider
from tests.effort import some_of
from tests.service.quay import CLIENT, Quay, at, moored, until

END_VALUES = f"heavingline/{CLIENT}/end-values"


def kinds_from(quay: Quay, n: int) -> list[str]:
    return [written.entry.kind for written in quay.entries() if written.entry.n > n]


def test_a_restored_record_says_so_tells_the_gap_looks_up_its_outbox_and_acts_on_no_older_text(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            copy = tmp_path / "copy"

            def strike(step: str) -> None:  # the order is on disk, and the carrier does not have it yet
                if step == "before send" and not copy.exists():
                    back_up(quay.store, copy)

            await quay.start(on_step=strike)
            await quay.play("03:08:00", quay.aboard("03:03:00", "co", True), quay.text("03:05:00", INES, "have it"))
            sent = [(text.number, text.body) for text in quay.carrier.sent]
            assert "alarm 1 is yours" in quay.to(INES)[-1].body
            await quay.stop()
            with open_reader(copy) as reader:
                backed_up = verify(reader)
            aside = put_in_place(copy, quay.store, quay.clock.now(), replace=True)
            assert aside is not None
            await quay.alone(at("03:22:00"))

            await quay.start()
            await quay.play("03:23:00")
            first = next(written.entry for written in quay.entries() if written.entry.n == backed_up.entries + 1)
            assert first.kind == "store-restored"
            assert first.body == {"backup_at": at("03:03:00"), "backup_n": backed_up.entries}
            assert any(text.body.startswith("Gateway did not run") for text in quay.carrier.sent)
            found = [body for body in quay.kinds("text-answered") if body["found"]]
            assert len(found) == 2, "Ines and Tobias: what waited was looked up and found"
            first_texts = [pair for pair in sent if "CARBON MONOXIDE since 03:03" in pair[1]]
            again = [(text.number, text.body) for text in quay.carrier.sent]
            assert all(again.count(pair) == 1 for pair in first_texts), "nobody gets the same text twice"
            assert quay.kinds("text-received") == [], "the old 'have it' is not acted on"
            await quay.play("03:25:00", quay.text("03:24:00", TOBIAS, "have it"))
            assert "alarm 1 is yours" in quay.to(TOBIAS)[-1].body
            await quay.stop()

            await quay.start()
            await quay.play("03:26:30")
            assert len(quay.kinds("store-restored")) == 1, "said once"
            assert [body["read_as"] for body in quay.kinds("text-received")] == ["takes an alarm"]
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


def garbage(path: Path) -> None:
    path.write_bytes(b"just words, no record at all. " * 900)


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-9_000])


def last_page(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[-4096] ^= 0xFF  # the byte that says what kind of page it is
    path.write_bytes(bytes(data))


def does_not_fold(path: Path) -> None:
    store = open_store(path)
    heads = Heads()
    for written in store.load("").entries:
        accept(heads, written)
    fields = {"now": at("03:10:00"), "happening": 10_000, "kind": "nobody-knows-this", "version": 1}
    store.commit(Batch(written=[link(heads, chain="installation", body={}, **fields)]))  # type: ignore[arg-type]
    store.close()


@pytest.mark.parametrize("damage", some_of([garbage, cut_short, last_page, does_not_fold], 4))
@pytest.mark.long
def test_a_damaged_record_is_kept_aside_and_that_is_told_while_alarms_go_on(
    tmp_path: Path, damage: Callable[[Path], None]
) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:04:00", quay.aboard("03:02:00", "bilge-high", True))
            await quay.stop()
            damage(quay.store)
            damaged = quay.store.read_bytes()
            await quay.alone(at("03:20:00"))
            before = len(quay.carrier.sent)

            await quay.start()
            await quay.play("03:25:00", quay.aboard("03:22:00", "co", True))
            (aside,) = [file for file in quay.folder.iterdir() if ".damaged-" in file.name and file.suffix != ".lock"][
                :1
            ]
            assert aside.name.startswith("store.damaged-20260309T032")
            assert aside.read_bytes()[:4000] == damaged[:4000]
            first = quay.entries()[0].entry
            assert (first.kind, first.body["kept_as"]) == ("store-replaced", aside.name)
            after = quay.carrier.sent[before:]
            told = {text.number for text in after if "its record was damaged" in text.body}
            assert told == {INES, RUTH}
            assert {INES, TOBIAS} <= {text.number for text in after if "CARBON MONOXIDE since 03:22" in text.body}
            await quay.stop()
            assert quay.report().ok

            await quay.start()
            await quay.play("03:26:00")
            assert len(quay.kinds("store-replaced")) == 1, "said once"
            await quay.stop()

    asyncio.run(play())


def test_a_record_of_a_later_release_is_refused_and_left_where_it_is(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.stop()
            with sqlite3.connect(quay.store) as file:
                file.execute("INSERT INTO migrations VALUES (9999, 'of a later release')")
            with pytest.raises(StoreOfOthers, match="later release"):
                await quay.start()
            assert not [file for file in quay.folder.iterdir() if "damaged" in file.name]

    asyncio.run(play())


@pytest.mark.long
def test_what_is_old_goes_at_a_quiet_moment_and_is_recorded_first(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play(
                "03:06:00",
                quay.aboard("03:02:00", "bilge-high", True),
                quay.aboard("03:02:40", "bilge-high", False),
                quay.text("03:03:00", INES, "have it"),
                quay.text("03:05:00", INES, "checked"),
            )
            await quay.stop()
            readings = quay.report().readings
            quay.clock.jump(at("03:05:00") + 25 * 31 * DAY)
            began = quay.clock.now()

            await quay.start()
            await quay.play(
                began + 12 * MINUTE, quay.cue(began + 9 * MINUTE, lambda now: quay.boat.set("co", True, now))
            )
            assert quay.kinds("readings-dropped") == [], "an alarm was being told"
            took = quay.cue(began + 13 * MINUTE, lambda _: quay.writes(INES, "have it 2"))
            gone = quay.cue(began + 14 * MINUTE, lambda now: quay.boat.set("co", False, now))
            checked = quay.cue(began + 20 * MINUTE, lambda _: quay.writes(INES, "checked 2"))
            await quay.play(began + 50 * MINUTE, took, gone, checked)
            (dropped,) = quay.kinds("readings-dropped")
            assert (dropped["count"], dropped["hours"], dropped["because"]) == (readings, 1, "age")
            (erased,) = quay.kinds("parts-erased")
            report = quay.report()
            assert report.ok
            assert sum(chain.parts_erased for chain in report.chains) == erased["count"] != 0
            assert all(boat.changed == 0 for boat in report.hours)
            assert sum(boat.no_longer_kept for boat in report.hours) >= 1
            state = quay.now_running.service.desk.state
            known = (state.standing.by_point.keys(), state.heads.n)
            await quay.stop()

            await quay.start()
            state = quay.now_running.service.desk.state
            assert known[0] == state.standing.by_point.keys()
            await quay.stop()
            assert quay.report().ok

    asyncio.run(play())


@pytest.mark.long
def test_hours_that_are_over_are_packed_and_still_vouched_for(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            await quay.play("03:05:00")
            await quay.stop()
            quay.clock.jump(at("06:30:00"))
            await quay.start()
            await quay.play("06:41:00")
            with open_reader(quay.store) as reader:
                held = reader.survey()
                rows = list(reader.readings())
            assert held[0].loose == 0
            assert held[-1].loose > 0
            assert sum(hour.readings for hour in held) == len(rows)
            report = quay.report()
            assert report.ok
            assert sum(boat.kept for boat in report.hours) >= 1
            await quay.stop()

    asyncio.run(play())


def test_the_end_value_of_each_chain_stands_retained_on_a_topic_of_our_own(tmp_path: Path) -> None:
    async def play() -> None:
        async with moored(tmp_path) as quay:
            await quay.start()
            with Outsider(quay.broker.port, hears=END_VALUES) as outsider:
                await quay.play("03:11:00")
                await until(lambda: len(outsider.heard) == 1, "once a day, ten minutes after the start")
                await quay.play("03:12:00", quay.aboard("03:11:30", "bilge-high", True))
                await quay.stop()
                await until(lambda: len(outsider.heard) == 2, "and at the end")
            with Outsider(quay.broker.port, hears=END_VALUES) as late:
                await until(lambda: bool(late.heard), "it was not retained")
                published = json.loads(late.saw(END_VALUES)[0])
            assert set(published) == {"grey-wagtail", "installation"}
            with open_reader(quay.store) as reader:
                report = verify(reader, published)
            assert report.ok
            assert all(chain.agrees and chain.end == published[chain.chain] for chain in report.chains)

    asyncio.run(play())
