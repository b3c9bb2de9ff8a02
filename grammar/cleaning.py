"""From a text as it arrived to the words that are read: what a phone changes by itself is undone, nothing else is.

Closed on purpose (a fuzz run showed each of them to be looser than it need be): an apostrophe or a zero-width mark
inside a word, and sentence marks between words, stay in the text, where they fit nothing.
"""

import re
import unicodedata
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

_MARKS = "\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\u00ad\ufe0e"
"""Zero-width and direction marks and the soft hyphen, which phones and keyboards put round a word."""

_MARKS_AT_EDGES = re.compile(rf"(?:(?<=\s)|^)[{_MARKS}]+|[{_MARKS}]+(?=\s|$)")

_HARMLESS = (
    "[\U0001f44d\U0001f44c\U0001f64f\U0001f642\U0001f600\U0001f603\U0001f604\U0001f60a\U0001f44b\u2705\u26a1\U0001f50b]"
)
_EMOJI = rf"(?:{_HARMLESS}[\U0001f3fb-\U0001f3ff]?\ufe0f?)+"
"""Signs without a meaning of their own in an order. All others refuse the text: a cross or a no-entry sign negates."""

_EMOJI_AT_ENDS = re.compile(rf"^{_EMOJI}|{_EMOJI}$")
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


def folded(text: str) -> str:
    """`text` as names and texts are compared: NFKC, quotes straight, marks at the edges of words dropped, case folded,
    NFKC again (Unicode Standard, chapter 3, caseless matching - from memory), single spaces.

    Superscripts, circled digits and fractions become unreadable: NFKC would make 12 of a one and a raised two.
    """
    if text.isascii():  # most texts are: nothing to normalise, and the one quote among them is the back tick
        return " ".join(text.replace("`", "'").casefold().split())
    kept = "".join(_UNREADABLE if unicodedata.category(char) == "No" else char for char in text)
    plain = unicodedata.normalize("NFKC", kept.translate(_QUOTES)).translate(_QUOTES)
    plain = _MARKS_AT_EDGES.sub("", plain)
    plain = unicodedata.normalize("NFKC", plain.casefold())
    return " ".join(plain.split())


def cleaned(body: str) -> Cleaned:
    """What is to be read of `body` (at most LONGEST_RAW characters; the caller refuses longer ones)."""
    text = folded(body)
    quoted = cheered = False
    for _ in range(4):  # our choice: a phone wraps a text in no more than emoji, quotes, marks and emoji again
        before = text
        text = _EMOJI_AT_ENDS.sub("", text).strip()
        cheered = cheered or text != before
        text = _END_MARKS.sub(_only_asking, text)
        if inside := _QUOTED.match(text):
            text, quoted = inside.group(2).strip(), True
        if text == before:
            break
    return Cleaned(text=text, quoted=quoted, cheered=cheered)


def _only_asking(marks: re.Match[str]) -> str:
    return "?" if "?" in marks.group() else ""
