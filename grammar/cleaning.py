"""From a text as it arrived to the words that are read: what a phone changes by itself is undone, nothing else is.

Closed on purpose (a fuzz run showed each of them to be looser than it need be): an apostrophe or a zero-width mark
inside a word, and sentence marks between words, stay in the text, where they fit nothing.
"""

import re
import unicodedata
from collections import Counter
from dataclasses import dataclass

LONGEST_RAW = 1_600
"""Characters of a text as it arrived. Source: the carrier's limit for one message body."""

LONGEST_CLEAN = 160
"""Characters after cleaning. Our choice: one text of one part; no phrase of the language is half as long. Measured:
without both limits one hostile character can cost 18 times its length in normalisation."""

_UNREADABLE = "\ufffd"
"""Stands for a character that must not be normalised away; no word of the language holds it."""

_QUOTES = str.maketrans(
    {
        **dict.fromkeys("\u2018\u2019\u201a\u201b\u02bc\u2032\u00b4`", "'"),
        **dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u00ab\u00bb", '"'),
    }
)

_MARKS = "".join(
    map(chr, (*range(0x200B, 0x2010), *range(0x202A, 0x202F), *range(0x2060, 0x206A), 0xFEFF, 0x00AD, 0xFE0E))
)
"""Zero-width and direction marks and the soft hyphen, which phones and keyboards put round a word."""


_HARMLESS = (
    "[\U0001f44d\U0001f44c\U0001f64f\U0001f642\U0001f600\U0001f603\U0001f604\U0001f60a\U0001f44b\u2705\u26a1\U0001f50b]"
)
_SKINS = "[\U0001f3fb-\U0001f3ff]"
_EMOJI_IN_FRONT = re.compile(rf"(?:{_HARMLESS}{_SKINS}?\ufe0f?)+")
_EMOJI_BACKWARDS = re.compile(rf"(?:\ufe0f?{_SKINS}?{_HARMLESS})+")
"""Signs without a meaning of their own in an order. All others refuse the text: a cross or a no-entry sign negates."""

_QUOTED = re.compile(r"""^(["'])([^"]*)\1$""")
_END_MARKS = re.compile(r"(?<=[^\s.!?,])\s*[.!?,]+$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleaned:
    """What is left to be read.

    text: case-folded words with single spaces, quotes straight, ends trimmed; a "?" at the end is kept.
    quoted: the whole text stood in quotation marks. cheered: harmless emoji stood at an end.
    """

    text: str
    quoted: bool = False
    cheered: bool = False


def swells(body: str) -> bool:
    """Whether `body` is made to cost time in normalisation, and far too long when that is done: one sign may stand for
    eighteen, and every mark of a row upon one letter is put in its place by passing all others."""
    if body.isascii():
        return False
    counted = Counter(body)
    if sum(count * len(unicodedata.normalize("NFKC", char)) for char, count in counted.items()) > 2 * LONGEST_RAW:
        return True
    if sum(count for char, count in counted.items() if unicodedata.combining(char)) <= LONGEST_CLEAN:
        return False
    rows = "".join("m" if unicodedata.combining(char) else " " for char in body).split()
    return max(map(len, rows)) > LONGEST_CLEAN


def folded(text: str) -> str:
    """`text` as names and texts are compared: NFKC, quotes straight, marks at the edges of words dropped, case folded,
    NFKC again (Unicode Standard, chapter 3, caseless matching - from memory), single spaces.

    Superscripts, circled digits and fractions become unreadable: NFKC would make 12 of a one and a raised two.
    """
    if text.isascii():  # most texts are: nothing to normalise, and the one quote among them is the back tick
        return " ".join(text.replace("`", "'").casefold().split())
    kept = "".join(_UNREADABLE if unicodedata.category(char) == "No" else char for char in text)
    plain = unicodedata.normalize("NFKC", kept.translate(_QUOTES)).translate(_QUOTES)
    plain = " ".join(word.strip(_MARKS) for word in plain.split())
    plain = unicodedata.normalize("NFKC", plain.casefold())
    return " ".join(plain.split())


def cleaned(body: str) -> Cleaned:
    """What is to be read of `body` (at most LONGEST_RAW characters; the caller refuses longer ones)."""
    text = folded(body)
    quoted = cheered = False
    for _ in range(4):  # our choice: a phone wraps a text in no more than emoji, quotes, marks and emoji again
        before = text
        text = _without_emoji_at_ends(text).strip()
        cheered = cheered or text != before
        text = _END_MARKS.sub(_only_asking, text)
        if inside := _QUOTED.match(text):
            text, quoted = inside.group(2).strip(), True
        if text == before:
            break
    return Cleaned(text=text, quoted=quoted, cheered=cheered)


def _without_emoji_at_ends(text: str) -> str:
    """The end is looked at backwards: forwards a pattern begins anew at every sign of a long row (measured: 100 ms)."""
    if text.isascii():
        return text
    if front := _EMOJI_IN_FRONT.match(text):
        text = text[front.end() :]
    back = _EMOJI_BACKWARDS.match(text[::-1])
    return text[: len(text) - back.end()] if back else text


def _only_asking(marks: re.Match[str]) -> str:
    return "?" if "?" in marks.group() else ""
