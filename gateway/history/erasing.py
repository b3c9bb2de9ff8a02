"""Which sealed parts name a person: those of entries about them, and texts to others that say their name."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from gateway.vocabulary.entries import Written
from gateway.vocabulary.plain import Plain


@dataclass(slots=True)
class Named:
    """What a person was known by in the record. id: the random id."""

    id: str
    names: set[str] = field(default_factory=set)
    numbers: set[str] = field(default_factory=set)

    def learn(self, entries: Iterable[Written]) -> None:
        """Take in the names and numbers that the record gives this person."""
        for written in entries:
            for part in written.parts:
                content = None if part is None else part.content
                if isinstance(content, dict) and content.get("id") == self.id:
                    name = str(content.get("name", ""))
                    self.names |= {name, *name.split()[:1]} - {""}
                    self.numbers |= {str(content.get("number", ""))} - {""}

    def parts(self, entries: Iterable[Written]) -> Iterator[tuple[int, int]]:
        """(n of the entry, place of the part) of all sealed parts that name this person, by n.

        Too many are named rather than too few: every part of an entry about the person, and whatever says the name,
        the first name as a word of its own, or the number.
        """
        words = [re.escape(name) for name in sorted(self.names, key=len, reverse=True)]
        said = re.compile(rf"\b(?:{'|'.join(words)})\b") if words else None
        for written in entries:
            about = self._is_in(written.entry.body)
            for place, part in enumerate(written.parts):
                if part is not None and self._names(part.content, about, said):
                    yield written.entry.n, place

    def _names(self, content: Plain, about: bool, said: re.Pattern[str] | None) -> bool:
        if isinstance(content, dict) and "id" in content:  # one of several persons of one entry
            return bool(content["id"] == self.id)
        return about or any(self._said(text, said) for text in _texts(content))

    def _said(self, text: str, said: re.Pattern[str] | None) -> bool:
        known = self.id in text or any(number in text for number in self.numbers)
        return known or (said is not None and said.search(text) is not None)

    def _is_in(self, body: Plain) -> bool:
        return any(text == self.id for text in _texts(body))


def _texts(value: Plain) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _texts(item)
    elif isinstance(value, list | tuple):
        for item in value:
            yield from _texts(item)
