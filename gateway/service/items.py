"""What waits to be taken and put on disk: happenings, with the messages that must be acknowledged afterwards."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from gateway.desk.turn import Turn
from gateway.doors.faces import Arrived, Batch, ReadingRow, Settled, Snapshot
from gateway.vocabulary.happenings import (
    DamageFound,
    Happening,
    MailAnswered,
    PublishAnswered,
    RestoreFound,
    SendAnswered,
    TextCame,
)
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.orders import PublishCommand, SendMail, SendText

SAID: Mapping[str, type] = {"restored": RestoreFound, "replaced": DamageFound}
"""Notes of the store about itself, and the happening by which each comes to stand in the record."""


@dataclass(slots=True)
class Item:
    """One happening to be taken. arrived: by broker's name, messages to acknowledge once it is on disk, in order.

    taken_at: the instant of its first taking; a second taking (after a failed commit) keeps it, so that delays go on.
    told: what follows from it was looked through for alarms to tell from memory, and is not again at a second taking.
    """

    happening: Happening
    arrived: Sequence[tuple[str, Arrived]] = ()
    taken_at: Ms | None = None
    told: bool = False

    def again(self) -> "Item":
        """The item for a second taking. A text has grown old meanwhile: it may tell, but no longer command."""
        if isinstance(self.happening, TextCame):
            return Item(replace(self.happening, age=None), self.arrived, self.taken_at, self.told)
        return self


@dataclass(slots=True)
class Gathered:
    """Items taken since the last commit, and what the desk made of them."""

    items: list[Item] = field(default_factory=list)
    turns: list[Turn] = field(default_factory=list)
    since: Ms = 0
    messages: int = 0

    def add(self, item: Item, turn: Turn) -> None:
        """One more item and its turn."""
        if not self.items:
            self.since = turn.now
        self.items.append(item)
        self.turns.append(turn)
        self.messages += len(item.arrived)

    @property
    def is_pressing(self) -> bool:
        """Whether an entry or an order waits: then the commit must not."""
        return any(turn.entries or turn.orders for turn in self.turns)


def batch_of(
    gathered: Gathered,
    *,
    people: Sequence[tuple[str, str, str]] = (),
    lapsed: Sequence[str] = (),
    seen: Sequence[tuple[str, Ms]] = (),
    snapshot: Snapshot | None = None,
) -> Batch:
    """What one commit holds. lapsed: commands of an earlier run whose end nobody knows. seen: texts that are marked
    as known without being acted on."""
    turns = gathered.turns
    settled = [Settled(order=order, outcome="given up") for order in lapsed]
    taken = list(seen)
    for item, turn in zip(gathered.items, turns, strict=True):
        match item.happening:
            case SendAnswered() as answer:
                outcome = "accepted" if answer.accepted else "refused"
                settled.append(Settled(order=answer.order, outcome=outcome, message=answer.message))
            case PublishAnswered() as answer:
                settled.append(Settled(order=answer.order, outcome="published" if answer.taken else "not published"))
            case MailAnswered() as answer:
                settled.append(Settled(order=answer.order, outcome="accepted" if answer.taken else "given up"))
            case TextCame() as text:
                taken.append((text.message, turn.now))
            case _:
                pass
    return Batch(
        readings=[ReadingRow(happening=t.happening, now=t.now, reading=r) for t in turns for r in t.readings],
        written=[written for turn in turns for written in turn.entries],
        texts=[order for turn in turns for order in turn.orders if isinstance(order, SendText)],
        commands=[order for turn in turns for order in turn.orders if isinstance(order, PublishCommand)],
        mails=[order for turn in turns for order in turn.orders if isinstance(order, SendMail)],
        settled=settled,
        seen=taken,
        people=people,
        said=[name for name, kind in SAID.items() if any(isinstance(i.happening, kind) for i in gathered.items)],
        snapshot=snapshot,
    )
