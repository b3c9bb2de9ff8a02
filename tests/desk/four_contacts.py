"""A boat with a contact for each priority, which come and go by chance: where the random walks over telling begin."""

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, rule

from gateway.vocabulary.moments import SECOND
from gateway.vocabulary.priority import Priority
from grammar.meanings import IsContact
from tests.desk.small_boat import Small, point

FLOOD = point("flood", when=IsContact(signal="water", wanted=True), priority=Priority.EMERGENCY)
OPEN = point("open", when=IsContact(signal="hatch", wanted=True), priority=Priority.ALARM)
LOST = point("lost", when=IsContact(signal="shore", wanted=False), priority=Priority.WARNING)
WARM = point("warm", when=IsContact(signal="panel", wanted=True), priority=Priority.CAUTION)
POINTS = {"water": FLOOD, "shore": LOST, "hatch": OPEN, "panel": WARM}


class FourContacts(RuleBasedStateMachine):
    """boat: made by the walk itself, with these points and whatever else it looks at."""

    boat: Small

    @rule(signal=st.sampled_from(sorted(POINTS)), bad=st.booleans())
    def a_contact_changes(self, signal: str, bad: bool) -> None:
        text = "off" if bad is (signal == "shore") else "on"
        for _ in range(3):  # the first behind a silence may be an old one: it raises and never clears
            self.boat.reads(signal, text)
            self.boat.wait(20 * SECOND)
