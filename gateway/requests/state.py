"""Requests that are open, who is locked, what runs on time: the room's part of the state."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from gateway.requests.answers import CodeTrouble
from gateway.requests.facts import (
    CodeMade,
    CodeRefused,
    CodeSpent,
    LastSwitched,
    LockLifted,
    LockOutSeen,
    PersonLocked,
    RequestStep,
    RunBegan,
    RunEnded,
    RunProved,
    RunSeenOver,
    SecondAsked,
    StopAnswered,
    StopFreed,
    StopHeld,
    StopSent,
    Waits,
    WrongCode,
)
from gateway.requests.life import ENDS, UNDER_WAY, WITH_A_CODE, RequestEvent, RequestState
from gateway.requests.number_facts import NumberAsked, NumberProved, NumberUnproved
from gateway.requests.numbers import Numbers, words_of
from gateway.requests.paper_facts import PaperLineUsed, PaperListCame, PaperListVoid
from gateway.requests.paper_lists import Papers
from gateway.vocabulary.entries import SealedPart
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import DAY, SECOND, Ms

DEAD_CODES_KEPT = 20
"""Codes of one person that are known again after their end, for a day (our choice; more than can be asked in the
10 min in which a replay is likely)."""


NEWEST_FIRST = 2 * SECOND
"""So long after the boat is heard again an end that waited is sent. What lay with the broker comes first, and with it
the node's latest count: with an older one the node takes the stop for one that is out of sight, and a minute is lost
(our choice; seen with a gateway that was killed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """One request that has not ended. words: None when confirmed or when their sealed part is gone. expires: last
    good instant of the code. wrong: wrong words held against it. second: random id of the second person who is asked as
    well, "" while nobody is; the words are then that person's. sent, prove_by, seen: instants, None before."""

    id: str
    person: str
    boat: str
    equipment: str
    action: str
    state: RequestState
    run: Ms | None
    until: Ms | None
    words: tuple[str, str] | None = None
    expires: Ms = 0
    wrong: int = 0
    second: str = ""
    order: str = ""
    sent: Ms | None = None
    prove_by: Ms | None = None
    seen: Ms | None = None

    @property
    def asked_last(self) -> str:
        """Random id of the person whose code it waits for, or waited for."""
        return self.second or self.person


@dataclass(frozen=True, slots=True, kw_only=True)
class DeadCode:
    """A code that can no longer confirm anything, and what is answered when it comes again."""

    request: str
    mark: str
    trouble: CodeTrouble
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Tries:
    """Wrong codes of one person. wrong: their instants within the last day. series: how many since the last right one,
    or since a day without any; a lock leaves it. locked_until: first free instant.
    locked: without end, until the installer has proved the person again. locks: instants of those of the last day.
    locked_at: instant of the last lock, ms UTC.
    """

    in_a_row: int = 0
    series: int = 0
    wrong: tuple[Ms, ...] = ()
    locked_until: Ms | None = None
    locked: bool = False
    locks: tuple[Ms, ...] = ()
    locked_at: Ms = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Switched:
    """What a feedback contact showed last, and since when (arrival)."""

    on: bool
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class LockOut:
    """A maintenance lock-out that is set: what the boat says of it, and since when it was seen so (arrival)."""

    value: str
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Failed:
    """Commands of one action in a row that were not proved. at: instant of the last one's end."""

    count: int
    at: Ms


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


@dataclass(slots=True)
class Requests:
    """open: requests by id that have not ended. dead: codes by person, oldest first. tries: by person.
    switched: by equipment id. lock_outs: those that are set, by signal id. runs: by equipment id, at most one each.
    failed: by ``equipment id/action``.
    numbers: whose number is proved. papers: lists on paper, and what of them is used."""

    open: dict[str, Request] = field(default_factory=dict)
    dead: dict[str, tuple[DeadCode, ...]] = field(default_factory=dict)
    tries: dict[str, Tries] = field(default_factory=dict)
    switched: dict[str, Switched] = field(default_factory=dict)
    lock_outs: dict[str, LockOut] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    failed: dict[str, Failed] = field(default_factory=dict)
    numbers: Numbers = field(default_factory=Numbers)
    papers: Papers = field(default_factory=Papers)

    def open_code(self) -> bool:
        """Whether a code or a proof of a number is open: then no snapshot is taken, because their words stand only in a
        sealed part."""
        return bool(self.numbers.asked) or any(r.state in WITH_A_CODE for r in self.open.values())

    def waiting(self, person: str) -> Request | None:
        """The person's request that waits for its code, or for that of a second person; never more than one."""
        found = (r for r in self.open.values() if r.person == person and r.state in WITH_A_CODE)
        return next(found, None)

    def codes_of(self, person: str) -> tuple[Request, ...]:
        """Requests that this person's words can confirm: the own one first, then those of others."""
        found = [r for r in self.open.values() if r.asked_last == person and r.state in WITH_A_CODE]
        return tuple(sorted(found, key=lambda request: bool(request.second)))

    def under_way(self, equipment: str) -> Request | None:
        """The request of this equipment whose command is out and not proved yet."""
        found = (r for r in self.open.values() if r.equipment == equipment and r.state in UNDER_WAY)
        return next(found, None)

    def failed_in_a_row(self, equipment: str, action: str) -> Failed | None:
        """The series of unproven commands that stands; None when there is none, or when the equipment was seen to be
        switched at the boat since: somebody was there and had it running."""
        failed = self.failed.get(f"{equipment}/{action}")
        last = self.switched.get(equipment)
        return None if failed is None or (last is not None and last.at > failed.at) else failed

    def locked(self, person: str, now: Ms) -> bool:
        """Whether the person's commands are locked at this instant."""
        tries = self.tries.get(person, Tries())
        return tries.locked or (tries.locked_until is not None and now < tries.locked_until)

    def clock_moved(self, by: Ms) -> None:
        """The wall clock was moved forward by so much (ms): codes expire and timed ends fall due that much earlier.
        Lengths of waiting (proof, locks, repeats) are no clock times and go on as they were."""
        for key, request in self.open.items():
            until = request.until - by if request.until is not None else None
            self.open[key] = replace(request, expires=request.expires - by, until=until)
        self.numbers.clock_moved(by)
        for key, run in self.runs.items():
            following = run.next - by if run.next == run.due and run.next is not None else run.next
            self.runs[key] = replace(run, due=run.due - by, next=following)

    def apply(self, fact: Fact, now: Ms, parts: Sequence[SealedPart | None]) -> None:
        """Fold one fact of this room in. now: the entry's instant. parts: its sealed parts, None where one was erased.
        Raises TypeError for a fact of another room."""
        match fact:
            case RequestStep():
                self._step(fact, now)
            case CodeMade() | SecondAsked():
                self._code(fact, parts)
            case CodeSpent() | WrongCode() | PersonLocked() | LockLifted():
                self._authority(fact, now)
            case NumberAsked() | NumberProved() | NumberUnproved():
                self.numbers.apply(fact, now, parts)
                if isinstance(fact, NumberProved) and not fact.by:  # the right words end a row of wrong ones
                    self.tries[fact.person] = replace(self.tries.get(fact.person, Tries()), in_a_row=0, series=0)
            case PaperListCame() | PaperLineUsed() | PaperListVoid():
                self.papers.apply(fact)
            case LastSwitched():
                self.switched[fact.equipment] = Switched(on=fact.on, at=fact.at)
            case LockOutSeen(value="off"):
                self.lock_outs.pop(fact.signal, None)
            case LockOutSeen():
                self.lock_outs[fact.signal] = LockOut(value=fact.value, at=fact.at)
            case RunBegan() | RunProved() | RunSeenOver() | StopHeld() | StopFreed() | StopSent() | RunEnded():
                self._run(fact, now)
            case CodeRefused() | StopAnswered():
                pass  # kept for the record alone
            case _:
                raise TypeError(f"{fact.kind} is no fact of requests")

    def _step(self, fact: RequestStep, now: Ms) -> None:
        if fact.event in (RequestEvent.PASS_ON, RequestEvent.CONFIRM):
            known = self.open.get(fact.request)
            right = fact.person if known is None else known.asked_last
            self.tries[right] = replace(self.tries.get(right, Tries()), in_a_row=0, series=0)
        self._series(fact, now)
        if fact.after in ENDS:
            self.open.pop(fact.request, None)
            return
        known = self.open.get(fact.request)
        if known is None:
            known = Request(
                id=fact.request,
                person=fact.person,
                boat=fact.boat,
                equipment=fact.equipment,
                action=fact.action,
                state=fact.after,
                run=fact.run,
                until=fact.until,
            )
        known = replace(known, state=fact.after)
        match fact.event:
            case RequestEvent.CONFIRM | RequestEvent.PASS_ON:
                known = replace(known, words=None)
            case RequestEvent.SEND:
                known = replace(known, order=fact.order, sent=now, prove_by=fact.prove_by)
            case RequestEvent.SEE:
                known = replace(known, seen=fact.seen_at)
            case RequestEvent.LOSE:
                known = replace(known, seen=None)
        self.open[fact.request] = known

    def _series(self, fact: RequestStep, now: Ms) -> None:
        """A series is judged anew when a command goes out, not while it is under way: a set that catches and dies at
        each attempt was switched too, and must not begin its count again by that."""
        key = f"{fact.equipment}/{fact.action}"
        begins_anew = (
            fact.event is RequestEvent.SEND and self.failed_in_a_row(fact.equipment, fact.action) is None
        ) or fact.after is RequestState.PROVED
        if begins_anew:
            self.failed.pop(key, None)
        elif fact.after is RequestState.UNPROVEN:
            before = self.failed.get(key)
            self.failed[key] = Failed(count=1 if before is None else before.count + 1, at=now)

    def _code(self, fact: CodeMade | SecondAsked, parts: Sequence[SealedPart | None]) -> None:
        known = self.open.get(fact.request)
        if known is not None:
            second = fact.person if isinstance(fact, SecondAsked) else ""
            self.open[fact.request] = replace(
                known, expires=fact.expires, words=words_of(parts), second=second, wrong=0
            )

    def _authority(self, fact: CodeSpent | WrongCode | PersonLocked | LockLifted, now: Ms) -> None:
        tries = self.tries.get(fact.person, Tries())
        match fact:
            case CodeSpent():
                kept = tuple(code for code in self.dead.get(fact.person, ()) if now - code.at < DAY)
                dead = DeadCode(request=fact.request, mark=fact.mark, trouble=fact.trouble, at=now)
                self.dead[fact.person] = (*kept, dead)[-DEAD_CODES_KEPT:]
                self.numbers.spent(fact.request)
            case WrongCode():
                recent = tuple(at for at in tries.wrong if now - at < DAY)
                series = tries.series + 1 if recent else 1
                self.tries[fact.person] = replace(
                    tries, in_a_row=tries.in_a_row + 1, series=series, wrong=(*recent, now)
                )
                known = self.open.get(fact.request)
                if known is not None:
                    self.open[fact.request] = replace(known, wrong=known.wrong + 1)
                self.numbers.wrong(fact.request)
            case PersonLocked():
                self.tries[fact.person] = replace(
                    tries,
                    in_a_row=0,
                    locked_until=fact.until,
                    locked=tries.locked or fact.until is None,
                    locks=(*(at for at in tries.locks if now - at < DAY), now),
                    locked_at=now,
                )
            case LockLifted():
                self.tries.pop(fact.person, None)

    def _run(
        self, fact: RunBegan | RunProved | RunSeenOver | StopHeld | StopFreed | StopSent | RunEnded, now: Ms
    ) -> None:
        if isinstance(fact, RunBegan):
            self.runs[fact.equipment] = _begun(fact)
            return
        run = self.runs.get(fact.equipment)
        if run is None:
            return
        match fact:
            case RunProved():
                run = replace(run, proved=now, due=fact.due, next=fact.due)
            case RunSeenOver():
                run = replace(run, over_since=fact.at if fact.over else None)
            case StopHeld():
                told = run.told if fact.because in run.told else (*run.told, fact.because)
                run = replace(run, next=None, waits=fact.because, told=told)
            case StopFreed():
                run = replace(run, next=now + NEWEST_FIRST, waits=None)
            case StopSent():
                run = replace(run, tries=fact.number, sent=now, order=fact.order, next=fact.again, waits=None)
            case RunEnded():
                del self.runs[fact.equipment]
                return
        self.runs[fact.equipment] = run


def _begun(fact: RunBegan) -> Run:
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
