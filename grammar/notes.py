"""A remark for the record: "note 14 cover leaking". What stands behind its head is kept and never read."""

import re
from collections.abc import Mapping

from grammar.cleaning import folded
from grammar.meanings import Note, Understood

WORDS: Mapping[str, str] = {"en": "note", "de": "notiz"}
"""The word that begins a remark, by language."""

_HEAD = (
    r"\s*(?:{words})(?:\s+(?:alarm\s*)?#?(?P<alarm>[1-9][0-9]{{0,3}})(?![\w]|[:.,/'-][0-9]))?[\s:,.;-]+(?P<words>\S.*)"
)
"""The word, perhaps an alarm's number, then the remark. "Note 4.5 V" is a remark that begins with a value."""


def note_in(body: str, boats: Mapping[str, str], language: str) -> Understood | None:
    """The remark in `body`, None when it is none. boats: phrase -> neutral key, one of which may stand in front.
    language: its own word will do as well.

    Looked for before anything else is read, so that no order, code or carrier's word in a remark ever does anything.
    """
    words = "|".join(dict.fromkeys((WORDS["en"], WORDS.get(language, WORDS["en"]))))
    if re.search(words, body, re.IGNORECASE) is None:
        return None  # nearly all texts: no need to look for a boat's name in front
    pattern = re.compile(_HEAD.format(words=words), re.IGNORECASE | re.DOTALL)
    boat, rest = boat_first(body, boats)
    found = pattern.fullmatch(rest)
    if found is None or not any(char.isalpha() for char in found["words"]):
        return None  # "note 14" alone says nothing of it
    alarm = None if found["alarm"] is None else int(found["alarm"])
    return Understood(request=Note(words=" ".join(found["words"].split()), alarm=alarm), boat=boat)


def boat_first(body: str, boats: Mapping[str, str]) -> tuple[str | None, str]:
    """The boat that is named in front, and what is left; the longest name that fits."""
    words = body.split()
    for phrase in sorted(boats, key=lambda phrase: -len(phrase.split())):
        count = len(phrase.split())
        if count < len(words) and folded(" ".join(words[:count])) == folded(phrase):
            return boats[phrase], " ".join(words[count:])
    return None, body
