"""Telling: the calls of all alarms, and what each person got, was kept from and last heard."""

from dataclasses import dataclass, field, replace

from gateway.alarms.facts import AlarmEscalated, AlarmGivenUp, AlarmStep
from gateway.alarms.holding import HolderChanged
from gateway.alarms.life import AlarmEvent
from gateway.telling.call import ALARM_GONE, ALARM_TOLD, FLOOD_TOLD, GROUPED, NOT_TAKEN, TELLS, UNTOLD
from gateway.telling.called_out import CalledOut
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
from gateway.telling.pacing import Sent, is_capped
from gateway.telling.welcoming import Welcomes
from gateway.vocabulary.moments import DAY, Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """The last text that told a person of alarms. numbers: of all that it stands for; named: of those that a bare "have
    it" to it takes, empty when it told of one alarm only."""

    at: Ms
    numbers: tuple[int, ...]
    named: tuple[int, ...]


@dataclass(slots=True)
class Telling(CalledOut):
    """sent: what went to each person in the last day, oldest first. strangers: texts from strangers since they were
    last told of; strangers_told: by person, instant of the last word of that. floods: persons for whom it is a flood,
    with the instant of the last grouped text of it. named: by person. capped: instants of the last day's texts that
    count towards a limit, oldest first, by boat and under "" of all. welcomes: the first text to each person."""

    sent: dict[str, list[Sent]] = field(default_factory=dict)
    strangers: int = 0
    strangers_told: dict[str, Ms] = field(default_factory=dict)
    floods: dict[str, Ms] = field(default_factory=dict)
    named: dict[str, Named] = field(default_factory=dict)
    capped: dict[str, list[Ms]] = field(default_factory=dict)
    welcomes: Welcomes = field(default_factory=Welcomes)

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
                    self.step(fact, now)
            case AlarmGivenUp():
                self.calls.pop(fact.point, None)
            case CalledAfterAll(anew_at=int() as anew_at):
                self.begin(fact, anew_at, anew=True)
            case CalledAfterAll():
                self.begin(fact, now)
            case AlarmEscalated():
                self.begin_anew(fact, now)
            case HolderChanged() | RoundCalled() | HeldBack() | NotCalled() | QuietAsked():
                self.called_out(fact, now)
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
                if fact.priority is not None and fact.spoken and fact.person not in call.heard_of:
                    self.calls[point] = replace(call, knew=(*call.knew, fact.person))  # the first text is still to go
                elif fact.priority is not None and not fact.spoken and fact.person not in call.told:
                    self.calls[point] = replace(call, told=(*call.told, fact.person))
                if fact.about == NOT_TAKEN:
                    self.calls[point] = replace(call, answered_ok=(*call.answered_ok, fact.person))
