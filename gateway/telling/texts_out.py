"""What became of our texts, and what that does to the calls they told of. The facts decide; nothing is looked up."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from gateway.telling.call import TELLS, TRIAL_TEXT, UNTOLD, WATCHED, Call
from gateway.telling.delivery import ARRIVES_WITHIN, NOT_ARRIVED, REMEMBERED_FOR, Delivery, Taken, after
from gateway.telling.facts import TextAnswered, TextDelayed, TextDelivery, TextOverdue, TextQueued
from gateway.telling.outcomes import FOR_NOW, outcome_of
from gateway.vocabulary.moments import MINUTE, Ms

UNDER_WAY = 20 * MINUTE
"""For longer no alarm text is tried (15 min, and the carrier's last answers), so no later one must wait for it."""


@dataclass(slots=True)
class TextsOut:
    """calls: by point. texts: the person, and the alarm numbers, of orders that the carrier has not answered. delayed:
    those of them that are long in going, and since when. taken: texts whose arrival matters, by order. awaited: those
    of them by which somebody is told of alarms, and until when (instant) they must have arrived. deliveries: the
    carrier's last word on each text, by order, oldest first. refused: the carrier's code by person since it took the
    last text; not_arrived: the same since the last one arrived. untold: numbers of alarms, by person, of which a first
    text never got to the carrier and which nobody need be called for any more. opted_out: ids, and since when."""

    calls: dict[str, Call] = field(default_factory=dict)
    texts: dict[str, TextQueued] = field(default_factory=dict)
    delayed: dict[str, Ms] = field(default_factory=dict)
    taken: dict[str, Taken] = field(default_factory=dict)
    awaited: dict[str, Ms] = field(default_factory=dict)
    deliveries: dict[str, Delivery] = field(default_factory=dict)
    refused: dict[str, str] = field(default_factory=dict)
    not_arrived: dict[str, str] = field(default_factory=dict)
    untold: dict[str, tuple[int, ...]] = field(default_factory=dict)
    opted_out: dict[str, Ms] = field(default_factory=dict)

    def is_under_way(self, person: str, number: int, now: Ms) -> bool:
        """Whether texts of that alarm are long in going and one of them is this person's: one more would only come
        beside it. Not for longer than such a text is tried, whatever has become of it."""
        texts = [text for text in self.texts.values() if text.about in TELLS and number in text.numbers]
        late = any(now - at < UNDER_WAY and self.texts[order] in texts for order, at in self.delayed.items())
        return late and any(text.person == person for text in texts)

    def carrier_said(self, fact: TextAnswered | TextDelayed | TextOverdue | TextDelivery, now: Ms) -> None:
        """Fold in what the carrier said to a text, or of it. now: the entry's instant."""
        match fact:
            case TextAnswered():
                self._answered(fact, now)
            case TextDelayed() if fact.order in self.texts:
                self.delayed[fact.order] = now
                self.hasten(self.texts[fact.order].numbers)
            case TextOverdue():
                self.awaited.pop(fact.order, None)
                self.hasten(fact.numbers)
            case TextDelivery():
                self._delivery(fact, now)
            case _:
                pass

    def _answered(self, fact: TextAnswered, now: Ms) -> None:
        text = self.texts.pop(fact.order, None)
        self.delayed.pop(fact.order, None)
        if text is None:
            return
        if fact.accepted:
            self.refused.pop(text.person, None)
            if text.priority is not None or text.about in WATCHED:
                self._took(text, fact.message, now)
            return
        self.refused[text.person] = fact.code
        if outcome_of(fact.code).next_person is not None:
            self.hasten(text.numbers)
        if fact.code in FOR_NOW:
            self._never_went(text, now)

    def _took(self, text: TextQueued, message: str, now: Ms) -> None:
        """Its arrival matters from now on, unless the carrier's last word came before its answer."""
        taken = self.taken[text.order] = Taken(
            person=text.person, boat=text.boat, about=text.about, numbers=text.numbers, message=message, at=now
        )
        self.awaited = {order: until for order, until in self.awaited.items() if until >= now}
        known = self.deliveries.get(text.order)
        if known is not None and known.status in NOT_ARRIVED:
            self._did_not_arrive(taken, known.code, now)
        elif (known is None or not known.ended) and text.about in TELLS and text.priority is not None:
            within = ARRIVES_WITHIN.get(text.priority)
            if within is not None:
                self.awaited[text.order] = now + within

    def overdue(self) -> Iterator[tuple[Ms, str, tuple[int, ...]]]:
        """Texts that have not arrived yet and alarms of them that nobody has and that no later round has told of: until
        when (instant) each must have arrived, its order, the alarms."""
        if not self.awaited:
            return
        calls = {call.number: call for call in self.calls.values()}
        for order, until in self.awaited.items():
            text = self.taken[order]
            numbers = tuple(number for number in text.numbers if _waits_for(text, calls.get(number)))
            if numbers:
                yield until, order, numbers

    def opt_out(self, person: str, now: Ms) -> None:
        """Alarms that only this person was told of go to the next one; a test text under way counts no more."""
        self.opted_out[person] = now
        self.delayed = {k: at for k, at in self.delayed.items() if self.texts[k].about != TRIAL_TEXT}
        self.texts = {k: text for k, text in self.texts.items() if (text.about, text.person) != (TRIAL_TEXT, person)}
        self.taken = {k: text for k, text in self.taken.items() if (text.about, text.person) != (TRIAL_TEXT, person)}
        self.hasten(tuple(call.number for call in self.calls.values() if person in call.told))

    def hasten(self, numbers: tuple[int, ...]) -> None:
        """The next step of these alarms' lists is due at once."""
        for point, call in list(self.calls.items()):
            if call.number in numbers and call.holder is None and not call.over:
                self.calls[point] = replace(call, hastened=True)

    def _never_went(self, text: TextQueued, now: Ms) -> None:
        """The carrier was away for as long as the text was of use. Who was to hear of an alarm for the first time is
        told anew, by what holds then; of one that needs no telling any more, it is said that it was."""
        if text.about == UNTOLD:
            self._untold(text.person, text.numbers)
        if text.about not in TELLS or text.again:
            return
        calls = {call.number: point for point, call in self.calls.items()}
        for number in text.numbers:
            call = self.calls[calls[number]] if number in calls else None
            if call is None or call.over or call.holder is not None:
                self._untold(text.person, (number,))
                continue
            told = tuple(person for person in call.told if person != text.person)
            others = tuple(pair for pair in call.waiting if pair[0] != text.person)
            self.calls[call.point] = replace(call, told=told, waiting=(*others, (text.person, now)))

    def _untold(self, person: str, numbers: tuple[int, ...]) -> None:
        known = self.untold.get(person, ())
        self.untold[person] = tuple(dict.fromkeys((*known, *numbers)))

    def _delivery(self, fact: TextDelivery, now: Ms) -> None:
        """Keep how far a text has come. One that did not arrive has the next person told, and may be told once more."""
        known = self.deliveries.get(fact.order)
        word = after(known, fact.status, now, fact.code)
        if word is not None:
            self.deliveries[fact.order] = word
            if word.ended:
                self.awaited.pop(fact.order, None)
        text = self.taken.get(fact.order)
        if text is not None and word is not None and word != known:
            if fact.status in NOT_ARRIVED and word.status == fact.status:
                self._did_not_arrive(text, fact.code, now)
            elif fact.status == "delivered":
                self.not_arrived.pop(text.person, None)
        for order in [order for order, known in self.deliveries.items() if now - known.at > REMEMBERED_FOR]:
            del self.deliveries[order]
        for order in [order for order, one in self.taken.items() if now - one.at > REMEMBERED_FOR]:
            del self.taken[order]
            self.awaited.pop(order, None)

    def _did_not_arrive(self, text: Taken, code: str, now: Ms) -> None:
        outcome = outcome_of(code)
        self.not_arrived[text.person] = code
        if outcome.next_person is not None:
            self.hasten(text.numbers)
        if not outcome.retry or text.about not in TELLS:
            return
        for point, call in list(self.calls.items()):
            open_call = call.number in text.numbers and call.holder is None and not call.over
            if open_call and text.person not in call.retried:
                others = tuple(pair for pair in call.waiting if pair[0] != text.person)
                waiting = (*others, (text.person, now + outcome.retry[0]))
                self.calls[point] = replace(call, waiting=waiting, retried=(*call.retried, text.person))


def _waits_for(text: Taken, call: Call | None) -> bool:
    """Whether the call's last round is the one that this text was of, and nobody has the alarm."""
    return (
        call is not None
        and not call.over
        and call.holder is None
        and call.last_round is not None
        and call.last_round <= text.at
    )
