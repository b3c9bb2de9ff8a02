"""The judge itself: of one night in which nothing was wrong it says nothing, and each single wrong that is put into
what the world saw, into the record or into the state is seen, and named.

So each rule of judging.py has been seen to fail here, whatever the kills and cuts bring about.
"""

import asyncio
import sqlite3
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import closing
from copy import deepcopy
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from gateway.alarms.life import AlarmState
from gateway.demo.story import INES, TOBIAS
from gateway.desk.bundle import Bundle
from gateway.desk.snapshots import state_bytes, state_of
from gateway.desk.state import State
from gateway.logbook.chains import digest
from tests.faults.after import CO, struck
from tests.faults.judging import Record, Seen, breaches_of, judged, recorded
from tests.faults.traffic import lay_points

pytestmark = pytest.mark.struck
POINT = "grey-wagtail/point-0"


@dataclass(frozen=True)
class Night:
    """What was left of it."""

    store: Path
    bundle: Bundle
    seen: Seen
    record: Record


@pytest.fixture(scope="module")
def night(tmp_path_factory: pytest.TempPathFactory) -> Night:
    """An alarm that is taken and stands, one that is over, a confirmed command, a kill and a start."""
    place = tmp_path_factory.mktemp("night")

    async def play() -> Night:
        async with struck(place) as it:
            quay = it.quay
            lay_points(quay.folder)
            await quay.start()
            await quay.play("03:01:30", quay.text("03:01:00", TOBIAS, "deck lights on"))
            await quay.play("03:02:30", quay.text("03:02:00", TOBIAS, quay.code(TOBIAS)))
            await quay.play(
                "03:04:00",
                quay.aboard("03:03:00", "co", True),
                quay.text("03:03:30", INES, "have it 1"),
            )
            await quay.say([("grey-wagtail/point/0", "on", False)])
            await quay.play("03:05:00", quay.text("03:04:30", INES, "have it 2"))
            await quay.say([("grey-wagtail/point/0", "off", False)])
            await quay.play("03:06:30", quay.text("03:05:30", INES, "have it 1"))  # asked again by the other alarm
            await quay.crash()
            await quay.start()
            await quay.play("03:07:00")
            await quay.stop()
            it.raised += [CO, POINT]
            bundle, seen = it.seen()
            seen = replace(seen, told=Counter({CO: 1, POINT: 1}))
            record = recorded(quay.store, bundle)
            assert isinstance(record, Record)
            return Night(quay.store, bundle, seen, record)

    return asyncio.run(play())


def test_of_a_night_in_which_nothing_was_wrong_nothing_is_said(night: Night) -> None:
    assert judged(night.store, night.bundle, night.seen) == []
    assert night.record.folded.standing.by_point[CO].state in (AlarmState.ACKNOWLEDGED, AlarmState.LATCHED_ACKNOWLEDGED)
    assert 2 in night.record.folded.standing.closed
    assert len(night.seen.commands) == 1


WORLD: dict[str, tuple[Callable[[Seen], Seen], str]] = {
    "an alarm untold": (lambda seen: replace(seen, told=Counter({CO: 1})), f"an alarm was not told: {POINT}"),
    "an alarm told twice": (
        lambda seen: replace(seen, told=seen.told + Counter([CO])),
        f"an alarm was told 2 times: {CO}",
    ),
    "an alarm that never came in": (
        lambda seen: replace(seen, raised=[*seen.raised, "grey-wagtail/fire-2"], told=seen.told),
        "what the broker had taken of grey-wagtail/fire-2 is not in the record",
    ),
    "a text to us lost": (lambda seen: replace(seen, texted=["SM0"]), "a text to us was never taken in: SM0"),
    "a text that went twice": (
        lambda seen: replace(seen, sent=[*seen.sent, replace(seen.sent[-1], message="SM0")]),
        "0 orders account for a text (none: it went twice)",
    ),
    "a text that never went": (
        lambda seen: replace(seen, sent=seen.sent[:-1]),
        "an order is said to have gone out and has not",
    ),
    "a command twice": (
        lambda seen: replace(seen, commands=seen.commands + seen.commands),
        "a command came 2 times",
    ),
    "a command of nobody": (
        lambda seen: replace(seen, commands=seen.commands + Counter(["0"])),
        "a command came that nobody confirmed: 0",
    ),
    "blind time untold": (
        lambda seen: replace(seen, installer="somebody else"),
        "blind time with an alarm standing, or long, was not told to the installer",
    ),
}


@pytest.mark.parametrize("wrong", WORLD)
def test_what_the_world_saw_of_a_wrong_is_named(night: Night, wrong: str) -> None:
    change, words = WORLD[wrong]
    _named(breaches_of(night.record, change(night.seen)), words)


