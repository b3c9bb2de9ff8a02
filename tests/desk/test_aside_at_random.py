"""Whatever is put aside, brought back, hidden and restarted, in whatever order: nothing that holds is lost, every shelf
ends, an emergency is never shelved, and a restart at any instant leaves none fewer.

The model knows only what was last read of each contact and the handbook's longest times (2.6); it knows nothing of
facts, tables or timers. It is held against the real desk after every step.
"""

from dataclasses import replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from gateway.alarms.life import AlarmState
from gateway.alarms.settings import Attendance
from gateway.desk.folding import rebuilt
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, LIST, RUTH, TOBIAS, Small, point, small
from tests.effort import tries

S = AlarmState

FLOOD = point("flood", when=IsContact(signal="water", wanted=True), priority=Priority.EMERGENCY)
LOST = point("lost", when=IsContact(signal="shore", wanted=False), priority=Priority.WARNING)
OPEN = point(
    "open",
    when=IsContact(signal="hatch", wanted=True),
    priority=Priority.ALARM,
    hidden_by=(LOST.id,),
    ask_again=30 * MINUTE,
)
WARM = point(
    "warm",
    when=IsContact(signal="panel", wanted=True),
    priority=Priority.WARNING,
    attendance=(Attendance.AWAY,),
    becomes_alarm=HOUR,
)
POINTS = {"water": FLOOD, "shore": LOST, "hatch": OPEN, "panel": WARM}
LONGEST = {FLOOD.id: 0, LOST.id: 8 * HOUR, OPEN.id: 2 * HOUR, WARM.id: 8 * HOUR}
ASIDE = (S.SHELVED, S.SUPPRESSED, S.OUT_OF_SERVICE)
ORDERS = ["shelve {n} for 1 h", "shelve {n} for 8 h", "unshelve {n}", "out of service {n} for 1 day", "in service {n}"]
SAYS = ["in the yard for 2 days", "aboard", "away", "laid up", "have it", "visit over"]


class Aside(RuleBasedStateMachine):
    """One boat; what the model knows is `holds` and since when each point is on the shelf."""

    def __init__(self) -> None:
        super().__init__()
        self.boat: Small = small(*POINTS.values(), callouts=(replace(LIST, repeat=None),))
        self.holds: set[str] = set()
        self.shelved: dict[str, Ms] = {}

    @rule(signal=st.sampled_from(sorted(POINTS)), bad=st.booleans())
    def a_contact_changes(self, signal: str, bad: bool) -> None:
        text = "off" if bad is (signal == "shore") else "on"
        for _ in range(3):  # the first behind a silence may be an old one: it raises and never clears
            self.boat.reads(signal, text)
            self.boat.wait(30 * SECOND)
        (self.holds.add if bad else self.holds.discard)(POINTS[signal].id)

    @rule(order=st.sampled_from(ORDERS), which=st.integers(0, 3), who=st.sampled_from([RUTH, RUTH, INES]))
    def somebody_orders(self, order: str, which: int, who: str) -> None:
        numbers = sorted(alarm.number for alarm in self.boat.desk.state.standing.by_point.values())
        if numbers:
            self.boat.texts(who, order.format(n=numbers[which % len(numbers)]))

    @rule(body=st.sampled_from(SAYS))
    def somebody_says(self, body: str) -> None:
        self.boat.texts(TOBIAS, body)

    @rule(length=st.sampled_from([MINUTE, 31 * MINUTE, 2 * HOUR, 9 * HOUR]))
    def time_passes(self, length: Ms) -> None:
        self.boat.wait(length)

    @rule()
    def the_gateway_is_killed_and_started(self) -> None:
        boat = self.boat
        before = {key: (a.state, a.active) for key, a in boat.desk.state.standing.by_point.items()}
        rows = [(turn.happening, turn.now, one) for turn in boat.turns for one in turn.readings]
        boat.desk = rebuilt(boat.desk.bundle, None, boat.entries, rows)
        after = {key: (a.state, a.active) for key, a in boat.desk.state.standing.by_point.items()}
        assert after == before
        boat.restarts()

    @invariant()
    def what_holds_is_known_and_what_is_known_holds(self) -> None:
        standing = self.boat.desk.state.standing
        assert {key for key in LONGEST if standing.is_active(key)} == self.holds

    @invariant()
    def what_holds_and_is_not_put_aside_is_told_or_somebody_has_it(self) -> None:
        self.boat.wait(0)
        telling = self.boat.desk.state.telling
        kept = self.boat.desk.state.standing.kept("grey-wagtail")
        for key, alarm in self.boat.desk.state.standing.by_point.items():
            if alarm.state in ASIDE:
                continue
            if not alarm.active:
                continue
            assert alarm.state in (S.UNACKNOWLEDGED, S.ACKNOWLEDGED)
            call = telling.calls[key]
            quiet = key == WARM.id and kept is not Attendance.AWAY
            assert call.told or call.waiting or call.holder or (quiet and call.muted) or call.began > self.boat.now - 2

    @invariant()
    def an_emergency_is_never_shelved_and_every_shelf_ends(self) -> None:
        for key, longest in LONGEST.items():
            alarm = self.boat.desk.state.standing.by_point.get(key)
            if alarm is None or alarm.state is not S.SHELVED:
                self.shelved.pop(key, None)
                continue
            assert longest
            until = alarm.shelved_until or 0
            if self.shelved.get(key) != until:  # put there anew
                assert until - self.boat.now <= longest
                self.shelved[key] = until
            assert until > self.boat.now - 2

    @invariant()
    def only_what_another_hides_now_is_hidden(self) -> None:
        by_point = self.boat.desk.state.standing.by_point
        alarm, lost = by_point.get(OPEN.id), by_point.get(LOST.id)
        if alarm is not None and alarm.state is S.SUPPRESSED:
            assert lost is not None
            assert lost.active
            assert lost.state not in (S.SHELVED, S.OUT_OF_SERVICE)


TestAside = Aside.TestCase
TestAside.settings = settings(max_examples=tries(40), stateful_step_count=25, deadline=None)
