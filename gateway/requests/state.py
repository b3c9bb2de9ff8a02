"""Requests that are open, who is locked, what runs on time: the room's part of the state."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from gateway.requests.facts import (
    CodeMade,
    CodeRefused,
    CodeSpent,
    LastSwitched,
    LockLifted,
    LockOutSeen,
    PersonLocked,
    RequestStep,
    SecondAsked,
    WrongCode,
)
from gateway.requests.life import ENDS, UNDER_WAY, WITH_A_CODE, RequestEvent, RequestState
from gateway.requests.number_facts import NumberAsked, NumberProved, NumberUnproved
from gateway.requests.numbers import Numbers, words_of
from gateway.requests.paper_facts import PaperLineUsed, PaperListCame, PaperListVoid
from gateway.requests.paper_lists import Papers
from gateway.requests.run_facts import (
    RunBegan,
    RunEnded,
    RunProved,
    RunSeenOver,
    StopAnswered,
    StopFreed,
    StopHeld,
    StopSent,
)
from gateway.requests.runs import Run, begun, moved, run_after
from gateway.requests.shown import Failed, LockOut, Switched
from gateway.requests.tries import DeadCode, Tries, after_lock, after_right, after_wrong, with_dead
from gateway.vocabulary.entries import SealedPart
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.moments import Ms


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
        self.runs = {key: moved(run, by) for key, run in self.runs.items()}

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
                    self.tries[fact.person] = after_right(self.tries.get(fact.person, Tries()))
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
            self.tries[right] = after_right(self.tries.get(right, Tries()))
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
                self.dead[fact.person] = with_dead(self.dead.get(fact.person, ()), fact, now)
                self.numbers.spent(fact.request)
            case WrongCode():
                self.tries[fact.person] = after_wrong(tries, now)
                known = self.open.get(fact.request)
                if known is not None:
                    self.open[fact.request] = replace(known, wrong=known.wrong + 1)
                self.numbers.wrong(fact.request)
            case PersonLocked():
                self.tries[fact.person] = after_lock(tries, fact, now)
            case LockLifted():
                self.tries.pop(fact.person, None)

    def _run(
        self, fact: RunBegan | RunProved | RunSeenOver | StopHeld | StopFreed | StopSent | RunEnded, now: Ms
    ) -> None:
        if isinstance(fact, RunBegan):
            self.runs[fact.equipment] = begun(fact)
            return
        run = self.runs.get(fact.equipment)
        if run is None:
            return
        after = run_after(run, fact, now)
        if after is None:
            del self.runs[fact.equipment]
        else:
            self.runs[fact.equipment] = after
