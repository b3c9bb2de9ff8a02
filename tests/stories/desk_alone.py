"""A story through the desk alone: `take`, and for a restart the fold of what was recorded. No clock, wire or file."""

from gateway.boat.decoding import decode
from gateway.boat.directory import directory_of
from gateway.demo.boat import DemoBoat, Message
from gateway.demo.relay_node import Obeyed
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.vocabulary.happenings import (
    InstallationCame,
    LinkChanged,
    PublishAnswered,
    ReadingsCame,
    Started,
    TextCame,
    TimeCame,
)
from gateway.vocabulary.moments import SECOND, Ms
from gateway.vocabulary.orders import Order, PublishCommand
from gateway.vocabulary.readings import Reading
from tests.stories.script import Happens, Played, Restart, Story, clock
from tests.stories.taking import Taking

BROKER, CARRIER = "broker:quay", "carrier:main"


class DeskAlone(Taking):
    """Plays one story of one boat."""

    def __init__(self, bundle: Bundle, story: Story) -> None:
        super().__init__(story, Desk(bundle))
        self.bundle, self.boat = bundle, DemoBoat()
        self.snapshot: tuple[bytes, int, int] | None = None
        self.retained: dict[str, str] = {}
        self.texts = 0
        self.topics = directory_of(bundle.signals.values())

    def play(self) -> Played:
        self.retained.update(self.story.before)
        self.take(InstallationCame(fingerprint=self.bundle.fingerprint, people=tuple(self.bundle.people)))
        self._begin(stopped_at=None, kept=False)
        self._hear([(topic, payload, True) for topic, payload in self.retained.items()], old=True)
        after = self.story.begins - 1
        for restart in self.story.restarts:
            self._until(after, restart.at)
            self._restart(restart)
            after = restart.at
        self._until(after, self.story.ends)
        return self.played

    def _until(self, after: Ms, until: Ms) -> None:
        happens = self.story.between(after, until)
        while True:
            dues = [self.boat.next_due(), self.desk.next_due(), happens[0].at if happens else None, self.next_look()]
            at = max(min((due for due in dues if due is not None), default=until + 1), self.now)
            if at > until:
                return
            written = []
            while happens and happens[0].at <= at:
                one = happens.pop(0)
                happen(self.boat, one)
                written += [one] if one.number else []
            self.now = at
            self._hear(self.boat.due(at))
            self._due(at)
            self.look(at)
            for text in written:
                self._text(text, at)
                self._hear(self.boat.due(at))

    def _due(self, at: Ms) -> None:
        due = self.desk.next_due()
        if due is not None and due <= at:
            self.take(TimeCame())
            self._hear(self.boat.due(at))

    def _text(self, text: Happens, at: Ms) -> None:
        self.texts += 1
        body = self.played.words_of(text)
        age = (at - text.at) // SECOND * SECOND
        self.take(TextCame(message=f"text {self.texts}", number=text.number, body=body, age=age))

    def _hear(self, messages: list[Message], *, old: bool = False) -> None:
        readings: list[Reading] = []
        for topic, payload, retained in messages:
            if retained:
                self.retained[topic] = payload
            readings += decode(self.topics.by_topic[topic], payload.encode(), retained=old)
        if readings:
            self.take(ReadingsCame(readings=tuple(readings)))

    def _begin(self, *, stopped_at: Ms | None, kept: bool) -> None:
        self.take(Started(stopped_at=stopped_at))
        self.take(LinkChanged(link=CARRIER, up=True))
        self.take(LinkChanged(link=BROKER, up=True, memory_kept=kept))

    def _restart(self, restart: Restart) -> None:
        """Fold what was recorded; it must give the very state that was left. Meanwhile the broker keeps what comes."""
        self.now = restart.at
        if restart.in_order and restart.at - self._recorded_until() > SECOND:
            self.take(TimeCame())  # as the service does: the record says until when it ran
        left, stopped_at = self.desk.state, self._recorded_until()
        if restart.in_order and not left.requests.open_code():
            self.snapshot = state_bytes(left), left.heads.n, left.happening
        data, n, happening = self.snapshot or (None, 0, 0)
        self.desk = rebuilt(
            self.bundle,
            data,
            [written for written in self.entries if written.entry.n > n],
            [row for row in self.rows if row[0] > happening],
        )
        assert state_bytes(self.desk.state) == state_bytes(left), (
            "the fold of the record is not the state that was left"
        )
        waiting: list[Message] = []
        while self.boat.next_due() <= restart.at + restart.away and restart.away:
            waiting += self.boat.due(max(self.boat.next_due(), self.now))
        self.now = restart.at + restart.away
        self._begin(stopped_at=stopped_at, kept=True)
        self._hear(waiting)
        self._hear([(topic, payload, True) for topic, payload in self.retained.items()], old=True)
        self._due(self.now)

    def _recorded_until(self) -> Ms:
        return max(self.entries[-1].entry.now, self.rows[-1][1] if self.rows else 0)

    def carry_out(self, order: Order) -> None:
        if not isinstance(order, PublishCommand):
            return
        self.take(PublishAnswered(order=order.id, taken=True))
        outcome = self.boat.command(order.topic, order.payload.encode(), False, self.now)
        if isinstance(outcome, Obeyed):
            name = order.topic.rpartition("/")[2]
            self.played.obeyed.append(f"{clock(self.now)} {name} {outcome.action}")
        self._hear(self.boat.due(self.now))


def happen(boat: DemoBoat, one: Happens) -> None:
    """Move what moves aboard."""
    for name, value in one.aboard:
        boat.set(name, value, one.at)
    if one.silent is True:
        boat.go_silent(one.at)
    elif one.silent is False:
        boat.come_back(one.at)
