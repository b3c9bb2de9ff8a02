"""Who must be taken to be aboard (handbook 5.1, G2), and how a boat is kept."""

from dataclasses import dataclass

from gateway.alarms.settings import Attendance
from gateway.vocabulary.moments import Ms

BY_TEXT = "text"
"""In the place of a signal's id: a named person said so."""


@dataclass(frozen=True, slots=True)
class Occupied:
    """Somebody is aboard, or must be taken to be. since: instant of the first sign, None when nobody has ever said.
    person: id of the one who announced a visit last, None for other signs."""

    since: Ms | None
    by: str
    person: str | None = None


UNKNOWN_OCCUPANCY = Occupied(None, "nobody has said yet that the boat is empty")


@dataclass(frozen=True, slots=True)
class Keeping:
    """How a boat is kept. until: when that is asked again, or ends (instant), None for no end. by: id of the person who
    said so. asked: it was asked, and `until` is when it ends unanswered."""

    attendance: Attendance
    until: Ms | None = None
    by: str | None = None
    asked: bool = False


AWAY = Keeping(Attendance.AWAY)
