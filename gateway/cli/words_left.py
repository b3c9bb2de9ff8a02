"""`heavingline words`: what an installer may word, and how far a language is translated. For both of them."""

import ast
import re
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from itertools import count

import click

from gateway.installation.starter import starter
from gateway.wording.alphabet import plain
from gateway.wording.own_kinds import WORDABLE
from gateway.wording.phrasebook import BOOKS, VALUES, speaking, translated
from grammar.language import Language
from grammar.languages import LANGUAGES
from grammar.practices import practice_in
from grammar.texts import TextReader

NOT_OURS = frozenset(
    {
        "own_kinds.py",
        "own_wording.py",
        "__init__.py",
        "german.py",
        "german_reasons.py",
        "phrasebook.py",
        "alphabet.py",
        "spoken.py",
        "mails.py",
        "say.py",
    }
)
"""Files of gateway/wording without pieces of texts: the books, the alphabet, and what is spoken or mailed."""

_WORD = re.compile(r"[A-Za-z]{3,}")


@dataclass(frozen=True, slots=True, order=True)
class OurPiece:
    """One piece of a text as it stands in our code. words: its English, with X1, X2 ... for what is put in."""

    file: str
    line: int
    words: str


def our_pieces() -> Iterator[OurPiece]:
    """Every piece of a text in gateway/wording, and every reason that other rooms put into one, read from the code
    itself, so that none is forgotten."""
    for file in sorted(files("gateway.wording").iterdir(), key=lambda one: one.name):
        if file.name.endswith(".py") and file.name not in NOT_OURS:
            for line, words in pieces_in(file.read_text(encoding="utf-8")):
                yield OurPiece(file.name, line, words)
    for room in ROOMS_WITH_REASONS:
        for file in sorted(files(f"gateway.{room}").iterdir(), key=lambda one: one.name):
            if file.name.endswith(".py"):
                for line, words in reasons_in(file.read_text(encoding="utf-8")):
                    yield OurPiece(f"{room}/{file.name}", line, words)


ROOMS_WITH_REASONS = ("requests", "desk")
"""Rooms that say in words why something is not done or not known. Wording puts these into its texts."""

_MAKES_A_REASON = frozenset({"against", "Missing", "_NoCharge"})
_KEPT_AS = frozenset({"says", "cure", "missed"})


def reasons_in(code: str) -> Iterator[tuple[int, str]]:
    """(line, words) of every reason in Python code: what is handed to a call that makes one, or kept for it under one
    of the names of reasons."""
    for node in ast.walk(ast.parse(code)):
        for held in _reasons(node):
            words = _words(held)
            if " " in words and _WORD.search(re.sub(r"X\d+", "", words)):
                yield held.lineno, words


def _reasons(node: ast.AST) -> list[ast.expr]:
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _MAKES_A_REASON:
        return node.args
    if isinstance(node, ast.Assign) and _KEPT_AS.issuperset(_named(node.targets[0])):
        return node.value.elts if isinstance(node.value, ast.Tuple) else [node.value]
    return []


def _named(target: ast.expr) -> set[str]:
    parts = target.elts if isinstance(target, ast.Tuple) else [target]
    return {part.id if isinstance(part, ast.Name) else "" for part in parts}


def pieces_in(code: str) -> Iterator[tuple[int, str]]:
    """(line, words) of every piece of a text in Python code: strings of several words that are neither documentation
    nor compared with, looked up or raised."""
    tree = ast.parse(code)
    passed = {id(inside) for node in ast.walk(tree) for inside in _no_texts(node)}
    for node in ast.walk(tree):
        if id(node) in passed:
            continue
        words = _words(node)
        if words and " " in words.strip(". ,:;") and _WORD.search(re.sub(r"X\d+", "", words)):
            yield node.lineno, words  # type: ignore[attr-defined]


def _no_texts(node: ast.AST) -> Iterator[ast.AST]:
    """The parts of a node that are no texts, with all that is in them."""
    held: list[ast.AST] = []
    match node:
        case ast.Expr(value=ast.Constant()):
            held = [node]
        case ast.JoinedStr():
            held = [part for part in node.values if isinstance(part, ast.Constant)]
            yield from held
            return
        case ast.Compare() | ast.Raise() | ast.MatchValue():
            held = [node]
        case ast.Dict():
            held = [key for key in node.keys if key is not None]
        case ast.Call(func=ast.Attribute(attr="compile" | "sub" | "search" | "fullmatch")):
            held = [node]
        case ast.Call(func=ast.Name(id="fit_as"), args=[kind, *_]):
            held = [kind]
        case _:
            return
    for one in held:
        yield from ast.walk(one)


def _words(node: ast.AST) -> str:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        numbers = count(1)
        parts = (part.value if isinstance(part, ast.Constant) else f"X{next(numbers)}" for part in node.values)
        return "".join(map(str, parts))
    return ""


