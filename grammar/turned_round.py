"""A boat's name that stands behind or inside what is asked ("visit over wagtail"): the same with the name in front, as
phrases are printed. Only ever words to look for a suggestion with; nothing is carried out."""

from collections.abc import Iterator

from grammar.names import Branch

_BEFORE_A_BOAT = ("on the", "on", "of the", "of", "for", "the", "auf der", "auf dem", "auf", "von der", "von")
"""What may stand before a boat's name that comes last, in any language, of one language the longest first."""


def boat_to_front(text: str, names: Branch) -> Iterator[str]:
    """The cleaned `text` with its boat's name in front, and then also without the small word that led to it. Nothing
    where a name stands in front already, and where two boats are named: which is meant is never guessed."""
    words = text.split()
    found = _boats_in(words, names)
    if len(found) != 1 or found[0][0] == 0:
        return
    begin, end, _ = found[0]
    boat, before, behind = (" ".join(part) for part in (words[begin:end], words[:begin], words[end:]))
    yield f"{boat} {before} {behind}".rstrip()
    for small in _BEFORE_A_BOAT:
        if before.endswith(f" {small}"):
            yield f"{boat} {before.removesuffix(f' {small}')} {behind}".rstrip()
            return


def boat_named(text: str, names: Branch) -> str | None:
    """The neutral key of the one boat that is named anywhere in the cleaned `text`; None for none and for several."""
    found = _boats_in(text.split(), names)
    return found[0][2] if len(found) == 1 else None


def _boats_in(words: list[str], names: Branch) -> list[tuple[int, int, str]]:
    """Every boat's name: its place, the place behind it, its neutral key."""
    found, place = [], 0
    while place < len(words):
        end, terminal, key = names.longest(words, place)
        if terminal == "BOAT":
            found.append((place, end, key))
        place = max(end, place + 1)
    return found
