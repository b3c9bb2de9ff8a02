"""What was heard on a broker for a while, topic by topic: how often, how regular, and what it carries."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from gateway.boat.looking import Part, parts
from gateway.boat.settings import Carries
from gateway.vocabulary.moments import Ms

SAMPLES = 6
"""Different values of one part that are kept and shown (our choice: a contact shows both, a number its range)."""

MOST_TOPICS = 5000
"""Topics that are remembered of one broker (our choice: a boat has some dozen, and memory must have an end)."""


@dataclass(slots=True)
class Piece:
    """One value of a topic over all its messages. part: as last seen. ways: what every message could be read as; one
    that says there is no value just now does not count, unless none ever held one.

    samples: different values, the first ones. count: messages that held it. unit: written in any of them; where two
    wrote different ones it is no number that could be watched."""

    part: Part
    ways: tuple[Carries, ...]
    valued: bool = False
    samples: list[str] = field(default_factory=list)
    count: int = 0
    unit: str = ""

    def add(self, part: Part) -> None:
        """One more message that holds it."""
        self.part = part
        self.count += 1
        if not part.is_none:
            self.ways = tuple(way for way in self.ways if way in part.carries) if self.valued else part.carries
            self.valued = True
        if part.unit and self.unit and part.unit != self.unit:
            self.ways = tuple(way for way in self.ways if way is not Carries.NUMBER)
        self.unit = self.unit or part.unit
        if part.text not in self.samples and len(self.samples) < SAMPLES:
            self.samples.append(part.text)


@dataclass(slots=True)
class Heard:
    """One topic. count: messages with a payload. retained: how many came because they were kept by the broker.
    cleared: empty payloads. last_at: of the last live message, ms of the same clock that the caller names.
    longest: ms between two live messages, None before the second."""

    topic: str
    count: int = 0
    retained: int = 0
    cleared: int = 0
    last_at: Ms | None = None
    longest: Ms | None = None
    pieces: dict[str, Piece] = field(default_factory=dict)

    @property
    def live(self) -> int:
        """Messages that were published while we listened."""
        return self.count - self.retained

    @property
    def is_json(self) -> bool:
        """It holds values at pointers."""
        return any(self.pieces) or any(Carries.POSITION in piece.ways for piece in self.pieces.values())

    def add(self, payload: bytes, *, retained: bool, at: Ms) -> None:
        """One message. at: ms of any clock that only goes forward."""
        if not payload:
            self.cleared += 1
            return
        self.count += 1
        if retained:
            self.retained += 1
        else:
            if self.last_at is not None:
                self.longest = max(self.longest or 0, at - self.last_at)
            self.last_at = at
        for part in parts(payload):
            piece = self.pieces.get(part.pointer)
            if piece is None:
                piece = self.pieces[part.pointer] = Piece(part=part, ways=part.carries)
            piece.add(part)


@dataclass(slots=True)
class HeardOnBroker:
    """Everything heard on one broker. unnamed: messages whose topic is no UTF-8. beyond: those on topics that came
    when MOST_TOPICS were known."""

    topics: dict[str, Heard] = field(default_factory=dict)
    unnamed: int = 0
    beyond: int = 0

    def add(self, topic: str | None, payload: bytes, *, retained: bool, at: Ms) -> None:
        """One message."""
        if topic is None:
            self.unnamed += 1
            return
        found = self.topics.get(topic)
        if found is None:
            if len(self.topics) == MOST_TOPICS:
                self.beyond += 1
                return
            found = self.topics[topic] = Heard(topic=topic)
        found.add(payload, retained=retained, at=at)

    def in_order(self) -> Mapping[str, Heard]:
        """By topic."""
        return dict(sorted(self.topics.items()))
