"""Calls: for each alarm that stands, how far its call-out list has been gone through, and who has it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from gateway.alarms.facts import AlarmGivenUp, AlarmStep
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.telling.facts import (
    NotCalled,
    OptOutNoted,
    RoundCalled,
    StrangersTold,
    TextAnswered,
    TextDelivery,
    TextQueued,
)
from gateway.telling.pacing import Sent
from gateway.telling.settings import CallOutList
from gateway.vocabulary.moments import DAY, MINUTE, Ms
from gateway.vocabulary.priority import Priority

JOINS_WITHIN = 10 * MINUTE
"""An alarm raised again within this time of its last round joins the next repeat (design rule 11)."""

_ENDS = frozenset({AlarmState.NORMAL, AlarmState.SHELVED, AlarmState.SUPPRESSED, AlarmState.OUT_OF_SERVICE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One alarm being called out.

    began: instant from which the list's delays count. next_step: place in the list. last_round: instant of the last
    round. holder: id of the person who has it. told: ids of those told, in order of the first text.
    answered_ok: ids of those who were answered NOT TAKEN. over: nobody need be called any more (condition gone).
    muted: nobody was told, because of how the boat is kept or who is known to be aboard.
    hastened: the carrier refused a text, so the list's next step is due at once.
    """

    number: int
    point: str
    boat: str
    priority: Priority
    began: Ms
    next_step: int = 0
    last_round: Ms | None = None
    holder: str | None = None
    told: tuple[str, ...] = ()
    answered_ok: tuple[str, ...] = ()
    over: bool = False
    muted: bool = False
    hastened: bool = False


@dataclass(slots=True)
class Telling:
    """calls: by point. sent: what went to each person in the last day, oldest first. texts: the person, and the alarm
    numbers, of orders that the carrier has not answered. opted_out: ids. strangers: texts from strangers since they
    were last told of; strangers_told: instant of that."""

    calls: dict[str, Call] = field(default_factory=dict)
    sent: dict[str, list[Sent]] = field(default_factory=dict)
    texts: dict[str, TextQueued] = field(default_factory=dict)
    opted_out: dict[str, Ms] = field(default_factory=dict)
    refused: dict[str, str] = field(default_factory=dict)
    strangers: int = 0
    strangers_told: Ms | None = None

    def sent_to(self, person: str) -> list[Sent]:
        """What went to this person in the last day."""
        return self.sent.get(person, [])

    def apply(
        self,
        fact: AlarmStep
        | AlarmGivenUp
        | RoundCalled
        | NotCalled
        | TextQueued
        | TextAnswered
        | TextDelivery
        | OptOutNoted
        | StrangersTold,
        now: Ms,
    ) -> None:
        """Fold one fact in. now: the entry's instant."""
        match fact:
            case AlarmStep():
                if fact.before is not fact.after or fact.event is AlarmEvent.RAISE:
                    self._step(fact, now)
            case AlarmGivenUp():
                self.calls.pop(fact.point, None)
            case RoundCalled():
                self._change(fact.point, next_step=fact.next_step, last_round=now, hastened=False)
            case NotCalled():
                self._change(fact.point, over=True, muted=True)
            case TextQueued():
                self._queued(fact, now)
            case TextAnswered():
                self._answered(fact)
            case TextDelivery():
                pass  # kept for the record; who is told next when a text is not delivered is decided later on
            case OptOutNoted():
                if fact.out:
                    self.opted_out[fact.person] = now
                else:
                    self.opted_out.pop(fact.person, None)
            case StrangersTold():
                self.strangers, self.strangers_told = 0, now

    def _change(self, point: str, **changes: object) -> None:
        if point in self.calls:
            self.calls[point] = replace(self.calls[point], **changes)  # type: ignore[arg-type]

    def _step(self, fact: AlarmStep, now: Ms) -> None:
        known = self.calls.get(fact.point)
        match fact.event:
            case AlarmEvent.RAISE:
                self._raised(fact, known, now)
            case AlarmEvent.TAKE if fact.after in _ENDS:
                self.calls.pop(fact.point, None)
            case AlarmEvent.TAKE:
                self._change(fact.point, holder=fact.person)
            case AlarmEvent.CLEAR if fact.after is AlarmState.GONE_UNACKNOWLEDGED:
                self._change(fact.point, over=True)
            case _ if fact.after in _ENDS:
                self.calls.pop(fact.point, None)
            case _:
                pass

    def _raised(self, fact: AlarmStep, known: Call | None, now: Ms) -> None:
        if known is not None and known.last_round is not None and now - known.last_round < JOINS_WITHIN:
            self.calls[fact.point] = replace(known, holder=None, over=False)
            return
        self.calls[fact.point] = Call(
            number=fact.number, point=fact.point, boat=fact.boat, priority=fact.priority, began=now
        )

    def _queued(self, fact: TextQueued, now: Ms) -> None:
        recent = [text for text in self.sent_to(fact.person) if now - text.at < DAY]
        self.sent[fact.person] = [*recent, Sent(now, fact.about, fact.priority, fact.again)]
        self.texts[fact.order] = fact
        for point, call in list(self.calls.items()):
            if call.number in fact.numbers:
                if fact.priority is not None and fact.person not in call.told:
                    self.calls[point] = replace(call, told=(*call.told, fact.person))
                if fact.about == NOT_TAKEN:
                    self.calls[point] = replace(call, answered_ok=(*call.answered_ok, fact.person))

    def _answered(self, fact: TextAnswered) -> None:
        text = self.texts.pop(fact.order, None)
        if text is None:
            return
        if fact.accepted:
            self.refused.pop(text.person, None)
            return
        self.refused[text.person] = fact.code
        for point, call in list(self.calls.items()):
            if call.number in text.numbers and call.holder is None and not call.over:
                self.calls[point] = replace(call, hastened=True)


