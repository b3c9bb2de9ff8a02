"""What the installer says of call-out lists and of pacing."""

from dataclasses import dataclass, field, replace
from datetime import datetime

from gateway.alarms.settings import Attendance
from gateway.people.hours import WeekHours
from gateway.vocabulary.moments import MINUTE, Ms
from gateway.vocabulary.priority import Priority

RINGS_FROM: Ms = 3 * MINUTE
"""From this step on an emergency that nobody has is called by voice as well (our choice: the first repeat of handbook
2.3; a text does not wake everybody)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class When:
    """When a round of a list counts. attendance: ways of keeping the boat, empty for every one. hours: boat time, None
    for at any time."""

    attendance: tuple[Attendance, ...] = ()
    hours: WeekHours | None = None

    @property
    def always(self) -> bool:
        """Whether it counts at any time, however the boat is kept."""
        return not self.attendance and self.hours is None

    def holds(self, kept: Attendance, local: datetime) -> bool:
        """Whether it counts while the boat is kept so, at this time of its wall clock."""
        return (not self.attendance or kept in self.attendance) and (self.hours is None or self.hours.cover(local))


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One round of a call-out list. after: ms from the alarm being raised. tell: persons' ids, all at once. text, ring:
    by what way; both may be. ring None: the list says nothing of it, so an emergency is called as well from
    `RINGS_FROM` on. by_duty: those of `tell` who are told of it only while they are on duty. when: it counts."""

    after: Ms
    tell: tuple[str, ...]
    text: bool = True
    ring: bool | None = None
    by_duty: tuple[str, ...] = ()
    when: When = field(default_factory=When)

    def rings(self, priority: Priority) -> bool:
        """Whether persons of this step are called, for an alarm of that priority."""
        return self.ring if self.ring is not None else priority is Priority.EMERGENCY and self.after >= RINGS_FROM


@dataclass(frozen=True, slots=True, kw_only=True)
class CallOutList:
    """Whom to tell of an alarm that nobody holds yet.

    steps: by growing `after`; everyone of a step is told when it falls due. repeat: after the last step, all persons
    of the list are told again every so many ms until somebody has it; None: no repeat.
    """

    key: str
    steps: tuple[Step, ...]
    repeat: Ms | None

    def while_on_duty(self, person: str | None) -> "CallOutList":
        """The list as it is while this person is on duty, who may stand on no roster. None, where nobody is: everybody
        of the roster is told, because a hole in it must not be one in the list."""
        if person is None or not any(step.by_duty for step in self.steps):
            return self
        return replace(self, steps=tuple(_with_duty(step, person) if step.by_duty else step for step in self.steps))

    def as_kept(self, kept: Attendance, local: datetime) -> "CallOutList":
        """The list as it is while the boat is kept so, at this time of its wall clock: a round that does not count then
        tells nobody, and keeps its place. Where none counts, all of the list are told as if all did: a hole in it must
        not be silence."""
        if all(step.when.always for step in self.steps):
            return self
        steps = tuple(step if step.when.holds(kept, local) else replace(step, tell=()) for step in self.steps)
        return replace(self, steps=steps) if any(step.tell for step in steps) else self

    @property
    def everyone(self) -> tuple[str, ...]:
        """All persons of the list, in order of first mention."""
        return tuple(dict.fromkeys(person for step in self.steps for person in step.tell))


def _with_duty(step: Step, person: str) -> Step:
    told = tuple(p for p in step.tell if p == person or p not in step.by_duty)
    return replace(step, tell=told if person in told else (*told, person))


@dataclass(frozen=True, slots=True, kw_only=True)
class Pacing:
    """The most that one person gets, and that a boat and all boats together send to whomever. Defaults: handbook 2.4
    (our rule: a sleeper is no control-room operator).

    Emergencies have no limit. The first text of an alarm always goes. Warnings and cautions: all their texts count.
    """

    alarm_repeats_an_hour: int = 6
    warnings_an_hour: int = 3
    warnings_a_day: int = 12
    boat_a_day: int = 300  # the most alarms a day that one operator can manage (handbook 2.4): here by one boat
    all_boats_a_day: int = 2_000  # our choice: against a fault that would cost money all night
    answers_in_ten_minutes: int = 4  # to texts not understood (design rule 7: two machines must not talk for ever)
