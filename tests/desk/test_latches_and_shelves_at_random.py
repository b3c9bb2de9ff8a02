"""A latching point and a point that may be shelved, struck down at any instant of their lives: nobody's word, no latch
and no shelf is lost, and none ends early or late.

The model is the state table of handbook 2.6, written down once more by its short forms, with the three things that it
remembers beside a state: whether the condition holds, whether a latch stood when it was shelved, and when the shelf
ends. It knows nothing of facts, timers or the gateway's own table.
"""

from dataclasses import dataclass

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from gateway.desk.folding import rebuilt
from gateway.desk.snapshots import state_bytes
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import BOAT, INES, RUTH, Small, point, small
from tests.effort import tries

DELAY = 10 * SECOND
APART = 20 * SECOND

POINTS = {
    key: point(
        key,
        when=IsContact(signal=signal, wanted=bad, lasting=DELAY),
        clears=IsContact(signal=signal, wanted=not bad, lasting=DELAY),
        priority=priority,
        latching=latching,
    )
    for key, signal, bad, priority, latching in (
        ("wet", "water", True, Priority.ALARM, True),
        ("lost", "shore", False, Priority.WARNING, False),
    )
}
SHOWN = {"wet": ("water", {True: "on", False: "off"}), "lost": ("shore", {True: "off", False: "on"})}
LONGEST = {"wet": 2 * HOUR, "lost": 8 * HOUR}

CLEARED = {"UNACK": ("RTNUN", "LUNAK"), "ACKED": ("NORM", "LACKD")}
"""State -> the next when the condition goes: not latching, latching."""
TAKEN = {"UNACK": "ACKED", "RTNUN": "NORM", "LUNAK": "LACKD"}
IN_WORDS = {
    "NORM": "normal",
    "UNACK": "unacknowledged",
    "ACKED": "acknowledged",
    "RTNUN": "gone unacknowledged",
    "LUNAK": "latched unacknowledged",
    "LACKD": "latched acknowledged",
    "SHLVD": "shelved",
}


@dataclass
class Modelled:
    """One point by the handbook's table."""

    latching: bool
    state: str = "NORM"
    active: bool = False
    latch_kept: bool = False
    shelved_until: Ms = 0

    def holds(self, so: bool) -> None:
        """The condition holds, or is gone, after its delay."""
        if so and not self.active and self.state != "SHLVD":
            self.state = "UNACK"
        elif not so and self.active and self.state in CLEARED:
            self.state = CLEARED[self.state][self.latching]
        self.active = so

    def shelve(self, until: Ms) -> None:
        if self.state != "SHLVD":
            self.latch_kept = self.state in ("LUNAK", "LACKD")
        self.state, self.shelved_until = "SHLVD", until

    def shelf_ends(self, by: Ms) -> None:
        """When its end is not later than this instant."""
        if self.state == "SHLVD" and self.shelved_until <= by:
            self.unshelve()

    def unshelve(self) -> None:
        if self.state == "SHLVD":
            self.state = "UNACK" if self.active else "LUNAK" if self.latch_kept else "NORM"


