"""Floods, quiet hours, a stand-in, an opt-out, a hand-over, a practice and new files, all at once and in any order: the
rules of fairness (design rules 11 and 12) hold.

The model reads the record alone. An emergency is held back for no limit, flood, wish or sleep. The first text of an
alarm waits for no limit, and in a flood for no longer than what belongs together is gathered. Once somebody has an
alarm nobody is told of it again until it changes, and the others hear once who has it. Nobody gets two texts of one
alarm in one moment. An emergency or alarm that nobody has is told again and again, or the record says why not.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Attendance
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes, state_of
from gateway.people.away import Days
from gateway.people.quiet import QuietHours
from gateway.telling.gathering import GATHERED_FOR
from gateway.telling.settings import CallOutList, Pacing, Step
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import DeliveryReported, InstallationCame, LinkChanged, SendAnswered, Started
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms, as_utc
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import BEGAN, INES, MARINA, RUTH, TOBIAS, Small, bundle_of, point
from tests.effort import tries

FIVE = 5 * MINUTE
LIST = CallOutList(
    key="list",
    steps=(Step(after=0, tell=(INES,)), Step(after=FIVE, tell=(TOBIAS,)), Step(after=8 * MINUTE, tell=(MARINA,))),
    repeat=10 * MINUTE,
)


def on(signal: str, key: str, priority: Priority, *, wanted: bool = True, **more: object) -> object:
    return point(key, when=IsContact(signal=signal, wanted=wanted), priority=priority, **more)


POINTS = (
    on("water", "flood", Priority.EMERGENCY, latching=True, ask_again=10 * MINUTE),
    on("water", "pump", Priority.ALARM, ask_again=30 * MINUTE),
    on("hatch", "open", Priority.ALARM, ask_again=30 * MINUTE, attendance=(Attendance.AWAY,)),
    on("hatch", "door", Priority.ALARM, latching=True),
    on("shore", "lost", Priority.WARNING, wanted=False, becomes_alarm=HOUR),
    on("shore", "charger", Priority.WARNING, wanted=False),
    on("panel", "warm", Priority.CAUTION),
    on("panel", "bank", Priority.ALARM),
)
PEOPLE = (INES, TOBIAS, MARINA, RUTH)
TELLS = ("alarm told", "flood told", "shared matter told")
GONE = ("alarm gone", "shared matter gone")
TAKEN = ("alarm taken", "group taken")
NOT_YET = ("texted of it in this moment", "its last text has not gone yet", "the phone has opted out")
"""Why also a text of an emergency may not go: it went just now, it is on its way, it would be refused."""


@dataclass(frozen=True)
class Line:
    """A text, what was held back, or a step of an alarm, as the record has it."""

    at: Ms
    kind: str
    numbers: tuple[int, ...]
    person: str = ""
    about: str = ""
    because: str = ""
    until: Ms | None = None
    spoken: bool = False


def lines_of(written: Written) -> Iterator[Line]:
    entry, body = written.entry, written.entry.body
    if entry.kind in ("text-queued", "held-back"):
        yield Line(
            entry.now,
            entry.kind,
            tuple(body["numbers"]),  # type: ignore[arg-type]
            str(body["person"]),
            str(body["about"]),
            str(body.get("because", "")),
            body.get("until"),  # type: ignore[arg-type]
            bool(body.get("spoken")),
        )


class AllAtOnce(RuleBasedStateMachine):
    """One boat, points of every priority on few contacts, so that they rise together; low limits, short nights."""

    def __init__(self) -> None:
        super().__init__()
        bundle = bundle_of(*POINTS, callouts=(LIST,))  # type: ignore[arg-type]
        today = as_utc(BEGAN).date()
        people = dict(bundle.people)
        people[INES] = replace(people[INES], quiet=QuietHours(22 * 60, 5 * 60), stand_in=RUTH)
        people[TOBIAS] = replace(people[TOBIAS], away=(Days(today, today),), stand_in=RUTH)
        people[RUTH] = replace(people[RUTH], quiet=QuietHours(23 * 60, 4 * 60), consent="2026-02-01, by word")
        limits = Pacing(
            alarm_repeats_an_hour=2, warnings_an_hour=2, warnings_a_day=4, boat_a_day=12, all_boats_a_day=12
        )
        self.bundle = replace(bundle, people=people, pacing=limits)
        self.boat = Small(Desk(self.bundle), now=BEGAN - 10)
        self.boat.take(InstallationCame(fingerprint=self.bundle.fingerprint, people=tuple(people)))
        self.boat.take(Started(stopped_at=None))
        self.boat.take(LinkChanged(link="broker:quay", up=True))
        self.boat.now = BEGAN
        self.read = self.answered = 0
        self.lines: list[Line] = []
        self.priority: dict[int, str] = {}
        self.held_by: dict[int, str] = {}
        self.told: dict[int, set[str]] = {}
        self.had_it: dict[int, str] = {}
        self.told_anew: dict[int, set[str]] = {}
        self.think_it_open: dict[int, set[str]] = {}
        self.to_hear: dict[int, dict[str, int]] = {}
        self.orders: list[SendText] = []

    # ------------------------------------------------------------ what happens

    @rule(signal=st.sampled_from(["water", "hatch", "shore", "panel"]), bad=st.booleans())
    def a_contact_changes(self, signal: str, bad: bool) -> None:
        self.boat.reads(signal, "off" if bad is (signal == "shore") else "on")

    @rule(times=st.integers(2, 4))
    def everything_flaps(self, times: int) -> None:
        for _ in range(times):
            for bad in (True, False):
                for signal in ("hatch", "shore", "panel"):
                    self.a_contact_changes(signal, bad)
                self.boat.wait(10 * SECOND)
        for signal in ("hatch", "shore", "panel"):
            self.a_contact_changes(signal, True)

    @rule(length=st.sampled_from([SECOND, 20 * SECOND, 4 * MINUTE, 11 * MINUTE, 35 * MINUTE, 3 * HOUR]))
    def time_passes(self, length: Ms) -> None:
        self.boat.wait(length)

    @rule(
        who=st.sampled_from(PEOPLE),
        says=st.sampled_from(
            [
                "have it {n}",
                "have it",
                "take over {n}",
                "hand over {n}",
                "ok",
                "{n} ok",
                "STOP",
                "START",
                "quiet {n} for 2 h",
                "at boat {n}",
                "ashore {n}",
                "checked {n}",
                "shelve {n} for 1 h",
                "unshelve {n}",
                "aboard",
                "away",
                "visit",
                "visit over",
                "practice bank",
                "practice over",
                "duty me",
                "alarms",
            ]
        ),
        which=st.integers(0, 7),
    )
    def somebody_texts(self, who: str, says: str, which: int) -> None:
        numbers = sorted(alarm.number for alarm in self.boat.desk.state.standing.by_point.values()) or [1]
        self.boat.texts(who, says.format(n=numbers[which % len(numbers)]))

    @precondition(lambda self: self.answered < len(self.orders))
    @rule(end=st.sampled_from(["delivered", "undelivered", "refused", "no answer", "opted out"]))
    def the_carrier_answers_all(self, end: str) -> None:
        waiting, self.answered = self.orders[self.answered :], len(self.orders)
        for order in waiting:
            code = {"refused": "21211", "no answer": "no answer", "opted out": "21610"}.get(end)
            self.boat.take(SendAnswered(order=order.id, accepted=code is None, message="SM1", code=code or ""))
            if code is None:
                self.boat.take(DeliveryReported(order=order.id, status=end, code="30003"))

    @rule()
    def the_gateway_is_killed_and_started(self) -> None:
        boat = self.boat
        rows = [(turn.happening, turn.now, one) for turn in boat.turns for one in turn.readings]
        boat.desk = rebuilt(boat.desk.bundle, None, boat.entries, rows)
        boat.restarts()

    @rule(gone=st.sampled_from([None, INES, TOBIAS, MARINA]))
    def new_files_come(self, gone: str | None) -> None:
        people = {key: one for key, one in self.bundle.people.items() if key != gone}
        steps = tuple(step for step in LIST.steps if gone not in step.tell)  # no list names somebody unknown
        self.boat.uses(replace(self.bundle, people=people, callouts={LIST.key: replace(LIST, steps=steps)}))

    # ------------------------------------------------------------ what must hold

    @invariant()
    def the_record_keeps_the_rules(self) -> None:
        self.boat.wait(0)
        for turn in self.boat.turns[self.read :]:
            heard: set[tuple[str, int]] = set()
            for written in turn.entries:
                self._step(written)
                for line in lines_of(written):
                    self.lines.append(line)
                    if line.kind == "held-back":
                        self._may_be_held_back(line)
                    elif line.about in TELLS and not line.spoken:
                        self._may_be_told(line, heard)
                    if line.about in GONE:
                        for number in line.numbers:
                            self.think_it_open.get(number, set()).discard(line.person)
                    if line.about in TAKEN:
                        self._hears_who_has_it(line)
            self._others_have_heard(turn.now)
            self.orders += [order for order in turn.orders if isinstance(order, SendText)]
        self.read = len(self.boat.turns)

    def _step(self, written: Written) -> None:
        """Who has what, by the record; what changes ends the silence."""
        body = written.entry.body
        match written.entry.kind:
            case "alarm-step":
                number = int(str(body["number"]))
                self.priority[number] = str(body["priority"])
                if body["before"] == body["after"]:
                    return
                if body["event"] == "take":
                    self.held_by[number] = str(body["person"])
                    self.to_hear[number] = dict.fromkeys(
                        self.think_it_open.get(number, set()) - {str(body["person"])}, 0
                    )
                else:
                    self.held_by.pop(number, None)
                    self.told_anew.pop(number, None)
                if body["after"] == AlarmState.NORMAL:
                    self.told.pop(number, None)
            case "holder-changed":
                self.held_by[int(str(body["number"]))] = self.had_it[int(str(body["number"]))] = str(body["person"])
            case "alarm-escalated":
                number = int(str(body["number"]))
                self.priority[number] = str(body["priority"])
                self.told.pop(number, None)

    def _may_be_held_back(self, line: Line) -> None:
        if line.about not in (*TELLS, "alarm called") or line.because in NOT_YET:
            return
        for number in line.numbers:
            priority = self.priority[number]
            assert priority != Priority.EMERGENCY, line
            if priority == Priority.ALARM and line.person not in self.told.get(number, set()):
                assert line.because == "flood of alarms", line
                assert line.until is not None
                assert line.until <= line.at + GATHERED_FOR, line

    def _hears_who_has_it(self, line: Line) -> None:
        for number in line.numbers:
            hears = self.to_hear.get(number, {})
            if line.person in hears:
                hears[line.person] += 1

    def _others_have_heard(self, at: Ms) -> None:
        """Each of those who were told, once, in the turn of the take; whoever has left the files hears nothing."""
        for number, hears in self.to_hear.items():
            for person, times in hears.items():
                assert times == (person in self.boat.desk.bundle.people), (number, person, times, at)
        self.to_hear.clear()

    def _may_be_told(self, line: Line, heard: set[tuple[str, int]]) -> None:
        for number in line.numbers:
            assert number not in self.held_by, line
            assert (line.person, number) not in heard, line
            heard.add((line.person, number))
            self.told.setdefault(number, set()).add(line.person)
            self.told_anew.setdefault(number, set()).add(line.person)
            self.think_it_open.setdefault(number, set()).add(line.person)

    @invariant()
    def what_is_grave_and_nobody_has_is_told_again_and_again_or_the_record_says_why_not(self) -> None:
        state, now = self.boat.desk.state, self.boat.now
        for call in state.telling.calls.values():
            alarm = state.standing.by_point[call.point]
            if alarm.state is not AlarmState.UNACKNOWLEDGED or call.muted or call.over or call.holder is not None:
                continue
            if alarm.priority not in (Priority.EMERGENCY, Priority.ALARM) or now - call.began < 11 * MINUTE:
                continue
            newest = max(line.at for line in self.lines if call.number in line.numbers)
            assert now - newest <= 11 * MINUTE, (call, newest)

    def teardown(self) -> None:
        assert state_bytes(state_of(self.boat.bytes())) == self.boat.bytes()
        if self.boat.desk.bundle == self.bundle:
            assert self.boat.rebuilt() == self.boat.bytes()


TestAllAtOnce = AllAtOnce.TestCase
TestAllAtOnce.settings = settings(max_examples=tries(20), stateful_step_count=20, deadline=None)
