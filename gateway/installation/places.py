"""On which line of a TOML text each key stands.

tomllib decides what is right and gives the values, but no positions; this walks the same text beside it and notes the
line of every table, key and list item. It presumes a text that tomllib has accepted (TOML 1.0).
"""

import tomllib
from collections.abc import Mapping
from typing import TypeAlias

KeyPath: TypeAlias = tuple[str | int, ...]
"""Names of tables and keys, and numbers (from 0) of list items, from the top of the file downwards."""


def lines_of(text: str) -> Mapping[KeyPath, int]:
    """The line (from 1) of every path in the text. A table named several times has the line of its first mention."""
    return _Walk(text).whole()


class _Walk:
    """One pass over one text. `at` is the place of the next character."""

    def __init__(self, text: str) -> None:
        self.text = text.replace("\r\n", "\n")  # as tomllib does
        self.at = 0
        self.line = 1
        self.counted = 0  # place up to which `line` is right
        self.lines: dict[KeyPath, int] = {}
        self.items: dict[KeyPath, int] = {}  # how many tables an array of tables has so far

    def whole(self) -> Mapping[KeyPath, int]:
        here: KeyPath = ()
        while self.skip(" \t\n") and self.at < len(self.text):
            if self.text[self.at] == "[":
                here = self.header()
            else:
                self.pair(here)
        return self.lines

    def note(self, path: KeyPath) -> None:
        """The path stands here, unless it was seen before."""
        self.line += self.text.count("\n", self.counted, self.at)
        self.counted = self.at
        for depth in range(1, len(path) + 1):
            self.lines.setdefault(path[:depth], self.line)

    def skip(self, blanks: str) -> bool:
        """Go past blanks and, where line ends are blanks, past comments. Always True."""
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif self.text[self.at] in blanks:
                self.at += 1
            else:
                break
        return True

    def header(self) -> KeyPath:
        """``[a.b]`` or ``[[a.b]]``: the path under which the following keys stand."""
        many = self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        start = self.at
        names = self.key()
        path = self.resolved(names[:-1])
        last: KeyPath = (*path, names[-1])
        after, self.at = self.at, start
        if many:
            number = self.items.get(last, 0)
            self.items[last] = number + 1
            last = (*last, number)
        else:
            last = self.newest(last)
        self.note(last)
        self.at = after + (2 if many else 1)
        return last

    def resolved(self, names: tuple[str, ...]) -> KeyPath:
        """A header's path with the number of the newest item wherever a name is an array of tables."""
        path: KeyPath = ()
        for name in names:
            path = self.newest((*path, name))
        return path

    def newest(self, path: KeyPath) -> KeyPath:
        return (*path, self.items[path] - 1) if path in self.items else path

    def key(self) -> tuple[str, ...]:
        """A dotted key, up to and past the blanks behind it."""
        names: list[str] = []
        while True:
            self.skip(" \t")
            names.append(self.name())
            self.skip(" \t")
            if not self.text.startswith(".", self.at):
                return tuple(names)
            self.at += 1

    def name(self) -> str:
        start = self.at
        if self.text[start] in "\"'":
            self.string()
            return str(tomllib.loads(f"name = {self.text[start : self.at]}")["name"])
        while self.at < len(self.text) and (self.text[self.at].isalnum() or self.text[self.at] in "-_"):
            self.at += 1
        return self.text[start : self.at]

    def pair(self, here: KeyPath) -> None:
        """``key = value``."""
        self.skip(" \t")
        start = self.at
        path = (*here, *self.key())
        after, self.at = self.at, start
        self.note(path)
        self.at = after + 1  # past the equals sign
        self.value(path)

    def value(self, path: KeyPath) -> None:
        self.skip(" \t")
        match self.text[self.at]:
            case '"' | "'":
                self.string()
            case "[":
                self.array(path)
            case "{":
                self.inline_table(path)
            case _:
                while self.at < len(self.text) and self.text[self.at] not in ",]}#\n":
                    self.at += 1

    def array(self, path: KeyPath) -> None:
        self.at += 1
        number = 0
        while self.skip(" \t\n,") and self.text[self.at] != "]":
            self.note((*path, number))
            self.value((*path, number))
            number += 1
        self.at += 1

    def inline_table(self, path: KeyPath) -> None:
        self.at += 1
        while self.skip(" \t,") and self.text[self.at] != "}":
            self.pair(path)
        self.at += 1

    def string(self) -> None:
        """Go past a string of any of the four kinds."""
        quote = self.text[self.at]
        long = self.text.startswith(quote * 3, self.at)
        end = quote * 3 if long else quote
        self.at += len(end)
        while not self.text.startswith(end, self.at):
            self.at += 2 if quote == '"' and self.text[self.at] == "\\" else 1
        self.at += len(end)
        extra = 0
        while long and extra < 2 and self.text.startswith(quote, self.at):  # a long string may end in two of its quotes
            self.at += 1
            extra += 1
