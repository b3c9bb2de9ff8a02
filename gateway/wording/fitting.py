"""One text that fits: pieces, each with shorter forms, and an order in which they give way.

A text is a list of pieces. While it is longer than one part, the piece whose present form is worth least gives way to
its next shorter form; of two that are worth the same, the later one. What then turns out to fit after all comes back,
the dearest first. The order of worth is our choice, from the job: which boat, what, how bad, what to do.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import IntEnum

from gateway.wording.alphabet import ONE_PART_SEPTETS, plain, septets
from gateway.wording.phrasebook import translated


class Worth(IntEnum):
    """How dear a form is. The smallest gives way first."""

    NICETY = 1  # who else was told, a second offer, the berth
    ADVICE = 2  # what else can be done, the age of what is told
    FULL_NAME = 3  # the boat's full name, where it has a short one
    MEANING = 4  # what it means, that nobody has it
    VALUE = 5  # the value and its limit
    SINCE = 6  # since when
    NAME = 7  # a name that is cut rather than lost
    CAUTION = 8  # what keeps a person from harm: after everything else


@dataclass(frozen=True, slots=True)
class Piece:
    """forms: fullest first; the last one always stays ("" where the piece may go altogether).
    worths: of each form but the last, what it is worth to keep it: a Worth, or less where an installer has said what
    gives way before all else. place: what an installer's own wording calls this piece, "" where it is not named."""

    forms: tuple[str, ...]
    worths: tuple[int, ...] = ()
    place: str = ""

    def __post_init__(self) -> None:
        if len(self.worths) != len(self.forms) - 1:
            raise ValueError(f"{self.forms!r} has {len(self.worths)} worths; every form but the last needs one")


def placed(place: str, *pieces: Piece) -> list[Piece]:
    """The pieces under the name by which an installer's own wording can put them where it likes."""
    return [Piece(piece.forms, piece.worths, place) for piece in pieces]


def fixed(text: str) -> Piece:
    """A piece that always stays as it is."""
    return Piece((text,))


def maybe(worth: Worth, *forms: str) -> Piece:
    """A piece that shortens through its forms and then goes. Empty forms make a piece of nothing."""
    kept = tuple(form for form in dict.fromkeys(forms) if form)
    return Piece((*kept, ""), (worth,) * len(kept))


def shortening(worth: Worth, *forms: str) -> Piece:
    """A piece that shortens through its forms; the last form stays."""
    kept = tuple(dict.fromkeys(forms))
    return Piece(kept, (worth,) * (len(kept) - 1))


def name(text: str, *lengths: int, worth: Worth = Worth.NAME) -> Piece:
    """A name that may be cut to these lengths (septets), longest first, and is never lost."""
    return shortening(worth, text, *(clipped(text, length) for length in lengths))


def tidy(text: str) -> str:
    """An installer's or a device's text as one line in the 7-bit alphabet, without the full stop at its end."""
    return " ".join(plain(text).split()).rstrip(" .;,")


def capitals(text: str) -> str:
    """The same in capitals, still in the 7-bit alphabet (which lacks most accented capitals)."""
    return tidy(tidy(text).upper())


def clipped(text: str, length: int) -> str:
    """The text cut to at most `length` septets, with a full stop where it was cut ("SALT HARR.")."""
    if cost(text) <= length:
        return text
    while text and cost(text) > length - 1:
        text = text[:-1]
    return text.rstrip(" .,;") + "."


def by_words(text: str, length: int) -> str:
    """The text cut to at most `length` septets after a whole word, with three dots; a long first word is clipped."""
    if cost(text) <= length:
        return text
    words = text.split()
    while len(words) > 1 and cost(" ".join(words)) + 3 > length:
        words.pop()
    if len(words) == 1:
        return clipped(words[0], length)
    return " ".join(words).rstrip(".,;:") + "..."


def cost(text: str) -> int:
    """Septets of a text that is known to be in the alphabet. Raises ValueError when it is not."""
    count = septets(text)
    if count is None:
        raise ValueError(f"{text!r} is not in the 7-bit alphabet; put it through plain() first")
    return count


def fitted(pieces: Sequence[Piece], room: int = ONE_PART_SEPTETS) -> str | None:
    """The pieces joined, shortened as far as needed; None when even the shortest forms do not fit."""
    pieces = [Piece(tuple(plain(translated(form)) for form in piece.forms), piece.worths) for piece in pieces]
    costs = [[cost(form) for form in piece.forms] for piece in pieces]
    level = [0] * len(pieces)
    total = sum(each[0] for each in costs)
    given: list[int] = []
    while total > room:
        able = [at for at, piece in enumerate(pieces) if level[at] < len(piece.worths)]
        if not able:
            return None
        least = min(able, key=lambda at: (pieces[at].worths[level[at]], -at))
        total += costs[least][level[least] + 1] - costs[least][level[least]]
        level[least] += 1
        given.append(least)
    for at in reversed(given):
        back = total + costs[at][level[at] - 1] - costs[at][level[at]]
        if back <= room:
            total = back
            level[at] -= 1
    return "".join(piece.forms[chosen] for piece, chosen in zip(pieces, level, strict=True))


def fit(pieces: Sequence[Piece], room: int = ONE_PART_SEPTETS) -> str:
    """The pieces as one text that fits. Pieces whose shortest forms are too long together are a mistake of the
    wording (the tests try it with long names); even then a text goes out, cut at its end."""
    text = fitted(pieces, room)
    return cut_at_end(pieces, room) if text is None else text


def cut_at_end(pieces: Sequence[Piece], room: int) -> str:
    """The shortest forms, cut where the room ends."""
    return clipped("".join(plain(translated(piece.forms[-1])) for piece in pieces), room)


def _at_most(items: Sequence[Sequence[Piece]], between: str) -> int:
    """How many items could fit at all, each in its shortest form: of a hundred values none need be tried in vain."""
    room = ONE_PART_SEPTETS
    for count, item in enumerate(items):
        room -= sum(min(cost(plain(form)) for form in piece.forms) for piece in item) + len(between) * (count > 0)
        if room < 0:
            return count
    return len(items)


def packed(
    before: Sequence[Piece], items: Sequence[Sequence[Piece]], after: Sequence[Piece], more: str, between: str = ", "
) -> str | None:
    """As many items as fit, in their order, and how many were left out: `more` holds `{count}`.

    None when not even the first fits beside `before` and `after`.
    """
    return packed_so_far(before, items, lambda _: after, more, between)[0]


def packed_so_far(
    before: Sequence[Piece],
    items: Sequence[Sequence[Piece]],
    after: Callable[[int], Sequence[Piece]],
    more: str,
    between: str = ", ",
) -> tuple[str | None, int]:
    """The same, and how many items stand in it. after: what follows, by how many that is."""
    for count in range(_at_most(items, between), 0, -1):
        pieces = list(before)
        for at, item in enumerate(items[:count]):
            pieces += [fixed(between)] * (at > 0) + list(item)
        left = len(items) - count
        text = fitted([*pieces, fixed(more.format(count=left) if left else ""), *after(count)])
        if text is not None:
            return text, count
    return None, 0
