"""The four priorities of IMO MSC.302(87) 6 and A.1021(26) 3."""

from enum import StrEnum


class Priority(StrEnum):
    """How bad a condition is. The text of each is what is written in files, texts and the logbook."""

    EMERGENCY = "emergency"  # immediate danger to life or craft: act at once
    ALARM = "alarm"  # needs attention and action at once to avoid a hazard
    WARNING = "warning"  # not yet hazardous, may become so
    CAUTION = "caution"  # out of the ordinary, deserves attention

    @property
    def gravity(self) -> int:
        """3 for an emergency down to 0 for a caution: for sorting, worst first."""
        return _GRAVITY[self]


_GRAVITY = {Priority.EMERGENCY: 3, Priority.ALARM: 2, Priority.WARNING: 1, Priority.CAUTION: 0}
