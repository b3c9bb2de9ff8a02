"""Whatever happens, in whatever order: no limit is passed, no emergency waits, nothing is dropped without a word, and
of every alarm that holds somebody is told or the record says why not.

The model reads the record alone: what was queued, to whom, when, and what was held back. It knows the limits as the
installer writes them, and nothing of calls, floods or waiting.
"""

from dataclasses import dataclass, replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule

from gateway.alarms.life import AlarmState
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.telling.settings import Pacing
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import DeliveryReported, InstallationCame, LinkChanged, SendAnswered, Started
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from tests.desk.four_contacts import FLOOD, POINTS, FourContacts
from tests.desk.small_boat import BEGAN, BOAT, INES, LIST, MARINA, TOBIAS, Small, bundle_of
from tests.effort import tries

LIMITS = Pacing(alarm_repeats_an_hour=2, warnings_an_hour=2, warnings_a_day=4, boat_a_day=10, all_boats_a_day=10)
TOLD = frozenset({"alarm told", "alarm gone", "flood told"})
"""Kinds of text that a limit may hold back. What is asked of a holder is no repeat of an alarm."""


@dataclass(frozen=True)
class Text:
    """A text as the record has it."""

    place: int
    at: Ms
    person: str
    about: str
    priority: str | None
    again: bool
    numbers: tuple[int, ...]
    says_held: tuple[int, ...]

    @property
    def lesser(self) -> bool:
        return self.priority in ("warning", "caution")

    @property
    def repeat(self) -> bool:
        return self.priority == "alarm" and self.again


@dataclass(frozen=True)
class Held:
    """Something that was not sent, as the record has it. limited: by a limit, so that it must be said later."""

    place: int
    at: Ms
    person: str
    numbers: tuple[int, ...]
    limited: bool


def text_of(place: int, written: Written) -> Text:
    body = written.entry.body
    return Text(
        place,
        written.entry.now,
        str(body["person"]),
        str(body["about"]),
        None if body["priority"] is None else str(body["priority"]),
        bool(body["again"]),
        tuple(body["numbers"]),  # type: ignore[arg-type]
        tuple(body["says_held"]),  # type: ignore[arg-type]
    )


def held_of(place: int, written: Written) -> Held:
    body = written.entry.body
    numbers = tuple(body["numbers"])  # type: ignore[arg-type]
    return Held(place, written.entry.now, str(body["person"]), numbers, body["until"] is not None)


def of_person(one: Text | Held) -> set[tuple[str, int]]:
    return {(one.person, number) for number in one.numbers}


def most_within(times: list[Ms], per: Ms) -> int:
    """The most that stand in any stretch of this length (the last instant in, the first out)."""
    return max((sum(end - per < at <= end for at in times) for end in times), default=0)


