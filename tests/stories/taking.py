"""A desk that takes what happens in a story: every text is accepted by the carrier at once, heard by its person, and
known to have arrived at the service's first look after it."""

import hashlib
from dataclasses import dataclass, field

from gateway.desk.hub import Desk
from gateway.service.following import LOOKS
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import DeliveryReported, Happening, SendAnswered, TimeCame
from gateway.vocabulary.moments import Ms
from gateway.vocabulary.orders import Order, SendText
from gateway.vocabulary.readings import Reading
from tests.stories.script import NAMES, Played, Story, clock


@dataclass
class Taking:
    """What a service would have on disk stands in `entries` and `rows`. Chance comes from the story's name. instants:
    of the texts played, to the millisecond."""

    story: Story
    desk: Desk
    played: Played = field(default_factory=Played)
    entries: list[Written] = field(default_factory=list)
    rows: list[tuple[int, Ms, Reading]] = field(default_factory=list)
    draws: int = 0
    instants: list[Ms] = field(default_factory=list)
    looks: list[tuple[Ms, DeliveryReported]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.now = self.story.begins

    def take(self, happening: Happening) -> None:
        self.draws += 1
        draw = hashlib.sha256(f"{self.story.name} {self.draws}".encode()).digest()
        turn = self.desk.take(happening, max(self.now, self.desk.state.now + 1), draw)
        self.entries += turn.entries
        self.rows += [(turn.happening, turn.now, reading) for reading in turn.readings]
        for order in turn.orders:
            if isinstance(order, SendText):
                if not order.spoken:
                    self.played.texts.append((clock(turn.now), NAMES[order.number], order.body))
                    self.instants.append(turn.now)
                self.take(SendAnswered(order=order.id, accepted=True, message=f"sent {len(self.played.texts)}"))
                word = DeliveryReported(order=order.id, status="completed" if order.spoken else "delivered")
                self.looks.append((turn.now + LOOKS[0], word))
            else:
                self.carry_out(order)

    def until(self, at: Ms) -> None:
        """Do what falls due up to an instant, the looks after texts among it."""
        while (due := self._next()) is not None and due <= at:
            self.now = max(due, self.now)
            self.look(self.now)
            if (woken := self.desk.next_due()) is not None and woken <= self.now:
                self.take(TimeCame())
        self.now = at

    def _next(self) -> Ms | None:
        return min((due for due in (self.desk.next_due(), self.next_look()) if due is not None), default=None)

    def next_look(self) -> Ms | None:
        """When the service looks after a text next."""
        return self.looks[0][0] if self.looks else None

    def look(self, until: Ms) -> None:
        """Take what those looks find."""
        while self.looks and self.looks[0][0] <= until:
            _, word = self.looks.pop(0)
            self.take(word)

    def carry_out(self, order: Order) -> None:
        """Any other order; a story that moves nothing aboard leaves it."""
