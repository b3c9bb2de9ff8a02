"""Texts in another language: every piece of a text is looked up in that language's book before the text is fitted.

A book holds our English on the left, with `{names}` where something is put in, and the other language's words on the
right, with the same names. What has no line in the book goes out in English, so a book can be finished line by line.
What is put in is looked up as well, once more. `{NAMES}` in capitals stand for phrases, which are printed in capitals,
`{Name}` with a capital for one word, and `{nr}` for a number.
"""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache

from gateway.wording.german import GERMAN
from gateway.wording.german_reasons import PUT_IN, REASONS


def _as_sentences(reasons: Mapping[str, str]) -> dict[str, str]:
    """Each line as it stands behind another sentence: ". Somebody aboard since {time}"."""
    return {f". {_capital(english)}": f". {_capital(other)}" for english, other in reasons.items()}


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


BOOKS: Mapping[str, Mapping[str, str]] = {"de": {**GERMAN, **PUT_IN, **_as_sentences(REASONS), **REASONS}}
"""Language -> book."""

VALUES: Mapping[str, frozenset[str]] = {"de": frozenset(PUT_IN)}
"""Language -> the lines for what any room may put in, which stand in no text as they are."""

_SPEAKING: ContextVar[str] = ContextVar("the language of the text that is being worded", default="en")

DEEPEST = 3
"""How often what is put in is looked up in its turn. Our choice: no text of ours is nested more deeply."""


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """While one text is worded, its pieces are looked up in this language's book."""
    before = _SPEAKING.set(language)
    try:
        yield
    finally:
        _SPEAKING.reset(before)


def translated(form: str) -> str:
    """One form of a piece in the language that is being spoken; as it is when the book has no line for it. A piece
    that begins a text has a capital that its line in the book has not."""
    language = _SPEAKING.get()
    if language not in BOOKS or not form.strip():
        return form
    found = _looked_up(form, language, DEEPEST)
    if found == form and form[0].isupper():
        small = form[0].lower() + form[1:]
        lowered = _looked_up(small, language, DEEPEST)
        return form if lowered == small else _capital(lowered)
    return found


def _looked_up(form: str, language: str, deep: int) -> str:
    book = BOOKS[language]
    if form in book or deep == 0:
        return book.get(form, form)
    for pattern, template in _patterns(language):
        if found := pattern.fullmatch(form):
            inside = {name: _looked_up(value, language, deep - 1) for name, value in found.groupdict().items()}
            return template.format(**inside)
    return form


@lru_cache(maxsize=8)
def _patterns(language: str) -> tuple[tuple[re.Pattern[str], str], ...]:
    """The lines with names in them, those with the most words of their own first."""
    lines = [(english, other) for english, other in BOOKS[language].items() if "{" in english]
    lines.sort(key=lambda line: -len(re.sub(r"\{\w+\}", "", line[0])))
    return tuple((_pattern(english), other) for english, other in lines)


def _pattern(english: str) -> re.Pattern[str]:
    parts = re.split(r"\{(\w+)\}", english)
    return re.compile("".join(_put_in(part) if at % 2 else re.escape(part) for at, part in enumerate(parts)), re.S)


def _put_in(name: str) -> str:
    """What may stand for `{name}`: words within one sentence, so that no line takes in the next one; for a `{NAME}` in
    capitals a phrase in capitals alone; for `{nr}` a whole number; for a `{Name}` with a capital one word."""
    if name == "nr":
        return r"(?P<nr>\d+)"
    if name.istitle():
        return rf"(?P<{name}>[^\s.,;:]+)"
    return f"(?P<{name}>{'[^a-z]' if name.isupper() else '(?:(?![.] ).)'}+?)"
