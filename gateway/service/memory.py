"""While the record cannot be kept: emergencies and alarms are told from memory, nothing else is done."""

from dataclasses import dataclass, field
from typing import TypeGuard

from gateway.desk.turn import Turn
from gateway.service.items import Gathered
from gateway.vocabulary.happenings import StoreRecovered
from gateway.vocabulary.moments import MINUTE, SECOND, Ms
from gateway.vocabulary.orders import Order, SendText
from gateway.vocabulary.priority import Priority

ONCE_EVERY = 10 * MINUTE
"""Each emergency and alarm is told from memory at most once in this time (design rule 1)."""


TRY_STORE_EVERY: Ms = 5 * SECOND
"""Between two tries of a store that could not commit (our choice)."""


@dataclass(slots=True)
class FromMemory:
    """What is told while nothing can be recorded. since: instant of the first failed commit, None while all is well.
    try_at: instant at which the store is tried again."""

    since: Ms | None = None
    try_at: Ms = 0
    told: dict[str, Ms] = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)

    def failed(self, now: Ms) -> bool:
        """The store could not commit. True when that is news."""
        news = self.since is None
        if news:
            self.since, self.told, self.lines = now, {}, []
        self.try_at = now + TRY_STORE_EVERY
        return news

    def over(self) -> bool:
        """The store has committed. True when that is news."""
        news, self.since = self.since is not None, None
        return news

    def gap(self, now: Ms) -> StoreRecovered:
        """What is missing from the record, and what was told meanwhile."""
        assert self.since is not None
        return StoreRecovered(since=self.since, until=now, told=tuple(self.lines))

    def to_send(self, gathered: Gathered, now: Ms) -> list[SendText]:
        """Those alarm texts that may go now, of what was gathered since the last call: what was looked through once
        is over, whoever has taken the alarm since. The lines are kept for the first entry afterwards."""
        going = []
        for item, turn in zip(gathered.items, gathered.turns, strict=True):
            if not item.told:
                item.told = True
                going += [order for order in turn.orders if is_alarm(order) and self._may(_matter(turn, order), now)]
        return going

    def _may(self, matter: str, now: Ms) -> bool:
        last = self.told.get(matter)
        if last is not None and now - last < ONCE_EVERY:
            return False
        self.told[matter] = now
        self.lines.append(f"{now} {matter}")
        return True


def is_alarm(order: Order) -> TypeGuard[SendText]:
    """Whether an order tells an emergency or an alarm, which go out even unrecorded."""
    return isinstance(order, SendText) and order.priority in (Priority.EMERGENCY, Priority.ALARM)


def _matter(turn: Turn, order: SendText) -> str:
    """Person, kind and alarm numbers of a text, without its words or number."""
    for written in turn.entries:
        body = written.entry.body
        if body.get("order") == order.id:
            return f"{order.person} {body.get('about')} {body.get('numbers')}"
    return order.person
