"""How the points behave: their last activations, and which of them need mending. A part of the room's state."""

from dataclasses import dataclass, field, replace
from typing import Protocol

from gateway.alarms.facts import AlarmStep, PointAtFault, PointFaultTold
from gateway.alarms.life import AlarmEvent
from gateway.alarms.nuisance import (
    CHATTERS_FROM,
    FLEETING_FROM,
    FLEETING_OVER,
    TOLD_AGAIN_AFTER,
    PointFault,
    was_fleeting,
)
from gateway.vocabulary.moments import Ms


class Standing(Protocol):
    """What must be known of an alarm that steps."""

    @property
    def active(self) -> bool: ...
    @property
    def raised(self) -> Ms: ...


@dataclass(frozen=True, slots=True)
class Habit:
    """raised: the last activations. fleeting: when the last fleeting ones went (instants, oldest first)."""

    raised: tuple[Ms, ...] = ()
    fleeting: tuple[Ms, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A fault that was found. at: when. tell_at: when it is told. told: it was."""

    point: str
    boat: str
    fault: PointFault
    at: Ms
    tell_at: Ms
    told: bool = False


@dataclass(slots=True)
class Habits:
    """by_point: what a point did last. faults: what was found, by point and fault."""

    by_point: dict[str, Habit] = field(default_factory=dict)
    faults: dict[str, Known] = field(default_factory=dict)

    def of(self, point: str) -> Habit:
        """What the point did last."""
        return self.by_point.get(point, Habit())

    def step(self, fact: AlarmStep, known: Standing | None, now: Ms) -> None:
        """Take an activation or its end into account. known: the alarm before this step."""
        habit = self.of(fact.point)
        if fact.event is AlarmEvent.RAISE and not (known is not None and known.active):
            self.by_point[fact.point] = replace(habit, raised=(*habit.raised, now)[-CHATTERS_FROM:])
        elif fact.event is AlarmEvent.CLEAR and habit.raised and was_fleeting(habit.raised[-1], now):
            recent = tuple(at for at in habit.fleeting if now - at < FLEETING_OVER)
            self.by_point[fact.point] = replace(habit, fleeting=(*recent, now)[-FLEETING_FROM:])

    def fault(self, fact: PointAtFault | PointFaultTold, now: Ms) -> None:
        """A fault was found, or told."""
        key = f"{fact.point} {fact.fault}"
        if isinstance(fact, PointFaultTold):
            self.faults[key] = replace(self.faults[key], told=True)
            return
        self.faults[key] = Known(point=fact.point, boat=fact.boat, fault=fact.fault, at=now, tell_at=fact.tell_at)

    def is_new(self, point: str, fault: PointFault, now: Ms) -> bool:
        """Whether the fault is to be told: not found before, or so long ago that nobody remembers."""
        known = self.faults.get(f"{point} {fault}")
        return known is None or now - known.at >= TOLD_AGAIN_AFTER

    def untold(self) -> list[Known]:
        """Faults that were found and wait to be told."""
        return [known for known in self.faults.values() if not known.told]

    def forget(self, point: str) -> None:
        """The point has left the installation."""
        self.by_point.pop(point, None)
        for fault in PointFault:
            self.faults.pop(f"{point} {fault}", None)
