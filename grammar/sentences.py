"""Reads the sentences that an installer writes after `when` and `clears`.

The language is `conditions.lark`, read by Lark's LALR(1) parser with the basic lexer (measured: conflicts show when the
grammar is built, and a signal's name is never cut into words of the language).
"""

from lark import Lark
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken, VisitError

from grammar.condition_meanings import Condition, Gone, IsCompared, signals_of
from grammar.condition_parts import Flaw
from grammar.condition_tree import ConditionTree
from grammar.mended import example_for, mended_wordings
from grammar.saying_conditions import say_condition

LONGEST_SENTENCE = 300
"""Characters. Our choice: two conditions with names of 60 letters, joined, stay under it."""

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
        "and",
        "or",
        "not",
        "while",
        "gone",
    ]
)
"""Words that cannot name a signal."""

DEEPEST = 8
"""Brackets within brackets. Our choice: nobody says more aloud."""


class SentenceRefused(Exception):
    """A sentence that cannot be read, in the installer's words.

    problem: what is wrong. remedy: what to write, with the nearest valid wording. column: where, counted from 1.
    """

    def __init__(self, problem: str, remedy: str, column: int) -> None:
        super().__init__(f"column {column}: {problem}. {remedy}.")
        self.problem, self.remedy, self.column = problem, remedy, column


_LARK = Lark.open("conditions.lark", rel_to=__file__, parser="lalr", lexer="basic")
_MEANING = ConditionTree()


def read_condition(text: str) -> Condition:
    """The condition that `text` says, e.g. `house-volts below 12.0 V for 10 min`.

    Spaces at the ends and runs of spaces do not matter; case does. Whether the signal exists and the unit is its
    own is for the installation to check. Raises SentenceRefused, nothing else.
    """
    meant = read_clearing(text)
    if isinstance(meant, Gone):
        column = len(text) - len(text.lstrip()) + 1
        remedy = f"Write it like: {example_for('')}"
        problem = "`gone` stands after `clears` only: it says that what was raised has ceased"
        raise SentenceRefused(problem, remedy, column)
    return meant


def read_clearing(text: str) -> Condition | Gone:
    """The same for what stands after `clears`, where `gone for 60 s` may stand as well. Raises SentenceRefused."""
    try:
        return _read(text)
    except Flaw as flaw:
        raise SentenceRefused(flaw.problem, _remedy(text), flaw.column) from None
    except UnexpectedInput as refused:
        raise SentenceRefused(_problem(text, refused), _remedy(text), _column(text, refused)) from None


def _read(text: str) -> Condition | Gone:
    if len(text) > LONGEST_SENTENCE:
        raise Flaw(f"the sentence is longer than {LONGEST_SENTENCE} characters", LONGEST_SENTENCE + 1)
    if not text.strip():
        raise Flaw("the sentence is empty", 1)
    _check_brackets(text)
    try:
        return _MEANING.transform(_LARK.parse(text))
    except VisitError as wrapped:
        raise wrapped.orig_exc from None


def _check_brackets(text: str) -> None:
    """Each bracket has its other half, and there are not too many within each other."""
    open_at: list[int] = []
    for column, letter in enumerate(text, 1):
        if letter == "(":
            open_at.append(column)
            if len(open_at) > DEEPEST:
                raise Flaw(f"more than {DEEPEST} brackets within each other", column)
        elif letter == ")":
            if not open_at:
                raise Flaw("this bracket was never opened", column)
            open_at.pop()
    if open_at:
        raise Flaw("this bracket is never closed", open_at[-1])


def _column(text: str, refused: UnexpectedInput) -> int:
    if isinstance(refused, UnexpectedToken) and refused.token.type == "$END":
        return len(text.rstrip()) + 1
    return refused.column


def _remedy(text: str) -> str:
    """The nearest wording that can be read, else the pattern that fits the beginning."""
    for wording in mended_wordings(text[:LONGEST_SENTENCE]):
        try:
            meant = _read(wording)
        except (Flaw, UnexpectedInput):
            continue
        if isinstance(meant, IsCompared) and not set(signals_of(meant)) <= set(text.split()):
            continue  # a unit in capitals is not taken for another signal
        return f'Write "{say_condition(meant)}"'
    return f"Write it like: {example_for(text)}"


