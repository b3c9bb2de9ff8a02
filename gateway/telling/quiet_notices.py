"""What is to be told to somebody who wants no reminders of an alarm, as values."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from gateway.telling.situation import Situation
from gateway.vocabulary.moments import Ms


@dataclass(frozen=True, slots=True, kw_only=True)
class QuietTold:
    """No reminders of it to this person. until: instant. others: ids of those who still get them."""

    person: str
    boat: str
    situation: Situation
    until: Ms
    others: tuple[str, ...]


class CannotQuiet(StrEnum):
    """Why the reminders go on."""

    EMERGENCY = "it is an emergency"
    LAST = "nobody else is reminded"
    TOO_LONG = "for too long"
    NO_REMINDERS = "there are none"


@dataclass(frozen=True, slots=True, kw_only=True)
class QuietRefused:
    """Nothing was changed. longest: ms, for `TOO_LONG`."""

    person: str
    boat: str
    situation: Situation
    cannot: CannotQuiet
    longest: Ms = 0


QuietNotice: TypeAlias = QuietTold | QuietRefused
