"""Whatever is said, and however long nobody says anything: what somebody has is told to nobody else until that person
has been silent for too long, and what nobody has never waits for longer than its list.

The model knows who wrote last and when, and the times of handbook 2.3. It is held against the texts that went.
"""

from dataclasses import replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from gateway.alarms.life import AlarmState
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import INES, LIST, MARINA, TOBIAS, Small, point, small
from tests.effort import tries

ASKED_AFTER, ANSWERS_WITHIN, REPEATED = 10 * MINUTE, 3 * MINUTE, 10 * MINUTE
FLOOD = point("flood", when=IsContact(signal="water", wanted=True), priority=Priority.EMERGENCY, ask_again=ASKED_AFTER)
TELLS = ("alarm told",)


class Holder(RuleBasedStateMachine):
    """One emergency that never ends. holder: who has it by what was written; wrote: when that person wrote last."""

    def __init__(self) -> None:
        super().__init__()
        self.boat: Small = small(FLOOD, callouts=(replace(LIST, repeat=REPEATED),))
        self.boat.reads("water", "on")
        self.raised = self.boat.desk.state.now
        self.holder: str | None = None
        self.wrote: Ms = 0
        self.read = 0
        self.told: list[tuple[str, str, Ms]] = []

    def look(self) -> list[tuple[str, str, Ms]]:
        """What was told since the last look; instants."""
        found = [(who, what, at + self.boat.began) for who, what, at in self.boat.told(self.read)]
        self.read = len(self.boat.turns)
        self.told += found
        return found

    @rule(who=st.sampled_from([INES, TOBIAS, MARINA]))
    def somebody_takes_it(self, who: str) -> None:
        self.boat.texts(who, "have it 1")
        if self.holder is None or who == self.holder:
            self.holder = who
            self.wrote = self.boat.desk.state.now
        self.look()

    @rule(who=st.sampled_from([INES, TOBIAS, MARINA]))
    def somebody_takes_it_over(self, who: str) -> None:
        self.boat.texts(who, "take over 1")
        self.holder, self.wrote = who, self.boat.desk.state.now
        self.look()

    @rule(says=st.sampled_from(["at boat 1", "ashore 1"]))
    def its_holder_says_where(self, says: str) -> None:
        if self.holder is not None:
            self.boat.texts(self.holder, says)
            self.wrote = self.boat.desk.state.now
            self.look()

    @rule(length=st.sampled_from([20 * SECOND, 4 * MINUTE, 14 * MINUTE]))
    def time_passes(self, length: Ms) -> None:
        """In steps short enough that each text of the list is seen on its own."""
        until = self.boat.now + length
        while self.boat.now < until:
            self.boat.wait(min(MINUTE, until - self.boat.now))
            found = self.look()
            told = [at for _, what, at in found if what in TELLS]
            if self.holder is None:
                continue
            silent_until = self.wrote + ASKED_AFTER + ANSWERS_WITHIN
            assert not told or min(told) >= silent_until, "others were told while somebody had it"
            asked = [at for who, what, at in found if what == "holder asked" and who == self.holder]
            assert all(at >= self.wrote + ASKED_AFTER for at in asked)
            if self.boat.now >= silent_until:
                assert told, "the list did not begin anew"
                assert min(told) - silent_until <= SECOND
                self.holder = None

    @invariant()
    def at_most_one_person_has_it_and_it_is_who_the_model_says(self) -> None:
        alarm = self.boat.desk.state.standing.by_point[FLOOD.id]
        held = alarm.state is AlarmState.ACKNOWLEDGED
        if held:
            assert alarm.taken_by == self.holder

    @invariant()
    def what_nobody_has_is_told_at_least_once_in_ten_minutes(self) -> None:
        if self.holder is None:
            self.look()
            last = max(at for _, what, at in self.told if what in TELLS)
            assert self.boat.now - last <= REPEATED

    @invariant()
    def a_holder_who_says_nothing_is_asked(self) -> None:
        if self.holder is not None and self.boat.now > self.wrote + ASKED_AFTER + SECOND:
            self.look()
            asked = [at for who, what, at in self.told if what == "holder asked" and who == self.holder]
            assert asked
            assert asked[-1] >= self.wrote + ASKED_AFTER


TestHolder = Holder.TestCase
TestHolder.settings = settings(max_examples=tries(10), stateful_step_count=20)
