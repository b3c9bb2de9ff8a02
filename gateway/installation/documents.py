"""One settings file, read whole: its values, and where each of its keys stands."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeAlias

from gateway.installation.mistakes import Mistake
from gateway.installation.places import KeyPath, lines_of
from gateway.vocabulary.moments import Ms

Table: TypeAlias = Mapping[str, Any]
"""A TOML table as tomllib gives it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """name: path below the installation's folder, with forward slashes. content: the bytes, for the fingerprint.
    written: when the file was last changed (ms UTC), 0 where nobody knows."""

    name: str
    content: bytes
    values: Table
    lines: Mapping[KeyPath, int]
    written: Ms = 0

    def line(self, path: Sequence[str | int]) -> int | None:
        """The line of the path, or of the nearest table above it that has one. None for an empty path."""
        for depth in range(len(path), 0, -1):
            found = self.lines.get(tuple(path[:depth]))
            if found is not None:
                return found
        return None


def read_document(folder: Path, name: str) -> Document | Mistake:
    """The file, or the one mistake that keeps it from being read at all."""
    try:
        content = (folder / name).read_bytes()
        written = (folder / name).stat().st_mtime_ns // 1_000_000
    except FileNotFoundError:
        return Mistake(name, None, "", "the file is missing", "make it, or copy the one of the starter")
    except OSError as trouble:
        return Mistake(name, None, "", f"cannot be read ({trouble.strerror})", "mend the file or the right to read it")
    return parse(name, content, written)


def parse(name: str, content: bytes, written: Ms = 0) -> Document | Mistake:
    """The bytes of a file as a document; numbers with a fraction come as exact Decimals."""
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        return Mistake(name, line, "", "holds bytes that are no UTF-8 text", "save the file as UTF-8 in the editor")
    if text.startswith("\ufeff"):
        return Mistake(name, 1, "", "begins with a byte order mark", "save the file as UTF-8 without it")
    try:
        values = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as fault:
        return _broken(name, text, str(fault))
    return Document(name=name, content=content, values=values, lines=_lines(text), written=written)


def _lines(text: str) -> Mapping[KeyPath, int]:
    """If the walk should ever fail on a text that tomllib accepts, messages go out without a line."""
    try:
        return lines_of(text)
    except (IndexError, KeyError, ValueError):
        return {}


_PLACE = re.compile(r"(.*) \(at (?:line (\d+), column \d+|end of document)\)", re.DOTALL)

_IN_PLAIN_WORDS = (
    ("Illegal character '\\n'", "a quotation mark is missing", "close the text with a quotation mark on the same line"),
    ("Unterminated string", "a quotation mark is missing", "close the text with a quotation mark"),
    ('Expected \'"""\'', "a quotation mark is missing", "close the text with three quotation marks"),
    ("Cannot overwrite a value", "is written twice", "keep one of the two"),
    ("Cannot declare", "the table is written twice", "put the keys of both under one heading"),
    ("Cannot redefine namespace", "is written twice", "keep one of the two"),
    ("Duplicate inline table key", "is written twice", "keep one of the two"),
    ("Cannot mutate immutable namespace", "the table is written twice", "put all its keys in one place"),
    ("Unclosed array", "a square bracket or a comma is missing", "close the list with ]"),
    (
        "Unclosed inline table",
        "a curly bracket or a comma is missing",
        "close the table with }; hours stand in quotation marks",
    ),
    ("Expected '=' after a key", "is no line of the form key = value", "write key = value"),
    ("Expected ']'", "a square bracket is missing", "close the heading with ]"),
    (
        "Invalid initial character for a key",
        "a key holds a character that needs quotation marks",
        "use letters, digits, - and _",
    ),
    (
        "Expected newline or end of document",
        "something stands behind the value",
        'write text and times in quotation marks, such as "10 min"',
    ),
    ("Invalid value", "the value is missing or is text without quotation marks", "write text in quotation marks"),
)


def _broken(name: str, text: str, said: str) -> Mistake:
    """The parser's words, with a plain sentence for the common ones."""
    found = _PLACE.fullmatch(said)
    detail = found[1] if found else said
    line = int(found[2]) if found and found[2] else max(1, len(text.rstrip("\n").split("\n")))
    for beginning, problem, remedy in _IN_PLAIN_WORDS:
        if detail.startswith(beginning):
            return Mistake(name, line, "", f"{problem} ({detail})", remedy)
    return Mistake(name, line, "", f"is no TOML ({detail})", "mend the line")
