"""A cleaned text is cut into the words of the language: Lark's basic lexer, but for the time it takes.

Lark looks for the word of the language that a WORD is in one pattern of two hundred choices, one after the other; here
it is found in a dictionary. Measured: a third of the time of reading a text went there. A test cuts thousands of texts
by both and finds no difference.
"""

import re
from collections.abc import Iterable

from lark import Token
from lark.exceptions import UnexpectedInput
from lark.lexer import TerminalDef

_IGNORED = "GAP"
_PLAIN_WORD = "WORD"


class UnknownMark(UnexpectedInput):
    """A text holds a mark that begins no word of the language."""


class Cutter:
    """terminals: of `texts.lark`. Its rule 1 makes this possible: every word of the language is one whole WORD.

    Raises ValueError for a word in the grammar that is not: the dictionary would never find it.
    """

    def __init__(self, terminals: Iterable[TerminalDef]) -> None:
        every = list(terminals)
        plain = next(one.pattern.to_regexp() for one in every if one.name == _PLAIN_WORD)
        self._words = {str(one.pattern.value): one.name for one in every if one.pattern.type == "str"}
        marks = {one.name for one in every if one.pattern.type == "str" and not str(one.pattern.value)[0].isalpha()}
        for word, name in self._words.items():
            if name not in marks and re.fullmatch(plain, word) is None:
                raise ValueError(f'texts.lark: "{word}" is not one whole word; write its words one by one')
        cut = [one for one in every if one.pattern.type == "re" or one.name in marks]
        cut.sort(key=lambda one: (-one.priority, -one.pattern.max_width, -len(one.pattern.value), one.name))
        self._next = re.compile("|".join(f"(?P<{one.name}>{one.pattern.to_regexp()})" for one in cut)).match

    def cut(self, text: str) -> list[Token]:
        """The tokens of `text`. Raises UnknownMark."""
        tokens, at, end = [], 0, len(text)
        while at < end:
            found = self._next(text, at)
            if found is None:
                raise UnknownMark(f'"{text[at]}" begins no word of the language')
            name, word, at = str(found.lastgroup), found.group(), found.end()
            if name == _PLAIN_WORD:
                name = self._words.get(word, name)
            if name != _IGNORED:
                tokens.append(Token(name, word))
        return tokens