def _problem(text: str, refused: UnexpectedInput) -> str:
    column = _column(text, refused)
    words = text[column - 1 :].split()
    found = f'not "{words[0]}"' if words else "but nothing follows"
    before = text[: column - 1].split()
    if isinstance(refused, UnexpectedCharacters):
        return f'"{words[0]}" cannot be read' if words else "a part cannot be read"
    expected = (refused.accepts if isinstance(refused, UnexpectedToken) else None) or set()
    if "$END" in expected and words and words[0] in ("and", "or", "while"):
        return f"put brackets round what belongs together, {found}"
    begins = not before or before[-1].rstrip("(") in ("", "and", "or", "not", "while")
    if begins and "NO" in expected:
        if words and words[0] in WORDS_OF_THE_LANGUAGE:
            return f'"{words[0]}" is a word of the language and cannot be a signal\'s name'
        return f"a signal's name or `no news` comes {'next' if before else 'first'}, {found}"
    if "$END" in expected:
        return f"the sentence is complete here or goes on with {_goes_on(expected)}, {found}"
    if before[-1:] == ["mean"] and "OF" in expected:
        return f"after its mean comes `of` and a length of time, {found}"
    if "as" in before or expected == {"AS"}:
        return f"how much oftener is said {_GROWING}, {found}"
    wanted = next(said for terminals, said in _WANTED if terminals <= expected)
    return f"{wanted}, {found}"


def _goes_on(expected: set[str]) -> str:
    """How a complete sentence may go on."""
    ways = [said for terminal, said in _ON if terminal in expected]
    return " or ".join(filter(None, [", ".join(ways[:-1]), *ways[-1:]])) or "nothing"


_GROWING = "`at least 2 times as often as the hour before in each of the last 2 hours`"

_ON = (
    ("WITH", "`with deadband`"),
    ("BY", "`by` and how much"),
    ("OVER", "`over` and a length of time"),
    ("IN", "`in the last` and a length of time"),
    ("FOR", "`for` and a length of time"),
    ("AND", "and"),
    ("OR", "or"),
    ("WHILE", "while"),
)

_WANTED = (
    ({"GONE"}, "after is comes one of the signal's words"),
    (
        {"ABOVE", "ON", "STARTED"},
        "after a signal's name comes on, off, above, below, at least, at most, outside, between, is, changed, started, "
        "rising, falling, unreadable or not believable",
    ),
    ({"NUMBER", "WORD"}, "a number or another signal's name is wanted"),
    ({"ITS", "WORD"}, "a signal's name is wanted"),
    ({"LEAST"}, "after at comes least or most"),
    ({"FROM", "FOR"}, "after no news comes `from` and a signal, or `for` and a length of time"),
    ({"NEWS"}, "after no comes news"),
    ({"FIXES"}, "how many fixes of how many is said like `3 of 5 fixes of`"),
    ({"FURTHER", "WITHIN"}, "after the signal of the fixes comes `further than` or `within` and a distance in m"),
    ({"ITS", "NUMBER"}, "a position is `its set position`, or latitude, comma, longitude"),
    ({"SET"}, "a position is `its set position`, or latitude, comma, longitude"),
    ({"POSITION"}, "a position is `its set position`, or latitude, comma, longitude"),
    ({"COMMA"}, "a position is `its set position`, or latitude, comma, longitude"),
    ({"BELIEVABLE"}, "after not comes believable"),
    ({"FASTER"}, "after rising or falling comes `faster than`"),
    ({"AN", "WORD"}, "after the rate comes its unit and `an hour`"),
    ({"AN"}, "after the rate comes its unit and `an hour`"),
    ({"HOUR", "NUMBER"}, "after `in the last` comes hour, day or a length of time"),
    ({"HOUR"}, "after the rate comes its unit and `an hour`"),
    ({"THE"}, "a window is said `in the last` and a length of time"),
    ({"LAST"}, "a window is said `in the last` and a length of time"),
    ({"TIMES"}, "how often is said with `times`"),
    ({"MORE", "NUMBER"}, "after for comes a length of time, or `more than` and one in a window"),
    ({"MORE"}, "after started comes `more than`, how often, and a window, or `at least`"),
    ({"THAN"}, "after more, further or faster comes than"),
    ({"DEADBAND"}, "after with comes deadband"),
    ({"OF", "WORD"}, "after the distance comes m and `of`"),
    ({"FROM", "WORD"}, "after the distance comes m and `from`"),
    ({"OF"}, "a number comes first only as in `3 of 5 fixes of position`"),
    ({"FROM"}, "here comes from"),
    ({"AND"}, "after the lower limit comes `and` and the upper one"),
    ({"MIN"}, "a length of time needs its unit: s, min, h or day"),
    ({"NUMBER"}, "a number is wanted"),
    ({"IN"}, "a window is said `in the last` and a length of time"),
    ({"MEAN"}, "after its comes mean, `of` and a length of time"),
    (set[str](), "here comes `for` and a length of time"),
)
"""What could follow, by terminals, and how it is said. The first that fits is told; the last fits always."""
