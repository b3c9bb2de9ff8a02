"""A year of one boat through the desk: all her readings every five minutes, and every change at once.

Run it with ``python -m tests.benchmarks.boat_year [DAYS]``. She is the starter's GREY WAGTAIL with every alarm point.
The bilge pump runs four times a day, shore power fails twice a week, once a month the high-water float lifts; somebody
takes each alarm, looks, and says so. Messages are decoded, judged and recorded in memory; nothing goes to disk.
Seconds are those of the process's own processor time: other work on the machine does not count.
"""

import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from gateway.boat.decoding import decode
from gateway.boat.directory import directory_of
from gateway.demo.boat import DemoBoat
from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.desk.turn import Turn
from gateway.doors.faces import ReadingRow
from gateway.vocabulary.happenings import (
    DeliveryReported,
    Happening,
    InstallationCame,
    LinkChanged,
    ReadingsCame,
    SendAnswered,
    Started,
    TextCame,
    TimeCame,
)
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, from_rfc3339
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.readings import Reading
from tests.desk.small_boat import starter_bundle

BEGAN = from_rfc3339("2026-01-01T00:00:00Z")
EVERY: Ms = 5 * MINUTE
WITHIN = 120.0  # seconds for 365 days, as promised
TOBIAS = "+447700900456"


def slow_bundle() -> Bundle:
    """The starter, every signal reporting every five minutes."""
    whole = starter_bundle()
    return replace(whole, signals={key: replace(one, report_interval=EVERY) for key, one in whole.signals.items()})


def changes(day: int) -> Iterator[tuple[Ms, str, bool]]:
    """What changes aboard on one day: after so long (ms) since midnight, which contact, to what. In order of time."""
    found = [
        (hour * HOUR + minute, "bilge-pump", minute == MINUTE)
        for hour in (2, 9, 14, 21)
        for minute in (MINUTE, 3 * MINUTE)
    ]
    if day % 7 in (1, 4):
        found += [(11 * HOUR, "shore", False), (12 * HOUR, "shore", True)]
    if day % 30 == 10:
        found += [(16 * HOUR, "bilge-high", True), (16 * HOUR + 20 * MINUTE, "bilge-high", False)]
    yield from sorted(found)


@dataclass
class Year:
    """The desk and the boat, and what was counted."""

    desk: Desk = field(default_factory=lambda: Desk(slow_bundle()))
    boat: DemoBoat = field(default_factory=DemoBoat)
    count: Counter[str] = field(default_factory=Counter)
    now: Ms = BEGAN
    rows: list[ReadingRow] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.topics = directory_of(self.desk.bundle.signals.values()).by_topic
        self.take(InstallationCame(fingerprint=self.desk.bundle.fingerprint, people=tuple(self.desk.bundle.people)))
        self.take(Started(stopped_at=None))
        self.take(LinkChanged(link="broker:quay", up=True))
        self.take(LinkChanged(link="carrier:main", up=True))

    def take(self, happening: Happening) -> None:
        """One happening now, and the carrier's good word on every text that follows from it."""
        turn = self.desk.take(happening, max(self.now, self.desk.state.now + 1), self.count.total().to_bytes(32, "big"))
        self.count["happenings"] += 1
        self.count["readings"] += len(turn.readings)
        self.count["entries"] += len(turn.entries)
        self.taken(turn)
        for order in turn.orders:
            if isinstance(order, SendText):
                self.count["texts"] += 1
                self.take(SendAnswered(order=order.id, accepted=True, message=order.id))
                self.take(DeliveryReported(order=order.id, status="delivered"))

    def taken(self, turn: Turn) -> None:
        """What else is to be done with a turn: nothing here."""

    def until(self, at: Ms) -> None:
        """Let time go by, waking the desk at every instant that it names."""
        while (due := self.desk.next_due()) is not None and due < at:
            self.now = max(due, self.desk.state.now + 1)
            self.take(TimeCame())
        self.now = max(at, self.desk.state.now + 1)

    def hear(self) -> None:
        """All that the boat says at this moment, in one happening."""
        readings: list[Reading] = []
        for topic, payload, _ in self.boat.due(self.now):
            readings += decode(self.topics.get(topic, ()), payload.encode(), retained=False)
        if readings:
            self.take(ReadingsCame(readings=tuple(readings)))

    def one_day(self, day: int) -> None:
        """A day of readings, changes and answers."""
        midnight, waiting = BEGAN + day * DAY, list(changes(day))
        for step in range(DAY // EVERY):
            at = midnight + step * EVERY
            while waiting and midnight + waiting[0][0] <= at:
                after, contact, on = waiting.pop(0)
                self.until(midnight + after)
                self.boat.set(contact, on, self.now)
                self.hear()
            self.until(at)
            self.hear()
        for body in ("have it", "checked"):
            for number in sorted(alarm.number for alarm in self.desk.state.standing.by_point.values()):
                self.until(self.now + SECOND)
                self.take(TextCame(message=f"SM{self.now}", number=TOBIAS, body=f"{body} {number}", age=0))


def measure(days: int) -> dict[str, float]:
    """So many days; the figures by name."""
    year = Year()
    began = time.process_time()
    for day in range(days):
        year.one_day(day)
    seconds = time.process_time() - began
    return {
        "days": days,
        **year.count,
        "seconds": seconds,
        "seconds for a year": seconds * 365 / days,
        "promised": WITHIN,
        "microseconds a reading": seconds * 1e6 / year.count["readings"],
    }


if __name__ == "__main__":
    for name, figure in measure(int(sys.argv[1]) if sys.argv[1:] else 365).items():
        print(f"{name:<24} {figure:>14,.1f}")
