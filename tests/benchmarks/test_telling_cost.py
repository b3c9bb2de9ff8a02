"""What it costs to decide who is told: a thousand persons, a thousand boats, an alarm on each at one moment.

Counted in calls of functions, which is the same on every machine; `python -m tests.benchmarks.test_telling_cost` prints
microseconds of its own processor time for one decision, and how many times the barest planner's in the same run.
"""

import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from time import process_time

from gateway.desk.bundle import Bundle
from gateway.desk.hub import Desk
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.happenings import InstallationCame, LinkChanged, ReadingsCame, Started, TimeCame
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from gateway.vocabulary.readings import Grade, Reading
from grammar.meanings import IsContact
from tests.desk.small_boat import BEGAN, BOAT, INES, bundle_of, point

PUMP = point("pump", when=IsContact(signal="water", wanted=True), priority=Priority.ALARM, name="Bilge pump runs")
GROWTH = 1.05
"""Of the calls for one alarm, from a hundred boats to a thousand: nothing may look at every boat or person for each."""
MOST_CALLS = 7_000
"""Calls of functions for one alarm raised, planned, worded for two and recorded: twice what was counted at first."""


def persons_and_boats(count: int) -> Bundle:
    """So many boats with an alarm point each, and as many persons: each is told at once of two boats, later of more."""
    one = bundle_of(PUMP)
    keys = [f"boat-{number:04}" for number in range(count)]
    minds = [tuple(keys[at - back] for back in range(3)) for at in range(count)]
    people = {
        f"p{at:04}": replace(
            one.people[INES],
            id=f"p{at:04}",
            key=f"p{at:04}",
            name=f"Person{at:04}",
            number=f"+4477009{at:05}",
            boats=boats,
        )
        for at, boats in enumerate(minds)
    }
    lists = {
        key: CallOutList(
            key=key,
            steps=tuple(
                Step(after=after * 5 * MINUTE, tell=(f"p{(at + after) % count:04}", f"p{(at + after + 1) % count:04}"))
                for after in range(2)
            ),
            repeat=30 * MINUTE,
        )
        for at, key in enumerate(keys)
    }
    return replace(
        one,
        boats={key: replace(one.boats[BOAT], key=key, name=key.upper(), short_name="") for key in keys},
        signals={
            f"{key}/water": replace(one.signals[f"{BOAT}/water"], id=f"{key}/water", boat=key, topic=f"{key}/water")
            for key in keys
        },
        points={f"{key}/pump": replace(PUMP, id=f"{key}/pump", boat=key, callout=key) for key in keys},
        people=people,
        callouts=lists,
        pacing=replace(one.pacing, all_boats_a_day=100_000),
    )


class Moment:
    """A desk in the moment before the alarms come; it can be asked once."""

    def __init__(self, count: int) -> None:
        self.bundle = persons_and_boats(count)
        self.desk, self.now, self.turns = Desk(self.bundle), BEGAN, 0
        self.take(InstallationCame(fingerprint=self.bundle.fingerprint, people=tuple(self.bundle.people)))
        self.take(Started(stopped_at=None))
        self.take(LinkChanged(link="broker:quay", up=True))
        self.take(self.water("off"))

    def take(self, happening: object) -> list[SendText]:
        self.now, self.turns = self.now + SECOND, self.turns + 1
        turn = self.desk.take(happening, self.now, self.turns.to_bytes(32, "big"))  # type: ignore[arg-type]
        return [order for order in turn.orders if isinstance(order, SendText)]

    def water(self, text: str) -> ReadingsCame:
        """The same contact of every boat, all at once."""
        readings = (Reading(signal=key, grade=Grade.CONTACT, text=text) for key in self.bundle.signals)
        return ReadingsCame(readings=tuple(readings))

    def all_at_once(self) -> list[SendText]:
        """Every alarm is raised, and whoever is first is told."""
        return [*self.take(self.water("on")), *self.take(TimeCame())]


def bare(bundle: Bundle, told: Counter[str], now: Ms) -> list[tuple[str, str]]:
    """The barest planner: the first round of each list, a count for each person, and one line of words."""
    texts = []
    for each in sorted(bundle.points.values(), key=lambda one: -one.priority.gravity):
        for person in bundle.callouts[each.callout].steps[0].tell:
            told[person] += 1
            if told[person] <= bundle.pacing.alarm_repeats_an_hour:
                boat = bundle.boats[each.boat]
                texts.append((person, f"{boat.name}: {each.name} since {now // MINUTE % 1440}. Reply HAVE IT 1"[:160]))
    return texts


def calls(asked: Callable[[], object]) -> int:
    count = 0

    def seen(_frame: object, event: str, _arg: object) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(seen)
    try:
        asked()
    finally:
        sys.setprofile(None)
    return count


def test_everybody_is_told_at_once_of_two_boats_as_by_the_barest_planner() -> None:
    moment = Moment(50)
    texts = moment.all_at_once()
    told = sorted((order.person, order.body[: len("BOAT-0000")]) for order in texts)
    assert told == sorted((person, body[: len("BOAT-0000")]) for person, body in bare(moment.bundle, Counter(), 0))
    assert Counter(person for person, _ in told) == dict.fromkeys(moment.bundle.people, 2)


def test_a_decision_among_a_thousand_costs_what_it_costs_among_a_hundred() -> None:
    few, many = Moment(100), Moment(1_000)
    one_of_few = calls(few.all_at_once) / 100
    one_of_many = calls(many.all_at_once) / 1_000
    assert one_of_many < GROWTH * one_of_few, (one_of_few, one_of_many)
    assert one_of_many < MOST_CALLS, one_of_many


def processor(asked: Callable[[], object]) -> float:
    began = process_time()
    asked()
    return process_time() - began


if __name__ == "__main__":
    for boats in (100, 1_000):
        best = min(processor(Moment(boats).all_at_once) for _ in range(3))
        plain = persons_and_boats(boats)
        barest = min(processor(lambda plain=plain: bare(plain, Counter(), BEGAN)) for _ in range(20))  # type: ignore[misc]
        counted = calls(Moment(boats).all_at_once) / boats
        print(
            f"{boats} persons, {boats} alarms at one moment: {best / boats * 1e6:.0f} us a decision, "
            f"{best / barest:.0f} times the barest planner's {barest / boats * 1e6:.2f} us; {counted:.0f} calls"
        )