class Limits(FourContacts):
    """One boat with a point of each priority, three people, low limits."""

    def __init__(self) -> None:
        super().__init__()
        bundle = replace(bundle_of(*POINTS.values(), callouts=(LIST,)), pacing=LIMITS)
        self.boat = Small(Desk(bundle), now=BEGAN - 10)
        self.boat.take(InstallationCame(fingerprint=bundle.fingerprint, people=tuple(bundle.people)))
        self.boat.take(Started(stopped_at=None))
        self.boat.take(LinkChanged(link="broker:quay", up=True))
        self.boat.now = BEGAN
        self.answered = self.turns_read = self.places = 0
        self.texts: list[Text] = []
        self.held: list[Held] = []
        self.orders: list[SendText] = []

    def read_the_record(self) -> None:
        for turn in self.boat.turns[self.turns_read :]:
            for written in turn.entries:
                self.places += 1
                if written.entry.kind == "text-queued" and not written.entry.body["spoken"]:
                    self.texts.append(text_of(self.places, written))
                elif written.entry.kind == "held-back":
                    self.held.append(held_of(self.places, written))
            self.orders += [order for order in turn.orders if isinstance(order, SendText)]
        self.turns_read = len(self.boat.turns)

    @rule(length=st.sampled_from([20 * SECOND, 4 * MINUTE, 11 * MINUTE, 35 * MINUTE, 2 * HOUR]))
    def time_passes(self, length: Ms) -> None:
        self.boat.wait(length)

    @rule(
        who=st.sampled_from([INES, TOBIAS, MARINA]),
        says=st.sampled_from(["have it {n}", "ashore", "hand over {n}", "ok", "STOP", "START", "alarms"]),
        which=st.integers(0, 3),
    )
    def somebody_texts(self, who: str, says: str, which: int) -> None:
        numbers = sorted(alarm.number for alarm in self.boat.desk.state.standing.by_point.values()) or [1]
        self.boat.texts(who, says.format(n=numbers[which % len(numbers)]))

    @precondition(lambda self: self.answered < len(self.orders))
    @rule(
        end=st.sampled_from(["delivered", "undelivered", "sent", "refused", "no answer"]),
        first=st.booleans(),
    )
    def the_carrier_answers_all(self, end: str, first: bool) -> None:
        waiting, self.answered = self.orders[self.answered :], len(self.orders)
        for order in waiting:
            accepted = end in ("delivered", "undelivered", "sent")
            answer = SendAnswered(
                order=order.id,
                accepted=accepted,
                message=f"SM{order.id}" if accepted else "",
                code="" if accepted else {"refused": "21211"}.get(end, end),
            )
            word = DeliveryReported(order=order.id, status=end, code="30003" if end == "undelivered" else "")
            for one in (word, answer) if first else (answer, word):
                if accepted or one is answer:
                    self.boat.take(one)

    @rule()
    def the_gateway_is_killed_and_started(self) -> None:
        boat = self.boat
        rows = [(turn.happening, turn.now, one) for turn in boat.turns for one in turn.readings]
        boat.desk = rebuilt(boat.desk.bundle, None, boat.entries, rows)
        boat.restarts()

    @invariant()
    def no_limit_is_passed(self) -> None:
        self.read_the_record()
        told = [text for text in self.texts if text.about in TOLD]
        for person in (INES, TOBIAS, MARINA):
            lesser = [text.at for text in told if text.person == person and text.lesser]
            repeats = [text.at for text in told if text.person == person and text.repeat]
            assert most_within(lesser, HOUR) <= LIMITS.warnings_an_hour
            assert most_within(lesser, DAY) <= LIMITS.warnings_a_day
            assert most_within(repeats, HOUR) <= LIMITS.alarm_repeats_an_hour
        assert most_within([text.at for text in told if text.lesser or text.repeat], DAY) <= LIMITS.boat_a_day

    @invariant()
    def no_emergency_is_late(self) -> None:
        """Whoever the list names has been told by the minute that it names, or the record says why not."""
        self.boat.wait(0)
        self.read_the_record()
        call = self.boat.desk.state.telling.calls.get(FLOOD.id)
        if call is None or call.over or call.holder is not None or call.rejoined:
            return
        for step in LIST.steps:
            due = call.began + step.after
            if due > self.boat.now:
                continue
            for person in step.tell:
                found = [one.at for one in (*self.texts, *self.held) if (one.person, call.number) in of_person(one)]
                assert any(at >= call.began for at in found), (person, step)
                if step.after == 0:
                    assert min(at for at in found if at >= call.began) == call.began

    @invariant()
    def what_was_held_back_is_said_or_waits_to_be_said(self) -> None:
        self.read_the_record()
        said: dict[tuple[str, int], int] = {}  # where it was said last
        for text in self.texts:
            said |= {(text.person, number): text.place for number in (*text.numbers, *text.says_held)}
        for held in self.held:
            waits = self.boat.desk.state.telling.held.get(held.person, ())
            for number in held.numbers if held.limited else ():
                assert said.get((held.person, number), 0) > held.place or number in waits, (held.person, number)

    @invariant()
    def of_what_holds_somebody_was_told_or_the_record_says_why_not(self) -> None:
        self.read_the_record()
        known = {number for one in (*self.texts, *self.held) for number in one.numbers}
        for alarm in self.boat.desk.state.standing.by_point.values():
            if alarm.active and alarm.state is AlarmState.UNACKNOWLEDGED:
                assert alarm.number in known, alarm.point


TestLimits = Limits.TestCase
TestLimits.settings = settings(max_examples=tries(12), stateful_step_count=25)


def test_the_point_of_each_priority_is_there() -> None:
    assert {one.priority for one in POINTS.values()} == set(Priority)
    assert all(one.boat == BOAT for one in POINTS.values())
