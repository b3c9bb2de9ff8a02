"""Every text that the grammar can derive, up to a bound: from the rules as Lark compiled them, not from the reader.

The language has no recursion, so it is finite; with all words of courtesy it has many millions of texts. The bound is
in what stands for a terminal that has many forms (numbers, times, names) and in the rules that are left out.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import product
from types import MappingProxyType

from lark import Lark
from lark.grammar import NonTerminal, Terminal
from lark.lexer import PatternStr

Words = tuple[str, ...]

GLUED_ON = "GLUED_REST"
"""The minutes of "1h30", which stand at the hours without a blank, and nowhere else: the lexer looks back for them."""

SAMPLES: Mapping[str, Sequence[str]] = {
    "BOAT": ["grey wagtail"],
    "EQUIPMENT": ["generator"],
    "SUBJECT": ["batteries"],
    "PERSON": ["tobias"],
    "_HER": ["boat"],
    "SMALL": ["14"],
    "FOUR": ["1830"],
    "DECIMAL": ["1.5"],
    "CLOCK": ["18:00"],
    "TWELVE": ["6pm"],
    "GLUED_HOURS": ["2h"],
    "GLUED_MINUTES": ["90min"],
    GLUED_ON: ["30"],
    "NUMBER_WORD": ["three"],
    "OTHER_NUMBER_WORD": ["fourteen"],
    "WORD": ["teapot"],
}
"""One text for each terminal that has many."""

MORE: Mapping[str, Sequence[str]] = {
    **SAMPLES,
    "EQUIPMENT": ["generator", "fridge", "gas valve"],
    "SMALL": ["0", "1", "14", "999"],
    "FOUR": ["0600", "1440", "9999"],
    "DECIMAL": ["0.1", "24.0"],
    "CLOCK": ["00:00", "18.30", "23:59"],
    "TWELVE": ["12am", "12 p.m.", "6:30pm"],
    "GLUED_HOURS": ["0h", "1.5hrs", "24h"],
    "GLUED_MINUTES": ["1min", "1440m"],
    GLUED_ON: ["00", "59"],
    "NUMBER_WORD": ["three", "forty-five"],
    "OTHER_NUMBER_WORD": ["thirteen", "ninety-nine"],
}
"""The same with the ends of each range, and one equipment of each pair of actions."""

COURTESY = frozenset({"_opening", "_after", "_comma", "_please", "_thanks", "_ending", "_hello", "_ok"})
"""Rules without meaning, left out of the long enumeration and tried round a few texts by themselves."""


class EverySentence:
    """The texts of a grammar. samples: what stands for a terminal with many texts. without: rules that are left out.
    few: of these rules only so many texts, spread over all of them."""

    def __init__(
        self,
        lark: Lark,
        samples: Mapping[str, Sequence[str]] = SAMPLES,
        without: frozenset[str] = COURTESY,
        few: Mapping[str, int] = MappingProxyType({}),
    ) -> None:
        self._lark, self._samples, self._without, self._few = lark, samples, without, few
        self._known: dict[str, tuple[Words, ...]] = {}

    @cached_property
    def _keywords(self) -> dict[str, str]:
        return {t.name: t.pattern.value for t in self._lark.terminals if isinstance(t.pattern, PatternStr)}

    @cached_property
    def _rules(self) -> dict[str, list[list[Terminal | NonTerminal]]]:
        found: dict[str, list[list[Terminal | NonTerminal]]] = {}
        for rule in self._lark.rules:
            if not any(symbol.name in self._without for symbol in rule.expansion):
                found.setdefault(rule.origin.name, []).append(rule.expansion)
        return found

    def of(self, rule: str) -> tuple[Words, ...]:
        """All word sequences of one rule, each once."""
        if rule not in self._known:
            texts: dict[Words, None] = {}
            for expansion in self._rules[rule]:
                for parts in product(*(self._of_symbol(symbol) for symbol in expansion)):
                    texts[tuple(word for part in parts for word in part)] = None
            every = max(1, len(texts) // self._few.get(rule, len(texts)))
            self._known[rule] = tuple(text for text in texts if _can_be_written(text))[::every]
        return self._known[rule]

    def requests(self) -> Iterator[tuple[str, str]]:
        """(the rule of the request, the text) for every text without a wrapping."""
        for expansion in self._rules["_request"]:
            (symbol,) = expansion
            for words in self._of_symbol(symbol):
                yield symbol.name, joined(words)

    def _of_symbol(self, symbol: Terminal | NonTerminal) -> tuple[Words, ...]:
        if isinstance(symbol, NonTerminal):
            return self.of(symbol.name)
        if symbol.name in self._samples:
            return tuple(
                (f"{GLUED_ON} {text}" if symbol.name == GLUED_ON else text,) for text in self._samples[symbol.name]
            )
        return ((self._keywords[symbol.name],),)


def _can_be_written(words: Words) -> bool:
    return all(
        word.partition(" ")[0] != GLUED_ON or re.search("[0-9]h$", before)
        for before, word in zip(("1h", *words), words, strict=False)
    )


def joined(words: Words) -> str:
    """The words with blanks between them, but where the grammar wants none."""
    return " ".join(words).replace(f" {GLUED_ON} ", "")
