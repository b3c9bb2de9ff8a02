"""What is never shown of the record: telephone numbers, and the words of codes.

Live code words stand only in the outbox and in a sealed part (design rule 13). Whoever prints the sealed parts sees
texts that quote them, so they are masked here, in what we sent and in what came.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from unicodedata import normalize

from gateway.people.numbers import masked
from gateway.vocabulary.plain import Plain

HIDDEN = "..."

_AFTER_GO = re.compile(
    r"\b(?:(drop|prove)\b((?:[\W_]+\w+){1,2})|(go)\b((?:[\W_]+\w+){1,2}(?:[\W_]+(?:\d{1,3}\b|[^\W\d_]{4,})){0,4}))",
    re.IGNORECASE,
)
"""What may be a code: up to two words behind `go`, `drop` or `prove`, whatever stands between them; behind `go` up to
four more as long as code words and numbers are, which may be a line from paper that was written otherwise than asked,
and is good for its own turn still (our choice: better a plain word too many hidden than one shown that still opens
something)."""

_WORD = re.compile(r"[^\W_]+")
_NUMBER = re.compile(r"\+\d(?:[ ()/-]{0,2}\d){6,}")


@dataclass(slots=True)
class Masks:
    """The codes met so far, each as its two words, so that they are hidden wherever both stand in one text."""

    codes: set[frozenset[str]] = field(default_factory=set)

    def learn(self, parts: Iterable[Plain]) -> None:
        """Take in the codes that these sealed parts hold."""
        for part in parts:
            words = part.get("words") if isinstance(part, Mapping) else None
            if isinstance(words, list | tuple):
                self.codes.add(frozenset(str(word).casefold() for word in words))

    def text(self, body: str) -> str:
        """A text of ours or of a phone as it may be shown: on one line, without codes and numbers."""
        shown = self._hidden(normalize("NFKC", body))
        return printable(_NUMBER.sub(lambda found: masked(re.sub(r"[^\d+]", "", found[0])), shown))

    def without_codes(self, body: str) -> str:
        """A text without whatever may be a code, else as it is; one that holds a code comes back in form NFKC."""
        form = normalize("NFKC", body)
        shown = self._hidden(form)
        return body if shown == form else shown

    def without_known_codes(self, body: str) -> str:
        """A text without the words of the codes met so far."""
        return self._without_codes_said_in(body, body)

    def _hidden(self, body: str) -> str:
        """Both rules over the whole text: neither may hide a word by which the other would have known a code."""
        return self._without_codes_said_in(body, _AFTER_GO.sub(_hidden, body))

    def _without_codes_said_in(self, body: str, shown: str) -> str:
        said = {word.casefold() for word in re.findall(r"\w+", body)}
        for code in self.codes:
            if code <= said:
                shown = re.sub("|".join(map(re.escape, code)), HIDDEN, shown, flags=re.IGNORECASE)
        return shown

    def part(self, content: Plain) -> Plain:
        """A sealed part as it may be shown."""
        if isinstance(content, Mapping):
            return {key: self._field(key, value) for key, value in content.items()}
        if isinstance(content, list | tuple):
            return [self.part(item) for item in content]
        return self.text(content) if isinstance(content, str) else content

    def _field(self, key: str, value: Plain) -> Plain:
        if key == "words":
            return HIDDEN
        return masked(str(value)) if key == "number" else self.part(value)


def printable(text: str) -> str:
    """The text on one line, without anything that a terminal would obey (a stranger's text may hold it)."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


def _hidden(found: re.Match[str]) -> str:
    return f"{found[1] or found[3]}{_WORD.sub(HIDDEN, found[2] or found[4])}"
