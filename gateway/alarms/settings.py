"""What the installer says of an alarm point."""

from dataclasses import dataclass
from enum import StrEnum

from gateway.vocabulary.priority import Priority
from grammar.meanings import Condition, Gone


class Attendance(StrEnum):
    """How the boat is kept at present."""

    AWAY = "away"
    ABOARD = "aboard"
    LAID_UP = "laid up"


class Concerns(StrEnum):
    """What kind of hazard an alarm tells of, where the interlocks must know it."""

    FIRE = "fire"
    GAS = "gas"
    CO = "carbon monoxide"
    FLOODING = "flooding"
    INTRUSION = "intrusion"
    DRIFT = "drift"


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One alarm point.

    id: ``boat/key``. when: raises it. clears: lets it go; None means that `when` no longer holds, its
    deadband crossed, at once; Gone that it has not held for some time.
    latching: stays until a person has looked and says so (handbook 2.6). attendance: when it is told; empty = always.
    means: what it means, one short sentence. do: what the reader can do. offer: phrases worth offering with it.
    test: how the condition is made for a proof (handbook 1), for whoever commissions; never texted.
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
    means: str = ""
    do: str = ""
    offer: tuple[str, ...] = ()
    test: str = ""
