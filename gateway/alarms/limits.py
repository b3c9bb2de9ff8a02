"""How long what may be put aside, and after how long what is asked again. Each with its source."""

from collections.abc import Mapping

from gateway.vocabulary.moments import DAY, HOUR, MINUTE, Ms
from gateway.vocabulary.priority import Priority

LONGEST_SHELF: Mapping[Priority, Ms] = {
    Priority.ALARM: 2 * HOUR,
    Priority.WARNING: 8 * HOUR,
    Priority.CAUTION: 8 * HOUR,
}
"""Handbook 2.6: 8 h for a warning or a caution, 2 h for an alarm; an emergency is never shelved."""

LONGEST_OUT: Ms = 14 * DAY
"""Out of service has a return date within 14 days (design rule 11)."""

REMINDED_BEFORE: Ms = DAY
"""Who took a point out of service is reminded so long before its return, when it is out for longer than that (our
choice: the day before is early enough to finish the work, or to say that it lasts longer)."""

ANSWERS_WITHIN: Mapping[Priority, Ms] = {Priority.EMERGENCY: 3 * MINUTE}
ANSWERS_WITHIN_ELSE: Ms = 5 * MINUTE
"""How long the holder who was asked again has before the call-out list begins anew: the times after which a second
round goes out (handbook 2.3: 3 min for an emergency, 5 min for an alarm)."""

ASKED_AGAIN: Mapping[Priority, Ms] = {Priority.EMERGENCY: 10 * MINUTE, Priority.ALARM: 30 * MINUTE}
"""After how long without a word of the holder what still stands is asked again, where the files do not say (handbook
2.3); a warning or a caution is not."""


BECOMES_ALARM: Ms = 60 * MINUTE
"""After how long a warning that nobody takes becomes an alarm, where its point says that it does and not when (handbook
2.3)."""


def hand_over_within(priority: Priority) -> Ms:
    """How long the others have to take what the holder hands over before the list begins anew: as long as a holder may
    be quiet (our choice), for that is how long nobody would look either way."""
    return ASKED_AGAIN.get(priority, 30 * MINUTE)


ABOARD_LASTS: Ms = 24 * HOUR
""" "aboard" lapses after 24 h (design rule 11)."""

YARD_LASTS_DAYS = 14
"""A boat "in the yard" without a number of days is asked about after as long as a return date may lie ahead (our
choice)."""

YARD_ANSWER_WITHIN: Ms = DAY
"""How long there is to answer whether the boat is still in the yard before it counts as away (our choice)."""

WORKING_DAY_BEGINS, WORKING_DAY_ENDS = 7 * 60, 22 * 60
"""Minutes after midnight, boat time, between which what can wait is told (handbook 2.3: nothing slight between 22:00
and 07:00)."""

RETURNS_AT = 9 * 60
"""Minutes after midnight, boat time, at which a return date comes: when somebody can look (our choice)."""


def answers_within(priority: Priority) -> Ms:
    """How long a holder who was asked again has to answer."""
    return ANSWERS_WITHIN.get(priority, ANSWERS_WITHIN_ELSE)
