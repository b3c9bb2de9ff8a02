"""On which line of a TOML text each key stands. tomllib is the judge of what the text holds."""

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from gateway.installation.places import KeyPath, lines_of
from tests.effort import tries

BARE = st.text("abcdefgXYZ019-_", min_size=1, max_size=5)
ODD = st.text("ab .=#[]{}',\\é€", max_size=5)
LONG_TEXTS = (
    '"""\n[fake]\nkey = 1 # no comment\n"""',
    '"""one \\""" still inside\n[[fake]]"""',
    '"""ends in quotes"""""',
    "'''\n[fake.too]\n'key' = \"\"\" ]\n'''",
    "'''it''s \\'''",
    '"""\\\n   joined \\\\"""',
)
SHORT_VALUES = (
    "1",
    "-0.5e3",
    "true",
    "nan",
    "0xff",
    "1979-05-27 07:32:00Z",
    "07:32:00",
    '"plain"',
    '"] } # = \\" \\\\"',
    "'literal \\'",
    '""',
    "''",
)


class Writer:
    """Writes a random TOML text and remembers the line of every path as it goes."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.text = ""
        self.expected: dict[KeyPath, int] = {}
        self.number = 0

    def whole(self) -> str:
        self.pairs(())
        for _ in range(self.draw(st.integers(0, 4))):
            self.section()
        return self.text if self.draw(st.booleans()) else self.text.replace("\n", "\r\n")

    def note(self, path: KeyPath) -> None:
        for depth in range(1, len(path) + 1):
            self.expected.setdefault(path[:depth], self.text.count("\n") + 1)

    def fresh(self) -> str:
        """A key that no other one can equal."""
        self.number += 1
        return f"{self.draw(st.one_of(BARE, ODD))}{self.number}"

    def spelt(self, name: str) -> str:
        if all(letter.isascii() and (letter.isalnum() or letter in "-_") for letter in name) and self.draw(
            st.booleans()
        ):
            return name
        if "'" not in name and self.draw(st.booleans()):
            return f"'{name}'"
        return '"' + name.replace("\\", "\\\\").replace("é", "\\u00e9") + '"'

    def dotted(self, names: tuple[str, ...]) -> str:
        return self.draw(st.sampled_from([".", " . "])).join(self.spelt(name) for name in names)

    def noise(self) -> None:
        self.text += self.draw(st.sampled_from(["", "\n", "  \t", "# [not.a.table] key = 1\n", '\n# ]}"\n']))

    def section(self) -> None:
        self.noise()
        names = tuple(self.fresh() for _ in range(self.draw(st.integers(1, 3))))
        if self.draw(st.booleans()):
            self.table(names, names)
            return
        for item in range(self.draw(st.integers(1, 3))):
            self.text += "\n[["
            self.note((*names, item))
            self.text += f"{self.dotted(names)}]] # item\n"
            self.pairs((*names, item))
            if self.draw(st.booleans()):
                below = self.fresh()
                self.table((*names, below), (*names, item, below))

    def table(self, names: tuple[str, ...], path: KeyPath) -> None:
        self.text += "\n["
        self.note(path)
        self.text += f" {self.dotted(names)} ]\n"
        self.pairs(path)

    def pairs(self, here: KeyPath) -> None:
        for _ in range(self.draw(st.integers(0, 3))):
            self.noise()
            names = tuple(self.fresh() for _ in range(self.draw(st.integers(1, 2))))
            self.note((*here, *names))
            self.text += f"{self.dotted(names)}{self.draw(st.sampled_from(['=', ' = ']))}"
            self.value((*here, *names), depth=2)
            self.text += self.draw(st.sampled_from(["\n", " # ] comment\n", "\n\n"]))

    def value(self, path: KeyPath, depth: int) -> None:
        kind = self.draw(st.sampled_from(["short", "long", "array", "inline"] if depth else ["short", "long"]))
        if kind == "short":
            self.text += self.draw(st.sampled_from(SHORT_VALUES))
        elif kind == "long":
            self.text += self.draw(st.sampled_from(LONG_TEXTS))
        elif kind == "array":
            self.text += "["
            for item in range(self.draw(st.integers(0, 3))):
                self.text += self.draw(st.sampled_from(["", " ", "\n", "\n  # [1, 2\n"]))
                self.note((*path, item))
                self.value((*path, item), depth - 1)
                self.text += self.draw(st.sampled_from([",", " ,\n"]))
            self.text += self.draw(st.sampled_from(["]", "\n]"]))
        else:
            self.text += "{"
            for item in range(self.draw(st.integers(0, 2))):
                self.text += ", " if item else " "
                name = self.fresh()
                self.note((*path, name))
                self.text += f"{self.spelt(name)} = "
                self.value((*path, name), depth - 1)
            self.text += " }"


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, Mapping[KeyPath, int]]:
    writer = Writer(draw)
    return writer.whole(), writer.expected


def paths(values: Any, here: KeyPath = ()) -> Iterator[KeyPath]:
    """Every path in what tomllib read."""
    inner: list[tuple[str | int, Any]] = []
    if isinstance(values, dict):
        inner = list(values.items())
    elif isinstance(values, list):
        inner = list(enumerate(values))
    for part, value in inner:
        yield (*here, part)
        yield from paths(value, (*here, part))


@settings(max_examples=tries(120), deadline=None)
@given(documents())
def test_every_path_of_a_random_document_is_found_on_its_line(document: tuple[str, Mapping[KeyPath, int]]) -> None:
    text, expected = document
    assert set(paths(tomllib.loads(text))) == set(expected)  # the writer wrote what it says
    assert dict(lines_of(text)) == dict(expected)


def test_a_table_named_through_its_child_first_has_the_line_of_that_mention() -> None:
    assert lines_of("[a.b]\nx = 1\n\n[a]\ny = 2\n") == {
        ("a",): 1,
        ("a", "b"): 1,
        ("a", "b", "x"): 2,
        ("a", "y"): 5,
    }


def test_headers_inside_long_texts_and_comments_are_no_tables() -> None:
    text = 'text = """\n[signal.fake]\n"""\n# [signal.other]\n[signal.real]\n'
    assert lines_of(text) == {("text",): 1, ("signal",): 5, ("signal", "real"): 5}


def test_a_table_below_an_array_of_tables_belongs_to_the_newest_item() -> None:
    text = "[[step]]\n[[step]]\n[step.after]\nunit = 's'\n"
    assert lines_of(text)[("step", 1, "after", "unit")] == 4


def test_an_empty_text_has_no_lines() -> None:
    assert lines_of("") == {}
    assert lines_of("# only a comment") == {}
