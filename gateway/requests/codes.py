"""Confirmation codes: two different plain words in order, drawn at random, and how they are compared.

From a list of at least 1,025 words that is 20 bits or more, the least that SP 800-63B rev. 3, 5.1.3.2 asks of a
randomly made secret (handbook 6.1, CHK-25). A code is good for 10 min, once, for what it was made for only.
"""

import hashlib
import hmac
from collections.abc import Sequence

from gateway.vocabulary.draws import Draws
from gateway.vocabulary.moments import MINUTE, Ms

GOOD_FOR = 10 * MINUTE
"""How long a code is good, its last instant included (SP 800-63B rev. 3, 5.1.3.2; handbook 6.1, CHK-32)."""

LATEST = 5 * MINUTE
"""How old a text may be and still command: it may have lain in a carrier's queue (our choice, half a code's life). So
long a code is kept behind its end, for words that were sent in time."""

WRONG_VOID = 3
"""Wrong tries that void a code (handbook 6.1)."""


def draw_code(draws: Draws, words: Sequence[str]) -> tuple[str, str]:
    """Two different words, every ordered pair equally likely. Raises ValueError when there are not even two words;
    that there are enough is seen to when the installation is read."""
    if len(words) < 2:
        raise ValueError(f"a code needs two words to draw from, got {len(words)}; mend the list of code words")
    first = draws.below("code", len(words))
    second = draws.below("code", len(words) - 1)
    return words[first], words[second + (second >= first)]


def same_words(kept: tuple[str, str] | None, said: tuple[str, str]) -> bool:
    """Whether these are the words, without case, in their order; in a time that does not tell how much was right.
    Words that were erased are never the same."""
    return kept is not None and hmac.compare_digest(_plain(kept), _plain(said))


def sent_in_time(expires: Ms, now: Ms, age: Ms | None) -> bool:
    """Whether words were sent by the last good instant of their code, by the text's own time: `now` less the age that
    the carrier's own clock gave it. A text of unknown age counts from its arrival."""
    return now - (age or 0) <= expires


def mark_of(request: str, words: tuple[str, str] | None) -> str:
    """The fingerprint by which a dead code is known again: SHA-256 (hex) over its request's id and words; "" without
    words. It does not hide them (they can be tried out one by one), and need not: they open nothing any more."""
    return "" if words is None else hashlib.sha256(request.encode() + b" " + _plain(words)).hexdigest()


def _plain(words: tuple[str, str]) -> bytes:
    return " ".join(word.casefold() for word in words).encode()
