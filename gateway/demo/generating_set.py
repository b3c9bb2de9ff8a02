"""A diesel generating set as its contacts and meters show it, and nothing of its inside. Pure and deterministic.

Its sounder warns aboard, then it cranks, runs up, delivers, and runs down. That it runs is *measured*, as the gateway
asks of every proof: by a relay on its output that picks up at full voltage and drops out when the voltage is gone, not
by whether anybody asked.
"""

from enum import Enum

from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms

SOUNDS_FOR: Ms = 45 * SECOND  # the sounder aboard, before the start: 30 to 60 s (handbook 5.1, G0), as the starter says
CRANKS_FOR: Ms = 4 * SECOND  # a warm diesel catches within a few seconds (common practice); at most 15 (handbook 4.6)
RUNS_UP_IN: Ms = 10 * SECOND  # from catching to full voltage; our choice
COOLS_FOR: Ms = 3 * MINUTE  # without load before it stops: 3 to 5 min (handbook 5.2); the demo leaves it out
RUNS_DOWN_IN: Ms = 3 * SECOND
FULL_VOLTS = 231  # a set without load stands a little over the nominal 230 V; our choice
BURNS = 3.0  # litres an hour, as in the handbook's example of fuel endurance (4.6, CHK-19)


class Phase(Enum):
    """What the set is doing."""

    STANDING = "standing"
    SOUNDING = "sounding"
    CRANKING = "cranking"
    RUNNING_UP = "running up"
    RUNNING = "running"
    COOLING = "cooling down"  # its controller has dropped the load and runs it on
    RUNNING_DOWN = "running down"
    GIVEN_UP = "given up"  # cranked without catching; its controller waits for the contact to open


LASTS: dict[Phase, tuple[Ms, Phase] | None] = {
    Phase.STANDING: None,
    Phase.SOUNDING: (SOUNDS_FOR, Phase.CRANKING),
    Phase.CRANKING: (CRANKS_FOR, Phase.RUNNING_UP),
    Phase.RUNNING_UP: (RUNS_UP_IN, Phase.RUNNING),
    Phase.RUNNING: None,
    Phase.COOLING: (COOLS_FOR, Phase.RUNNING_DOWN),
    Phase.RUNNING_DOWN: (RUNS_DOWN_IN, Phase.STANDING),
    Phase.GIVEN_UP: None,
}
"""How long a phase lasts (ms) and which comes after it; None: until the contact changes."""

WHEN_ASKED: dict[Phase, Phase] = {Phase.STANDING: Phase.SOUNDING}
"""The closed start contact starts a standing set; one that runs down comes to rest first."""

WHEN_RELEASED: dict[Phase, Phase] = {
    Phase.SOUNDING: Phase.STANDING,  # somebody aboard cancelled, or thought better of it
    Phase.CRANKING: Phase.STANDING,
    Phase.RUNNING_UP: Phase.RUNNING_DOWN,
    Phase.RUNNING: Phase.RUNNING_DOWN,
    Phase.GIVEN_UP: Phase.STANDING,
}
"""The opened start contact stops it."""


class GeneratingSet:
    """One set with a two-wire start contact: closed means run. Instants are ms UTC.

    catches: whether it comes to life when it is cranked; a set with air in its fuel does not. cools: whether its
    controller runs it on without load before it stops, as a real one does.
    """

    def __init__(self, *, catches: bool = True, cools: bool = False) -> None:
        self.catches, self.cools = catches, cools
        self.phase = Phase.STANDING
        self._since: Ms = 0
        self._from = 0  # volts at which the present phase began
        self._picked_up = False

    @property
    def is_running(self) -> bool:
        """The relay on the output has picked up: full voltage was reached, and the output has not been dead since."""
        return self._picked_up

    def volts(self, now: Ms) -> int:
        """Volts AC at the output: in a straight line up while it runs up and down while it runs down. `now` lies in the
        present phase."""
        if self.phase in (Phase.RUNNING, Phase.COOLING):
            return FULL_VOLTS
        if self.phase is Phase.RUNNING_UP:
            return FULL_VOLTS * (now - self._since) // RUNS_UP_IN
        if self.phase is Phase.RUNNING_DOWN:
            return self._from - self._from * (now - self._since) // RUNS_DOWN_IN
        return 0

    @property
    def carries_load(self) -> bool:
        """Whether what is connected to its output is fed by it."""
        return self.phase is Phase.RUNNING

    def next_due(self) -> Ms | None:
        """When the present phase is over by itself; None when only the contact can end it."""
        lasts = LASTS[self.phase]
        return None if lasts is None else self._since + lasts[0]

    def contact(self, *, closed: bool, now: Ms) -> bool:
        """The start contact stands so from `now` on; until `now` it stood as told before. Whether the phase changed."""
        before = self.phase
        while (over := self.next_due()) is not None and over <= now:
            self._enter(self._following(), over)
        wanted = (WHEN_ASKED if closed else WHEN_RELEASED).get(self.phase)
        if wanted is not None:
            cools = self.cools and self.phase is Phase.RUNNING
            self._enter(Phase.COOLING if cools else wanted, now)
        return self.phase is not before

    def _following(self) -> Phase:
        lasts = LASTS[self.phase]
        if self.phase is Phase.CRANKING and not self.catches:
            return Phase.GIVEN_UP
        return self.phase if lasts is None else lasts[1]

    def _enter(self, phase: Phase, at: Ms) -> None:
        self._from = self.volts(at)
        self.phase, self._since = phase, at
        if phase in (Phase.RUNNING, Phase.STANDING):
            self._picked_up = phase is Phase.RUNNING


def litres_burnt(length: Ms) -> float:
    """Litres of fuel for a run of this length (ms)."""
    return BURNS * length / HOUR
