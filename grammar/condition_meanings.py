"""What an installer's sentences mean, as plain values. The gateway's rooms see them through `grammar.meanings`.

Lengths of time are whole milliseconds, numbers are Decimals, positions are degrees WGS84, north and east positive.
`lasting`: ms that the whole sentence must have held without a break, 0 at once. A part of a joined sentence has none.
`deadband`: how far behind its limit a value must be before the alarm that it raised may go (handbook 2.5), in the unit
of the limit; None when none was written.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TypeAlias


@dataclass(frozen=True, slots=True, kw_only=True)
class IsContact:
    """`bilge-high on`, `bilge-high off for 60 s`. wanted: True for on."""

    signal: str
    wanted: bool
    lasting: int = 0


class Than(StrEnum):
    """How a number stands to a limit. Exactly on the limit is neither above nor below (our choice, so that a limit
    and its clear limit may be written with the same figure), and is both at least and at most."""

    ABOVE = "above"
    BELOW = "below"
    AT_LEAST = "at least"
    AT_MOST = "at most"


@dataclass(frozen=True, slots=True, kw_only=True)
class IsNumber:
    """`house-volts below 12.0 V for 10 min`. unit: as written, "" when none stood there."""

    signal: str
    than: Than
    limit: Decimal
    unit: str = ""
    deadband: Decimal | None = None
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class IsBand:
    """`supply outside 11.5 and 15.0 V for 30 s`, `supply between 11.5 and 15.0 V`. The limits themselves are between,
    not outside. low is less than high."""

    signal: str
    outside: bool
    low: Decimal
    high: Decimal
    unit: str = ""
    deadband: Decimal | None = None
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class IsCompared:
    """`start-volts below house-volts`, `sea above cabin by 5 C`. by: how much further it must be; unit: of `by` and of
    the deadband, "" when none stood there."""

    signal: str
    than: Than
    other: str
    by: Decimal | None = None
    unit: str = ""
    deadband: Decimal | None = None
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class IsWord:
    """`selector is REMOTE for 5 s`. word: exactly as the signal's words are written."""

    signal: str
    word: str
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class HasChanged:
    """`hatch changed`: the newest value differs from the one before it. `heartbeat changed in the last 10 min`: some
    value that came within that time did. window: ms, 0 for the newest value alone."""

    signal: str
    window: int = 0
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class RanLonger:
    """`bilge-pump on for more than 20 min in the last hour`: altogether, in a window that rolls along. wanted: True for
    on. more_than, window: ms."""

    signal: str
    wanted: bool
    more_than: int
    window: int
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StartedOften:
    """`bilge-pump started more than 3 times in the last hour`, `bilge-pump started more than 2 times its mean of 7 days
    in the last hour`. window: ms. mean_of: ms before the window; its mean is what is counted so many times, 0 for a
    plain count."""

    signal: str
    more_than: int
    window: int
    mean_of: int = 0
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StartsGrow:
    """`bilge-pump started at least 2 times as often as the hour before in each of the last 2 hours`: hour by hour,
    counted back from now. times: by how much at least. hours: how many in a row. An hour without a start is no
    beginning."""

    signal: str
    times: int
    hours: int
    lasting: int = 0


class Trend(StrEnum):
    """Which way a value goes."""

    RISING = "rising"
    FALLING = "falling"


