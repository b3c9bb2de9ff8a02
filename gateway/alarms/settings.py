"""What the installer says of an alarm point."""

from dataclasses import dataclass
from enum import StrEnum

from gateway.boat.settings import Shared
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.priority import Priority
from grammar.meanings import Condition, Gone


class Attendance(StrEnum):
    """How the boat is kept at present."""

    AWAY = "away"
    ABOARD = "aboard"
    LAID_UP = "laid up"
    IN_THE_YARD = "in the yard"


class Concerns(StrEnum):
    """What kind of hazard an alarm tells of, where the interlocks must know it."""

    FIRE = "fire"
    GAS = "gas"
    CO = "carbon monoxide"
    FLOODING = "flooding"
    INTRUSION = "intrusion"
    DRIFT = "drift"


@dataclass(frozen=True, slots=True, kw_only=True)
class OutOfService:
    """A point that the installer has taken out of service in the files. until: instant of its return. by: who answers
    for it, and because: why, as written."""

    until: Ms
    by: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One alarm point.

    id: ``boat/key``. when: raises it. clears: lets it go; None means that `when` no longer holds, its
    deadband crossed, at once; Gone that it has not held for some time.
    latching: stays until a person has looked and says so (handbook 2.6). attendance: when it is told; empty = always.
    hidden_by: ids of points of the same boat that hide this one while they stand. out_of_service: as the files say.
    ask_again: how long after being taken an alarm that still stands is asked again, None for never. becomes_alarm: how
    long a warning may stand before it is told as an alarm when nobody takes it, None for never. alarm_with_others: told
    as an alarm at once when it is raised while an alarm or emergency of the boat stands (handbook 3, P26).
    means: what it means, one short sentence. do: what the reader can do. offer: phrases worth offering with it.
    test: how the condition is made for a proof (handbook 1), for whoever commissions; never texted.
    shared: what its cause is shared by: boats that have that in common are told of together. None: the boat's alone.
    reckon: what its text also tells of what lies ahead: the house bank by its name, a sum by its id, None for nothing.
    """

    id: str
    boat: str
    key: str
    name: str
    priority: Priority
    when: Condition
    clears: Condition | Gone | None
    callout: str
    latching: bool = False
    attendance: tuple[Attendance, ...] = ()
    concerns: Concerns | None = None
    hidden_by: tuple[str, ...] = ()
    out_of_service: OutOfService | None = None
    ask_again: Ms | None = None
    becomes_alarm: Ms | None = None
    alarm_with_others: bool = False
    means: str = ""
    do: str = ""
    offer: tuple[str, ...] = ()
    test: str = ""
    shared: Shared | None = None
    reckon: str | None = None

    @property
    def needs_no_take(self) -> bool:
        """A caution that does not latch closes by itself, whether anybody took it or not (handbook 2.6)."""
        return self.priority is Priority.CAUTION and not self.latching
