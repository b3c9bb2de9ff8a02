"""A story through the desk alone: `take`, and for a restart the fold of what was recorded. No clock, wire or file."""

import hashlib
from dataclasses import dataclass, field

from gateway.boat.decoding import decode
from gateway.boat.directory import directory_of
from gateway.demo.boat import DemoBoat, Message
from gateway.demo.relay_node import Obeyed
from gateway.desk.bundle import Bundle
from gateway.desk.folding import rebuilt
from gateway.desk.hub import Desk
from gateway.desk.snapshots import state_bytes
from gateway.vocabulary.entries import Written
from gateway.vocabulary.happenings import (
    Happening,
    InstallationCame,
    LinkChanged,
    PublishAnswered,
    ReadingsCame,
    SendAnswered,
    Started,
    TextCame,
    TimeCame,
)
from gateway.vocabulary.moments import SECOND, Ms
from gateway.vocabulary.orders import PublishCommand, SendText
from gateway.vocabulary.readings import Reading
from tests.stories.script import NAMES, Happens, Played, Restart, Story, clock

BROKER, CARRIER = "broker:quay", "carrier:main"


@dataclass
class DeskAlone:
    """Plays one story. What a service would have on disk stands in `entries` and `rows`."""

    bundle: Bundle
    story: Story
    boat: DemoBoat = field(default_factory=DemoBoat)
    played: Played = field(default_factory=Played)
    entries: list[Written] = field(default_factory=list)
    rows: list[tuple[int, Ms, Reading]] = field(default_factory=list)
    snapshot: tuple[bytes, int, int] | None = None
    retained: dict[str, str] = field(default_factory=dict)
    draws: int = 0
    texts: int = 0

    def __post_init__(self) -> None:
        self.now = self.story.begins
        self.desk = Desk(self.bundle)
        self.topics = directory_of(self.bundle.signals.values())

    def play(self) -> Played:
        self.retained.update(self.story.before)
        self._take(InstallationCame(fingerprint=self.bundle.fingerprint, people=tuple(self.bundle.people)))
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
            dues = [self.boat.next_due(), self.desk.next_due(), happens[0].at if happens else None]
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
            for text in written:
                self._text(text, at)
                self._hear(self.boat.due(at))

    def _due(self, at: Ms) -> None:
        due = self.desk.next_due()
        if due is not None and due <= at:
            self._take(TimeCame())
            self._hear(self.boat.due(at))

    def _text(self, text: Happens, at: Ms) -> None:
        self.texts += 1
        body = self.played.words_of(text)
        age = (at - text.at) // SECOND * SECOND
        self._take(TextCame(message=f"text {self.texts}", number=text.number, body=body, age=age))

    def _hear(self, messages: list[Message], *, old: bool = False) -> None:
        readings: list[Reading] = []
        for topic, payload, retained in messages:
            if retained:
                self.retained[topic] = payload
            readings += decode(self.topics.by_topic[topic], payload.encode(), retained=old)
        if readings:
            self._take(ReadingsCame(readings=tuple(readings)))

    def _begin(self, *, stopped_at: Ms | None, kept: bool) -> None:
        self._take(Started(stopped_at=stopped_at))
        self._take(LinkChanged(link=CARRIER, up=True))
        self._take(LinkChanged(link=BROKER, up=True, memory_kept=kept))

    def _restart(self, restart: Restart) -> None:
        """Fold what was recorded; it must give the very state that was left. Meanwhile the broker keeps what comes."""
        self.now = restart.at
        if restart.in_order and restart.at - self._recorded_until() > SECOND:
            self._take(TimeCame())  # as the service does: the record says until when it ran
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

    def _take(self, happening: Happening) -> None:
        self.draws += 1
        draw = hashlib.sha256(f"{self.story.name} {self.draws}".encode()).digest()
        turn = self.desk.take(happening, max(self.now, self.desk.state.now + 1), draw)
        self.entries += turn.entries
        self.rows += [(turn.happening, turn.now, reading) for reading in turn.readings]
        for order in turn.orders:
            if isinstance(order, SendText):
                self.played.texts.append((clock(turn.now), NAMES[order.number], order.body))
                self._take(SendAnswered(order=order.id, accepted=True, message=f"sent {len(self.played.texts)}"))
            elif isinstance(order, PublishCommand):
                self._take(PublishAnswered(order=order.id, taken=True))
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
