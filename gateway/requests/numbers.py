"""Whose number is proved, and which words wait to come back as proof: a part of the room's state."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from gateway.requests.number_facts import NumberAsked, NumberProved, NumberUnproved, Unproved
from gateway.vocabulary.entries import SealedPart
from gateway.vocabulary.moments import DAY, Ms

SILENT_FOR = 60 * DAY
"""A number that sent nothing for longer is proved again (handbook 6.1): it may be somebody else's by now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsAsked:
    """Two words that wait to come back. id: as a code's request. words: None when their sealed part is gone.
    expires: last good instant. wrong: wrong words held against them."""

    id: str
    words: tuple[str, str] | None
    expires: Ms
    wrong: int = 0


@dataclass(slots=True)
class Numbers:
    """All by person. proved: instant that the proof counts from. vouched: instant of the last installer's word that was
    taken account of. heard: instant of the last text. lapsed: why a number is proved no longer. asked: words that wait.
    """

    proved: dict[str, Ms] = field(default_factory=dict)
    vouched: dict[str, Ms] = field(default_factory=dict)
    heard: dict[str, Ms] = field(default_factory=dict)
    lapsed: dict[str, Unproved] = field(default_factory=dict)
    asked: dict[str, WordsAsked] = field(default_factory=dict)

    def is_proved(self, person: str) -> bool:
        """Whether the person's number is proved."""
        return person in self.proved

    def is_silent(self, person: str, now: Ms) -> bool:
        """Whether a proved number has sent nothing for so long that its proof is over."""
        at = self.proved.get(person)
        return at is not None and now - max(at, self.heard.get(person, at)) > SILENT_FOR

    def clock_moved(self, by: Ms) -> None:
        """The wall clock was moved forward by so much (ms): words expire that much earlier, as codes do."""
        for person, ask in self.asked.items():
            self.asked[person] = replace(ask, expires=ask.expires - by)

    def ask_of(self, request: str) -> str | None:
        """The person whose words these are, by the id of the ask; None when no such words wait."""
        return next((person for person, ask in self.asked.items() if ask.id == request), None)

    def spent(self, request: str) -> None:
        """The words of this ask (id) prove nothing any more."""
        person = self.ask_of(request)
        if person is not None:
            del self.asked[person]

    def wrong(self, request: str) -> None:
        """Wrong words were held against this ask (id)."""
        person = self.ask_of(request)
        if person is not None:
            self.asked[person] = replace(self.asked[person], wrong=self.asked[person].wrong + 1)

    def apply(self, fact: NumberAsked | NumberProved | NumberUnproved, parts: Sequence[SealedPart | None]) -> None:
        """Fold one fact in. parts: its sealed parts, None where one was erased."""
        match fact:
            case NumberAsked():
                self.asked[fact.person] = WordsAsked(id=fact.ask, words=words_of(parts), expires=fact.expires)
            case NumberProved():
                self.proved[fact.person] = fact.at
                self.lapsed.pop(fact.person, None)
                if fact.by:
                    self.vouched[fact.person] = fact.at
            case NumberUnproved():
                self.proved.pop(fact.person, None)
                self.lapsed[fact.person] = fact.because


def words_of(parts: Sequence[SealedPart | None]) -> tuple[str, str] | None:
    """The two words of a sealed part; None when it was erased or holds none."""
    content = parts[0].content if parts and parts[0] is not None else None
    words = content.get("words") if isinstance(content, Mapping) else None
    if isinstance(words, Sequence) and not isinstance(words, str) and len(words) == 2:
        first, second = words
        if isinstance(first, str) and isinstance(second, str):
            return first, second
    return None
