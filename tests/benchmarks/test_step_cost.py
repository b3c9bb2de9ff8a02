"""What one message costs the desk, with one boat and with a hundred: the same, because each wakes its own watches only.

Counted in calls of functions, which is the same on every machine; `python -m tests.benchmarks.test_step_cost` prints
microseconds of its own processor time.
"""

import sys
from dataclasses import replace
from time import process_time

import pytest

from gateway.alarms.settings import Point
from gateway.boat.settings import Signal
from gateway.desk.hub import Desk
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started
from gateway.vocabulary.moments import SECOND
from tests.desk.small_boat import BEGAN, BOAT, bundle_of
from tests.desk.watched_boat import SIGNALS, said, value

POINTS = (
    said("low", "volts below 12.0 V with deadband 0.2 V for 10 min", "gone for 60 s"),
    said("runs", "pump on for more than 20 min in the last hour"),
    said("cycles", "pump started more than 3 times in the last hour"),
    said("leak", "fuel falling faster than 2 % an hour"),
    said("drift", "3 of 5 fixes of position further than 25 m from its set position"),
    said("dark", "shore off and volts below 12.2 V for 10 min"),
    said("silent", "no news for 10 min"),
    said("dumb", "no news from heartbeat for 10 min"),
    said("frozen", "not (heartbeat changed in the last 10 min)"),
)
ROUND = ("pump off", "shore on", "volts 12.6", "fuel 80", "position 50.0 -5.0", "heartbeat 1")


class Fleet:
    """A desk with so many boats of these points, all of them heard once."""

    def __init__(self, boats: int) -> None:
        keys = [f"boat-{number}" for number in range(boats)]
        one = bundle_of(*POINTS)
        signals: dict[str, Signal] = {}
        points: dict[str, Point] = {}
        for key in keys:
            for signal in SIGNALS.values():
                signals[f"{key}/{signal.key}"] = replace(signal, id=f"{key}/{signal.key}", boat=key)
            for point in POINTS:
                points[f"{key}/{point.key}"] = replace(point, id=f"{key}/{point.key}", boat=key)
        people = {person.id: replace(person, boats=tuple(keys)) for person in one.people.values()}
        boat = one.boats[BOAT]
        self.keys = keys
        self.desk = Desk(
            replace(
                one,
                signals=signals,
                points=points,
                people=people,
                boats={key: replace(boat, key=key, name=key.upper()) for key in keys},
            )
        )
        self.now = BEGAN
        self.turn(InstallationCame(fingerprint="f", people=tuple(people)))
        self.turn(Started(stopped_at=None))
        self.turn(LinkChanged(link=f"broker:{boat.broker}", up=True))
        for key in keys:
            self.one_round(key)

    def turn(self, happening: object) -> None:
        self.now += 1
        self.desk.take(happening, self.now, bytes(32))  # type: ignore[arg-type]
        self.desk.next_due()

    def one_round(self, key: str) -> None:
        """One message of each signal of one boat, as they come: one by one."""
        for message in ROUND:
            name, _, text = message.partition(" ")
            reading = replace(value(name, text), signal=f"{key}/{name}")
            self.turn(ReadingsCame(readings=(reading,)))


def calls(fleet: Fleet, rounds: int) -> int:
    """Calls of functions that the messages of one boat cost."""
    count = 0

    def seen(*_: object) -> None:
        nonlocal count
        count += 1

    sys.setprofile(seen)
    try:
        for _ in range(rounds):
            fleet.now += 30 * SECOND
            fleet.one_round(fleet.keys[0])
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize("boats", [100])
def test_a_message_costs_the_same_however_many_boats_there_are(boats: int) -> None:
    one, many = Fleet(1), Fleet(boats)
    calls(one, 3), calls(many, 3)
    assert calls(many, 10) < 1.2 * calls(one, 10)


def microseconds(boats: int) -> float:
    """Of one message, the best of five rounds over all boats."""
    fleet, best = Fleet(boats), 1e9
    for _ in range(5):
        fleet.now += 30 * SECOND
        began = process_time()
        for _ in range(max(1, 200 // boats)):
            for key in fleet.keys:
                fleet.one_round(key)
        best = min(best, (process_time() - began) / (max(1, 200 // boats) * boats * len(ROUND)))
    return best * 1e6


if __name__ == "__main__":
    for boats in (1, 100, 1_000, 10_000):
        print(f"{boats:5} boats: {microseconds(boats):7.1f} microseconds a message")
