"""Reads and prints the sentences that an installer writes after `when` and `clears`.

The language is `conditions.lark`, read by Lark's LALR(1) parser with the basic lexer (measured: conflicts show when the
grammar is built, and a signal's name is never cut into words of the language).
"""

from decimal import Decimal
from itertools import pairwise

from lark import Lark, Token, Transformer, v_args
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken, VisitError

from grammar.lengths import DAY, HOUR, MINUTE, SECOND, say_length
from grammar.meanings import Condition, IsContact, IsNumber, IsWord, NoNews, Than
from grammar.mended import example_for, mended_wordings
from grammar.signal_names import is_signal_name

LONGEST_SENTENCE = 200
"""Characters. Our choice: the longest sentence with two names of 60 letters stays under it."""

LONGEST_LENGTH = 366 * DAY
"""ms. Our choice: a boat may be laid up for a winter; more is a slip of the pen."""

WORDS_OF_THE_LANGUAGE = frozenset(
    [
        "on",
        "off",
        "above",
        "below",
        "at",
        "least",
        "most",
        "is",
        "no",
        "news",
        "from",
        "for",
        "s",
        "min",
        "h",
        "day",
        "days",
    ]
)


class SentenceRefused(Exception):
    """A sentence that cannot be read, in the installer's words.

    problem: what is wrong. remedy: what to write, with the nearest valid wording. column: where, counted from 1.
    """

    def __init__(self, problem: str, remedy: str, column: int) -> None:
        super().__init__(f"column {column}: {problem}. {remedy}.")
        self.problem, self.remedy, self.column = problem, remedy, column


class _Flaw(Exception):
    """A sentence that fits the grammar and still means nothing. column counted from 1."""

    def __init__(self, problem: str, column: int) -> None:
        super().__init__(problem)
        self.problem, self.column = problem, column


@v_args(inline=True)
class _Meaning(Transformer[Token, Condition]):
    """From the tree to the value, one method a rule."""

    def start(self, condition: Condition) -> Condition:
        return condition

    def contact(self, signal: str, wanted: bool, lasting: int = 0) -> Condition:
        return IsContact(signal=signal, wanted=wanted, lasting=lasting)

    def number(self, signal: str, than: Than, limit: Token, *rest: str | int) -> Condition:
        unit = next((part for part in rest if isinstance(part, str)), "")
        lasting = next((part for part in rest if isinstance(part, int)), 0)
        return IsNumber(signal=signal, than=than, limit=Decimal(str(limit)), unit=unit, lasting=lasting)

    def word(self, signal: str, value: str, lasting: int = 0) -> Condition:
        return IsWord(signal=signal, word=value, lasting=lasting)

    def silence_of_one(self, signal: str, lasting: int) -> Condition:
        return NoNews(signal=signal, lasting=lasting)

    def silence_of_all(self, lasting: int) -> Condition:
        return NoNews(signal=None, lasting=lasting)

    def signal(self, name: Token) -> str:
        if not is_signal_name(name):
            raise _Flaw(
                f'"{name}" is not a signal\'s name: lower-case letters, digits and single "-"', name.column or 1
            )
        return str(name)

    def unit(self, name: Token) -> str:
        return str(name)

    def value(self, name: Token) -> str:
        return str(name)

    def on(self) -> bool:
        return True

    def off(self) -> bool:
        return False

    def above(self) -> Than:
        return Than.ABOVE

    def below(self) -> Than:
        return Than.BELOW

    def at_least(self) -> Than:
        return Than.AT_LEAST

    def at_most(self) -> Than:
        return Than.AT_MOST

    def second(self) -> int:
        return SECOND

    def minute(self) -> int:
        return MINUTE

    def hour(self) -> int:
        return HOUR

    def day(self) -> int:
        return DAY

    def part(self, count: Token, unit: int) -> tuple[Token, int]:
        if not count.isdecimal():
            raise _Flaw(f'a length of time is written in whole numbers, not "{count}"', count.column or 1)
        return count, unit

    def length(self, *parts: tuple[Token, int]) -> int:
        first, _ = parts[0]
        column = first.column or 1
        units = [unit for _, unit in parts]
        if any(later >= earlier for earlier, later in pairwise(units)):
            raise _Flaw("a length of time goes from the longest unit to the shortest, each once", column)
        total = sum(int(count) * unit for count, unit in parts)
        if total == 0:
            raise _Flaw("a length of time must be more than nothing", column)
        if total > LONGEST_LENGTH:
            raise _Flaw("a length of time is at most 366 days", column)
        return total