class Lives(RuleBasedStateMachine):
    """The real desk beside the model."""

    def __init__(self) -> None:
        super().__init__()
        self.boat: Small = small(*POINTS.values())
        self.model = {key: Modelled(one.latching) for key, one in POINTS.items()}

    # ------------------------------------------------------------ what happens

    @rule(wet=st.booleans(), lost=st.booleans(), struck=st.booleans())
    def it_is_so_for_a_while(self, wet: bool, lost: bool, struck: bool) -> None:
        """Long enough for every delay, and for the doubt behind a silence. struck: killed within the first delay."""
        so = {"wet": wet, "lost": lost}
        self.report(so)
        began = again = self.boat.now
        if struck:
            self.boat.wait(DELAY // 2)
            self.killed_and_started(1)
            self.report(so)
            again = self.boat.now
        for _ in range(4):
            self.boat.wait(APART)
            self.report(so)
        for key, holds in so.items():  # design 4.3: an on-delay goes on after a start, an off-delay starts again
            self.model[key].shelf_ends((began if holds else again) + DELAY)
            self.model[key].holds(holds)
        self.shelves_end(self.boat.now)

    @rule(key=st.sampled_from(sorted(POINTS)))
    def somebody_takes_it(self, key: str) -> None:
        if self.writes(INES, "have it {n}", key):
            self.model[key].state = TAKEN.get(self.model[key].state, self.model[key].state)

    @rule(key=st.sampled_from(sorted(POINTS)))
    def somebody_has_looked(self, key: str) -> None:
        if self.writes(INES, "checked {n}", key) and self.model[key].state == "LACKD":
            self.model[key].state = "NORM"

    @rule(key=st.sampled_from(sorted(POINTS)), hours=st.sampled_from([1, 2, 3, 8, 9]))
    def it_is_shelved(self, key: str, hours: int) -> None:
        if self.writes(RUTH, f"shelve {{n}} for {hours} h", key) and hours * HOUR <= LONGEST[key]:
            self.model[key].shelve(self.boat.turns[-1].now + hours * HOUR)

    @rule(key=st.sampled_from(sorted(POINTS)))
    def it_is_taken_off_the_shelf(self, key: str) -> None:
        if self.writes(INES, "unshelve {n}", key):
            self.model[key].unshelve()

    @rule(length=st.sampled_from([2 * MINUTE, 59 * MINUTE, HOUR, 3 * HOUR, 9 * HOUR]))
    def time_passes(self, length: Ms) -> None:
        self.boat.wait(length)
        self.shelves_end(self.boat.now)

    @precondition(lambda self: self.boat.entries)
    @rule(away=st.sampled_from([1, 3 * MINUTE, 90 * MINUTE, 9 * HOUR]))
    def the_gateway_is_killed(self, away: Ms) -> None:
        self.killed_and_started(away)
        self.boat.wait(0)
        self.shelves_end(self.boat.now)

    # ------------------------------------------------------------ how

    def report(self, so: dict[str, bool]) -> None:
        for key, holds in so.items():
            signal, text = SHOWN[key]
            self.boat.reads(signal, text[holds])

    def writes(self, person: str, body: str, key: str) -> bool:
        """Whether there was an alarm to write of."""
        alarm = self.boat.desk.state.standing.by_point.get(f"{BOAT}/{key}")
        if alarm is None:
            return False
        self.boat.texts(person, body.format(n=alarm.number))
        return True

    def killed_and_started(self, away: Ms) -> None:
        """Nothing is left but what was recorded."""
        boat = self.boat
        rows = [(turn.happening, turn.now, one) for turn in boat.turns for one in turn.readings]
        boat.desk = rebuilt(boat.desk.bundle, None, boat.entries, rows)
        boat.restarts(away)

    def shelves_end(self, by: Ms) -> None:
        for one in self.model.values():
            one.shelf_ends(by)

    # ------------------------------------------------------------ what must be so

    @invariant()
    def each_stands_where_the_handbook_says(self) -> None:
        for key, one in self.model.items():
            assert self.boat.state_of(key).value == IN_WORDS[one.state], key

    @invariant()
    def what_is_shelved_ends_when_it_was_said(self) -> None:
        for key, one in self.model.items():
            alarm = self.boat.desk.state.standing.by_point.get(f"{BOAT}/{key}")
            if one.state == "SHLVD":
                assert alarm is not None
                assert alarm.shelved_until == one.shelved_until, key

    @invariant()
    def a_fold_gives_the_same_state(self) -> None:
        if len(self.boat.turns) % 5 == 0:
            assert self.boat.rebuilt() == state_bytes(self.boat.desk.state)


TestLives = Lives.TestCase
TestLives.settings = settings(max_examples=tries(15), stateful_step_count=20, deadline=None)
