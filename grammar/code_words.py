"""Which words a confirmation code may be made of: `go teapot marble`.

Two different words in order from at least 1,025 carry log2(1025 x 1024) = 20.0 bits or more, the least that NIST SP
800-63B rev. 3 asks of a random code that is looked up (handbook 6, CHK-25); six digits carry 19.93.
"""

import re
from collections.abc import Iterable

from rapidfuzz.distance import Levenshtein

from grammar.cleaning import folded
from grammar.code_word_list import ALL_CODE_WORDS

FEWEST = 1_025
"""Words that must be left to draw from (handbook 6, CHK-25)."""


class TooFewCodeWords(Exception):
    """The installation's names leave fewer than FEWEST words. It says how many, and what to do."""


def drawable(names: Iterable[str]) -> tuple[str, ...]:
    """The words that may be drawn where boats, equipment and persons bear `names`, in the order of the alphabet.

    Left out: every word that is a word of a name or one change away from one (Levenshtein), so that one slip cannot
    make a name of a code word. Raises TooFewCodeWords when fewer than FEWEST are left.
    """
    plain = [folded(name) for name in names]
    taken = {word for name in plain for word in re.findall(r"[^\W\d_]+", f"{name} {name.replace(chr(39), '')}")}
    left = tuple(
        word
        for word in ALL_CODE_WORDS
        if not any(Levenshtein.distance(word, other, score_cutoff=1) <= 1 for other in taken)
    )
    if len(left) < FEWEST:
        raise TooFewCodeWords(
            f"the names of boats and equipment leave {len(left)} words for codes, {FEWEST} are needed; "
            "use fewer or shorter names for the same things"
        )
    return left


_EVERY = frozenset(ALL_CODE_WORDS)


def is_code_alone(text: str) -> bool:
    """Whether the cleaned `text` is two words that codes are drawn from, and nothing before them. Only ever for an
    answer: which words are waited for is not looked at, so nothing is told and nothing counted."""
    words = text.rstrip(" .!").split()
    return len(words) == 2 and words[0] != words[1] and _EVERY.issuperset(words)
