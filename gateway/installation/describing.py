"""Who is told of what, and when, read back from the desk's own bundle.

Pure. What is shown is what the rooms will do, not what the files say: standards laid under, roles turned into persons.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from gateway.alarms.settings import Attendance, Point
from gateway.desk.bundle import Bundle
from gateway.desk.lists import rostered
from gateway.desk.standing_in import with_stand_ins
from gateway.desk.state import State
from gateway.telling.settings import CallOutList, Step
from gateway.vocabulary.moments import Ms, as_utc, from_datetime
from gateway.vocabulary.priority import Priority
from grammar.meanings import say_condition


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One alarm point and whom it calls. told: by person's key, ms after the alarm is raised. again: ms between the
    repeats to all of them after the last round, None for no repeat. Of the rounds of `told`, by person's key, too:
    called: those with a call, call_alone: those without a text beside it, on_duty: those only while on duty, at_times:
    those only at some hours or while the boat is kept in some way. waiting: keys of persons whose quiet hours hold at
    the hour that is shown. test: how
    the condition is made for a proof, "" where nobody wrote it. asked_again: ms after the last word of who has it, None
    for never.
    becomes_alarm: ms after which a warning that nobody takes is told as an alarm, None for never."""

    boat: str
    alarm: str
    name: str
    priority: str
    when: str
    attendance: tuple[str, ...]
    told: dict[str, tuple[Ms, ...]]
    again: Ms | None
    called: dict[str, tuple[Ms, ...]] = field(default_factory=dict)
    call_alone: dict[str, tuple[Ms, ...]] = field(default_factory=dict)
    on_duty: dict[str, tuple[Ms, ...]] = field(default_factory=dict)
    at_times: dict[str, tuple[Ms, ...]] = field(default_factory=dict)
    waiting: tuple[str, ...] = ()
    test: str = ""
    asked_again: Ms | None = None
    becomes_alarm: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Then:
    """One hour, by each boat's own clock. day: a date, or a weekday (0 Monday to 6 Sunday) for the next such day after
    `asked` (instant, ms UTC), today while the hour is still to come. minute: after midnight. kept: how the boats are
    kept."""

    day: date | int
    minute: int
    kept: Attendance
    asked: Ms

    def at(self, zone: ZoneInfo) -> Ms:
        """The instant (ms UTC) at a boat in this zone. Of an hour that comes twice the first; one that the clocks leave
        out counts by the clock as it was before."""
        today = as_utc(self.asked).astimezone(zone).date()
        if isinstance(self.day, date):
            return self._on(self.day, zone)
        first = today + timedelta(days=(self.day - today.weekday()) % 7)
        at = self._on(first, zone)
        return at if at >= self.asked else self._on(first + timedelta(days=7), zone)

    def _on(self, day: date, zone: ZoneInfo) -> Ms:
        clock = time(self.minute // 60, self.minute % 60)
        return from_datetime(datetime.combine(day, clock, tzinfo=zone))


def told(bundle: Bundle, then: Then | None = None) -> tuple[Told, ...]:
    """Every alarm point, boat by boat, the gravest first, then in the order of the files. then: as it is at that hour,
    with whoever is on duty by the roster and stand-ins for those who are away; None for all of it side by side."""
    points = sorted(bundle.points.values(), key=lambda point: (point.boat, -point.priority.gravity))
    return tuple(_told(bundle, point, _plan(bundle, point, then), then) for point in points)


def _plan(bundle: Bundle, point: Point, then: Then | None) -> CallOutList:
    plan = bundle.callouts[point.callout]
    if then is None:
        return plan
    if point.priority is not Priority.EMERGENCY and point.attendance and then.kept not in point.attendance:
        return replace(plan, steps=())
    zone = bundle.boats[point.boat].zone
    at, nothing_said = then.at(zone), State()
    turns = plan.as_kept(then.kept, as_utc(at).astimezone(zone))
    turns = turns.while_on_duty(rostered(nothing_said, bundle, point.boat, at))
    return with_stand_ins(nothing_said, bundle, turns, point.boat, point.priority, at)


def _waiting(bundle: Bundle, point: Point, plan: CallOutList, then: Then | None) -> tuple[str, ...]:
    """Keys of those for whom it waits till the end of their quiet hours."""
    if then is None:
        return ()
    at = then.at(bundle.boats[point.boat].zone)
    people = [bundle.people[person] for person in plan.everyone]
    waits = ((one, one.quiet_of(point.priority)) for one in people)
    return tuple(one.key for one, hours in waits if hours is not None and hours.hold(at, one.zone))


def _told(bundle: Bundle, point: Point, plan: CallOutList, then: Then | None) -> Told:
    rounds = _rounds(bundle, plan, lambda _step, _person: True)
    return Told(
        boat=point.boat,
        alarm=point.key,
        name=point.name,
        priority=point.priority.value,
        when=say_condition(point.when),
        attendance=tuple(kept.value for kept in point.attendance),
        told=rounds,
        called=_rounds(bundle, plan, lambda step, _person: step.rings(point.priority)),
        call_alone=_rounds(bundle, plan, lambda step, _person: not step.text),
        on_duty=_rounds(bundle, plan, lambda step, person: then is None and person in step.by_duty),
        at_times=_rounds(bundle, plan, lambda step, _person: then is None and not step.when.always),
        waiting=_waiting(bundle, point, plan, then),
        again=plan.repeat if rounds else None,
        test=point.test,
        asked_again=point.ask_again,
        becomes_alarm=point.becomes_alarm,
    )


def _rounds(bundle: Bundle, plan: CallOutList, counts: Callable[[Step, str], bool]) -> dict[str, tuple[Ms, ...]]:
    """By person's key: when the rounds are that count; persons without any are left out."""
    found = {
        bundle.people[person].key: tuple(
            step.after for step in plan.steps if person in step.tell and counts(step, person)
        )
        for person in plan.everyone
    }
    return {person: rounds for person, rounds in found.items() if rounds}