NOT_TAKEN = "not taken"
"""Kind of the text that answers "ok" to an alarm nobody holds."""


def due_at(call: Call, callout: CallOutList) -> Ms | None:
    """When the call's next round falls due (instant); None when nobody is to be called any more."""
    if call.over or call.holder is not None:
        return None
    if call.next_step < len(callout.steps):
        step = call.began + callout.steps[call.next_step].after
        return min(step, call.last_round) if call.hastened and call.last_round is not None else step
    if callout.repeat is None or call.last_round is None:
        return None
    return call.last_round + callout.repeat


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """Persons to be told now of one alarm. fact: what to record of it."""

    call: Call
    persons: tuple[str, ...]
    fact: RoundCalled


def rounds_due(telling: Telling, lists: Mapping[str, CallOutList], now: Ms) -> Iterator[Round]:
    """The rounds that are due, worst alarms first. lists: the call-out list of each point.

    After an outage several steps may be due at once: they are one round, told once.
    """
    for call in sorted(telling.calls.values(), key=lambda c: (-c.priority.gravity, c.number)):
        callout = lists[call.point]
        due = due_at(call, callout)
        if due is None or due > now:
            continue
        if call.next_step < len(callout.steps):
            yield _steps_round(call, callout, now)
        else:
            fact = RoundCalled(
                number=call.number, point=call.point, step=len(callout.steps) - 1, next_step=call.next_step, again=True
            )
            yield Round(call=call, persons=callout.everyone, fact=fact)


def _steps_round(call: Call, callout: CallOutList, now: Ms) -> Round:
    passed = sum(call.began + step.after <= now for step in callout.steps)
    if call.hastened:  # a text was refused: one step ahead of its time, not the whole list at once
        passed = max(passed, call.next_step + 1)
    persons = dict.fromkeys(p for step in callout.steps[call.next_step : passed] for p in step.tell)
    fact = RoundCalled(
        number=call.number, point=call.point, step=passed - 1, next_step=passed, again=call.next_step > 0
    )
    return Round(call=call, persons=tuple(persons), fact=fact)


def next_due(telling: Telling, lists: Mapping[str, CallOutList]) -> Ms | None:
    """The next instant at which a round falls due, None when none will."""
    dues = [due for call in telling.calls.values() if (due := due_at(call, lists[call.point])) is not None]
    return min(dues, default=None)


def told_next(call: Call, callout: CallOutList, person: str) -> tuple[str | None, Ms | None]:
    """Who besides this person is told next, and when (instant); both None when nobody else is on the list."""
    at = due_at(call, callout)
    if at is None:
        return None, None
    for place in range(call.next_step, len(callout.steps)):
        others = [p for p in callout.steps[place].tell if p != person]
        if others:
            return others[0], call.began + callout.steps[place].after
    others = [p for p in callout.everyone if p != person]
    return (others[0], at) if others else (None, None)
