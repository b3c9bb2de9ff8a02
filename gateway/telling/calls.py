"""Calls: for each alarm that stands, how far its call-out list has been gone through, and who has it."""

from dataclasses import dataclass, field, replace

from gateway.alarms.facts import AlarmEscalated, AlarmGivenUp, AlarmStep
from gateway.alarms.holding import HolderChanged
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.telling.call import ALARM_GONE, ALARM_TOLD, FLOOD_TOLD, GROUPED, NOT_TAKEN, TELLS, UNTOLD, Call
from gateway.telling.facts import (
    CalledAfterAll,
    ClearGathered,
    ClearTold,
    FloodStep,
    HeldBack,
    NotCalled,
    OptOutNoted,
    QuietAsked,
    RoundCalled,
    StrangersTold,
    TextAnswered,
    TextDelayed,
    TextDelivery,
    TextOverdue,
    TextQueued,
)
from gateway.telling.gathering import FLOOD_WINDOW, JOINS_WITHIN
from gateway.telling.pacing import QUIET_HOURS, Sent, is_capped
from gateway.telling.texts_out import TextsOut
from gateway.telling.welcoming import Welcomes
from gateway.vocabulary.moments import DAY, Ms

_ENDS = frozenset({AlarmState.NORMAL, AlarmState.SHELVED, AlarmState.SUPPRESSED, AlarmState.OUT_OF_SERVICE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Raised:
    """One alarm raised: instant, point."""

    at: Ms
    point: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """The last text that told a person of alarms. numbers: of all that it stands for; named: of those that a bare "have
    it" to it takes, empty when it told of one alarm only."""

    at: Ms
    numbers: tuple[int, ...]
    named: tuple[int, ...]


@dataclass(slots=True)
class Telling(TextsOut):
    """sent: what went to each person in the last day, oldest first. strangers: texts from strangers since they were
    last told of; strangers_told: by person, instant of the last word of that. raised: of the last ten minutes, oldest
    first. floods: persons for whom it is a flood, with the instant of the last grouped text of it. named: by person.
    clears: all-clears that wait for the other boats, by point. capped: instants of the last day's texts that count
    towards a limit, oldest first, by boat and under "" of all. welcomes: the first text to each person. held: by
    person, alarms of which a limit held a text back, until it has been said."""

    sent: dict[str, list[Sent]] = field(default_factory=dict)
    strangers: int = 0
    strangers_told: dict[str, Ms] = field(default_factory=dict)
    raised: list[Raised] = field(default_factory=list)
    floods: dict[str, Ms] = field(default_factory=dict)
    named: dict[str, Named] = field(default_factory=dict)
    clears: dict[str, ClearGathered] = field(default_factory=dict)
    capped: dict[str, list[Ms]] = field(default_factory=dict)
    welcomes: Welcomes = field(default_factory=Welcomes)
    held: dict[str, tuple[int, ...]] = field(default_factory=dict)

    def sent_to(self, person: str) -> list[Sent]:
        """What went to this person in the last day."""
        return self.sent.get(person, [])

    def apply(
        self,
        fact: AlarmStep
        | AlarmGivenUp
        | AlarmEscalated
        | HolderChanged
        | CalledAfterAll
        | RoundCalled
        | NotCalled
        | HeldBack
        | QuietAsked
        | TextQueued
        | TextAnswered
        | TextDelayed
        | TextOverdue
        | TextDelivery
        | OptOutNoted
        | StrangersTold
        | FloodStep
        | ClearGathered
        | ClearTold,
        now: Ms,
    ) -> None:
        """Fold one fact in. now: the entry's instant."""
        match fact:
            case AlarmStep():
                if fact.before is not fact.after or fact.event is AlarmEvent.RAISE:
                    self._step(fact, now)
            case AlarmGivenUp():
                self.calls.pop(fact.point, None)
            case CalledAfterAll(anew_at=int() as anew_at):
                self._begin(fact, anew_at)
                self._change(fact.point, anew=True)
            case AlarmEscalated() | CalledAfterAll():
                self._begin(fact, now)
            case HolderChanged() | RoundCalled() | HeldBack() | NotCalled() | QuietAsked():
                self._called_out(fact, now)
            case TextQueued():
                self.welcomes.apply(fact)
                self._queued(fact, now)
            case TextAnswered() | TextDelayed() | TextOverdue() | TextDelivery():
                self.carrier_said(fact, now)
                self.welcomes.apply(fact)
            case OptOutNoted():
                self._opted(fact, now)
            case StrangersTold():
                self.strangers = 0
                self.strangers_told |= dict.fromkeys(fact.people, now)
            case FloodStep() | ClearGathered() | ClearTold():
                self._together(fact)

    def _called_out(self, fact: HolderChanged | RoundCalled | HeldBack | NotCalled | QuietAsked, now: Ms) -> None:
        match fact:
            case HolderChanged():
                self._change(fact.point, holder=fact.person)
            case RoundCalled():
                self._called(fact, now)
            case HeldBack():
                self._held_back(fact)
            case NotCalled():
                self._change(fact.point, over=True, muted=True)
            case QuietAsked() if fact.point in self.calls:
                others = (pair for pair in self.calls[fact.point].quiet if pair[0] != fact.person)
                self._change(fact.point, quiet=(*others, (fact.person, fact.until)))

    def _together(self, fact: FloodStep | ClearGathered | ClearTold) -> None:
        match fact:
            case FloodStep(begun=True):
                self.floods.setdefault(fact.person, 0)
            case FloodStep():
                self.floods.pop(fact.person, None)
            case ClearGathered():
                self.clears[fact.point] = fact
            case ClearTold():
                for point in fact.points:
                    self.clears.pop(point, None)

    def _opted(self, fact: OptOutNoted, now: Ms) -> None:
        if fact.out:
            self.opt_out(fact.person, now)
        else:
            self.opted_out.pop(fact.person, None)

    def _change(self, point: str, **changes: object) -> None:
        if point in self.calls:
            self.calls[point] = replace(self.calls[point], **changes)  # type: ignore[arg-type]

    def _step(self, fact: AlarmStep, now: Ms) -> None:
        known = self.calls.get(fact.point)
        match fact.event:
            case AlarmEvent.RAISE if fact.after in _ENDS:
                pass  # put aside: nobody is told
            case AlarmEvent.UNSHELVE | AlarmEvent.UNSUPPRESS | AlarmEvent.RETURN if fact.after not in _ENDS:
                self._begin(fact, now)
            case AlarmEvent.RAISE:
                gone = next((at for at, one in enumerate(self.raised) if now - one.at < FLOOD_WINDOW), len(self.raised))
                self.raised = self.raised[gone:] if gone else self.raised
                self.raised.append(Raised(at=now, point=fact.point))
                self.clears.pop(fact.point, None)
                self._raised(fact, known, now)
            case AlarmEvent.TAKE if fact.after in _ENDS:
                self.calls.pop(fact.point, None)
            case AlarmEvent.TAKE:
                self._change(fact.point, holder=fact.person)
            case AlarmEvent.RE_ALARM:
                self._begin(fact, now if fact.until is None else fact.until)
            case AlarmEvent.CLEAR if fact.after is AlarmState.GONE_UNACKNOWLEDGED:
                self._change(fact.point, over=True)
            case _ if fact.after in _ENDS:
                self.calls.pop(fact.point, None)
            case _:
                pass

    def _raised(self, fact: AlarmStep, known: Call | None, now: Ms) -> None:
        if known is not None and known.last_round is not None and now - known.last_round < JOINS_WITHIN:
            self.calls[fact.point] = replace(known, holder=None, over=False, muted=False, rejoined=True)
            return
        self._begin(fact, now)

    def _begin(self, fact: AlarmStep | AlarmEscalated | CalledAfterAll, now: Ms) -> None:
        """now: instant from which the delays of the list count."""
        self.calls[fact.point] = Call(
            number=fact.number, point=fact.point, boat=fact.boat, priority=fact.priority, began=now
        )

    def _called(self, fact: RoundCalled, now: Ms) -> None:
        call = self.calls.get(fact.point)
        if fact.only and call is not None:
            left = tuple(pair for pair in call.waiting if pair[0] not in fact.only)
            self._change(fact.point, waiting=left)
        else:
            waiting = call.waiting if call is not None and call.hastened else ()  # else they were taken along
            left = tuple(pair for pair in waiting if pair[1] > now)
            done = {"hastened": False, "rejoined": False, "anew": False, "waiting": left}
            self._change(fact.point, next_step=fact.next_step, last_round=now, **done)

    def _held_back(self, fact: HeldBack) -> None:
        """A repeat that a limit held back is dropped; a first text waits until there is room, and whatever quiet hours
        hold back until they end. Where the phone has opted out, the next person's turn has come."""
        if fact.until is not None:
            known = self.held.get(fact.person, ())
            self.held[fact.person] = tuple(dict.fromkeys((*known, *fact.numbers)))
        if fact.unreachable and fact.about == ALARM_TOLD:
            self.hasten(fact.numbers)
        if fact.about != ALARM_TOLD or fact.until is None:
            return
        for point, call in list(self.calls.items()):
            if call.number in fact.numbers and (fact.person not in call.told or fact.because == QUIET_HOURS):
                others = tuple(pair for pair in call.waiting if pair[0] != fact.person)
                self.calls[point] = replace(call, waiting=(*others, (fact.person, fact.until)))

    def _queued(self, fact: TextQueued, now: Ms) -> None:
        recent = [text for text in self.sent_to(fact.person) if now - text.at < DAY]
        self.sent[fact.person] = [*recent, Sent(now, fact.about, fact.priority, fact.again)]
        if is_capped(fact.priority, fact.again) and not fact.spoken:
            for boat in dict.fromkeys((fact.boat, "")):
                self.capped[boat] = [*(at for at in self.capped.get(boat, ()) if now - at < DAY), now]
        self.texts[fact.order] = fact
        told = {*fact.numbers, *fact.says_held}
        held = tuple(number for number in self.held.pop(fact.person, ()) if number not in told)
        if held:
            self.held[fact.person] = held
        if fact.about in (ALARM_TOLD, ALARM_GONE, *GROUPED):
            self.named[fact.person] = Named(at=now, numbers=fact.numbers, named=fact.named)
        if fact.about == FLOOD_TOLD and fact.person in self.floods:
            self.floods[fact.person] = now
        if fact.about == UNTOLD:
            self.untold.pop(fact.person, None)
        for point, known in list(self.calls.items()):
            if known.number in fact.numbers:
                waiting = tuple(pair for pair in known.waiting if pair[0] != fact.person or fact.about not in TELLS)
                call = self.calls[point] = replace(known, waiting=waiting)
                if fact.priority is not None and fact.person not in call.told:
                    self.calls[point] = replace(call, told=(*call.told, fact.person))
                if fact.about == NOT_TAKEN:
                    self.calls[point] = replace(call, answered_ok=(*call.answered_ok, fact.person))
