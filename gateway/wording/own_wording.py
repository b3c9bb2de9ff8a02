"""An installer's own wording of one kind of text: which parts, in which order, with which words between them.

It is laid out of the same pieces as our own wording, with their shorter forms, and fitted by the same rule. A part is
words with at most one place in braces, ". Since {since}"; where that place has nothing to say, the whole part goes.
What keeps a person from harm is a place like others, but one that must not be left out.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gateway.wording.fitting import Piece, fitted, fixed
from gateway.wording.phrasebook import speaking, translated

PLACE = re.compile(r"\{([^{}]*)\}")
GIVEN_WAY_FIRST = -1000
"""Worth of the first part that an installer lets go: below every Worth of ours, whatever the number of parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnWording:
    """kind: of the text, as the record calls it. parts: in the order in which they are said. gives_way: those of them
    that are shortened and then dropped before all others, the first of them first. Parts that are not named there keep
    the worth that their piece has in our own wording."""

    kind: str
    parts: tuple[str, ...]
    gives_way: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wordable:
    """What can be said in a kind of text, and what must be. when: it is sent. places: what each says, by name.
    must: of each group at least one place."""

    when: str
    places: Mapping[str, str]
    must: tuple[tuple[str, ...], ...]


class OwnWordingTooLong(Exception):
    """Even the shortest forms of an own wording do not fit one part. wording: which. shortest: how it would read."""

    def __init__(self, wording: OwnWording, shortest: str) -> None:
        self.wording, self.shortest = wording, shortest
        super().__init__(f"{wording.kind}: {shortest}")


def laid(own: OwnWording, pieces: Sequence[Piece], never_dropped: frozenset[str]) -> list[Piece]:
    """The pieces as the own wording has them, in the language that is being spoken. never_dropped: places that stay,
    whatever gives way."""
    by_place: dict[str, list[Piece]] = {}
    for piece in pieces:
        if any(piece.forms):
            by_place.setdefault(piece.place, []).append(piece)
    found: list[Piece] = []
    for part in own.parts:
        place = PLACE.search(part)
        if place is None:
            made, stays = [fixed(part)], False
        else:
            said = by_place.get(place[1], [])
            made = _around(part[: place.start()], said, part[place.end() :])
            stays = place[1] in never_dropped
        if part in own.gives_way:
            worth = GIVEN_WAY_FIRST + own.gives_way.index(part)
            made = [_giving_way(piece, worth, stays=stays) for piece in made]
        found += made
    return found


def _around(before: str, pieces: Sequence[Piece], after: str) -> list[Piece]:
    """The pieces of one place with words before and after it; our own marks before the first go."""
    found = []
    for at, piece in enumerate(pieces):
        forms = [translated(form) for form in piece.forms]
        first, last = at == 0, at == len(pieces) - 1
        whole = (
            f"{before if first else ''}{form.lstrip(' .,:;') if first else form}{after if last else ''}" if form else ""
            for form in forms
        )
        found.append(Piece(tuple(whole), piece.worths, piece.place))
    return found


def _giving_way(piece: Piece, worth: int, *, stays: bool) -> Piece:
    forms = piece.forms if stays or not piece.forms[-1] else (*piece.forms, "")
    return Piece(forms, (worth,) * (len(forms) - 1), piece.place)


def fitted_own(own: OwnWording, pieces: Sequence[Piece], never_dropped: frozenset[str]) -> str | None:
    """The own wording as one text that fits; None when even its shortest forms do not."""
    made = laid(own, pieces, never_dropped)
    with speaking("en"):  # what was ours is translated by now, and what is the installer's is not looked up
        return fitted(made)


def shortest(own: OwnWording, pieces: Sequence[Piece], never_dropped: frozenset[str]) -> str:
    """The own wording with everything as short as it gets, whether it fits or not."""
    return "".join(piece.forms[-1] for piece in laid(own, pieces, never_dropped))
