"""What is asked of a piece of equipment, as the interlocks look at it, and what one interlock finds."""

from dataclasses import dataclass

from gateway.people.settings import Role
from gateway.requests.answers import Objection, Rule
from gateway.requests.settings import GRAVE, Equipment
from gateway.vocabulary.moments import MINUTE, SECOND, Ms

TOLD_WHO_IS_ABOARD = frozenset({Role.OWNER, Role.INSTALLER})
"""Whether somebody is aboard, and since when, is told to these only (design 4, rule 16)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One action on one piece of equipment. ends: instant at which a timed run would end, None when it has no end.

    request: its own id, so that it does not stand in its own way, "" for the end of a timed run. asker: random id.
    role: of the asker, None when the gateway itself acts.
    """

    equipment: Equipment
    action: str
    asker: str
    role: Role | None
    ends: Ms | None = None
    request: str = ""

    @property
    def starts(self) -> bool:
        """Whether it brings the equipment to life: the first of its pair."""
        return self.action == self.equipment.pair[0]

    @property
    def grave_start(self) -> bool:
        """Whether the selector and an empty boat are asked for (handbook G0, G2)."""
        return self.starts and self.equipment.sort in GRAVE


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One interlock and its value, for the logbook (handbook G9), and what it has against it, None when it is met."""

    line: str
    objection: Objection | None = None


def met(line: str) -> Finding:
    """An interlock that holds."""
    return Finding(line=line)


def against(rule: Rule, says: str, cure: str = "", *, signal: str = "", measured: str = "") -> Finding:
    """An interlock that does not."""
    objection = Objection(rule=rule, says=says, cure=cure, signal=signal, measured=measured)
    return Finding(line=f"{rule}: {says}", objection=objection)


def line_of(objection: Objection) -> str:
    """An objection as one line of the logbook."""
    return f"{objection.rule}: {objection.says}"


def so_far(span: Ms) -> str:
    """What has passed of a wait, as it is said; rounded down, so that it never seems to be over before it is."""
    return length(span - span % (SECOND if span < 2 * MINUTE else MINUTE))


def length(span: Ms) -> str:
    """A length as it is said: "45 s", "12 min", "2 h", "2 h 30 min"; rounded up, because it is a wait or a limit."""
    if span < 2 * MINUTE and span % MINUTE:
        return f"{-(-span // SECOND)} s"
    minutes = -(-span // MINUTE)
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def clock(minute: int) -> str:
    """A minute of the day as it is said: "08:00"; the end of the day is "24:00"."""
    return f"{minute // 60:02d}:{minute % 60:02d}"
