"""What is to be told of alarms put aside, of how a boat is kept, and of points that need mending, as values."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from gateway.alarms.life import AlarmState
from gateway.alarms.nuisance import PointFault
from gateway.alarms.settings import Attendance
from gateway.telling.situation import Situation
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmAside:
    """An alarm was shelved or taken out of service. by: id of who did it, None for the installation's files."""

    person: str
    boat: str
    situation: Situation
    by: str | None
    because: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmBack:
    """An alarm that was put aside is told as before again. left: how it was put aside. by: id of who ended that, None
    when its time was over. stands: its condition holds now, and it is told by its list."""

    person: str
    boat: str
    situation: Situation
    left: AlarmState
    by: str | None
    stands: bool


class CannotAside(StrEnum):
    """Why an alarm was not put aside or brought back."""

    NOT_YOURS = "others may do that"
    EMERGENCY = "an emergency is never shelved"
    TOO_LONG = "longer than may be"
    ASIDE_ALREADY = "put aside in another way"
    NOT_SHELVED = "not shelved"
    NOT_OUT = "not out of service"


@dataclass(frozen=True, slots=True, kw_only=True)
class AsideRefused:
    """Nothing was changed. who: ids of those who may. longest: ms."""

    person: str
    boat: str
    situation: Situation
    cannot: CannotAside
    who: tuple[str, ...] = ()
    longest: Ms = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceReminder:
    """An alarm is still out of service and returns soon (until: instant, in the situation)."""

    person: str
    boat: str
    situation: Situation


@dataclass(frozen=True, slots=True, kw_only=True)
class HolderAsked:
    """The person who has these alarms is asked again. until: when the others are told (instant) without an answer."""

    person: str
    boat: str
    situations: tuple[Situation, ...]
    until: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendanceTold:
    """How the boat is kept from now on. by: id of who said so, None: it ended by itself. until: instant at which it is
    asked again or ends. quiet: how many points are not told meanwhile. occupied: somebody is still taken to be aboard,
    until that is ended by its own word."""

    person: str
    boat: str
    attendance: Attendance
    by: str | None
    before: Attendance
    until: Ms | None = None
    quiet: int = 0
    occupied: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendanceAsk:
    """Is the boat still kept so? until: instant at which it ends without an answer."""

    person: str
    boat: str
    attendance: Attendance
    until: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendanceRefused:
    """This person may not say how the boat is kept. who: ids of those who may."""

    person: str
    boat: str
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PointToMend:
    """A point behaves as no alarm should. number: None when it is at rest now. has_limit: it watches a number against a
    limit, so that a deadband would help."""

    person: str
    boat: str
    point: str
    fault: PointFault
    has_limit: bool
    number: int | None = None


AsideNotice: TypeAlias = (
    AlarmAside
    | AlarmBack
    | AsideRefused
    | ServiceReminder
    | HolderAsked
    | AttendanceTold
    | AttendanceAsk
    | AttendanceRefused
    | PointToMend
)
