"""While the record cannot be kept: emergencies and alarms are told from memory, nothing else is done."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from gateway.desk.turn import Turn
from gateway.vocabulary.moments import MINUTE, Ms
from gateway.vocabulary.orders import SendText
from gateway.vocabulary.priority import Priority

ONCE_EVERY = 10 * MINUTE
"""Each emergency and alarm is told from memory at most once in this time (design rule 1)."""


@dataclass(slots=True)
class FromMemory:
    """What was told while nothing could be recorded. since: instant of the first failed commit."""

    since: Ms
    told: dict[str, Ms] = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)

    def to_send(self, turns: Iterable[Turn], now: Ms) -> list[SendText]:
        """Those texts of these turns that may go now. The lines are kept for the first entry afterwards."""
        going = []
        for turn in turns:
            for order in turn.orders:
                if not isinstance(order, SendText) or order.priority not in (Priority.EMERGENCY, Priority.ALARM):
                    continue
                matter = f"{order.person} {_matter(turn, order.id)}"
                last = self.told.get(matter)
                if last is None or now - last >= ONCE_EVERY:
                    self.told[matter] = now
                    self.lines.append(f"{now} {matter}")
                    going.append(order)
        return going


def _matter(turn: Turn, order: str) -> str:
    """Kind and alarm numbers of a text, without its words or number."""
    for written in turn.entries:
        body = written.entry.body
        if body.get("order") == order:
            return f"{body.get('about')} {body.get('numbers')}"
    return ""
