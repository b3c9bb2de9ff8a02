"""One value that a boat reported."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TypeAlias

from gateway.vocabulary.moments import Ms


class Grade(StrEnum):
    """What kind of value the text of a reading holds. One letter, because it is written with every reading."""

    NUMBER = "n"  # decimal text in the signal's unit
    CONTACT = "c"  # "on" or "off"
    WORD = "w"  # one of the signal's words
    POSITION = "p"  # latitude and longitude in degrees WGS84, as received, a space between
    UNREADABLE = "x"  # the payload did not fit; the text is a short sample of it


Value: TypeAlias = Decimal | bool | str | None
"""What a reading's text means: a number, a contact, a word, a position as its text, or None when it could not be
read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One value of one signal.

    signal: the signal's id, ``boat/signal``, such as ``grey-wagtail/house-volts``.
    grade, text: the value exactly as received (after pointer and scale), as text that reads back to it.
    own_time: when the boat says it was measured (instant, ms UTC); None when the payload carries no time.
    late: older than its signal's newest, or from a queue let go after an outage; never satisfies an interlock.
    retained: delivered with the MQTT retain mark: a state of unknown age.
    ahead: its own time lay more than 60 s in the future and was dropped.
    timeless: an own time should stand in it, and none did that could be used.
    """

    signal: str
    grade: Grade
    text: str
    own_time: Ms | None = None
    late: bool = False
    retained: bool = False
    ahead: bool = False
    timeless: bool = False

    @property
    def value(self) -> Value:
        """The text's meaning; None when unreadable."""
        if self.grade is Grade.NUMBER:
            return Decimal(self.text)
        if self.grade is Grade.CONTACT:
            return self.text == "on"
        return self.text if self.grade in (Grade.WORD, Grade.POSITION) else None
