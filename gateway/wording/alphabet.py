"""What a text costs: the 7-bit alphabet that all phones share, septets, parts, and words put into that alphabet.

Sources: 3GPP TS 23.038 6.2.1 (default alphabet) and 6.2.1.1 (its extension); 3GPP TS 23.040 9.2.3.24.1 (joined
messages: 153 septets or 67 sixteen-bit units a part, no pair of either kind parted). Checked against gsmcodecs.
"""

import re
import unicodedata
from collections.abc import Iterable

ESCAPE = "\x1b"

DEFAULT_ALPHABET = (
    "@£$¥èéùìòÇ\nØø\rÅå"
    "Δ_ΦΓΛΩΠΨΣΘΞ\x1bÆæßÉ"
    " !\"#¤%&'()*+,-./"
    "0123456789:;<=>?"
    "¡ABCDEFGHIJKLMNO"
    "PQRSTUVWXYZÄÖÑÜ§"
    "¿abcdefghijklmno"
    "pqrstuvwxyzäöñüà"
)
"""The 128 places of the default alphabet in order, sixteen a line. Place 0x1B is the escape, which is no character."""

EXTENSION = {
    "\f": 0x0A,
    "^": 0x14,
    "{": 0x28,
    "}": 0x29,
    "\\": 0x2F,
    "[": 0x3C,
    "~": 0x3D,
    "]": 0x3E,
    "|": 0x40,
    "€": 0x65,
}
"""Characters that are written as the escape and a second code: two septets each."""

ONE_PART_SEPTETS, JOINED_SEPTETS = 160, 153
ONE_PART_UNITS, JOINED_UNITS = 70, 67

_COST = {char: 1 for char in DEFAULT_ALPHABET if char != ESCAPE} | dict.fromkeys(EXTENSION, 2)


def septets(text: str) -> int | None:
    """How many septets the text takes, escapes counted; None when the 7-bit alphabet cannot hold it.

    The escape character itself is none of the alphabet's characters (TS 23.038 6.2.1), so a text with it gives None.
    """
    total = 0
    for char in text:
        cost = _COST.get(char)
        if cost is None:
            return None
        total += cost
    return total


def parts(text: str) -> int:
    """How many short messages carry the text; 1 for an empty one, because an empty message is still a message.

    A text outside the 7-bit alphabet is counted in UTF-16 units: the standard says UCS-2, phones send UTF-16
    (measured). An escape pair and a surrogate pair are never parted, so a part may stay one unit short.
    """
    if septets(text) is not None:
        return _filled((_COST[char] for char in text), one=ONE_PART_SEPTETS, joined=JOINED_SEPTETS)
    return _filled((2 if ord(char) > 0xFFFF else 1 for char in text), one=ONE_PART_UNITS, joined=JOINED_UNITS)


def _filled(costs: Iterable[int], *, one: int, joined: int) -> int:
    count, room, total = 1, joined, 0
    for cost in costs:
        total += cost
        if cost > room:
            count, room = count + 1, joined
        room -= cost
    return 1 if total <= one else count


LOOK_ALIKES = (
    dict.fromkeys("‘’‚‛′´`‹›ʼ", "'")
    | dict.fromkeys("“”„‟″«»", '"')
    | dict.fromkeys("‐‑‒–—―−⁃", "-")
    | dict.fromkeys(
        "\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000\t", " "
    )
    | dict.fromkeys("\r\u0085\u2028\u2029", "\n")
    | dict.fromkeys("·•‧∙", ".")
    | {"…": "...", "µ": "u", "μ": "u", "×": "x", "÷": "/", "±": "+/-", "⁄": "/", "≤": "<=", "≥": ">=", "≈": "~"}
    | {
        "ı": "i",
        "ł": "l",
        "Ł": "L",
        "đ": "d",
        "Đ": "D",
        "œ": "oe",
        "Œ": "OE",
        "þ": "th",
        "Þ": "Th",
        "ð": "d",
        "ẞ": "SS",
    }
    | {"©": "(c)", "®": "(R)", "¦": "|", "→": "->", "←": "<-"}
    | dict(zip("ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ", "ABEZHIKMNOPTYX", strict=True))  # Greek capitals that look like Latin ones
)
"""Our own table of what stands in for what. Accents that the alphabet lacks are left off their letter by rule."""

_DEGREE_INSIDE = re.compile(r"(?<=\S)°(?=\S)")


def plain(text: str) -> str:
    """The text in characters of the 7-bit alphabet only, for a reader who must not notice.

    Look-alikes by our table; a degree sign goes ("4 °C" and "4°C" both become "4 C"), because it would halve the room;
    an accent that the alphabet lacks leaves its letter; control characters other than the line break go; any other
    character becomes "?". Doing it twice changes nothing more.
    """
    text = text.replace("\r\n", "\n").replace("℃", "°C").replace("℉", "°F")
    text = _DEGREE_INSIDE.sub(" ", text).replace("°", "")
    return "".join(_stand_in(char) for char in unicodedata.normalize("NFC", text))


def _stand_in(char: str) -> str:
    """The alphabet's own writing of one character: itself, its look-alike, its bare letter, nothing, or "?"."""
    if char in LOOK_ALIKES:
        return LOOK_ALIKES[char]
    kind = unicodedata.category(char)
    if kind in {"Cc", "Cf"} and char != "\n":
        return ""
    if char in _COST:
        return char
    bare = [piece for piece in unicodedata.normalize("NFKD", char) if unicodedata.category(piece) != "Mn"]
    written = "".join(LOOK_ALIKES.get(piece, piece) for piece in bare)
    return written if all(piece in _COST for piece in written) else "?"
