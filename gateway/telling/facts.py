"""What the logbook keeps of telling."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.plain import Plain
from gateway.vocabulary.priority import Priority


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundCalled(Fact):
    """One round of a call-out list fell due. step: its place in the list from 0; repeats keep the last place.
    next_step: what comes next; equal to the number of steps once the list has been gone through.
    only: ids of those whose first text a limit had held back, when it was no step of the list but theirs alone."""

    kind: ClassVar[str] = "round-called"
    number: int
    point: str
    step: int
    next_step: int
    again: bool
    only: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NotCalled(Fact):
    """An alarm is not told to anybody, and why (how the boat is kept)."""

    kind: ClassVar[str] = "not-called"
    number: int
    point: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CalledAfterAll(Fact):
    """An alarm that nobody was told of, because of how the boat was kept, is told now that it is kept otherwise.
    anew_at: instant from which it is called out, when it must stand for its own delay once more; None for now."""

    kind: ClassVar[str] = "called-after-all"
    number: int
    point: str
    boat: str
    priority: Priority
    because: str
    anew_at: Ms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TextQueued(Fact):
    """A text was decided on; its number and words stand in the sealed part ``{"number", "body"}``.

    order: the order's id. person: random id. about: kind of text. numbers: alarms it tells of. counts: whether it
    counts against the person's limits. again: a repeat. priority: of the worst alarm it tells of. named: of a grouped
    text, the alarms that "have it" to it takes. spoken: by a call. says_held: alarms of which it says that a limit held
    a text back.
    """

    kind: ClassVar[str] = "text-queued"
    order: str
    person: str
    boat: str
    about: str
    numbers: tuple[int, ...] = ()
    priority: Priority | None = None
    again: bool = False
    named: tuple[int, ...] = ()
    spoken: bool = False
    says_held: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TextAnswered(Fact):
    """What the carrier said to a text: accepted under its id, or refused with its code. found: looked up after the
    answer had been lost."""

    kind: ClassVar[str] = "text-answered"
    order: str
    accepted: bool
    message: str = ""
    code: str = ""
    detail: str = ""
    found: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TextDelayed(Fact):
    """The carrier has not taken a text yet; it goes on being tried, and the next person is told meanwhile."""

    kind: ClassVar[str] = "text-delayed"
    order: str
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TextOverdue(Fact):
    """A text that the carrier has taken has not been said to have arrived within its time (ms); for that reason the
    next person is told of these alarms."""

    kind: ClassVar[str] = "text-overdue"
    order: str
    person: str
    numbers: tuple[int, ...]
    within: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class TextDelivery(Fact):
    """A later word of the carrier on a text."""

    kind: ClassVar[str] = "text-delivery"
    order: str
    status: str
    code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MailQueued(Fact):
    """A mail was decided on; address and words stand in the sealed part ``{"address", "subject", "body"}``. about: kind
    of text that it repeats."""

    kind: ClassVar[str] = "mail-queued"
    order: str
    person: str
    about: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MailEnded(Fact):
    """The mail server took a mail, or it was given up."""

    kind: ClassVar[str] = "mail-ended"
    order: str
    taken: bool
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldBack(Fact):
    """A text was not sent, and why. until: instant from which the limit leaves room again, None when not by a limit.
    unreachable: the phone has opted out, so the next person is told."""

    kind: ClassVar[str] = "held-back"
    person: str
    about: str
    because: str
    numbers: tuple[int, ...] = ()
    until: Ms | None = None
    unreachable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class QuietAsked(Fact):
    """A person wants no reminders of an alarm until an instant."""

    kind: ClassVar[str] = "quiet-asked"
    number: int
    point: str
    person: str
    until: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class OptOutNoted(Fact):
    """A person's number opted out with the carrier, or in again. by: ``text``, the carrier's mark on one, its code, or
    that a test text arrived (only that ends it)."""

    kind: ClassVar[str] = "opt-out-noted"
    person: str
    out: bool
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StrangersTold(Fact):
    """People (ids) are told of texts from strangers; the count starts again. Version 1 did not say who they were."""

    kind: ClassVar[str] = "strangers-told"
    version: ClassVar[int] = 2
    count: int
    people: tuple[str, ...] = ()

    @classmethod
    def lift(cls, version: int, body: Mapping[str, Plain]) -> Mapping[str, Plain]:
        """The first version told installers, without their ids."""
        return {**body, "people": []} if version == 1 else super(StrangersTold, cls).lift(version, body)


@dataclass(frozen=True, slots=True, kw_only=True)
class FloodStep(Fact):
    """For one person a flood of alarms has begun or ended. count: alarms raised for that person within ten minutes."""

    kind: ClassVar[str] = "flood-step"
    person: str
    begun: bool
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearGathered(Fact):
    """The condition of an alarm that several boats share has gone; the all-clear waits for the other boats.

    since, gone: instants, as in the alarm. until: instant at which it is told at the latest. told: whom it was told to.
    """

    kind: ClassVar[str] = "clear-gathered"
    number: int
    point: str
    since: Ms
    gone: Ms
    until: Ms
    told: tuple[str, ...]
    holder: str | None = None
    closed: bool = False
    times: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearTold(Fact):
    """The gathered all-clears of these points have been told."""

    kind: ClassVar[str] = "clear-told"
    points: tuple[str, ...]
