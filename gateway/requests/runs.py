"""One timed run as it is kept: what each fact makes of it."""

from dataclasses import dataclass, replace

from gateway.requests.run_facts import RunBegan, RunEnded, RunProved, RunSeenOver, StopFreed, StopHeld, StopSent, Waits
from gateway.vocabulary.moments import SECOND, Ms

NEWEST_FIRST = 2 * SECOND
"""So long after the boat is heard again an end that waited is sent. What lay with the broker comes first, and with it
the node's latest count: with an older one the node takes the stop for one that is out of sight, and a minute is lost
(our choice; seen with a gateway that was killed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One timed run. Fields as in RunBegan. proved: instant at which it was seen to be on, None before.
    next: instant of the next step, None while it waits. over_since: since when it is seen to be over.
    tries, sent, order: of its end. waits: why its end is not sent. told: reasons of waiting that were told."""

    request: str
    boat: str
    equipment: str
    person: str
    ends_with: str
    wanted: bool
    repeats: bool
    due: Ms
    broker: str
    topic: str
    feedback: str
    count: str
    valid: Ms
    prove_within: Ms
    next: Ms | None
    cool_down: Ms = 0
    proved: Ms | None = None
    over_since: Ms | None = None
    tries: int = 0
    sent: Ms | None = None
    order: str = ""
    waits: Waits | None = None
    told: tuple[Waits, ...] = ()


def begun(fact: RunBegan) -> Run:
    return Run(
        request=fact.request,
        boat=fact.boat,
        equipment=fact.equipment,
        person=fact.person,
        ends_with=fact.ends_with,
        wanted=fact.wanted,
        repeats=fact.repeats,
        due=fact.due,
        broker=fact.broker,
        topic=fact.topic,
        feedback=fact.feedback,
        count=fact.count,
        valid=fact.valid,
        prove_within=fact.prove_within,
        cool_down=fact.cool_down,
        next=fact.due,
    )


def run_after(
    run: Run, fact: RunProved | RunSeenOver | StopHeld | StopFreed | StopSent | RunEnded, now: Ms
) -> Run | None:
    """The run as it stands after a fact; None when it has ended. now: the entry's instant."""
    match fact:
        case RunProved():
            return replace(run, proved=now, due=fact.due, next=fact.due)
        case RunSeenOver():
            return replace(run, over_since=fact.at if fact.over else None)
        case StopHeld():
            told = run.told if fact.because in run.told else (*run.told, fact.because)
            return replace(run, next=None, waits=fact.because, told=told)
        case StopFreed():
            return replace(run, next=now + NEWEST_FIRST, waits=None)
        case StopSent():
            return replace(run, tries=fact.number, sent=now, order=fact.order, next=fact.again, waits=None)
        case RunEnded():
            return None


def moved(run: Run, by: Ms) -> Run:
    """The wall clock was moved forward by so much: its end falls due that much earlier."""
    following = run.next - by if run.next == run.due and run.next is not None else run.next
    return replace(run, due=run.due - by, next=following)