DEFAULT_TREND_WINDOW = 3_600_000
"""ms. Our choice: an hour, twice the shortest that shows a rate (handbook 4.6: 30 min, 10 samples)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class IsMoving:
    """`fuel falling faster than 2 % an hour over 2 h`. faster_than: `unit` an hour, 0 or more. window: ms over which
    the line is laid."""

    signal: str
    trend: Trend
    faster_than: Decimal
    unit: str = ""
    window: int = DEFAULT_TREND_WINDOW
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class IsUnreadable:
    """`cabin unreadable 5 times`: so many payloads in a row could not be read."""

    signal: str
    times: int
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class IsUnbelievable:
    """`cabin not believable for 5 min`: the value lies outside the range that the signal gives."""

    signal: str
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class FixesAway:
    """`3 of 5 fixes of position further than 25 m from 50.0010, -5.0005`, `5 of 5 fixes of position within 25 m of its
    set position`. within: so many are not further than that. metres: the radius, itself within. lat, lon: None for the
    position that the signal's own table gives."""

    signal: str
    count: int
    of: int
    within: bool
    metres: Decimal
    lat: Decimal | None = None
    lon: Decimal | None = None
    lasting: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class NoNews:
    """`no news from heartbeat for 10 min`: nothing has arrived for longer than that (judged by arrival).
    signal None: `no news for 10 min`, from any signal of the boat. lasting: ms, more than 0."""

    signal: str | None
    lasting: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Both:
    """`shore off and house-volts below 12.2 V for 10 min`: all of them hold together. parts: two or more."""

    parts: "tuple[Condition, ...]"
    lasting: int = 0

    @property
    def signal(self) -> str | None:
        """The signal that the alarm is told by: that of the first part."""
        return self.parts[0].signal


@dataclass(frozen=True, slots=True, kw_only=True)
class Either:
    """`bilge-high on or bilge-aft on`: one of them holds, or several. parts: two or more."""

    parts: "tuple[Condition, ...]"
    lasting: int = 0

    @property
    def signal(self) -> str | None:
        """The signal that the alarm is told by: that of the first part."""
        return self.parts[0].signal


@dataclass(frozen=True, slots=True, kw_only=True)
class IsNot:
    """`not (heartbeat changed in the last 10 min)`: it is known not to hold."""

    part: "Condition"
    lasting: int = 0

    @property
    def signal(self) -> str | None:
        """The signal that the alarm is told by."""
        return self.part.signal


@dataclass(frozen=True, slots=True, kw_only=True)
class While:
    """`fridge above 8 C for 2 h while shore on`: the first is what the alarm tells of, and the other holds as well, for
    the whole of the delay."""

    part: "Condition"
    also: "Condition"
    lasting: int = 0

    @property
    def signal(self) -> str | None:
        """The signal that the alarm is told by."""
        return self.part.signal


@dataclass(frozen=True, slots=True, kw_only=True)
class Gone:
    """`gone for 60 s`, after `clears` only: what raised the alarm has ceased, its deadband crossed, for so long."""

    lasting: int = 0


ValueCondition: TypeAlias = IsContact | IsNumber | IsBand | IsWord
"""Kinds that one newest value of one signal decides."""

PastCondition: TypeAlias = HasChanged | RanLonger | StartedOften | StartsGrow | IsMoving | FixesAway
"""Kinds for which the recent past of one signal must be kept."""

JoinedCondition: TypeAlias = Both | Either | IsNot | While
"""Kinds that are made of others."""

SingleCondition: TypeAlias = ValueCondition | PastCondition | IsCompared | IsUnbelievable | IsUnreadable | NoNews
"""Kinds that are not."""

Condition: TypeAlias = SingleCondition | JoinedCondition
"""One condition sentence."""


def parts_of(condition: Condition) -> tuple[Condition, ...]:
    """What a joined sentence is made of, one level down; nothing for any other."""
    match condition:
        case Both(parts=parts) | Either(parts=parts):
            return parts
        case IsNot(part=part):
            return (part,)
        case While(part=part, also=also):
            return (part, also)
    return ()


def leaves_of(condition: Condition) -> tuple[Condition, ...]:
    """The single conditions that a sentence is made of, in its order; the sentence itself when it is one."""
    parts = parts_of(condition)
    return tuple(leaf for part in parts for leaf in leaves_of(part)) if parts else (condition,)


def signals_of(condition: Condition) -> tuple[str, ...]:
    """The signals that a sentence names, each once, in its order. Silence of the whole boat names none."""
    named: dict[str, None] = {}
    for leaf in leaves_of(condition):
        if leaf.signal is not None:
            named[leaf.signal] = None
        if isinstance(leaf, IsCompared):
            named[leaf.other] = None
    return tuple(named)