_LARK = Lark.open("conditions.lark", rel_to=__file__, parser="lalr", lexer="basic")
_MEANING = _Meaning()


def read_condition(text: str) -> Condition:
    """The condition that `text` says, e.g. `house-volts below 12.0 V for 10 min`.

    Spaces at the ends and runs of spaces do not matter; case does. Whether the signal exists and the unit is its
    own is for the installation to check. Raises SentenceRefused, nothing else.
    """
    try:
        return _read(text)
    except _Flaw as flaw:
        raise SentenceRefused(flaw.problem, _remedy(text), flaw.column) from None
    except UnexpectedInput as refused:
        raise SentenceRefused(_problem(text, refused), _remedy(text), _column(text, refused)) from None


def say_condition(condition: Condition) -> str:
    """The sentence for `condition`; `read_condition` reads it back to an equal value."""
    match condition:
        case IsContact(signal=signal, wanted=wanted):
            said = f"{signal} {'on' if wanted else 'off'}"
        case IsNumber(signal=signal, than=than, limit=limit, unit=unit):
            said = f"{signal} {than} {limit:f} {unit}".rstrip()
        case IsWord(signal=signal, word=word):
            said = f"{signal} is {word}"
        case NoNews(signal=None):
            said = "no news"
        case NoNews(signal=signal):
            said = f"no news from {signal}"
    return f"{said} for {say_length(condition.lasting)}" if condition.lasting else said


def _read(text: str) -> Condition:
    if len(text) > LONGEST_SENTENCE:
        raise _Flaw(f"the sentence is longer than {LONGEST_SENTENCE} characters", LONGEST_SENTENCE + 1)
    if not text.strip():
        raise _Flaw("the sentence is empty", 1)
    try:
        return _MEANING.transform(_LARK.parse(text))
    except VisitError as wrapped:
        raise wrapped.orig_exc from None


def _column(text: str, refused: UnexpectedInput) -> int:
    if isinstance(refused, UnexpectedToken) and refused.token.type == "$END":
        return len(text.rstrip()) + 1
    return refused.column


def _remedy(text: str) -> str:
    """The nearest wording that can be read, else the pattern that fits the beginning."""
    for wording in mended_wordings(text[:LONGEST_SENTENCE]):
        try:
            meant = _read(wording)
        except (_Flaw, UnexpectedInput):
            continue
        return f'Write "{say_condition(meant)}"'
    return f"Write it like: {example_for(text)}"


def _problem(text: str, refused: UnexpectedInput) -> str:
    column = _column(text, refused)
    words = text[column - 1 :].split()
    found = f'not "{words[0]}"' if words else "but nothing follows"
    before = text[: column - 1].split()
    if before and before[-1] in ("and", "or"):
        before.pop()
    if words and words[0] in ("and", "or") and before:
        return "one sentence holds one condition; and, or cannot be read here"
    if isinstance(refused, UnexpectedCharacters):
        return f'"{words[0]}" cannot be read' if words else "a part cannot be read"
    expected = (refused.accepts if isinstance(refused, UnexpectedToken) else None) or set()
    if not before:
        if words and words[0] in WORDS_OF_THE_LANGUAGE:
            return f'"{words[0]}" is a word of the language and cannot be a signal\'s name'
        return f"a signal's name or `no news` comes first, {found}"
    if "$END" in expected:
        return f"the sentence is complete here or goes on with `for` and a length of time, {found}"
    wanted = next(said for terminals, said in _WANTED if terminals <= expected)
    return f"{wanted}, {found}"


_WANTED = (
    ({"ABOVE"}, "after a signal's name comes on, off, above, below, at least, at most or is"),
    ({"LEAST"}, "after at comes least or most"),
    ({"FROM"}, "after no news comes `from` and a signal, or `for` and a length of time"),
    ({"NEWS"}, "after no comes news"),
    ({"ON", "WORD"}, "after is comes one of the signal's words"),
    ({"MIN"}, "a length of time needs its unit: s, min, h or day"),
    ({"NUMBER"}, "a number is wanted"),
    ({"WORD"}, "a signal's name is wanted"),
    (set[str](), "here comes `for` and a length of time"),
)
"""What could follow, by terminals, and how it is said. The first that fits is told; the last fits always."""