def _alarm(**changes: object) -> Callable[[State], object]:
    def change(state: State) -> None:
        state.standing.by_point[CO] = replace(state.standing.by_point[CO], **changes)  # type: ignore[arg-type]

    return change


def _newest(state: State) -> None:
    latest = state.seen.latest[CO]
    state.seen.latest[CO] = replace(latest, reading=replace(latest.reading, text="off"))


STATE: dict[str, tuple[Callable[[State], object], str]] = {
    "an alarm gone": (lambda state: state.standing.by_point.pop(CO), f"{CO}: the state says None"),
    "an alarm that is over": (
        lambda state: state.standing.by_point.update({POINT: replace(state.standing.by_point[CO], point=POINT)}),
        f"{POINT}: the state says (1, True, True), the model None",
    ),
    "its number": (_alarm(number=7), f"{CO}: the state says (7, True, True), the model (1, True, True)"),
    "its condition": (_alarm(active=False), f"{CO}: the state says (1, False, True), the model (1, True, True)"),
    "that it is taken": (
        _alarm(state=AlarmState.UNACKNOWLEDGED),
        f"{CO}: the state says (1, True, False), the model (1, True, True)",
    ),
    "a number that rests": (
        lambda state: state.standing.closed.pop(2),
        "numbers that rest: the state says [], the model [2]",
    ),
    "the last number": (lambda state: setattr(state.standing, "last_number", 1), "the last number is 1, and 2 was"),
    "a newest value": (_newest, f"{CO}: the newest value is 'off', by the model 'on'"),
    "a newest value lost": (lambda state: state.seen.latest.pop(CO), f"{CO}: the newest value is None"),
}


@pytest.mark.parametrize("wrong", STATE)
def test_a_state_that_is_another_than_the_models_is_named(night: Night, wrong: str) -> None:
    change, words = STATE[wrong]
    folded = deepcopy(night.record.folded)
    change(folded)
    _named(breaches_of(replace(night.record, folded=folded), night.seen), words)


def test_a_number_that_was_left_out_is_named(night: Night) -> None:
    first = night.record.folded.standing.by_point[CO].number
    steps = [one for one in night.record.of("alarm-step") if one.entry.body["number"] == first]
    written = [one for one in night.record.written if one not in steps]
    _named(breaches_of(replace(night.record, written=written), night.seen), "alarm numbers were not given in turn: [2]")


SNAPSHOT = "UPDATE snapshots SET digest = ?, data = ? WHERE id = ?"
TAMPERED = {
    "a byte of an entry": "UPDATE entries SET data = CAST(replace(CAST(data AS TEXT), 'raise', 'clear') AS BLOB)",
    "an entry's hash": "UPDATE entries SET digest = upper(digest) WHERE n = 9",
    "an entry taken out": "DELETE FROM entries WHERE n = 9",
    "the last entry taken out": "DELETE FROM entries WHERE n = (SELECT max(n) FROM entries)",
    "an entry moved to the front": "UPDATE entries SET n = -1 WHERE n = 9",
    "a sealed part": "UPDATE sealed_parts SET data = CAST('{}' AS BLOB) WHERE n = (SELECT max(n) FROM sealed_parts)",
    "a block of readings": "UPDATE reading_blocks SET lines = zeroblob(9) WHERE id = 2",
    "the end of a chain": "UPDATE chain_heads SET place = place + 1",
}


@pytest.mark.parametrize("wrong", TAMPERED)
def test_a_record_that_was_tampered_with_or_half_written_does_not_verify(
    night: Night, wrong: str, tmp_path: Path
) -> None:
    store = _copy(night.store, tmp_path)
    with closing(sqlite3.connect(store)) as driver:
        assert driver.execute(TAMPERED[wrong]).rowcount > 0
        driver.commit()
    _named(judged(store, night.bundle, night.seen), "the logbook does not verify")


def test_a_snapshot_that_holds_another_state_than_the_entries_make_is_named(night: Night, tmp_path: Path) -> None:
    store = _copy(night.store, tmp_path)
    with closing(sqlite3.connect(store)) as driver:
        place, data = driver.execute("SELECT id, data FROM snapshots ORDER BY id DESC LIMIT 1").fetchone()
        state = state_of(data)
        state.standing.by_point.clear()
        driver.execute(SNAPSHOT, (digest(state_bytes(state)), state_bytes(state), place))
        driver.commit()
    _named(judged(store, night.bundle, night.seen), "folded from its snapshot the state is another")


def _copy(store: Path, place: Path) -> Path:
    copy = place / "store"
    with closing(sqlite3.connect(store)) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)
    return copy


def _named(breaches: Sequence[str], words: str) -> None:
    assert any(words in breach for breach in breaches), breaches
