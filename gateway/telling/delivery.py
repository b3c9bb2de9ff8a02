"""What a carrier's later words on a text amount to. They come in any order, and some come twice.

Ranks: common practice, after the order in which the carrier's OpenAPI description has a text pass through its statuses;
that callbacks come in any order is said by its documentation as cited in public source trees.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from gateway.vocabulary.moments import DAY, MINUTE, Ms
from gateway.vocabulary.priority import Priority

RANKS: Mapping[str, int] = {
    "accepted": 0,
    "scheduled": 0,
    "queued": 1,
    "initiated": 2,
    "sending": 2,
    "ringing": 2,
    "in-progress": 3,
    "sent": 3,
    "delivered": 4,
    "partially_delivered": 4,
    "completed": 4,
    "busy": 4,
    "no-answer": 4,
    "undelivered": 4,
    "failed": 4,
    "canceled": 4,
    "read": 5,
}
"""How far each word is along a text's way. A word that is not here ranks below all of them."""

ENDED = RANKS["delivered"]
"""From this rank on nothing more is to be learnt of a text."""

NOT_ARRIVED = frozenset({"undelivered", "failed", "canceled", "busy", "no-answer"})
"""Words by which a text has come to its end without its phone, or a call without anybody. A call that was "completed"
may have been taken by a voicemail: it says that the words were spoken, and not that anybody has the alarm."""

REMEMBERED_FOR: Ms = 3 * DAY
"""How long the last word on a text is remembered: a phone that was off gets its texts for up to 10 h after they were
sent (the longest validity of the carrier's description); the rest is room (our choice)."""

ARRIVES_WITHIN: Mapping[Priority, Ms] = {
    Priority.EMERGENCY: 2 * MINUTE,
    Priority.ALARM: 2 * MINUTE,
    Priority.WARNING: 10 * MINUTE,
}
"""How long after the carrier has taken a text of an alarm it must be said to have arrived, else the next person is
told: what a proof asks of a first text (handbook 1, proof record of a point). A caution waits for nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A text whose arrival matters, once the carrier has it. person: random id. numbers: alarms it tells of. message:
    the carrier's id of it. at: instant of the carrier's answer."""

    person: str
    boat: str
    about: str
    numbers: tuple[int, ...]
    message: str
    at: Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """How far a text has come. at: instant of the word. afterwards: "delivered" when that was said after it had been
    given up: a note, for the next one was told meanwhile. code: the carrier's, why it did not arrive."""

    status: str
    at: Ms
    afterwards: str = ""
    code: str = ""

    @property
    def ended(self) -> bool:
        """Whether nothing more is to be learnt of it."""
        return rank(self.status) >= ENDED


class Amounts(StrEnum):
    """What one more word amounts to."""

    ADVANCE = "advance"
    NOTE = "note"
    NOTHING = "nothing"


def amounts_to(known: Delivery | None, status: str) -> Amounts:
    """What this word is after the last one known: a lower or equal rank never overwrites a higher one."""
    if known is None or rank(status) > rank(known.status):
        return Amounts.ADVANCE
    given_up = known.status in {"undelivered", "failed"}
    if given_up and status == "delivered" and not known.afterwards:
        return Amounts.NOTE
    return Amounts.NOTHING


def rank(status: str) -> int:
    """The rank of a word; -1 for one that is not known here."""
    return RANKS.get(status, -1)


def after(known: Delivery | None, status: str, now: Ms, code: str = "") -> Delivery | None:
    """What is known once this word has been kept; None when nothing was known and nothing is."""
    match amounts_to(known, status):
        case Amounts.ADVANCE:
            return Delivery(status=status, at=now, code=code)
        case Amounts.NOTE if known is not None:
            return replace(known, afterwards=status)
        case _:
            return known
