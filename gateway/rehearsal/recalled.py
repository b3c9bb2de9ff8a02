"""Chance of a replay: what was drawn then is drawn again, as far as the record still holds it.

The draws themselves are never kept. What came of them is: ids, salts and the words of codes. So a code that somebody
sent back in the record is the code that the replay asks for, and the same desk makes the same entries, hash for hash.
"""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field
from hashlib import sha256

from gateway.rehearsal.recorded import Taken, facts_of
from gateway.requests.facts import CodeMade, RequestStep, SecondAsked
from gateway.requests.life import RequestState
from gateway.requests.number_facts import NumberAsked
from gateway.requests.run_facts import StopSent
from gateway.telling.facts import MailQueued, TextQueued
from gateway.vocabulary.draws import Draws
from gateway.vocabulary.entries import SealedPart


@dataclass(slots=True)
class Recalled(Draws):
    """What remains of one happening's draws, by their use, in order. What is not known any more is drawn anew."""

    ids: dict[str, deque[str | None]] = field(default_factory=dict)
    places: deque[int] = field(default_factory=deque)

    def hex_for(self, use: str, digits: int = 32) -> str:
        """The id or salt of then."""
        known = self.ids[use].popleft() if self.ids.get(use) else None
        return known if known is not None else Draws.hex_for(self, use, digits)

    def below(self, use: str, count: int) -> int:
        """The place of a code word of then."""
        if use == "code" and self.places and self.places[0] < count:
            return self.places.popleft()
        return Draws.below(self, use, count)


def fresh(number: int) -> bytes:
    """32 bytes that are used for nothing outside a replay. number: of the turn."""
    return sha256(f"replay {number}".encode()).digest()


def recalled(one: Taken, number: int, code_words: Sequence[str]) -> Recalled:
    """The draws of a happening of the record. number: of the turn of the replay. code_words: those of the bundle."""
    draws = Recalled(fresh(number))
    ids: dict[str, deque[str | None]] = {use: deque() for use in ("salt", "order", "mail", "command", "request")}
    for fact, written in facts_of(one.entries):
        ids["salt"].extend(part.salt if part is not None else None for part in written.parts)
        match fact:
            case TextQueued(order=order):
                ids["order"].append(order)
            case MailQueued(order=order):
                ids["mail"].append(order)
            case StopSent(order=order):
                ids["command"].append(order)
            case RequestStep(order=order) if order:
                ids["command"].append(order)
            case RequestStep(before=RequestState.NEW, request=request):
                ids["request"].append(request)
            case NumberAsked(ask=ask):
                ids["request"].append(ask)
                draws.places.extend(_places(written.parts[0], code_words))
            case CodeMade() | SecondAsked():
                draws.places.extend(_places(written.parts[0], code_words))
    draws.ids = ids
    return draws


def _places(part: SealedPart | None, code_words: Sequence[str]) -> tuple[int, ...]:
    """What must be drawn for these words (`gateway.requests.codes.draw_code`); nothing when they are not known."""
    words = part.content.get("words") if part is not None and isinstance(part.content, dict) else None
    if not isinstance(words, list | tuple) or not all(word in code_words for word in words):
        return ()
    first, second = (code_words.index(str(word)) for word in words)
    return first, second - (second > first)
