"""Each alarm being called out: how far its list has been gone through, who has it, who waits to be told."""

from dataclasses import dataclass, field, replace

from gateway.alarms.facts import AlarmEscalated, AlarmStep
from gateway.alarms.holding import HolderChanged
from gateway.alarms.life import AlarmEvent, AlarmState
from gateway.telling.call import ALARM_TOLD, Call
from gateway.telling.facts import CalledAfterAll, ClearGathered, HeldBack, NotCalled, QuietAsked, RoundCalled
from gateway.telling.gathering import FLOOD_WINDOW, JOINS_WITHIN
from gateway.telling.pacing import QUIET_HOURS
from gateway.telling.texts_out import TextsOut
from gateway.vocabulary.moments import Ms

_ENDS = frozenset({AlarmState.NORMAL, AlarmState.SHELVED, AlarmState.SUPPRESSED, AlarmState.OUT_OF_SERVICE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Raised:
    """One alarm raised: instant, point."""

    at: Ms
    point: str


@dataclass(slots=True)
class CalledOut(TextsOut):
    """raised: of the last ten minutes, oldest first. clears: all-clears that wait for the other boats, by point. held:
    by person, alarms of which a limit held a text back, until it has been said."""

    raised: list[Raised] = field(default_factory=list)
    clears: dict[str, ClearGathered] = field(default_factory=dict)
    held: dict[str, tuple[int, ...]] = field(default_factory=dict)

    def _change(self, point: str, **changes: object) -> None:
        if point in self.calls:
            self.calls[point] = replace(self.calls[point], **changes)  # type: ignore[arg-type]

    def step(self, fact: AlarmStep, now: Ms) -> None:
        """A step in the life of an alarm."""
        known = self.calls.get(fact.point)
        match fact.event:
            case AlarmEvent.RAISE if fact.after in _ENDS:
                pass  # put aside: nobody is told
            case AlarmEvent.UNSHELVE | AlarmEvent.UNSUPPRESS | AlarmEvent.RETURN if fact.after not in _ENDS:
                self.begin(fact, now)
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
                self.begin_anew(fact, now if fact.until is None else fact.until)
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
        self.begin(fact, now)

    def begin(
        self,
        fact: AlarmStep | AlarmEscalated | CalledAfterAll,
        now: Ms,
        knew: tuple[str, ...] = (),
        *,
        anew: bool = False,
    ) -> None:
        """The list begins. now: instant from which its delays count. knew: ids of those who heard of it before that."""
        self.calls[fact.point] = Call(
            number=fact.number,
            point=fact.point,
            boat=fact.boat,
            priority=fact.priority,
            began=now,
            knew=knew,
            anew=anew,
        )

    def begin_anew(self, fact: AlarmStep | AlarmEscalated, now: Ms) -> None:
        """The list begins once more for an alarm that goes on: whoever heard of it must hear who has it, and when it is
        over."""
        known = self.calls.get(fact.point)
        self.begin(fact, now, known.heard_of if known is not None else ())

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

    def called_out(self, fact: HolderChanged | RoundCalled | HeldBack | NotCalled | QuietAsked, now: Ms) -> None:
        """What came of a round, of a wish, or of a change of who has it."""
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
