"""What one newest value says about one condition, and how a value stands to a limit and its deadband."""

from decimal import Decimal

from gateway.vocabulary.readings import Value
from grammar.meanings import IsBand, IsContact, IsNumber, IsWord, Than, ValueCondition

PLAIN, WIDER, NARROWER = 0, 1, -1
"""How a limit is taken: as written; or as what it takes to let go again, moved by the deadband so that the condition
holds longer (wider), or within a `not` shorter (narrower)."""


def meets(condition: ValueCondition, value: Value, taken: int = PLAIN) -> bool:
    """Whether a known value meets the condition. A value of another kind never does."""
    match condition:
        case IsContact(wanted=wanted):
            return value is wanted
        case IsWord(word=word):
            return value == word
        case IsNumber(than=than, limit=limit, deadband=deadband):
            return isinstance(value, Decimal) and stands(value, than, limit, deadband, taken)
        case IsBand():
            return isinstance(value, Decimal) and _in_band(condition, value, taken)


def stands(value: Decimal, than: Than, limit: Decimal, deadband: Decimal | None, taken: int = PLAIN) -> bool:
    """Whether the value stands so to the limit. Wider: a low alarm is gone only above limit plus deadband, a high one
    only below limit minus deadband (handbook 2.5), never on it."""
    if not deadband or taken == PLAIN:
        return _stands(value, than, limit)
    upward = than in (Than.ABOVE, Than.AT_LEAST)
    moved = limit - taken * deadband if upward else limit + taken * deadband
    inclusive = taken == WIDER
    if upward:
        return value >= moved if inclusive else value > moved
    return value <= moved if inclusive else value < moved


def _stands(value: Decimal, than: Than, limit: Decimal) -> bool:
    match than:
        case Than.ABOVE:
            return value > limit
        case Than.BELOW:
            return value < limit
        case Than.AT_LEAST:
            return value >= limit
        case Than.AT_MOST:
            return value <= limit


def _in_band(band: IsBand, value: Decimal, taken: int) -> bool:
    if band.outside:
        low = stands(value, Than.BELOW, band.low, band.deadband, taken)
        return low or stands(value, Than.ABOVE, band.high, band.deadband, taken)
    least = stands(value, Than.AT_LEAST, band.low, band.deadband, taken)
    return least and stands(value, Than.AT_MOST, band.high, band.deadband, taken)
