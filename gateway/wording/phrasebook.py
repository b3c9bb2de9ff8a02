"""Texts in another language: every piece of a text is looked up in that language's book before the text is fitted.

A book holds our English on the left, with `{names}` where something is put in, and the other language's words on the
right, with the same names. What has no line in the book goes out in English, so a book can be finished line by line.
What is put in is looked up as well, once more. `{NAMES}` in capitals stand for phrases, which are printed in capitals,
and `{nr}` for a number.
"""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache

from gateway.wording.german import GERMAN

BOOKS: Mapping[str, Mapping[str, str]] = {"de": GERMAN}
"""Language -> book."""

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
    """One form of a piece in the language that is being spoken; as it is when the book has no line for it."""
    language = _SPEAKING.get()
    return form if language not in BOOKS or not form.strip() else _looked_up(form, language, DEEPEST)


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
    capitals a phrase in capitals alone; for `{nr}` an alarm's number."""
    if name == "nr":
        return r"(?P<nr>\d+)"
    return f"(?P<{name}>{'[^a-z]' if name.isupper() else '(?:(?![.] ).)'}+?)"
