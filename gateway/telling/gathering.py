"""What belongs together is told together: alarms whose cause several boats share, and floods.

Aggregation: one entry may stand for several alerts of one kind, the parts stay visible on request (handbook 2.3, IMO
MSC.302(87)). An emergency never belongs to anything: it is told by itself, at once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gateway.vocabulary.moments import MINUTE, Ms
from gateway.vocabulary.priority import Priority

JOINS_WITHIN = 10 * MINUTE
"""What comes again, or to what was told already, within this time of its last round joins the next (design rule 11)."""

GATHERED_FOR = MINUTE
"""How long the first text of a shared matter waits for the other boats. Our choice: boats report every 10 s to 60 s,
each in its own time, so that after a minute all that one fault has struck have shown it."""

FLOOD_WINDOW = 10 * MINUTE
FLOOD_BEGINS_ABOVE = 10
FLOOD_ENDS_BELOW = 5
"""A flood begins when more than ten alarms were raised for one person within ten minutes, and ends when fewer than
five were (handbook 2.4)."""

MOST_AT_ONCE = 3
"""Texts about alarms below an emergency that one person gets at one moment; more become one. Our choice: what one looks
at on a locked phone without scrolling."""


@dataclass(frozen=True, slots=True)
class Matter:
    """What several boats share: its kind ("link", "supply", "berth") and its name as the installer wrote it first."""

    kind: str
    name: str


@dataclass(frozen=True, slots=True)
class Due:
    """A call that falls due by its own list. told: instant of its last round, None before the first."""

    point: str
    priority: Priority
    told: Ms | None
    at: Ms


@dataclass(frozen=True, slots=True)
class Gathered:
    """When its text is due. until: how far its list is to be followed then, so that what belongs together stays so."""

    at: Ms
    until: Ms


def name_said(name: str) -> str:
    """A shared name as it is compared: without case, single spaces."""
    return " ".join(name.split()).casefold()


def gathered(dues: Sequence[Due], matters: Mapping[str, Matter], told: Mapping[Matter, Ms]) -> dict[str, Gathered]:
    """When each is told, by point, those of one matter together. matters: by point. told: when each was told last.

    A first text waits up to `GATHERED_FOR` for the other boats; a warning or caution that comes after the others were
    told joins them `JOINS_WITHIN` later. A repeat is told as soon as the first of the matter is due, never later.
    """
    first: dict[Matter, Ms] = {}
    for due in dues:
        matter = matters.get(due.point)
        if matter is not None:
            at = _waits(due, told.get(matter))
            first[matter] = min(first.get(matter, at), at)
    repeats = _repeats(dues, matters)
    found = {}
    for due in dues:
        if due.point in repeats:
            found[due.point] = Gathered(repeats[due.point], due.at)
            continue
        at = first[matters[due.point]] if due.point in matters else due.at
        joins = due.at <= at + GATHERED_FOR
        found[due.point] = Gathered(at, max(at, due.at)) if joins else Gathered(due.at, due.at)
    return found


def _repeats(dues: Sequence[Due], matters: Mapping[str, Matter]) -> dict[str, Ms]:
    """Many repeats that fall due one after the other within a minute are told with the first of them: by point."""
    lesser = [
        due
        for due in dues
        if due.told is not None and due.priority is not Priority.EMERGENCY and due.point not in matters
    ]
    if len(lesser) <= MOST_AT_ONCE:
        return {}
    begin = min(due.at for due in lesser)
    near = [due for due in lesser if due.at <= begin + GATHERED_FOR]
    return {due.point: begin for due in near} if len(near) > MOST_AT_ONCE else {}


def _waits(due: Due, told: Ms | None) -> Ms:
    if due.told is not None or due.priority is Priority.EMERGENCY:
        return due.at
    if told is not None and due.priority is not Priority.ALARM and due.at < told + JOINS_WITHIN:
        return max(due.at + GATHERED_FOR, told + JOINS_WITHIN)
    return due.at + GATHERED_FOR


def flood_after(raised: Sequence[Ms], now: Ms, going_on: bool) -> bool:
    """Whether it is a flood, by the instants of raising, oldest first; window (now - 10 min, now]."""
    count = sum(now - FLOOD_WINDOW < at <= now for at in raised)
    return count >= FLOOD_ENDS_BELOW if going_on else count > FLOOD_BEGINS_ABOVE


def flood_over_at(raised: Sequence[Ms]) -> Ms | None:
    """When a flood ends if nothing more comes: the fifth newest leaves the window. None: it is over already."""
    return raised[-FLOOD_ENDS_BELOW] + FLOOD_WINDOW if len(raised) >= FLOOD_ENDS_BELOW else None