def untranslated(language: str, pieces: Iterable[OurPiece]) -> list[OurPiece]:
    """The pieces that still go out in English: neither by themselves nor as a part of a whole line in the book."""
    lines = [_bare(english) for english in BOOKS[language]]
    with speaking(language):
        return [
            piece
            for piece in pieces
            if all(translated(f"{mark}{piece.words}") == f"{mark}{piece.words}" for mark in MARKS)
            and not any(_part_of(_bare(piece.words), line) for line in lines)
        ]


def _part_of(ours: str, line: str) -> bool:
    """Whether a line of the book holds our piece, perhaps with a word of ours where something is put in."""
    return ours in line or re.search(re.escape(ours).replace(r"\#", ".+"), line) is not None


MARKS = ("", ". ", ": ", ", ", " ", "; ")
"""What may stand before a piece where it is put together with others."""


def _bare(line: str) -> str:
    """A line without the names of what is put in, and without its marks at the ends, for comparing."""
    return re.sub(r"\{\w*\}|X\d+", "#", line).strip(" .,:;#")


def misfits(
    book: Mapping[str, str], pieces: Iterable[OurPiece], installers: str = "", values: Container[str] = ()
) -> Iterator[str]:
    """Lines of a book that do not fit, each with what to do. installers: all that the starter's files say, which a
    book may translate as well. values: lines for what any room puts in, which no text of ours says."""
    ours = {_bare(piece.words).casefold() for piece in pieces}
    open_ones = [re.compile(re.escape(words).replace(r"\#", ".*")) for words in ours if "#" in words]
    known = installers.casefold()
    for english, other in book.items():
        if _put_in(english) != _put_in(other):
            yield f'"{english}": {_put_in(other)} is put in, not {_put_in(english)}; keep each name as it is'
        if plain(other) != other:
            yield f'"{english}": "{other}" holds a letter that not every phone shows; write "{plain(other)}"'
        bare = _bare(english)
        plainly = "{" not in english and " " in bare and not bare.isupper() and english not in values
        bare = bare.casefold()
        if plainly and bare not in known and not _said(ours, open_ones, bare):
            yield f'"{english}": no text of ours says so; look for what it says now, or leave the line out'


def _said(ours: Iterable[str], open_ones: Iterable[re.Pattern[str]], bare: str) -> bool:
    """Whether one of our pieces is the line, holds it, is a part of it, or is it with something put in. open_ones:
    those with something put in."""
    if any(bare in words or (" " in words and words in bare) for words in ours):
        return True
    return any(one.fullmatch(bare) for one in open_ones)


def _put_in(line: str) -> list[str]:
    return sorted(re.findall(r"\{(\w+)\}", line))


def unreadable(language: Language) -> Iterator[str]:
    """What is wrong with the words of a language in which texts are read."""
    try:
        TextReader({}, {}, (), language)
    except ValueError as wrong:
        yield f"{wrong}; write words of the grammar on the right"
    for english, printed in language.printed.items():
        if printed not in language.words and practice_in(f"{printed} x", {}, language.key) is None:
            yield f'"{english}" is printed as "{printed}", which is not read; add it to the words'
    known = {english for other in LANGUAGES.values() for english in other.printed}
    for english in sorted(known - language.printed.keys()):
        yield f'"{english}" is printed in English; add how it is printed'


def show_kinds() -> int:
    """Print the kinds of text that an installer may word, and what can be said in each; 0."""
    click.echo("Kinds of text that wording.toml may word, with the places that each knows (* must be there):")
    for kind, known in WORDABLE.items():
        click.echo(f'\n[text.en."{kind}"]   # {known.when}')
        for place, says in known.places.items():
            groups = [group for group in known.must if place in group]
            either = next((" or ".join(f"{{{each}}}" for each in group if each != place) for group in groups), "")
            mark = "*" if groups else " "
            click.echo(f"  {mark} {{{place}}}: {says}{f' (this or {either})' if either else ''}")
    click.echo("\nAll other texts are worded by the gateway alone: they hold code words, counted lists, or cautions.")
    return 0


def show(key: str) -> int:
    """Print how far the language is; 0 when every line fits, else 1; 2 for a language that is not here."""
    if key not in BOOKS or key not in LANGUAGES:
        click.echo(f"{key} is no language here; use one of {', '.join(sorted(BOOKS))}", err=True)
        return 2
    pieces = sorted(set(our_pieces()))
    left = untranslated(key, pieces)
    written = "\n".join(file.read_text(encoding="utf-8") for file in sorted(starter().rglob("*.toml")))
    wrong = [*unreadable(LANGUAGES[key]), *misfits(BOOKS[key], pieces, written, VALUES[key])]
    click.echo(f"{LANGUAGES[key].called}: {len(pieces) - len(left)} of {len(pieces)} pieces of texts are translated.")
    click.echo("".join(f"\n  {one.file}:{one.line}  {one.words}" for one in left) or "\nNothing goes out in English.")
    click.echo("\nEvery line fits." if not wrong else "\nThese lines do not fit:")
    for said in wrong:
        click.echo(f"  {said}")
    return 1 if wrong else 0
