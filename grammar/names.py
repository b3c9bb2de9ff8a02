"""The installation's names in the language: which may be used, and how they are found in a text.

Names never enter the grammar. They are keys of a tree of words that stands between cutting and parsing, so nothing from
the installation's files is ever read as grammar or as a pattern.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from lark import Token

from grammar.carrier_words import CARRIER_WORDS, begins_with_carrier_word
from grammar.cleaning import folded

Pair = tuple[str, str]
"""What an equipment does and its opposite, as the replies print them."""

PAIRS: frozenset[Pair] = frozenset([("start", "stop"), ("on", "off"), ("open", "close")])

LONGEST_NAME = 40
"""Characters. Our choice: a phrase with boat, equipment and limit stays well under one part of a text."""


@dataclass(slots=True)
class Branch:
    """One step of the tree: the words that may follow, and what ends here: (terminal, neutral key)."""

    follow: dict[str, "Branch"] = field(default_factory=dict)
    ends: tuple[str, str] | None = None

    def add(self, words: Iterable[str], terminal: str, key: str) -> None:
        """Put one name into the tree. A name that is there already stays what it was."""
        branch = self
        for word in words:
            branch = branch.follow.setdefault(word, Branch())
        branch.ends = branch.ends or (terminal, key)

    def longest(self, words: list[str], at: int) -> tuple[int, str, str]:
        """The longest name that begins at `at`: (place behind it, terminal, key); (at, "", "") when none does."""
        found, branch, place = (at, "", ""), self, at
        while place < len(words) and (following := branch.follow.get(words[place])) is not None:
            branch, place = following, place + 1
            if branch.ends is not None:
                found = (place, *branch.ends)
        return found


@dataclass(slots=True)
class Wordings:
    """Wordings of another language, by their words: what ends here stands for these tokens of the grammar."""

    follow: dict[str, "Wordings"] = field(default_factory=dict)
    stands_for: tuple[Token, ...] = ()

    def add(self, words: Iterable[str], tokens: Iterable[Token]) -> None:
        branch = self
        for word in words:
            branch = branch.follow.setdefault(word, Wordings())
        branch.stands_for = tuple(tokens)

    def longest(self, words: list[str], at: int) -> tuple[int, tuple[Token, ...]]:
        """The longest wording that begins at `at`: (place behind it, its tokens); (at, ()) when none does."""
        found: tuple[int, tuple[Token, ...]] = (at, ())
        branch, place = self, at
        while place < len(words) and (following := branch.follow.get(words[place])) is not None:
            branch, place = following, place + 1
            if branch.stands_for:
                found = (place, branch.stands_for)
        return found


BEFORE_A_PERSON = frozenset({"duty", "lost", "stolen"})
"""The words of the grammar behind which persons are named."""


class Vocabulary:
    """Between cutting and parsing (Lark's `postlex`): one BOAT, EQUIPMENT or SUBJECT token instead of the words of a
    name; its value is the key.

    wordings: of another language; None for the language of the grammar. With wordings no word of the grammar itself
    is understood: each is a mere WORD. people: names of persons, which are names only behind "duty" or "lost", so that
    somebody called Will takes nothing away from "I will take 14".
    """

    always_accept = ()  # the basic lexer knows all terminals anyway

    def __init__(self, tree: Branch, wordings: Wordings | None = None, people: Branch | None = None) -> None:
        self.tree, self.wordings, self.people = tree, wordings, people or Branch()

    def process(self, stream: Iterable[Token]) -> Iterator[Token]:
        tokens = list(stream)
        words = [str(token) for token in tokens]
        at, before = 0, ""
        while at < len(tokens):
            end, terminal, key = self.tree.longest(words, at)
            if before in BEFORE_A_PERSON and (named := self.people.longest(words, at))[1]:
                end, terminal, key = named
            far, meant = self.wordings.longest(words, at) if self.wordings is not None else (at, ())
            if terminal and end >= far:
                yield Token(terminal, key)
                at, before = end, ""
            elif meant:
                yield from meant
                at, before = far, str(meant[-1])
            else:
                token = tokens[at]
                foreign = self.wordings is not None and token[0].isalpha()
                yield Token("WORD", str(token)) if foreign else token
                at, before = at + 1, "" if foreign else str(token)


def wordings(phrase: str) -> tuple[str, ...]:
    """How a name may be texted: as it is, and without its apostrophes ("skipper's light", "skippers light")."""
    plain = folded(phrase)
    return tuple(dict.fromkeys((plain, plain.replace("'", ""))))


def name_problem(phrase: str, cut: Callable[[str], list[Token] | None]) -> str | None:
    """What is wrong with one name, in plain words with the cure, or None.

    cut: the tokens of a folded name, None when it holds a mark that no name may.
    """
    plain = folded(phrase)
    shown = f'the name "{phrase}"'
    if not plain:
        return "a name is empty; give it at least two letters"
    if len(plain) > LONGEST_NAME:
        return f"{shown} is longer than {LONGEST_NAME} characters; give a shorter one"
    if len(re.findall(r"[^\W\d_]", plain)) < 2:
        return f"{shown} has fewer than two letters; write it out"
    if plain in CARRIER_WORDS:
        return f"{shown} alone is a word that carriers act on; choose another"
    if begins_with_carrier_word(plain):
        return f"{shown} begins with a word that carriers act on; put another word first"
    tokens = cut(plain)
    if tokens is None:
        return f"{shown} holds a mark that cannot be texted reliably; use letters, digits and inner - / & '"
    if all(token.type != "WORD" for token in tokens):
        return f"{shown} is made of words of the text language alone; add another word to it"
    return None


def clashes(
    boats: Mapping[str, str], equipment: Mapping[str, tuple[str, Pair]], subjects: Iterable[str] = ()
) -> Iterator[str]:
    """One phrase for two things, one thing with two pairs of actions, an unknown pair: in plain words with the cure."""
    meant: dict[str, tuple[str, str]] = {}
    every = [(phrase, ("boat", key)) for phrase, key in boats.items()]
    every += [(phrase, ("equipment", key)) for phrase, (key, _) in equipment.items()]
    for phrase in subjects:  # one word may ask for an equipment and for signals of the same name, but not for a boat
        if folded(phrase) in {folded(boat) for boat in boats}:
            yield f'the name "{phrase}" stands for a boat and for signals; give one of them another'
    for phrase, thing in every:
        for wording in wordings(phrase):
            other = meant.setdefault(wording, thing)
            if other != thing:
                both = f"{' '.join(other)} and for {' '.join(thing)}"
                yield f'the name "{phrase}" stands for {both}; give one of them another'
                break
    pairs: dict[str, Pair] = {}
    for key, pair in equipment.values():
        if pair not in PAIRS:
            yield f'equipment {key}: "{"/".join(pair)}" is not a pair of actions; use start/stop, on/off or open/close'
        if pairs.setdefault(key, pair) != pair:
            yield f"equipment {key} has two pairs of actions; give all its names the same pair"


def numbered_twins(phrases: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Pairs of names of which the second is the first and a number ("deck fan", "deck fan 2"): "start deck fan 2 hours"
    is then refused, never misread, and the installer should know."""
    plain = {folded(phrase) for phrase in phrases}
    for name in sorted(plain):
        shorter = re.fullmatch(r"(.+) \d+", name)
        if shorter and shorter.group(1) in plain:
            yield shorter.group(1), name
