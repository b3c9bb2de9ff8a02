"""What an answer to `status` costs: the whole boat of the starter, its shunt reporting for a day.

Counted in calls of functions, which is the same on every machine; `python -m tests.benchmarks.test_status_answer`
prints milliseconds.
"""

import json
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from gateway.boat.decoding import decode
from gateway.boat.directory import directory_of
from gateway.desk.hub import Desk
from gateway.installation.load import load
from gateway.installation.starter import lay_down, whole_standard
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started, TextCame
from gateway.vocabulary.moments import HOUR, SECOND
from gateway.vocabulary.orders import SendText
from tests.desk.small_boat import BOAT, NUMBER_OF, TOBIAS, Small

MOST_CALLS = 12_000
"""Calls of functions for one answer from the whole boat: twice what was counted when this was written."""
MOST_CALLS_WITH_SUMS = 26_000
"""The same with every sum of the boat moving, after an hour."""


def heard(hours: int, *, moves: bool = False) -> Small:
    """The desk of the whole boat after so many hours of a shunt that reports every 30 s. moves: what all her own sums
    rest on reports as well."""
    with tempfile.TemporaryDirectory() as folder:
        lay_down(Path(folder), boats=(BOAT,), built_on=whole_standard("12", "agm"))
        environ = {"HEAVINGLINE_CARRIER_TOKEN": "x"}
        bundle = load(Path(folder), person_id=lambda key: f"id-{key}", environ=environ).bundle
    small = Small(Desk(bundle))
    small.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
    small.take(Started(stopped_at=None))
    small.take(LinkChanged(link="carrier:main", up=True))
    small.take(LinkChanged(link="broker:quay", up=True))
    topics = directory_of(bundle.signals.values()).by_topic
    signals = topics[f"{BOAT}/dc/house"]
    for step in range(hours * HOUR // (30 * SECOND)):
        payload = json.dumps({"voltage": 12.7, "current": -12.0, "charge": 80, "temperature": 18}).encode()
        small.take(ReadingsCame(readings=decode(signals, payload, retained=False)))
        for quiet in ("bilge/high", "detector/co", "detector/fire", "detector/gas"):
            small.take(ReadingsCame(readings=decode(topics[f"{BOAT}/{quiet}"], b"off", retained=False)))
        for topic, moved in moving(step) if moves else ():
            small.take(ReadingsCame(readings=decode(topics[f"{BOAT}/{topic}"], moved.encode(), retained=False)))
        small.now += 30 * SECOND
    return small


def moving(step: int) -> tuple[tuple[str, str], ...]:
    """What the boat's own sums rest on, at this half minute: a leak, a tank that falls, a fridge, the place."""
    return (
        ("bilge/pump", "on" if step % 22 < 2 else "off"),
        ("tank/water", f"{90 - step / 60:.2f}"),
        ("cold/fridge", "3.9"),
        ("node/refrigeration/state", '{"running": "on", "count": 1}'),
        ("cabin/temperature", f"{12 - step / 400:.2f}"),
        ("position", '{"latitude": 50.0010, "longitude": -5.0005}'),
    )


def ask(small: Small, number: int) -> str:
    """Ask for the status; the answer."""
    turn = small.take(TextCame(message=f"status {number}", number=NUMBER_OF[TOBIAS], body="status", age=0))
    return next(order.body for order in turn.orders if isinstance(order, SendText))


def calls(small: Small, number: int) -> int:
    """Calls of functions that one answer costs."""
    count = 0

    def seen(_frame: object, event: str, _arg: object) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(seen)
    try:
        ask(small, number)
    finally:
        sys.setprofile(None)
    return count


def test_a_status_answer_costs_the_same_however_long_the_boat_has_been_heard() -> None:
    short, long = heard(1), heard(6)
    # 30 % of 400 Ah at 12 A are 10 h, less the half minute that the value is old, and hours left are told rounded down
    assert "50% in about 9 h" in ask(short, 0)
    ask(long, 0)
    first, second = calls(short, 1), calls(long, 1)
    assert second < 1.1 * first
    assert first < MOST_CALLS, first


def test_an_answer_with_all_sums_of_the_boat_stays_within_its_bound() -> None:
    assert calls(heard(1, moves=True), 1) < MOST_CALLS_WITH_SUMS


if __name__ == "__main__":
    for moves in (False, True):
        boat = heard(24, moves=moves)
        best = 1e9
        for turn in range(20):
            began = perf_counter()
            ask(boat, turn)
            best = min(best, perf_counter() - began)
        what = "with all her sums" if moves else "with her bank alone"
        print(f"status of the whole boat after a day, {what}: {best * 1e3:.2f} ms; {calls(boat, 99)} calls")
