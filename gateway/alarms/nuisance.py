"""Alarms that are not worth being alarms: chattering, fleeting, stale. Pure counting of raises and clears.

The three words and their figures are the trade's (handbook 2.4, from memory of ANSI/ISA-18.2 and EEMUA 191): each says
that a point needs mending, not that the boat does.
"""

from collections.abc import Sequence
from enum import StrEnum

from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms


class PointFault(StrEnum):
    """What is wrong with a point."""

    CHATTERING = "chattering"
    FLEETING = "fleeting"
    STALE = "stale"


CHATTERS_WITHIN: Ms = MINUTE
CHATTERS_FROM = 3
"""Three or more activations within one minute (handbook 2.4)."""

FLEETING_WITHIN: Ms = 60 * SECOND
"""Cleared within this time of being raised (handbook 2.4)."""

FLEETING_FROM = 3
FLEETING_OVER: Ms = DAY
"""So many fleeting alarms in this time and a point is said to need mending: our choice, one may be a passing wake."""

STALE_AFTER: Ms = 24 * HOUR
"""Standing for longer than this (handbook 2.4)."""

TOLD_AGAIN_AFTER: Ms = 30 * DAY
"""A fault that was told is not told again within this time, so that it is told once and not often (our choice)."""


def chatters(raised: Sequence[Ms]) -> bool:
    """Whether the last activations came within one minute. raised: instants, oldest first."""
    return len(raised) >= CHATTERS_FROM and raised[-1] - raised[-CHATTERS_FROM] < CHATTERS_WITHIN


def was_fleeting(raised: Ms, cleared: Ms) -> bool:
    """Whether an alarm that was raised and cleared at these instants was fleeting."""
    return cleared - raised <= FLEETING_WITHIN


def often_fleeting(cleared: Sequence[Ms], now: Ms) -> bool:
    """Whether fleeting alarms have become a fault. cleared: instants at which fleeting ones went, oldest first."""
    return sum(now - at < FLEETING_OVER for at in cleared) >= FLEETING_FROM


def stale_from(raised: Ms) -> Ms:
    """The first instant at which an alarm that still stands is stale: "longer than" falls due 1 ms later."""
    return raised + STALE_AFTER + 1
